import { cos, sin, tan } from "../../../numeric/elementary/angle.js";

/** What the columns of one table hold of the complex modulus; SI, δ in degrees. Gaps are NaN. */
export interface ModulusColumns {
  storage: Float64Array | null;
  loss: Float64Array | null;
  complex: Float64Array | null;
  tanDelta: Float64Array | null;
  phase: Float64Array | null;
}

export interface ModulusPair {
  storageModulus_Pa: Float64Array;
  lossModulus_Pa: Float64Array;
}

const radianPerDegree = Math.PI / 180;

/**
 * Storage and loss modulus of each row from any two of M′, M″, |M*|, tan δ and δ: M* = M′ + iM″,
 * tan δ = M″/M′, |M*|² = M′² + M″². Moduli that the file gives stand as they are; NaN where a row holds too
 * little.
 */
export function modulusPairs(columns: ModulusColumns, rows: number): ModulusPair {
  const { storage, loss, complex, tanDelta, phase } = columns;
  if (isWhole(storage) && isWhole(loss)) return { storageModulus_Pa: storage, lossModulus_Pa: loss };
  const storageModulus_Pa = new Float64Array(rows);
  const lossModulus_Pa = new Float64Array(rows);
  for (let i = 0; i < rows; i++) {
    const m1 = storage === null ? Number.NaN : storage[i];
    const m2 = loss === null ? Number.NaN : loss[i];
    storageModulus_Pa[i] = m1;
    lossModulus_Pa[i] = m2;
    if (isGiven(m1) && isGiven(m2)) continue;
    const magnitude = complex === null ? Number.NaN : complex[i];
    const delta = phase === null ? Number.NaN : phase[i] * radianPerDegree;
    const stated = tanDelta === null ? Number.NaN : tanDelta[i];
    const tangent = isGiven(stated) ? stated : tan(delta);
    if (isGiven(m1)) {
      lossModulus_Pa[i] = isGiven(tangent) ? m1 * tangent : root(magnitude * magnitude - m1 * m1);
    } else if (isGiven(m2)) {
      storageModulus_Pa[i] = isGiven(tangent) ? m2 / tangent : root(magnitude * magnitude - m2 * m2);
    } else if (isGiven(stated)) {
      storageModulus_Pa[i] = magnitude / Math.sqrt(1 + stated * stated);
      lossModulus_Pa[i] = storageModulus_Pa[i] * stated;
    } else {
      storageModulus_Pa[i] = magnitude * cos(delta);
      lossModulus_Pa[i] = magnitude * sin(delta);
    }
  }
  return { storageModulus_Pa, lossModulus_Pa };
}

function isWhole(column: Float64Array | null): column is Float64Array {
  if (column === null) return false;
  for (let i = 0; i < column.length; i++) if (!isGiven(column[i])) return false;
  return true;
}

function isGiven(value: number): boolean {
  return !Number.isNaN(value);
}

function root(square: number): number {
  return square > 0 ? Math.sqrt(square) : Number.NaN;
}
