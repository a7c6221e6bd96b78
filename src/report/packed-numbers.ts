import { exp } from "../numeric/elementary/exponential.js";
import { ln } from "../numeric/elementary/logarithm.js";

/** Of the eight bytes of each draw that a requirement is judged by, as many as keep it on its side of a limit. */
export const drawBytes = 6;

const digits = new TextEncoder().encode("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/");
const padding = 61;

/** Base64 of bytes. The engines' own `btoa` wants a text of them first, which takes three times as long as all of this. */
export function toBase64(bytes: Uint8Array): string {
  const out = new Uint8Array(4 * Math.ceil(bytes.length / 3));
  let at = 0;
  for (let i = 0; i < bytes.length; i += 3) {
    const [first, second, third] = [bytes[i], bytes[i + 1] ?? 0, bytes[i + 2] ?? 0];
    out[at++] = digits[first >> 2];
    out[at++] = digits[((first & 3) << 4) | (second >> 4)];
    out[at++] = i + 1 < bytes.length ? digits[((second & 15) << 2) | (third >> 6)] : padding;
    out[at++] = i + 2 < bytes.length ? digits[third & 63] : padding;
  }
  return new TextDecoder().decode(out);
}

/** Bytes of a base64 text. */
export function fromBase64(text: string): Uint8Array<ArrayBuffer> {
  const binary = atob(text);
  const bytes = new Uint8Array(binary.length);
  for (let i = 0; i < binary.length; i++) bytes[i] = binary.charCodeAt(i);
  return bytes;
}

/**
 * Doubles as text, rounded to so many of their eight bytes: six keep 36 bits of mantissa (1.5e-11 of the
 * value, far below any interval), three keep 12 (1.2e-4, still below what two specimens share). Bytes of equal weight stand together, which
 * compresses better than number by number.
 */
export function packNumbers(values: ArrayLike<number>, bytes: number): string {
  const count = values.length;
  const packed = new Uint8Array(bytes * count);
  const number = new DataView(new ArrayBuffer(8));
  // Half of the last kept bit is added, so that cutting rounds; a carry moves into the exponent as it should.
  const half = 1n << BigInt(8 * (8 - bytes) - 1);
  for (let i = 0; i < count; i++) {
    number.setFloat64(0, values[i]);
    number.setBigUint64(0, number.getBigUint64(0) + half);
    for (let k = 0; k < bytes; k++) packed[k * count + i] = number.getUint8(k);
  }
  return toBase64(packed);
}

/**
 * The numbers as `packNumbers` rounded them.
 * @example unpackNumbers(packNumbers([0.5, 3], 6), 6) // Float64Array [0.5, 3]
 */
export function unpackNumbers(text: string, bytes: number): Float64Array {
  const packed = fromBase64(text);
  const count = packed.length / bytes;
  const values = new Float64Array(count);
  const number = new DataView(new ArrayBuffer(8));
  for (let i = 0; i < count; i++) {
    for (let k = 0; k < bytes; k++) number.setUint8(k, packed[k * count + i]);
    values[i] = number.getFloat64(0);
  }
  return values;
}

/** An evenly spaced logarithmic grid by its ends, or the numbers themselves where it is none. */
export type PackedGrid = { first: number; last: number; count: number } | { values: number[] };

const gridTolerance = 1e-11;

/** @example packGrid([1, 10, 100]) // { first: 1, last: 100, count: 3 } */
export function packGrid(values: Float64Array): PackedGrid {
  if (values.length < 3) return { values: [...values] };
  const grid = { first: values[0], last: values[values.length - 1], count: values.length };
  const exact = unpackGrid(grid);
  const even = values.every((value, i) => Math.abs(exact[i] / value - 1) < gridTolerance);
  return even ? grid : { values: [...values] };
}

/** The numbers of a packed grid, evenly spaced in their logarithm or one by one. */
export function unpackGrid(grid: PackedGrid): Float64Array {
  if ("values" in grid) return Float64Array.from(grid.values);
  const { first, last, count } = grid;
  const step = ln(last / first) / (count - 1);
  return Float64Array.from({ length: count }, (_, i) => first * exp(i * step));
}
