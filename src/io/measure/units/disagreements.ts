import { atan } from "../../../numeric/elementary/angle.js";
import { exp10 } from "../../../numeric/elementary/exponential.js";
import { hypotenuse, power } from "../../../numeric/elementary/power.js";
import { notice } from "../../../words/codes/codes.js";
import type { Notice } from "../../../words/notice.js";
import { quoted } from "../../../words/quoted.js";
import type { Block } from "../../table/block.js";
import { stepOf } from "../../table/lines/number-format.js";
import type { Quantity } from "../../vocabulary/quantities.js";
import type { ModulusColumns, ModulusPair } from "./complex-modulus.js";

/** Difference at which redundant columns are said to disagree. */
const agreement = 0.02;
const radianPerDegree = Math.PI / 180;

/** A redundant column that differs from what the others give, over all tables of a file. */
export interface Disagreement {
  quantity: Quantity;
  header: string;
  rows: number;
  count: number;
  /** Deviation of the worst row, as a factor less 1, the rounding of the printed digits taken off. */
  worst: number;
  deviation: number;
  line: number;
}

/** Disagreements by header, gathered block by block. */
export type Disagreements = Map<string, Disagreement>;

/**
 * Holds columns that say the same thing twice against each other. Where a row is more than 2 % off, the rounding
 * of the printed digits allowed for, the column is entered in `found`.
 */
export function gatherDisagreements(
  columns: ModulusColumns,
  { storageModulus_Pa, lossModulus_Pa }: ModulusPair,
  block: Block,
  slots: Map<Quantity, number[]>,
  found: Disagreements,
): void {
  const { storage, loss, complex, tanDelta, phase } = columns;
  const tan = (i: number) => lossModulus_Pa[i] / storageModulus_Pa[i];
  const compare = (
    quantity: Quantity,
    given: Float64Array | null,
    sources: Quantity[],
    follows: (i: number) => number,
  ) => {
    if (given === null) return;
    const slot = slots.get(quantity)![0];
    const printed = [slot, ...sources.map((source) => slots.get(source)![0])];
    gather(block, slot, given, printed, follows, found);
  };
  const phaseOf = (tangent: number) => atan(tangent) / radianPerDegree;
  const magnitude = (i: number) => hypotenuse(storageModulus_Pa[i], lossModulus_Pa[i]);
  if (storage !== null && loss !== null) {
    const both: Quantity[] = ["storage modulus", "loss modulus"];
    compare("tan delta", tanDelta, both, tan);
    compare("phase angle", phase, both, (i) => phaseOf(tan(i)));
    compare("complex modulus", complex, both, magnitude);
    return;
  }
  if (tanDelta === null) return;
  compare("phase angle", phase, ["tan delta"], (i) => phaseOf(tanDelta[i]));
  if (storage !== null) compare("complex modulus", complex, ["storage modulus", "tan delta"], magnitude);
  else if (loss !== null) compare("complex modulus", complex, ["loss modulus", "tan delta"], magnitude);
}

function gather(
  block: Block,
  slot: number,
  given: Float64Array,
  printed: number[],
  follows: (i: number) => number,
  found: Disagreements,
): void {
  const { quantity, column } = block.layout.slots[slot];
  const header = column.reading.text;
  const sum: Disagreement = found.get(header) ?? {
    quantity,
    header,
    rows: 0,
    count: 0,
    worst: 0,
    deviation: 0,
    line: 0,
  };
  for (let i = 0; i < block.rows; i++) {
    const deviation = given[i] / follows(i) - 1;
    if (!(Math.abs(deviation) > agreement)) continue;
    let ratio = deviation > 0 ? 1 + deviation : 1 / (1 + deviation);
    for (const each of printed) ratio *= Math.max(0, 1 - relativeStep(block, each, i));
    const excess = ratio - 1;
    if (excess > agreement) sum.count++;
    if (excess > sum.worst) {
      sum.worst = excess;
      sum.deviation = deviation;
      sum.line = block.lines[i];
    }
  }
  sum.rows += block.rows;
  found.set(header, sum);
}

/** Half a unit of the last printed digit, seen against the value itself. */
function relativeStep(block: Block, slot: number, row: number): number {
  const { column, power: decimal } = block.layout.slots[slot];
  const written = block.data[slot][row] / exp10(decimal);
  const step = stepOf(block.precision[slot], written);
  const { logarithm } = column.reading;
  if (logarithm !== 0) return power(logarithm, step) - 1;
  return written === 0 ? 0 : step / Math.abs(written);
}

/** One notice per column that disagrees, with its worst row. */
export function disagreementNotices(found: Disagreements): Notice[] {
  return [...found.values()]
    .filter(({ worst }) => worst > agreement)
    .map(({ quantity, header, count, rows, line, deviation }) => {
      const off = `${deviation < 0 ? "−" : "+"}${Math.abs(100 * deviation).toFixed(1)} %`;
      return notice(
        "io.columns-disagree",
        `The ${quantity} column (${quoted(header)}) and what the columns beside it give differ by more than 2 % in ${count} of ` +
          `${rows} rows; the worst is line ${line}, with ${off}. The moduli as printed are used; check the export.`,
      );
    });
}
