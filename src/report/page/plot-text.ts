/**
 * Text for the plot library, which reads a little markup of its own: a name must stay a name, so its signs
 * become entities, and long names are cut.
 */
export function plotText(text: string, longest = 28): string {
  const signs = [...text.replace(/[\p{Cc}\p{Bidi_Control}\p{Surrogate}]/gu, " ")];
  const cut = signs.length > longest ? `${signs.slice(0, longest - 1).join("")}…` : signs.join("");
  return cut.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;").replaceAll("%{", "% {");
}
