import { notice } from "../../../words/codes/codes.js";
import type { Notice } from "../../../words/notice.js";
import { quoted } from "../../../words/quoted.js";
import type { Direction, DynamicMeasurement, Provenance } from "../../measurement.js";
import { columnInStudy } from "../../study-example.js";
import type { Block } from "../../table/block.js";
import type { Series } from "../pool.js";
import { isWhole, joinedRows, type Pool, picked, poolOf, type Rows, seriesTouched } from "../pool.js";
import { columnReadings } from "../provenance.js";
import type { ChosenUnits } from "../units/si-columns.js";
import { heatingRateOf } from "./heating-rate.js";
import { sortedByLine, splitByLeg } from "./split-by-leg.js";
import { distinct, rangeOf, stretchesOf } from "./stretches.js";

type Kind = DynamicMeasurement["kind"];

/**
 * The measurements of one sample in one deformation mode: strain sweeps one by one; temperature sweeps with all
 * their frequencies, each heating and cooling leg apart; all isotherms in one frequency sweep.
 */
export function dynamicMeasurements(
  series: Series[],
  fileName: string,
  chosen: ChosenUnits,
  notices: Notice[],
): DynamicMeasurement[] {
  const pool = poolOf(series);
  const found: DynamicMeasurement[] = [];
  const make = (kind: Kind, rows: Rows, direction: Direction | null) => {
    found.push(measurement(pool, kind, rows, direction, fileName, chosen, notices));
  };
  const ramps: Rows[] = [];
  const others: Rows[] = [];
  pool.starts.forEach((start, i) => {
    for (const { rows, varied } of stretchesOf(pool, start, pool.starts[i + 1] ?? pool.count)) {
      if (varied === "strain") make("strain sweep", rows, null);
      else if (varied === "temperature") ramps.push(rows);
      else others.push(rows);
    }
  });
  if (others.length > 0) {
    const rows = sortedByLine(pool, joinedRows(others));
    if (isTemperatureSweep(pool, rows, ramps.length > 0)) ramps.push(rows);
    else make("frequency sweep", rows, null);
  }
  for (const { rows, direction, turns } of splitByLeg(pool, sortedByLine(pool, joinedRows(ramps)))) {
    make("temperature sweep", rows, direction);
    if (turns === 0) continue;
    const { firstLine, lastLine } = found[found.length - 1].provenance;
    const message = `Lines ${firstLine} to ${lastLine} stand in no order of temperature (it turns ${turns} times in ${rows.length} rows); they were taken for one sweep. If they hold several runs, part them by a blank line or a column that names the run.`;
    notices.push(notice("io.rows-unordered", message));
  }
  return found.sort((a, b) => a.provenance.firstLine - b.provenance.firstLine);
}

/**
 * Whether rows whose frequency moves are a stepped temperature sweep rather than isotherms: it comes round to
 * the same few frequencies at many temperatures, isotherms run through many at few.
 */
function isTemperatureSweep(pool: Pool, rows: Rows, besideRamp: boolean): boolean {
  const frequencies = distinct(pool.frequency_Hz, rows).length;
  if (frequencies <= 1) return true;
  if (rangeOf(pool.temperature_C, rows, 0, rows.length) <= 3) return false;
  const rounds = rows.length / frequencies;
  if (frequencies <= 2) return rounds >= 3 || besideRamp;
  return rounds >= 3 * frequencies;
}

function measurement(
  pool: Pool,
  kind: Kind,
  rows: Rows,
  direction: Direction | null,
  fileName: string,
  chosen: ChosenUnits,
  notices: Notice[],
): DynamicMeasurement {
  const touched = seriesTouched(pool, rows);
  const isAll = isWhole(rows, pool.count);
  const pick = (column: Float64Array) => (isAll ? column : picked(column, rows));
  const [{ sample, deformation, facts }] = touched;
  // A column with holes is of no use to anyone who counts on it.
  const optional = (column: Float64Array | null, has: (series: Series) => boolean) => {
    const values = column !== null && touched.every(has) ? pick(column) : null;
    return values?.every(Number.isFinite) ? values : null;
  };
  const built: DynamicMeasurement = {
    kind,
    sample,
    deformation,
    direction,
    temperature_C: pick(pool.temperature_C),
    frequency_Hz: touched.some(({ isFrequencyUnstated }) => isFrequencyUnstated)
      ? new Float64Array(rows.length).fill(Number.NaN)
      : pick(pool.frequency_Hz),
    storageModulus_Pa: pick(pool.storageModulus_Pa),
    lossModulus_Pa: pick(pool.lossModulus_Pa),
    strainAmplitude: optional(
      pool.strain,
      ({ strain, isDisplacement }) => strain !== null && !isDisplacement,
    ),
    time_s: optional(pool.time_s, ({ time_s }) => time_s !== null),
    heatingRate_K_min: null,
    provenance: provenanceOf(pool, rows, touched, fileName, chosen),
  };
  if (kind === "strain sweep" && touched.some(({ isDisplacement }) => isDisplacement)) {
    const message = `Lines ${built.provenance.firstLine} to ${built.provenance.lastLine} are a sweep of displacement; the file gives no strain, and nothing that needs one is made of it.`;
    notices.push(notice("io.displacement-sweep", message));
  }
  const doubt = glassWhenHot(built);
  if (doubt !== null) notices.push(doubt);
  if (kind === "temperature sweep") {
    built.heatingRate_K_min = heatingRateOf(built, facts.heatingRate_K_min, notices);
  }
  return built;
}

/** A rubber is no glass from here on, and a glass has more than this, in shear or in tension. */
const hot_C = 100;
const glass_Pa = 3e8;
const fewestHotRows = 3;

/** What is said of temperatures in °C at which the specimen is a glass, as kelvin under the wrong sign are; else null. */
function glassWhenHot({ temperature_C, storageModulus_Pa, provenance }: DynamicMeasurement): Notice | null {
  const column = provenance.columns.find(({ quantity }) => quantity === "temperature");
  if (column === undefined || !/C|℃/.test(column.unit)) return null;
  const hot = temperature_C.filter((value, row) => value >= hot_C && storageModulus_Pa[row] > glass_Pa);
  if (hot.length < fewestHotRows) return null;
  const [least, greatest] = [Math.min(...hot), Math.max(...hot)].map((value) => Math.round(value));
  return notice(
    "io.glass-when-hot",
    `Column ${column.column} (${quoted(column.header)}) is in °C, and from ${least} to ${greatest} °C the storage modulus is that of a glass (above ${glass_Pa / 1e6} MPa); no rubber is one there. ` +
      `If the temperatures are kelvin, state it in study.yaml: ${columnInStudy(column.header, "temperature in K")}`,
  );
}

function provenanceOf(
  { lines }: Pool,
  rows: Rows,
  touched: Series[],
  fileName: string,
  chosen: ChosenUnits,
): Provenance {
  const [{ block, sheet, run }] = touched;
  const section = sectionOf(touched.map((series) => series.block));
  return {
    file: fileName,
    sheet,
    section: run === null ? section : section === null ? run : `${section}, ${run}`,
    // Rows stand in the order of the file.
    firstLine: lines[rows[0]],
    lastLine: lines[rows[rows.length - 1]],
    columns: columnReadings(block.layout, chosen),
  };
}

function sectionOf(blocks: Block[]): string | null {
  const titles = [...new Set(blocks.map(({ section }) => section).filter((title) => title !== null))];
  if (titles.length === 0) return null;
  if (titles.length === 1) return titles[0];
  return `${titles.length} sections, from "${titles[0]}" to "${titles[titles.length - 1]}"`;
}
