import referenceTextures from "../../../reference-curves/textures.json" with { type: "json" };
import type { Texture } from "../use.js";

/** Every texture that comes with the program, each with its source. */
export const textures: readonly Texture[] = referenceTextures.textures.map((row) => ({
  name: row.name,
  source: row.source,
  rmsHeight_m: row.rmsHeight_m,
  hurstExponent: row.hurstExponent,
  q0_per_m: row.q0_per_m,
  q1_per_m: row.q1_per_m,
  measured: null,
}));

/**
 * The texture of that name among those that come with the program; null where there is none.
 * @example namedTexture("worn asphalt").rmsHeight_m // 0.0003
 */
export function namedTexture(name: string): Texture | null {
  return textures.find((texture) => texture.name === name) ?? null;
}
