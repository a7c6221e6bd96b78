/**
 * The axis of a master curve: the frequency times the shift factor aT, "reduced" or "shifted" (common practice; the words
 * of other languages from memory).
 */
const words =
  /(?<!\p{L})(?:reduced|shifted|reduzierte|verschobene|réduite|reducida|ridotta|reduzida) (?=freq|frequenz|fréq|frec|ang|omega|kreisfreq|f(?!\p{L})|ω)|(?<=(?:fréquence|frecuencia|frequenza|frequência)(?: angula\p{L}+| angolare)?) (?:réduite|reducida|ridotta|reduzida)(?!\p{L})|換算(?=周波数|角周波数)|折算(?=频率|角频率)|约化(?=频率|角频率)/iu;
const factorBehind = /(?<=(?:^|[^\p{L}])(?:f|ω|ν|omega|freq(?:uency|uenz|\.)?)) ?[·*.x×]? ?a_?T(?!\p{L})/u;
const factorBefore = /(?<!\p{L})a_?T ?[·*.x×]? ?(?=(?:f|ω|ν|omega|freq(?:uency|uenz|\.)?)(?!\p{L}))/u;
const index = /^(f|ω)_?red(?!\p{L})/u;

/**
 * A header's name with what makes a frequency a reduced one taken out; null where nothing does.
 * @example withoutReduction("Reduced frequency") // "frequency"
 */
export function withoutReduction(name: string): string | null {
  for (const pattern of [words, factorBehind, factorBefore]) {
    if (pattern.test(name)) return name.replace(pattern, " ").replace(/ +/g, " ").trim();
  }
  return index.test(name) ? name.replace(index, "$1") : null;
}

const namesReference =
  "(?:reference temperature|reference temp\\.?|ref\\.? temp(?:erature|\\.)?|referenztemperatur|bezugstemperatur|température de référence|temperatura de referencia|temperatura di riferimento|temperatura de referência|基準温度|参考温度|T_?ref|T_?0)";
const stated = new RegExp(
  `(?<!\\p{L})${namesReference}(?: ?\\([^()]{1,4}\\))?[\\s:=;,\\t]*(?:is |of )?([-+]?\\d+(?:[.,]\\d+)?) ?(°? ?[CF]|K)(?!\\p{L})`,
  "iu",
);
const unitInName = new RegExp(
  `(?<!\\p{L})${namesReference} ?[([/] ?(°? ?[CF]|K) ?[)\\]]?[\\s:=;,]+([-+]?\\d+(?:[.,]\\d+)?) ?$`,
  "iu",
);

/**
 * The temperature that a line calls the reference of a superposition, °C; null where it names none with its unit.
 * @param folded the line, its signs folded
 * @example referenceTemperatureIn("Master curve, reference temperature 20 °C") // 20
 */
export function referenceTemperatureIn(folded: string): number | null {
  if (folded.length > 400) return null;
  const behind = stated.exec(folded);
  const inName = behind === null ? unitInName.exec(folded) : null;
  const [text, unit] = behind === null ? [inName?.[2], inName?.[1]] : [behind[1], behind[2]];
  if (text === undefined || unit === undefined) return null;
  const value = Number(text.replace(",", "."));
  const scale = unit.replace(/[° ]/g, "").toUpperCase();
  return scale === "K" ? value - 273.15 : scale === "F" ? (value - 32) / 1.8 : value;
}
