/**
 * Text for the plot library, which reads a little markup of its own: a name must stay a name, so its signs
 * become entities, and long names are cut.
 */
export function plotText(text: string, longest = 28): string {
  const signs = [...text.replace(/[\p{Cc}\p{Bidi_Control}\p{Surrogate}]/gu, " ")];
  const cut = signs.length > longest ? `${signs.slice(0, longest - 1).join("")}…` : signs.join("");
  return cut.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;").replaceAll("%{", "% {");
}

let pen: CanvasRenderingContext2D | null = null;

/** How many pixels a text takes in a font as CSS writes it: "11.5px Arial". */
export function textWidth(text: string, font: string): number {
  pen ??= document.createElement("canvas").getContext("2d");
  // Without a canvas (some browsers refuse one against tracking) a wide letter's width for each.
  if (pen === null) return 7 * [...text].length;
  pen.font = font;
  return pen.measureText(text).width;
}
