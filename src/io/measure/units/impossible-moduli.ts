import { exp10 } from "../../../numeric/elementary/exponential.js";
import { power } from "../../../numeric/elementary/power.js";
import { pushTo } from "../../../numeric/push-to.js";
import { problem } from "../../../words/codes/codes.js";
import { quoted } from "../../../words/quoted.js";
import { columnInStudy } from "../../study-example.js";
import type { Block } from "../../table/block.js";
import type { Column } from "../../table/header/column.js";
import { readUnit, toSI } from "../../vocabulary/units.js";
import { Rejection } from "../rejection.js";
import { shownNumber } from "./choose-unit.js";
import type { ChosenUnits } from "./si-columns.js";

/**
 * Stiffer than any polymer at hand: glassy ones have 2 to 5 GPa, the stiffest fibres apart (handbook values, from
 * memory).
 */
const stiffest_Pa = 20e9;
/** Softer than any rubber: its plateau lies from some 0.1 MPa on (common practice); a weak gel has some 100 Pa. */
const softest_Pa = 100;
/** A column that reaches this has a plateau or a glass in it, and what is softer is a melt that flows. */
const solid_Pa = 1e4;
/**
 * So many rows beyond the limit are spikes, if each stands among ten or more others that look like a rubber in the
 * stated unit, from below a glass's to no more than a glass's modulus; or far above all others.
 */
const mostSpikes = 2;
const rowsPerSpike = 10;
const glassy_Pa: [least: number, greatest: number] = [3e8, 6e9];
const farAbove = 1000;
/** A column that spans so much goes through a transition, and its stiffest row stands in the glass or near it. */
const transitionSpan = 30;
/** M′ of a glass in tension; in shear it is a third of it (common practice, with a little room). */
const tensileGlass_Pa = [4e8, 6e9];
const inShear = 1 / 3;
/** M″ at its peak stands to M′ of the glass as some 1 to 10 (common practice). */
const ofLossModulus = 0.1;
const units = ["GPa", "MPa", "kPa", "Pa"];

/** The places of one column of moduli: all blocks under headers that read alike. */
interface Moduli {
  column: Column;
  unitText: string;
  places: [Block, number][];
  /** Pa of a number as the block holds it. */
  pascal: (held: number) => number;
  /** The same as a factor; null where the block holds logarithms. */
  factor: number | null;
}

/**
 * Holds all moduli of a file against what any polymer has in the unit that is stated. Where they go beyond it the
 * unit is wrong, and the file is rejected: leaving out the stiff rows alone would keep the wrong ones. One or two
 * spikes among many rows, or a code that stands again and again, go out by name. What the study itself states
 * stands.
 */
export function checkModuli(blocks: Block[], chosen: ChosenUnits): void {
  for (const moduli of moduliOf(blocks, chosen)) {
    const { column, places, pascal } = moduli;
    if (areOrdinary(moduli)) continue;
    const beyond: { block: Block; slot: number; row: number; held: number }[] = [];
    let rows = 0;
    let soft = 0;
    let firstSoft: { block: Block; slot: number; row: number; held: number } | null = null;
    let greatest_Pa = 0;
    let least_Pa = Number.POSITIVE_INFINITY;
    let greatestWithin_Pa = 0;
    for (const [block, slot] of places) {
      const held = block.data[slot];
      for (let row = 0; row < block.rows; row++) {
        const value_Pa = pascal(held[row]);
        if (!(value_Pa > 0)) continue;
        rows++;
        if (value_Pa > greatest_Pa) greatest_Pa = value_Pa;
        if (value_Pa < least_Pa) least_Pa = value_Pa;
        if (value_Pa <= stiffest_Pa && value_Pa > greatestWithin_Pa) greatestWithin_Pa = value_Pa;
        if (value_Pa > stiffest_Pa) beyond.push({ block, slot, row, held: held[row] });
        else if (value_Pa < softest_Pa) {
          soft++;
          firstSoft ??= { block, slot, row, held: held[row] };
        }
      }
    }
    if (beyond.length > 0) {
      const isAmongRubber =
        rows >= rowsPerSpike * beyond.length && least_Pa < glassy_Pa[0] && greatestWithin_Pa <= glassy_Pa[1];
      const isFar = beyond.every(({ held }) => pascal(held) > farAbove * greatestWithin_Pa);
      const isSpike = beyond.length <= mostSpikes && beyond.length < rows && (isAmongRubber || isFar);
      const isCode =
        rows > beyond.length && beyond.length > 1 && beyond.every((one) => one.held === beyond[0].held);
      if (!isSpike && !isCode) {
        throw impossible(moduli, beyond[0], beyond.length, rows, least_Pa, greatest_Pa, true);
      }
      for (const { block, slot, row, held } of beyond) {
        block.gaps.push({ row, slot, cell: written(held, block, slot), kind: "over-range" });
        block.data[slot][row] = Number.NaN;
      }
    } else if (
      firstSoft !== null &&
      column.quantity !== "loss modulus" &&
      greatest_Pa < solid_Pa &&
      soft >= 0.1 * rows
    ) {
      throw impossible(moduli, firstSoft, soft, rows, least_Pa, greatest_Pa, false);
    }
  }
}

/** Whether no value is stiffer than any polymer or softer than any rubber, as in nearly all files. */
function areOrdinary({ places, factor }: Moduli): boolean {
  if (factor === null) return false;
  for (const [block, slot] of places) {
    const held = block.data[slot];
    for (let row = 0; row < block.rows; row++) {
      const value_Pa = held[row] * factor;
      if (value_Pa > stiffest_Pa || (value_Pa < softest_Pa && value_Pa > 0)) return false;
    }
  }
  return true;
}

function moduliOf(blocks: Block[], chosen: ChosenUnits): Moduli[] {
  const byHeader = new Map<string, [Block, number][]>();
  for (const block of blocks) {
    block.layout.slots.forEach(({ column, quantity }, slot) => {
      const isModulus =
        quantity === "storage modulus" || quantity === "loss modulus" || quantity === "complex modulus";
      if (!isModulus || column.fromStudy) return;
      pushTo(byHeader, `${column.position}\n${column.reading.text}\n${column.reading.unitText}`, [
        block,
        slot,
      ]);
    });
  }
  return [...byHeader.values()].flatMap((places): Moduli[] => {
    const [block, slot] = places[0];
    const { column, power: decimal } = block.layout.slots[slot];
    const { reading } = column;
    const unit = chosen.get(column)?.unit ?? reading.unit ?? null;
    if (unit === null) return [];
    const left = { ...unit, power: unit.power - decimal };
    const factor = toSI(1, left);
    return [
      {
        column,
        unitText: reading.unit === null ? (chosen.get(column)?.text ?? "") : reading.unitText,
        places,
        factor: reading.logarithm === 0 ? factor : null,
        pascal:
          reading.logarithm === 0
            ? (held) => held * factor
            : (held) => power(reading.logarithm, held) * factor,
      },
    ];
  });
}

const written = (held: number, block: Block, slot: number) =>
  shownNumber(held / exp10(block.layout.slots[slot].power));

function impossible(
  { column, unitText, pascal }: Moduli,
  { block, slot, row, held }: { block: Block; slot: number; row: number; held: number },
  count: number,
  rows: number,
  least_Pa: number,
  greatest_Pa: number,
  isStiff: boolean,
): Rejection {
  const { quantity, reading, position } = column;
  const fitting = fittingUnits(column, unitText, least_Pa, greatest_Pa);
  const log = reading.logarithm === 0 ? "" : `${reading.logarithm === 10 ? "log10" : "ln"} `;
  const why = isStiff
    ? "stiffer than any polymer (20 GPa; a glassy one has 2 to 5 GPa)"
    : "softer than any rubber (100 Pa), and no row of the column is a solid's";
  const others = fitting.join(" or ");
  // A gel or a melt is as soft: then the unit is right, and no other one fits.
  const fits =
    fitting.length > 0
      ? isStiff
        ? `The values would fit ${others}. `
        : `In ${others} they would be a rubber's; a gel's or a melt's they may be as they stand. `
      : isStiff
        ? `In none of ${units.join(", ")} is its stiffest row a glass's, as in a sweep that goes into the glass (storage modulus 0.5 to 5 GPa in tension, a third of it in shear; loss modulus a tenth). Look for a factor in the export and at the dimensions of the specimen. `
        : "";
  const otherwise =
    fitting.length > 0 || !isStiff
      ? "Correct the unit in the export, or state"
      : "Correct the export; only where the values are right as they stand, state";
  const example = columnInStudy(reading.text, `${log}${quantity} in ${fitting[0] ?? unitText}`);
  return new Rejection(
    problem(
      "io.modulus-impossible",
      `The ${quantity} ${written(held, block, slot)} in column ${position + 1} (${quoted(reading.text)}) is in the stated unit, ${unitText}, ` +
        `${shownNumber(Number(pascal(held).toPrecision(3)))} Pa: ${why}; so are ${count} of ${rows} rows. ` +
        `${fits}${otherwise} the column ` +
        `in study.yaml, as in ${example}; a unit that the study states is taken as it stands.`,
      block.lines[row],
      position + 1,
    ),
  );
}

/**
 * Units in which the stiffest row is no stiffer than a glass, and the softest no softer than a soft rubber by far; where the
 * column goes through a transition, only those in which its stiffest row is a glass's.
 */
function fittingUnits(
  { quantity, reading: { letter } }: Column,
  unitText: string,
  least_Pa: number,
  greatest_Pa: number,
): string[] {
  const stated = readUnit(unitText);
  if (stated === null) return [];
  const share = quantity === "loss modulus" ? ofLossModulus : 1;
  const ofGlass_Pa = [
    share * tensileGlass_Pa[0] * (letter === "E" ? 1 : inShear),
    share * tensileGlass_Pa[1] * (letter === "G" ? inShear : 1),
  ];
  const hasGlass = greatest_Pa >= transitionSpan * least_Pa;
  const [softest, stiffest] = hasGlass ? ofGlass_Pa : [1e5, glassy_Pa[1]];
  return units.filter((text) => {
    const ratio = toSI(1, readUnit(text)!) / toSI(1, stated);
    return greatest_Pa * ratio >= softest && greatest_Pa * ratio <= stiffest && least_Pa * ratio >= solid_Pa;
  });
}
