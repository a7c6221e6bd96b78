import type { Notice } from "../problem.js";
import { notice, quoted } from "../problem-codes.js";
import type { Block } from "../table/block.js";
import type { Quantity } from "../vocabulary/quantities.js";

/** What the columns of one table hold of the complex modulus; SI, δ in degrees. Gaps are NaN. */
export interface ModulusColumns {
  storage: Float64Array | null;
  loss: Float64Array | null;
  complex: Float64Array | null;
  tanDelta: Float64Array | null;
  phase: Float64Array | null;
}

export interface ModulusPair {
  storage_Pa: Float64Array;
  loss_Pa: Float64Array;
}

const radianPerDegree = Math.PI / 180;

/**
 * Storage and loss modulus of each row from any two of M′, M″, |M*|, tan δ and δ: M* = M′ + iM″,
 * tan δ = M″/M′, |M*|² = M′² + M″². Moduli that the file gives stand as they are; NaN where a row holds too
 * little.
 */
export function modulusPairs(columns: ModulusColumns, rows: number): ModulusPair {
  const { storage, loss, complex, tanDelta, phase } = columns;
  const storage_Pa = new Float64Array(rows);
  const loss_Pa = new Float64Array(rows);
  for (let i = 0; i < rows; i++) {
    const m1 = storage === null ? Number.NaN : storage[i];
    const m2 = loss === null ? Number.NaN : loss[i];
    storage_Pa[i] = m1;
    loss_Pa[i] = m2;
    if (isGiven(m1) && isGiven(m2)) continue;
    const magnitude = complex === null ? Number.NaN : complex[i];
    const delta = phase === null ? Number.NaN : phase[i] * radianPerDegree;
    const stated = tanDelta === null ? Number.NaN : tanDelta[i];
    const tan = isGiven(stated) ? stated : Math.tan(delta);
    if (isGiven(m1)) {
      loss_Pa[i] = isGiven(tan) ? m1 * tan : root(magnitude * magnitude - m1 * m1);
    } else if (isGiven(m2)) {
      storage_Pa[i] = isGiven(tan) ? m2 / tan : root(magnitude * magnitude - m2 * m2);
    } else if (isGiven(stated)) {
      storage_Pa[i] = magnitude / Math.sqrt(1 + stated * stated);
      loss_Pa[i] = storage_Pa[i] * stated;
    } else {
      storage_Pa[i] = magnitude * Math.cos(delta);
      loss_Pa[i] = magnitude * Math.sin(delta);
    }
  }
  return { storage_Pa, loss_Pa };
}

function isGiven(value: number): boolean {
  return !Number.isNaN(value);
}

function root(square: number): number {
  return square > 0 ? Math.sqrt(square) : Number.NaN;
}

/** Difference at which redundant columns are said to disagree. */
const agreement = 0.02;

/**
 * Holds columns that say the same thing twice against each other; more than 2 % apart, the rounding of the
 * printed decimals allowed for, gives one notice per column with its worst row.
 */
export function disagreements(
  columns: ModulusColumns,
  { storage_Pa, loss_Pa }: ModulusPair,
  block: Block,
  slots: Map<Quantity, number[]>,
): Notice[] {
  const notices: Notice[] = [];
  const compare = (quantity: Quantity, given: Float64Array | null, follows: (i: number) => number) => {
    if (given === null) return;
    const slot = slots.get(quantity)![0];
    let worst = 0;
    let at = -1;
    let count = 0;
    for (let i = 0; i < block.rows; i++) {
      const expected = follows(i);
      // Half a unit of the last printed decimal, seen against the value itself.
      const rounding = roundingOf(block, slot, i, given[i]);
      const excess = Math.abs(given[i] / expected - 1) - rounding;
      if (excess > agreement) count++;
      if (excess > worst) {
        worst = excess;
        at = i;
      }
    }
    if (worst <= agreement) return;
    const header = block.layout.slots[slot].column.reading.text;
    notices.push(
      notice(
        "caution",
        "io.columns-disagree",
        `The ${quantity} column (${quoted(header)}) and what the moduli beside it give differ by more than 2 % in ${count} of ` +
          `${block.rows} rows; the worst is line ${block.lines[at]}, with ${percent(given[at] / follows(at) - 1)}. The moduli as ` +
          `printed are used; check the export.`,
      ),
    );
  };
  const both = columns.storage !== null && columns.loss !== null;
  const tan = (i: number) => loss_Pa[i] / storage_Pa[i];
  if (both) {
    compare("tan delta", columns.tanDelta, tan);
    compare("phase angle", columns.phase, (i) => Math.atan(tan(i)) / radianPerDegree);
    compare("complex modulus", columns.complex, (i) => Math.hypot(storage_Pa[i], loss_Pa[i]));
  } else {
    const absolute = [columns.storage, columns.loss, columns.complex].filter((each) => each !== null).length;
    if (absolute === 2 && columns.tanDelta !== null) {
      compare("complex modulus", columns.complex, (i) => Math.hypot(storage_Pa[i], loss_Pa[i]));
    }
    if (columns.tanDelta !== null)
      compare("phase angle", columns.phase, (i) => Math.atan(columns.tanDelta![i]) / radianPerDegree);
  }
  return notices;
}

function roundingOf(block: Block, slot: number, row: number, value: number): number {
  const { logarithm } = block.layout.slots[slot].column.reading;
  const step = 0.5 * 10 ** -block.decimals[slot];
  if (logarithm !== 0) return logarithm ** step - 1;
  const written = block.data[slot][row] / 10 ** block.layout.slots[slot].power;
  return Number.isFinite(value) && written !== 0 && block.decimals[slot] > 0 ? step / Math.abs(written) : 0;
}

function percent(fraction: number): string {
  return `${fraction < 0 ? "−" : "+"}${Math.abs(100 * fraction).toFixed(1)} %`;
}
