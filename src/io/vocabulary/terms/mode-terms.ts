import type { Deformation } from "../../measurement.js";
import { foldText, wordsOf } from "../fold-text.js";

type Mode = Exclude<Deformation, "unstated">;

/** Words for the way a specimen is deformed, in the languages of the reader (common practice). Whole words. */
const words: [Mode, string][] = [
  [
    "bending",
    `bending flexure flexural flexion cantilever biegung biegen biege flexión flessione flexão dreipunkt dreipunktbiegung
    biegebalken vierpunkt flessionale flexionale bøjning bøyning zginanie`,
  ],
  [
    "shear",
    `shear sandwich torsion torsional scherung schub scheren doppelscherung doppelscher scherversuch cisaillement cizalla cizallamiento cizalladura
    taglio cisalhamento torsión torsione torção drehung verdrehung tordierung corte forskydning ścinanie skręcanie`,
  ],
  [
    "tension",
    `tension tensile film fiber fibre zug zugversuch zugbeanspruchung zugmodus traction extension elongation tracción trazione tração
    streckung estiramiento estensione extensão træk trækprøve trækprøvning strekk rozciąganie`,
  ],
  [
    "compression",
    `compression compressive druck druckversuch stauchung kompression compresión compressione compressão druckmodus druckbeanspruchung ściskanie`,
  ],
];

/** Everyday words that say how a specimen is deformed only where the line's name asks for it: "Load: drag". */
const namedWords: [Mode, string][] = [
  ["bending", "böjning buiging taivutus ohyb ohybem"],
  ["shear", "skjuvning skjær afschuiving leikkaus smyk smykem střih krut krutem"],
  ["tension", "drag dragning trek trekproef veto tah tahem"],
  ["compression", "tryck tryk trykk druk puristus tlak tlakem"],
];

/** German compounds hide the word inside; these parts are telling enough by themselves. */
const parts: [Mode, string[]][] = [
  [
    "bending",
    [
      "biege",
      "3-punkt",
      "dreipunkt",
      "3-point",
      "three-point",
      "three point",
      "3 point",
      "trois points",
      "3 points",
      "tres puntos",
      "tre punti",
      "3 punti",
      "tres pontos",
      "3 puntos",
      "3 pontos",
    ],
  ],
  [
    "shear",
    [
      "scher",
      "schub",
      "parallel plate",
      "plate-plate",
      "plate plate",
      "platte-platte",
      "two plates",
      "cone and plate",
      "doppio taglio",
      "double shear",
    ],
  ],
  ["tension", ["zugpruf", "zugvers", "zugmod"]],
  ["compression", ["druckvers", "stauch"]],
];
const anyPart = new RegExp(parts.flatMap(([, list]) => list).join("|"));

const ideographs: [Mode, string[]][] = [
  ["bending", ["弯曲", "彎曲", "曲げ", "悬臂", "悬臂梁", "三点"]],
  ["shear", ["剪切", "せん断", "剪断", "ずり", "扭转", "ねじり", "扭轉"]],
  ["tension", ["拉伸", "引張", "引っ張り", "引っ張"]],
  ["compression", ["压缩", "圧縮", "壓縮"]],
];

const modesByWord = (lists: [Mode, string][]): ReadonlyMap<string, Mode> =>
  new Map(lists.flatMap(([mode, list]) => wordsOf(list).map((word): [string, Mode] => [word, mode])));
const modeOfWord = modesByWord(words);
const modeOfNamedWord = modesByWord(namedWords);

/** Whether a word names a way to deform a specimen. */
export function isModeWord(word: string): boolean {
  return (
    modeOfWord.has(word) ||
    parts.some(([, list]) => list.some((part) => word.includes(part))) ||
    word === "point" ||
    word === "points" ||
    word === "punkt" ||
    word === "three" ||
    word === "double"
  );
}

/**
 * The deformation mode a text names, or null. Where it names two ("tension clamp, double shear"), the first
 * in the order bending, shear, tension, compression of one kind of evidence is not guessed: null.
 * @param isNamed whether the text stands under a name that asks for the mode
 * @example modeIn("3-point bending, 40 mm span") // "bending"
 */
export function modeIn(text: string, isNamed = false): Mode | null {
  if (text.length > 300) return null;
  const folded = foldText(text);
  const plain = wordsOf(folded);
  const joined = ` ${folded
    .normalize("NFD")
    .replace(/[\u0300-\u036f]/g, "")
    .toLowerCase()}`;
  const found = new Set<Mode>();
  for (const word of plain) {
    const mode = modeOfWord.get(word) ?? (isNamed ? modeOfNamedWord.get(word) : undefined);
    if (mode) found.add(mode);
  }
  if (anyPart.test(joined))
    for (const [mode, list] of parts) if (list.some((part) => joined.includes(part))) found.add(mode);
  for (const [mode, list] of ideographs) if (list.some((part) => folded.includes(part))) found.add(mode);
  // "Three-point bending in a tension frame", "shear sandwich film": the rarer word is the telling one.
  if (found.size === 2 && found.has("tension")) found.delete("tension");
  return found.size === 1 ? [...found][0] : null;
}
