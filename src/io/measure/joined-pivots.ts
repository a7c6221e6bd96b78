import { Block } from "../table/block.js";
import type { Group, Layout } from "../table/header/layout.js";
import { modulusTrouble } from "../table/header/modulus-trouble.js";
import { isCondition, type Quantity } from "../vocabulary/quantities.js";
import { hasModulus } from "./series.js";

/**
 * Blocks of one quantity over two axes that stand one above the other (E′ over temperature and frequency, then E″ over
 * the same) put together into one, where neither alone gives a modulus, both run over the same rows and the same tags,
 * and both are of one sample. All others stay as they are.
 */
export function joinedPivots(blocks: Block[]): Block[] {
  const joined: Block[] = [];
  for (const block of blocks) {
    const before = joined.at(-1);
    if (before !== undefined && areParts(before, block)) joined[joined.length - 1] = together(before, block);
    else joined.push(block);
  }
  return joined;
}

function areParts(first: Block, second: Block): boolean {
  if (first.rows !== second.rows || first.samples !== null || second.samples !== null) return false;
  if (first.facts.sample !== second.facts.sample || !isIncomplete(first) || !isIncomplete(second))
    return false;
  const tags = (block: Block) => block.layout.groups.map(tagOf).sort().join("\n");
  if (tags(first) !== tags(second)) return false;
  const others = new Set(quantitiesOf(first));
  if (quantitiesOf(second).some((quantity) => others.has(quantity) && !isCondition(quantity))) return false;
  return axesOf(first).every(([quantity, slot]) => {
    const own = axesOf(second).find(([other]) => other === quantity);
    if (own === undefined) return false;
    for (let row = 0; row < first.rows; row++) {
      if (first.data[slot][row] !== second.data[own[1]][row]) return false;
    }
    return true;
  });
}

function isIncomplete({ layout }: Block): boolean {
  const groups = layout.groups.filter(hasModulus);
  return groups.length > 0 && groups.every((group) => modulusTrouble(group, layout) !== null);
}

function tagOf({ tag, sample, run }: Group): string {
  return JSON.stringify([tag.frequency_Hz ?? null, tag.temperature_C ?? null, sample, run]);
}

function quantitiesOf({ layout }: Block): Quantity[] {
  return layout.slots.map(({ quantity }) => quantity);
}

function axesOf({ layout }: Block): [Quantity, number][] {
  return layout.slots.flatMap(({ quantity }, slot): [Quantity, number][] =>
    isCondition(quantity) ? [[quantity, slot]] : [],
  );
}

/** The first block with the responses of the second behind its own columns. */
function together(first: Block, second: Block): Block {
  const { layout } = first;
  const added = second.layout.slots
    .map((_, slot) => slot)
    .filter((slot) => !isCondition(second.layout.slots[slot].quantity));
  const placeOf = new Map(added.map((slot, i) => [slot, layout.slots.length + i]));
  const groups = layout.groups.map((group): Group => {
    const twin = second.layout.groups.find((other) => tagOf(other) === tagOf(group));
    const more = [...(twin?.slots ?? [])].flatMap(([quantity, slots]): [Quantity, number[]][] => {
      const places = slots.flatMap((slot) => placeOf.get(slot) ?? []);
      return places.length === 0 ? [] : [[quantity, places]];
    });
    return { ...group, slots: new Map([...group.slots, ...more]) };
  });
  const joined: Layout = {
    ...layout,
    slots: [...layout.slots, ...added.map((slot) => second.layout.slots[slot])],
    groups,
  };
  const block = new Block(joined, first.facts, first.section);
  block.rows = first.rows;
  block.data = [
    ...first.data.map((column) => column.slice(0, first.rows)),
    ...added.map((slot) => second.data[slot].slice(0, second.rows)),
  ];
  block.lines = first.lines.slice(0, first.rows);
  block.precision = Uint8Array.from([...first.precision, ...added.map((slot) => second.precision[slot])]);
  block.gaps = [
    ...first.gaps,
    ...second.gaps.flatMap((gap) => {
      const slot = placeOf.get(gap.slot);
      return slot === undefined ? [] : [{ ...gap, slot }];
    }),
  ];
  return block;
}
