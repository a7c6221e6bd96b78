import { foldText, hasIdeographs, wordsOf } from "../fold-text.js";

/**
 * What a frequency or a temperature may belong to that is not the test: the instrument's own rates, and what the
 * rubber went through before (common practice). Beginnings of words, in the eight languages of the reader.
 */
const beginnings: [context: string, stems: string][] = [
  [
    "sampling",
    `sampling abtast échantillonnage muestreo campionament amostragem acqui aquisi adqui datenerfassung datenrate datarate erfassung logging logger datalog encod camera
    kamera caméra cámara câmera frame fps pulse trigger laser strob digitiz digitis adc daq refresh display screen bildschirm bildwiederhol`,
  ],
  [
    "a filter",
    "filter filtr filtro lowpass highpass bandpass tiefpass hochpass cutoff bandwidth bandbreite glättung",
  ],
  [
    "the instrument",
    "dither chopper loop regelkreis regler controller régulateur regulador regolatore controlador electronics elektronik fan lüfter vibration pump pumpe compressor kompressor",
  ],
  ["the mains", "mains netzfrequenz netzspannung stromnetz"],
  ["a resonance", "reson eigen natural natürliche"],
  ["a calibration", "calib kalib étalonn eichung verif justier"],
  ["a reference", "reference referenz référence referencia riferimento referência tref"],
  [
    "curing",
    "cure cured curing vulcani vulkani heizpresse heizplatte crosslink vernetz réticul curado reticol",
  ],
  [
    "moulding",
    "moulding molding moulded molded mould mold press pressed presse pressing platen moulage prensa stampa stampo prensagem extru inject spritzg calander calender kalander",
  ],
  [
    "mixing",
    "mixing mixer mixed mischen mischer gemischt mélangeage mezclado mezclador mescolazione knead kneten kneter auswurf ausstoss dump rotor",
  ],
  ["drying", "dry drying dried trock séchage séché secado essicc secagem"],
  [
    "ageing",
    "age aged ageing aging alterung gealter vieill envejec invecch envelhec heat history oven ofen ofentemperatur wärmebehandl anneal getempert preheat exposure exposed",
  ],
  [
    "storage",
    `stored storing lager gelagert stockage almacen conserv armazen conditioned conditioning konditionier klima climate room raum raumtemperatur raumklima ambient umgebung ambiente salle
    laboratory labor humid feucht`,
  ],
  [
    "softening",
    "soften erweich ramoll ablanda rammoll amolec melt melts melting melted schmelz fusion fusión fusione",
  ],
  [
    "a coolant",
    "coolant kühlmittel réfrigérant refrigerante nitrogen stickstoff azote nitrógeno chiller bath",
  ],
  ["the glass transition", "tg glass glas vitre vitreuse vítrea vetrosa dsc brittle brittleness"],
  ["another property", "tr10 tr30 tr70 flash decompos zersetz degrad"],
];
const ideographs: [string, string[]][] = [
  ["sampling", ["采样", "サンプリング", "取样频率", "采集", "编码器", "相机"]],
  ["curing", ["硫化", "加硫", "固化"]],
  ["moulding", ["模压", "成形", "成型", "プレス", "模具", "金型"]],
  ["mixing", ["混炼", "混練", "密炼", "練り"]],
  ["ageing", ["老化", "热历史", "熱履歴"]],
  ["drying", ["干燥", "乾燥"]],
  ["storage", ["储存", "保管", "环境", "環境", "室温", "状态调节", "状態調節"]],
  ["a calibration", ["校准", "校正", "較正"]],
  ["a resonance", ["共振", "共鳴", "固有"]],
  ["softening", ["软化", "軟化", "熔点", "融点"]],
  ["the glass transition", ["玻璃化", "ガラス転移"]],
  ["a filter", ["滤波", "フィルタ"]],
];

const stems: [string, string[]][] = beginnings.map(([context, list]) => [context, wordsOf(list)]);
const allStems = stems.flatMap(([, list]) => list);
const wholeWords = new Set(allStems.filter((stem) => stem.length <= 4));
const anyBeginning = new RegExp(`^(?:${allStems.filter((stem) => stem.length > 4).join("|")})`);

/**
 * What other than the test the frequency or temperature of a line or name belongs to, in a few words; null where
 * nothing tells of another.
 * @example otherContextOf("Sampling frequency") // "sampling"
 */
export function otherContextOf(text: string): string | null {
  const folded = foldText(text);
  if (hasIdeographs(folded)) {
    for (const [context, list] of ideographs) if (list.some((word) => folded.includes(word))) return context;
  }
  for (const written of wordsOf(folded)) {
    // "d'acquisition", "l'échantillonnage"
    const word = written.replace(/^[dl]'/, "");
    if (!wholeWords.has(word) && !anyBeginning.test(word)) continue;
    for (const [context, list] of stems) {
      if (list.some((stem) => (stem.length <= 4 ? word === stem : word.startsWith(stem)))) return context;
    }
  }
  return null;
}
