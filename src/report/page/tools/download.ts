/** Hands the reader a file made in the page. */
export function download(name: string, content: Blob): void {
  const url = URL.createObjectURL(content);
  const link = document.createElement("a");
  link.href = url;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}

/** A file name of plain letters, from whatever a compound is called. */
export function fileName(...parts: string[]): string {
  const plain = parts
    .join("-")
    .normalize("NFKD")
    .replace(/[^\p{Letter}\p{Number}]+/gu, "-")
    .replace(/^-+|-+$/g, "");
  return plain.slice(0, 80) || "plot";
}
