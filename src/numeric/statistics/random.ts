import { uniformFloat64 } from "pure-rand/distribution/uniformFloat64";
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import { ln } from "../elementary/logarithm.js";

/** A seeded source of random numbers: the same seed gives the same numbers on every machine. */
export interface Random {
  /** Uniform in [0, 1). */
  uniform(): number;
  /** Standard normal, by the polar method (Marsaglia and Bray, SIAM Review 6, 260, 1964). */
  normal(): number;
  /** A whole number from 0 to n − 1. */
  index(n: number): number;
}

/**
 * A seeded source of random numbers (xoroshiro128+, Blackman and Vigna, ACM Trans. Math. Softw. 47, 36, 2021).
 * @example seededRandom(1).index(6) // 4
 */
export function seededRandom(seed: number): Random {
  const generator = xoroshiro128plus(scrambled(seed));
  const uniform = () => uniformFloat64(generator);
  let spare: number | null = null;
  const normal = () => {
    if (spare !== null) {
      const value = spare;
      spare = null;
      return value;
    }
    for (;;) {
      const u = 2 * uniform() - 1;
      const v = 2 * uniform() - 1;
      const s = u * u + v * v;
      if (s > 0 && s < 1) {
        const factor = Math.sqrt((-2 * ln(s)) / s);
        spare = v * factor;
        return u * factor;
      }
    }
  };
  return { uniform, normal, index: (n) => Math.floor(uniform() * n) };
}

/** Spreads small seeds over all bits (the finaliser of MurmurHash3): of 1, 2, 3, … the first numbers would be much alike. */
function scrambled(seed: number): number {
  let bits = seed | 0;
  bits = Math.imul(bits ^ (bits >>> 16), 0x85ebca6b);
  bits = Math.imul(bits ^ (bits >>> 13), 0xc2b2ae35);
  return bits ^ (bits >>> 16);
}

/**
 * A 31-bit seed from numbers (FNV-1a over their bytes), so that the same data give the same draws under any name.
 * @example seedFromNumbers([1, 2]) === seedFromNumbers([1, 2]) // true
 */
export function seedFromNumbers(...columns: ArrayLike<number>[]): number {
  const bytes = new DataView(new ArrayBuffer(8));
  let hash = 0x811c9dc5;
  for (const column of columns) {
    for (let i = 0; i < column.length; i++) {
      bytes.setFloat64(0, column[i]);
      for (let k = 0; k < 8; k++) hash = Math.imul(hash ^ bytes.getUint8(k), 0x01000193);
    }
  }
  return hash & 0x7fffffff;
}

/**
 * A 31-bit seed from a text (FNV-1a), so that what is drawn for one purpose is not drawn for another.
 * @example seedFromText("Birch 60") // 1485558525
 */
export function seedFromText(text: string): number {
  let hash = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) {
    hash ^= text.charCodeAt(i);
    hash = Math.imul(hash, 0x01000193);
  }
  return hash & 0x7fffffff;
}
