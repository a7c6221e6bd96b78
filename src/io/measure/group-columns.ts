import { notice, problem } from "../../words/codes/codes.js";
import { quoted } from "../../words/quoted.js";
import type { ReadOptions } from "../read-options.js";
import { fileInStudy } from "../study-example.js";
import type { Block } from "../table/block.js";
import type { Facts, Stated } from "../table/facts.js";
import type { Column } from "../table/header/column.js";
import type { Group } from "../table/header/layout.js";
import type { Quantity } from "../vocabulary/quantities.js";
import { otherContextOf } from "../vocabulary/terms/other-contexts.js";
import { Rejection } from "./rejection.js";
import type { Told } from "./told.js";
import { checkTanDelta } from "./units/check-tan-delta.js";
import { type ModulusColumns, type ModulusPair, modulusPairs } from "./units/complex-modulus.js";
import { gatherDisagreements } from "./units/disagreements.js";
import { type ChosenUnits, siColumn } from "./units/si-columns.js";

/** SI columns of one group of a table, one value per row; NaN where a cell holds none. */
export interface GroupColumns {
  temperature_C: Float64Array;
  frequency_Hz: Float64Array;
  /** True where nothing states it and the caller can do without: NaN throughout. */
  isFrequencyUnstated: boolean;
  storageModulus_Pa: Float64Array;
  lossModulus_Pa: Float64Array;
  strain: Float64Array | null;
  /** True where it is an amplitude of displacement in m, and the table gives no strain. */
  isDisplacement: boolean;
  time_s: Float64Array | null;
}

/** The conditions and the complex modulus of each row; a table that states no temperature or frequency is rejected. */
export function groupColumns(
  block: Block,
  group: Group,
  options: ReadOptions,
  chosen: ChosenUnits,
  told: Told,
): GroupColumns {
  const column = (quantity: Quantity): Float64Array | null => {
    const slot = group.slots.get(quantity)?.[0];
    return slot === undefined ? null : siColumn(block, slot, chosen);
  };
  const moduli: ModulusColumns = {
    storage: column("storage modulus"),
    loss: column("loss modulus"),
    complex: column("complex modulus"),
    tanDelta: column("tan delta"),
    phase: column("phase angle"),
  };
  const pair = pairOf(moduli, block, group, column, told);
  checkTanDelta(pair, block, group);
  const frequency_Hz = frequencyOf(block, group, options, column, told);
  return {
    temperature_C: temperatureOf(block, group, options, column, told),
    frequency_Hz: frequency_Hz ?? constant(Number.NaN, block.rows),
    isFrequencyUnstated: frequency_Hz === null,
    ...pair,
    ...strainOf(block, column),
    time_s: column("time"),
  };
}

function constant(value: number, rows: number): Float64Array {
  return new Float64Array(rows).fill(value);
}

function temperatureOf(
  block: Block,
  group: Group,
  options: ReadOptions,
  column: (quantity: Quantity) => Float64Array | null,
  told: Told,
): Float64Array {
  const reduced = reducedFrequencyOf(block, group);
  if (reduced !== null)
    return constant(referenceTemperature_C(reduced, block, options, column, told), block.rows);
  const measured = column("temperature");
  if (measured !== null) return measured;
  const set = column("set temperature");
  if (set !== null) {
    told.notices.push(
      notice("io.set-temperature", "Only a set temperature is given; it stands for the measured one."),
    );
    return set;
  }
  if (group.tag.temperature_C !== undefined) return constant(group.tag.temperature_C, block.rows);
  const { facts, layout } = block;
  const stated = statedTemperature_C(facts, options, told);
  if (stated !== null) return constant(stated, block.rows);
  throw new Rejection(
    problem(
      "io.no-temperature",
      "The table has no temperature column, and no line above it states the temperature; expected one or the other. Add a column " +
        `or a line such as "Temperature: 23 °C", or state it in study.yaml: ${fileInStudy("temperature_C", 23)}`,
      layout.headerLine,
    ),
  );
}

function reducedFrequencyOf({ layout }: Block, { slots }: Group): Column | null {
  const slot = (slots.get("frequency") ?? slots.get("angular frequency"))?.[0];
  const column = slot === undefined ? undefined : layout.slots[slot].column;
  return column?.reading.isReduced ? column : null;
}

/**
 * The temperature that the rows of a master curve were superposed to: a line's reference temperature, what the study
 * states, or a column's where it is one and the same throughout.
 */
function referenceTemperature_C(
  { position, reading }: Column,
  { facts, layout, rows }: Block,
  options: ReadOptions,
  column: (quantity: Quantity) => Float64Array | null,
  told: Told,
): number {
  const { referenceTemperature } = facts;
  const header = `Column ${position + 1} (${quoted(reading.text)})`;
  const temperatures = column("temperature") ?? column("set temperature");
  const isOne = temperatures !== null && rows > 0 && temperatures.every((each) => each === temperatures[0]);
  const [value, place] =
    referenceTemperature !== null
      ? [referenceTemperature.value, `line ${referenceTemperature.line}`]
      : options.temperature_C !== undefined
        ? [options.temperature_C, "the study"]
        : [isOne ? temperatures[0] : null, "the temperature column, the same in all rows"];
  if (value === null) {
    throw new Rejection(
      problem(
        "io.no-reference-temperature",
        `${header} is a reduced frequency, of rows that were superposed, and no line states the reference temperature that they were ` +
          `superposed to; expected one. Add a line such as "Reference temperature: 20 °C" above the table, or state it in study.yaml: ` +
          `${fileInStudy("temperature_C", 20)}. Or export the frequency sweeps as measured, with frequency and temperature of each row.`,
        layout.headerLine,
        position + 1,
      ),
    );
  }
  checkStated(value, referenceTemperature?.line);
  told.notices.push(
    notice(
      "io.master-curve-taken",
      `${header} is a reduced frequency: the rows were superposed by whoever exported them and not measured at ${round(value)} °C, the ` +
        `reference temperature (${place}). They were read as a frequency sweep at that temperature; the superposition was not checked.`,
    ),
  );
  return value;
}

/** The temperature that lines or the study state; null where none does. */
export function statedTemperature_C(facts: Facts, options: ReadOptions, told: Told): number | null {
  const { temperature, otherTemperature } = facts;
  if (temperature !== null && otherTemperature !== null)
    throw differing("temperature", otherTemperature, temperature, "°C");
  if (temperature !== null && isPlain(temperature, options.temperature_C)) {
    checkStated(temperature.value, temperature.line);
    sayStated(told, "temperature", `${round(temperature.value)} °C`, temperature);
    return temperature.value;
  }
  return options.temperature_C ?? null;
}

/** An assumption gives way to what the study states. */
function isPlain(stated: Stated, fromStudy: number | undefined): boolean {
  return fromStudy === undefined || !(stated.how === "described" || stated.how === "mentioned");
}

function differing(what: string, one: Stated, other: Stated, unit: string): Rejection {
  const [first, second] = [one, other].map(
    ({ value, line }) => `line ${line} states ${round(value)} ${unit}`,
  );
  return new Rejection(
    problem(
      "io.statements-differ",
      `Two lines state the ${what} of the table, and they differ: ${first}, ${second}; expected one. Take the wrong one out of the ` +
        `export, or name it for what it is.`,
      other.line,
    ),
  );
}

function checkStated(temperature_C: number, line: number | undefined): void {
  if (temperature_C >= -273.15) return;
  throw new Rejection(
    problem(
      "io.below-absolute-zero",
      `The stated temperature, ${round(temperature_C)} °C, lies below absolute zero (−273.15 °C). Check its unit.`,
      line,
    ),
  );
}

function frequencyOf(
  block: Block,
  group: Group,
  options: ReadOptions,
  column: (quantity: Quantity) => Float64Array | null,
  told: Told,
): Float64Array | null {
  if (group.tag.frequency_Hz !== undefined) return constant(group.tag.frequency_Hz, block.rows);
  const measured = column("frequency") ?? column("angular frequency");
  if (measured !== null) return measured;
  const { facts, layout } = block;
  const { frequency, otherFrequency } = facts;
  if (frequency !== null && otherFrequency !== null)
    throw differing("frequency", otherFrequency, frequency, "Hz");
  if (frequency !== null && isPlain(frequency, options.frequency_Hz)) {
    sayStated(told, "frequency", `${round(frequency.value)} Hz`, frequency);
    return constant(frequency.value, block.rows);
  }
  if (options.frequency_Hz !== undefined) return constant(options.frequency_Hz, block.rows);
  const assumed = assumedFrequency(facts, told);
  if (assumed !== null) {
    const message = `The frequency, ${round(assumed.value)} Hz, is assumed: it stands in ${assumed.place}, and no column and no line above the table states it. Check it, or state it in study.yaml: ${fileInStudy("frequency_Hz", Number(round(assumed.value)))}`;
    told.notices.push(notice("io.frequency-assumed", message));
    return constant(assumed.value, block.rows);
  }
  if (options.unstatedFrequency) {
    const message =
      `Nothing states the frequency: the peaks are given at an unstated frequency, and nothing is moved or predicted from them. Add a line ` +
      `such as "Frequency: 10 Hz", or state it in study.yaml: ${fileInStudy("frequency_Hz", 10)}.${passedOverText(told)}`;
    told.notices.push(notice("io.frequency-unstated", message));
    return null;
  }
  throw new Rejection(
    problem(
      "io.no-frequency",
      "The table has no frequency column, and no line above it states the frequency; expected one or the other. Add a column or a " +
        `line such as "Frequency: 10 Hz", or state it in study.yaml: ${fileInStudy("frequency_Hz", 10)}. It is not guessed.${passedOverText(told)}`,
      layout.headerLine,
    ),
  );
}

/** A frequency below the table, in the sheet's or in the file's name, where nothing nearer states one. */
function assumedFrequency(facts: Facts, { lastFacts, names }: Told): { value: number; place: string } | null {
  const below = lastFacts.frequency;
  if (facts.frequency === null && below !== null && (below.how === "named" || below.how === "alone")) {
    return { value: below.value, place: `line ${below.line}, below the table` };
  }
  for (const { name, what } of names) {
    const value = frequencyInName(name);
    if (value !== null) return { value, place: `${what} ${quoted(name)}` };
  }
  return null;
}

/** "birch 10Hz.csv" holds 10 Hz; a name with two frequencies, or one of something else, holds none. */
function frequencyInName(name: string): number | null {
  if (otherContextOf(name.replace(/[_.-]/g, " ")) !== null) return null;
  const found = [...name.matchAll(/(?<![\d.,\p{L}])(\d+(?:[.,]\d+)?) ?_?-?([mk]?)hz(?!\p{L})/giu)];
  if (found.length !== 1) return null;
  const [whole, digits, prefix] = found[0];
  if (/\d ?(?:-|–|to|_to_|bis|\.\.) ?$/i.test(name.slice(0, name.indexOf(whole)))) return null;
  const value =
    Number(digits.replace(",", ".")) * (prefix === "" ? 1 : prefix.toLowerCase() === "k" ? 1e3 : 1e-3);
  return value > 0 ? value : null;
}

/** What stands in the file and was not taken, so that nobody wonders. */
function passedOverText({ said }: Told): string {
  const over = said.filter(
    ({ statement }) => statement.about === "passed over" && /hz|rad|赫|ヘルツ/i.test(statement.text),
  );
  if (over.length === 0) return "";
  const list = over
    .slice(0, 3)
    .map(({ line, statement }) =>
      statement.about === "passed over"
        ? `${quoted(statement.text, 30)} in line ${line} (${statement.why})`
        : "",
    );
  return ` Not taken for it: ${list.join("; ")}.`;
}

/** Only a value that a whole file leans on is worth a notice; the title of a section is plain enough. */
function sayStated(told: Told, what: "frequency" | "temperature", value: string, stated: Stated): void {
  const { line, how, isUnitAssumed } = stated;
  if (how === "described" || how === "mentioned") {
    const code = what === "frequency" ? "io.frequency-assumed" : "io.temperature-assumed";
    const message =
      `The ${what}, ${value}, is assumed: it stands in the words of line ${line}, and no column and no line states it by name. ` +
      `Check it, or state it in study.yaml: ${fileInStudy(what === "frequency" ? "frequency_Hz" : "temperature_C", Number.parseFloat(value.replace("−", "-")))}`;
    told.notices.push(notice(code, message));
    return;
  }
  if (isUnitAssumed) {
    const message = `The ${what} in line ${line} states no unit: ${value} was assumed.`;
    told.notices.push(notice("io.unit-assumed", message));
    return;
  }
  if (!told.statedOnce) return;
  const message = `The ${what}, ${value}, is taken from line ${line}: the table has no column for it.`;
  told.notices.push(notice("io.stated-outside-table", message));
}

function round(value: number): string {
  return String(Number(value.toPrecision(6))).replace("-", "−");
}

function strainOf(
  block: Block,
  column: (quantity: Quantity) => Float64Array | null,
): Pick<GroupColumns, "strain" | "isDisplacement"> {
  const measured = column("strain amplitude") ?? column("double strain amplitude");
  if (measured !== null) return { strain: measured, isDisplacement: false };
  const displacement = column("displacement amplitude");
  if (displacement !== null) return { strain: displacement, isDisplacement: true };
  const { strainAmplitude } = block.facts;
  return {
    strain: strainAmplitude === null ? null : constant(strainAmplitude, block.rows),
    isDisplacement: false,
  };
}

/** The modulus from the columns that hold it, else from a compliance: M* = 1/J*, M′ = J′/|J*|², M″ = J″/|J*|². */
function pairOf(
  moduli: ModulusColumns,
  block: Block,
  group: Group,
  column: (quantity: Quantity) => Float64Array | null,
  told: Told,
): ModulusPair {
  const compliance: ModulusColumns = {
    storage: column("storage compliance"),
    loss: column("loss compliance"),
    complex: column("complex compliance"),
    tanDelta: moduli.tanDelta,
    phase: moduli.phase,
  };
  const isCompliance = compliance.storage !== null || compliance.loss !== null || compliance.complex !== null;
  if (!isCompliance || !modulusFollowsNot(moduli)) {
    const pair = modulusPairs(moduli, block.rows);
    gatherDisagreements(moduli, pair, block, group.slots, told.disagreements);
    return pair;
  }
  told.notices.push(
    notice(
      "io.compliance-turned",
      "The columns hold a compliance; it was turned into the modulus, M* = 1/J*.",
    ),
  );
  const { storageModulus_Pa: storage, lossModulus_Pa: loss } = modulusPairs(compliance, block.rows);
  const square = storage.map((value, row) => value * value + loss[row] * loss[row]);
  return {
    storageModulus_Pa: storage.map((value, row) => value / square[row]),
    lossModulus_Pa: loss.map((value, row) => value / square[row]),
  };
}

function modulusFollowsNot({ storage, loss, complex, tanDelta, phase }: ModulusColumns): boolean {
  const absolute = [storage, loss, complex].filter((one) => one !== null).length;
  return absolute === 0 || (absolute === 1 && tanDelta === null && phase === null);
}
