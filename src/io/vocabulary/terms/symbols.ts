import type { Quantity } from "../quantities.js";

export type ModulusLetter = "E" | "G" | "M";

export interface SymbolMeaning {
  quantity: Quantity;
  letter: ModulusLetter | null;
}

const plain: [Quantity, string][] = [
  ["temperature", "T θ Θ Temp T_s Tsample Ts"],
  ["set temperature", "Tset Tsoll Tnom Tnominal Tref T_set T0"],
  ["frequency", "f ν freq"],
  ["angular frequency", "ω w Ω"],
  ["time", "t"],
  [
    "tan delta",
    "tanδ tanD tand tanΔ TanD Tand TanDelta tanDelta TanΔ Tanδ TAND TANδ TANDELTA tan? tan\ufffd E''/E' G''/G' M''/M' tgδ tgD tgd tδ D",
  ],
  ["phase angle", "δ φ delta Δ"],
  ["strain amplitude", "ε γ ε0 γ0 εa γa γA εA"],
  ["rebound resilience", "R Rb RR"],
  ["drop height", "h0 H0 hd hdrop H hD"],
  ["rebound height", "h hr hrebound h1 hR"],
  ["drop angle", "α0 αd αdrop αD"],
  ["rebound angle", "α αr αrebound αR"],
  ["tensile strength", "TB TSb UTS"],
  ["elongation at break", "EB Eb εb"],
  ["hardness", "Hs HS"],
  ["not used", "η' η'' η* |η*| η σ τ F N Fdyn Fstat M K k"],
];

/** Symbols as written (folded, without blanks and underscores); letter case counts: T is no t. */
export const symbols = new Map<string, SymbolMeaning>();
for (const [quantity, list] of plain) {
  for (const symbol of list.split(" ")) symbols.set(symbol.replaceAll("_", ""), { quantity, letter: null });
}

/** Symbols of moduli: they are found inside longer headers too, and in lower case. */
export const modulusSymbols = new Map<string, SymbolMeaning>();
for (const letter of ["E", "G", "M"] as const) {
  const add = (quantity: Quantity, ...spellings: string[]) => {
    for (const spelling of spellings) {
      symbols.set(spelling, { quantity, letter });
      modulusSymbols.set(spelling.toLowerCase(), { quantity, letter });
    }
  };
  add(
    "storage modulus",
    `${letter}'`,
    `${letter}'s`,
    `${letter}stor`,
    `${letter}storage`,
    `${letter}prime`,
    `Re${letter}*`,
    `${letter}_prime`,
  );
  add(
    "loss modulus",
    `${letter}''`,
    `${letter}loss`,
    `${letter}doubleprime`,
    `${letter}dprime`,
    `Im${letter}*`,
  );
  add(
    "complex modulus",
    `${letter}*`,
    `|${letter}*|`,
    `|${letter}|`,
    `abs${letter}*`,
    `${letter}star`,
    `|${letter}|*`,
  );
}

for (const [symbol, letter] of [
  ["J", "G"],
  ["D", "E"],
] as const) {
  const add = (quantity: Quantity, ...spellings: string[]) => {
    for (const spelling of spellings) {
      symbols.set(spelling, { quantity, letter });
      modulusSymbols.set(spelling.toLowerCase(), { quantity, letter });
    }
  };
  add("storage compliance", `${symbol}'`);
  add("loss compliance", `${symbol}''`);
  add("complex compliance", `${symbol}*`, `|${symbol}*|`);
}

/** D stands for damping in few places and for much else in others: too little to go by. */
symbols.delete("D");
