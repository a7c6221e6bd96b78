import type {
  DynamicMeasurement,
  Measurement,
  PropertyMeasurement,
  ReboundMeasurement,
} from "../../io/measurement.js";
import { pushTo } from "../../numeric/push-to.js";
import { notice } from "../../words/codes/codes.js";
import type { Notice } from "../../words/notice.js";
import type { GroupedCompound } from "./group-compounds.js";

/** Fewer numbers than this may be alike by chance: two rebounds of 47.1 % at 23 °C are two tests. */
const fewestNumbers = 6;

/**
 * The compounds without what stands there twice: the same numbers in another file, delimiter or folder count once, and
 * that is said. Compounds of unlike names with identical data keep them, and are said to be so.
 */
export function withoutSameData(groups: GroupedCompound[]): { groups: GroupedCompound[]; notices: Notice[] } {
  const notices: Notice[] = groups.flatMap((group) => group.notices);
  const copies = copiedTables(groups, notices);
  const owners = new Map<string, { name: string; measurement: Measurement }>();
  const told = new Set<string>();
  const suspects = suspectsAmong(groups);
  const isCopied = (one: Measurement | PropertyMeasurement) =>
    isOfTable(one) && copies.has(one.provenance.file);
  const kept = groups.map((group): GroupedCompound => {
    const { name } = group;
    const measurements = group.measurements.filter((one) => !isCopied(one));
    const properties = group.properties.filter((one) => !isCopied(one));
    const own = new Map<string, Measurement>();
    const list: Measurement[] = [];
    for (const measurement of measurements) {
      const key = suspects.has(measurement) ? numbersOf(measurement) : null;
      const twin = key === null ? undefined : own.get(key);
      if (twin !== undefined) {
        notices.push(sameTwice(name, twin, measurement));
        continue;
      }
      list.push(measurement);
      if (key === null) continue;
      own.set(key, measurement);
      const owner = owners.get(key);
      if (owner === undefined) owners.set(key, { name, measurement });
      else if (owner.name !== name && !told.has(`${owner.name}\n${name}`)) {
        told.add(`${owner.name}\n${name}`);
        notices.push(
          notice(
            "study.identical-compounds",
            `The ${measurement.kind} of ${owner.name} in ${placeOf(owner.measurement)} and that of ${name} in ${placeOf(measurement)} have identical data, number by number. One of the names, or one of the exports, is wrong.`,
          ),
        );
      }
    }
    return { ...group, measurements: list, properties: eachOnce(name, properties, notices) };
  });
  return { groups: kept, notices };
}

/**
 * The files whose rebounds and properties are those of another file, compound by compound: single values may be alike by
 * chance, a whole table of them is not.
 */
function copiedTables(groups: GroupedCompound[], notices: Notice[]): ReadonlySet<string> {
  const tables = new Map<string, { lines: string[]; numbers: number }>();
  for (const { name, measurements, properties } of groups) {
    for (const one of [...measurements, ...properties]) {
      if (!isOfTable(one)) continue;
      const { file } = one.provenance;
      const table = tables.get(file) ?? { lines: [], numbers: 0 };
      tables.set(file, table);
      const values =
        "property" in one
          ? [one.property, one.unit, String(one.method), ...one.values.map(shown)]
          : one.readings.flatMap(({ temperature_C, fractions }) =>
              fractions.map((value) => `${shown(temperature_C)} ${shown(value)}`),
            );
      table.lines.push(JSON.stringify([name, ...values.toSorted()]));
      table.numbers += "property" in one ? one.values.length : 2 * values.length;
    }
  }
  const firsts = new Map<string, string>();
  const copies = new Set<string>();
  for (const [file, { lines, numbers }] of tables) {
    if (numbers < fewestNumbers) continue;
    const key = lines.toSorted().join("\n");
    const first = firsts.get(key);
    if (first === undefined) firsts.set(key, file);
    else {
      copies.add(file);
      const message = `The table in ${file} holds the same numbers of the same compounds as ${first}; it counts once.`;
      notices.push({ ...notice("study.same-data-twice", message), path: file });
    }
  }
  return copies;
}

/** Rebounds and properties stand in tables of a few numbers to a compound. */
function isOfTable(one: Measurement | PropertyMeasurement): one is PropertyMeasurement | ReboundMeasurement {
  return "property" in one || one.kind === "rebound";
}

/** A property whose repeats stand in another file too, number by number, counts once; a single value may be alike by chance. */
function eachOnce(
  compound: string,
  properties: PropertyMeasurement[],
  notices: Notice[],
): PropertyMeasurement[] {
  const seen = new Map<string, PropertyMeasurement>();
  return properties.filter((one) => {
    const { property, unit, method, values } = one;
    const key = JSON.stringify([property, unit, method, ...values]);
    const twin = seen.get(key);
    if (values.length < 2 || twin === undefined || twin.provenance.file === one.provenance.file) {
      seen.set(key, one);
      return true;
    }
    notices.push({
      ...notice(
        "study.same-data-twice",
        `${compound}: the ${property} in ${one.provenance.file} holds the same numbers as in ${twin.provenance.file}; it counts once.`,
      ),
      path: one.provenance.file,
    });
    return false;
  });
}

function placeOf({ provenance: { file, sheet, firstLine, lastLine } }: Measurement): string {
  return `${file}${sheet === null ? "" : `, sheet ${sheet}`} (${firstLine === lastLine ? `line ${firstLine}` : `lines ${firstLine} to ${lastLine}`})`;
}

function sameTwice(compound: string, first: Measurement, second: Measurement): Notice {
  const [one, other] = [first, second].map(placeOf);
  return {
    ...notice(
      "study.same-data-twice",
      `${compound}: the ${first.kind} in ${other} holds the same numbers as the one in ${one}; it counts once.`,
    ),
    path: second.provenance.file,
  };
}

/** Numbers alike to eight digits have sums this near to each other, with room for the order in which they are added. */
const nearSums = 2e-7;

/**
 * The measurements that may hold the numbers of another one: as many of one kind, whose storage moduli have the same
 * sum. All others need no text of their numbers, which takes more time and memory than reading them.
 */
function suspectsAmong(groups: GroupedCompound[]): ReadonlySet<Measurement> {
  const suspects = new Set<Measurement>();
  const byShape = new Map<string, { measurement: DynamicMeasurement; sum: number }[]>();
  for (const { measurements } of groups) {
    for (const measurement of measurements) {
      if (measurement.kind === "rebound") {
        suspects.add(measurement);
        continue;
      }
      const { kind, storageModulus_Pa } = measurement;
      let sum = 0;
      for (const value of storageModulus_Pa) sum += value;
      pushTo(byShape, `${kind} ${storageModulus_Pa.length}`, { measurement, sum });
    }
  }
  for (const members of byShape.values()) {
    members.sort((a, b) => a.sum - b.sum);
    for (let i = 1; i < members.length; i++) {
      const [one, other] = [members[i - 1], members[i]];
      if (other.sum - one.sum <= nearSums * other.sum) suspects.add(one.measurement).add(other.measurement);
    }
  }
  return suspects;
}

/** All numbers of a measurement in one text, in an order of their own; null where they are too few to tell by. */
function numbersOf(measurement: Measurement): string | null {
  if (measurement.kind === "rebound") {
    const rows = measurement.readings
      .flatMap(({ temperature_C, fractions }) =>
        fractions.map((value) => `${shown(temperature_C)} ${shown(value)}`),
      )
      .sort();
    return 2 * rows.length < fewestNumbers ? null : `rebound\n${rows.join("\n")}`;
  }
  const { kind, temperature_C, frequency_Hz, storageModulus_Pa, lossModulus_Pa } = measurement;
  if (4 * temperature_C.length < fewestNumbers) return null;
  const rows = Array.from(
    temperature_C,
    (value, i) =>
      `${shown(value)} ${shown(frequency_Hz[i])} ${shown(storageModulus_Pa[i])} ${shown(lossModulus_Pa[i])}`,
  ).sort();
  return `${kind}\n${rows.join("\n")}`;
}

/** Eight digits: what is left of a number that went through another unit. */
function shown(value: number): string {
  return String(Number(value.toPrecision(8)));
}
