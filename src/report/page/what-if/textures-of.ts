import { textures as builtInTextures } from "../../../predict/contact/textures.js";
import type { Texture } from "../../../predict/use.js";
import type { PageData } from "../../page-data.js";

/** Every texture that can be chosen: those of the study first. */
export function texturesOf({ uses }: Pick<PageData, "uses">): Texture[] {
  const all = [...uses.flatMap((use) => use.sliding?.texture ?? []), ...builtInTextures];
  return [...new Map(all.map((texture) => [texture.name, texture])).values()];
}
