/**
 * The letter of a modulus as the files name it: E in tension, bending and compression, G in shear; M where the
 * measurements differ or do not state how they were taken.
 * @example modulusLetter(["tension", "bending"]) // "E"
 */
export function modulusLetter(deformations: Iterable<string>): "E" | "G" | "M" {
  const letters = new Set(
    [...deformations].map((one) => (one === "shear" ? "G" : one === "unstated" ? "M" : "E")),
  );
  const [letter] = letters;
  return letters.size === 1 ? letter : "M";
}
