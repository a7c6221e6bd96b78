import { notice } from "../../words/codes/codes.js";
import type { Deformation } from "../measurement.js";
import type { ReadOptions } from "../read-options.js";
import type { Block } from "../table/block.js";
import type { Group } from "../table/header/layout.js";
import type { Told } from "./told.js";

/** G says shear; E leaves tension, bending and compression open. What the file states in words is held against it. */
export function deformationOf(block: Block, group: Group, options: ReadOptions, told: Told): Deformation {
  if (options.deformation !== undefined) return options.deformation;
  const letters = new Set<string | null>();
  for (const slots of group.slots.values()) {
    for (const slot of slots) letters.add(block.layout.slots[slot].column.reading.letter);
  }
  const stated = block.facts.deformation;
  const contradiction = (letter: string, taken: string) => {
    const message =
      `The columns hold ${letter}, but the file states ${stated}${block.facts.lines.deformation === undefined ? "" : ` (line ${block.facts.lines.deformation})`}; ` +
      `the symbol was followed: ${taken}. Check which modulus the file holds.`;
    told.notices.push(notice("io.deformation-contradicts", message));
  };
  if (letters.has("G")) {
    if (stated !== null && stated !== "shear") contradiction("a shear modulus G", "shear");
    return "shear";
  }
  if (letters.has("E")) {
    if (stated === "shear") {
      contradiction("a tensile modulus E", "deformation unstated");
      return "unstated";
    }
  }
  return stated ?? "unstated";
}
