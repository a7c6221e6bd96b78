let pen: CanvasRenderingContext2D | null = null;

/** How many pixels a text takes in a font as CSS writes it: "11.5px Arial". */
export function textWidth(text: string, font: string): number {
  pen ??= document.createElement("canvas").getContext("2d");
  // Without a canvas (some browsers refuse one against tracking) a wide letter's width for each.
  if (pen === null) return 7 * [...text].length;
  pen.font = font;
  return pen.measureText(text).width;
}
