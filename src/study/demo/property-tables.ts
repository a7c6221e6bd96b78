import {
  alderN,
  birch48,
  birch60,
  birch66,
  birchGum,
  type DemoCompound,
  hazelT,
  juniper55,
  lindenPU,
  mapleDuo,
  rowanW,
  spruceH,
} from "./compounds.js";
import { fixed } from "./text.js";

/**
 * Durability of the demo's compounds, invented: along the filler series more carbon black wears less, tears later and
 * (in the sweeps) rebounds less in the warm; the butadiene-rich one wears little and the polyurethane least, and neither grips well in the wet.
 */
interface Durability {
  compound: DemoCompound;
  tearStrength_kN_m: number;
  /** The first and only specimen of the spring, mm³. */
  abrasionLoss_mm3: number;
}

const durability: Durability[] = [
  { compound: birch60, tearStrength_kN_m: 56, abrasionLoss_mm3: 142 },
  { compound: rowanW, tearStrength_kN_m: 34, abrasionLoss_mm3: 68 },
  { compound: alderN, tearStrength_kN_m: 41, abrasionLoss_mm3: 108 },
  { compound: spruceH, tearStrength_kN_m: 46, abrasionLoss_mm3: 131 },
  { compound: lindenPU, tearStrength_kN_m: 72, abrasionLoss_mm3: 47 },
  { compound: mapleDuo, tearStrength_kN_m: 48, abrasionLoss_mm3: 137 },
  { compound: juniper55, tearStrength_kN_m: 43, abrasionLoss_mm3: 128 },
  { compound: birchGum, tearStrength_kN_m: 27, abrasionLoss_mm3: 231 },
  { compound: birch48, tearStrength_kN_m: 42, abrasionLoss_mm3: 176 },
  { compound: birch66, tearStrength_kN_m: 63, abrasionLoss_mm3: 124 },
  { compound: hazelT, tearStrength_kN_m: 38, abrasionLoss_mm3: 164 },
];

/** Repeats of the autumn, six specimens each, mm³: what settles the choice. */
const abrasionRepeats_mm3: [compound: DemoCompound, repeats: number[]][] = [
  [birch60, [139, 144, 141, 143, 138, 145]],
  [alderN, [104, 109, 106, 110, 105, 107]],
  [birch66, [112, 109, 114, 111, 113, 110]],
];

/** One row a property and one column a compound; semicolons, the method in a column of its own. */
export function routineTable(): string[] {
  const row = (property: string, method: string, value: (one: Durability) => string) =>
    [property, method, ...durability.map(value)].join(";");
  return [
    "Routine properties of the winter trial; everything in this table is invented",
    ["Property", "Method", ...durability.map(({ compound }) => compound.name)].join(";"),
    row("Hardness (Shore A)", "ISO 48-4", ({ compound }) => fixed(compound.hardness_ShoreA, 0)),
    row("Tear strength (kN/m)", "ISO 34-1", ({ tearStrength_kN_m }) => fixed(tearStrength_kN_m, 0)),
    row("Density (g/cm³)", "ISO 2781", ({ compound }) => fixed(compound.density_kg_m3 / 1000, 2)),
  ];
}

/** Vertical bars, Portuguese, one specimen a compound. */
export function abrasionTable(): string[] {
  return [
    "Ensaio|perda por abrasão",
    "Método|ISO 4649",
    "Observação|dados inventados, um corpo de prova por composto",
    "",
    "Composto|Perda por abrasão (mm³)",
    ...durability.map(
      ({ compound, abrasionLoss_mm3 }) => `${compound.name}|${fixed(abrasionLoss_mm3, 1, ",")}`,
    ),
  ];
}

/** Japanese, commas; one row a specimen. */
export function abrasionRepeatsTable(): string[] {
  return [
    "試験,摩耗試験",
    "備考,架空のデータ",
    "",
    "配合名,試験方法,試験片番号,摩耗体積 (mm³)",
    ...abrasionRepeats_mm3.flatMap(([{ name }, repeats]) =>
      repeats.map((loss_mm3, i) => `${name},ISO 4649,${i + 1},${fixed(loss_mm3, 1)}`),
    ),
  ];
}
