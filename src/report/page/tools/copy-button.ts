/** A button that copies a text and says that it did. */
export function copyButton(label: string, text: () => string): HTMLButtonElement {
  const button = document.createElement("button");
  button.type = "button";
  button.textContent = label;
  button.addEventListener("click", async () => {
    const done = await copyText(text());
    button.textContent = done ? "Copied" : "Select the text and copy it by hand";
    setTimeout(() => {
      button.textContent = label;
    }, 2000);
  });
  return button;
}

async function copyText(text: string): Promise<boolean> {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    // A page opened from disk may not have the clipboard: the older way works there.
    const area = document.createElement("textarea");
    area.value = text;
    area.style.position = "fixed";
    document.body.append(area);
    area.select();
    const done = document.execCommand("copy");
    area.remove();
    return done;
  }
}
