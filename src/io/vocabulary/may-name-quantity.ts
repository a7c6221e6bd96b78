import { quantityOfTerm } from "./terms/quantity-terms.js";
import { modulusSymbols, symbols } from "./terms/symbols.js";

/** All runs of letters of the terms and symbols, in lower case; and of the units that alone tell a column of unknown name. */
const knownRuns = new Set<string>(["c", "f", "k", "hz", "khz", "mhz"]);
for (const spellings of [quantityOfTerm, symbols, modulusSymbols]) {
  for (const spelling of spellings.keys()) {
    for (const run of spelling.toLowerCase().match(/[a-z]+/g) ?? []) knownRuns.add(run);
  }
}

/**
 * False where a text cannot name a quantity, as the name of a sample ("Birch 60-2"): letters, digits and plain marks, and
 * no run of letters that stands in any term or symbol. A quick look before `readHeader`; true says nothing.
 */
export function mayNameQuantity(text: string): boolean {
  // "Modul 100" and its like are a stress at that strain.
  if (text.includes("50") || text.includes("00")) return true;
  let start = -1;
  let isLowerBefore = false;
  for (let i = 0; i <= text.length; i++) {
    const code = i < text.length ? text.charCodeAt(i) : 32;
    const isLower = code >= 97 && code <= 122;
    if (isLower || (code >= 65 && code <= 90)) {
      // "storageModulus" is read word by word.
      if (!isLower && isLowerBefore) return true;
      if (start < 0) start = i;
    } else {
      if (!isPlainMark(code)) return true;
      if (start >= 0 && isKnownRun(text.slice(start, i).toLowerCase())) return true;
      start = -1;
    }
    isLowerBefore = isLower;
  }
  return false;
}

/** A run that begins with a logarithm's sign may be read without it. */
function isKnownRun(run: string): boolean {
  return knownRuns.has(run) || run.startsWith("log") || run.startsWith("lg") || run.startsWith("ln");
}

/** Blank, digit or a mark that joins or parts words. */
function isPlainMark(code: number): boolean {
  return code === 32 || (code >= 45 && code <= 57) || code === 95;
}
