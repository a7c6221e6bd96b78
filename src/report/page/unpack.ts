import { fromBase64 } from "../packed-numbers.js";

/** Whether this browser can unpack what the page carries. */
export function canUnpack(): boolean {
  return typeof DecompressionStream === "function";
}

/** The text in a script element that holds base64 of gzip-compressed text. */
export async function unpackText(elementId: string): Promise<string> {
  const packed = document.getElementById(elementId)?.textContent ?? "";
  const stream = new Blob([fromBase64(packed.trim())]).stream().pipeThrough(new DecompressionStream("gzip"));
  return new Response(stream).text();
}
