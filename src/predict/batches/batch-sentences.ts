import type { DynamicMeasurement } from "../../io/measurement.js";
import { notice } from "../../words/codes/codes.js";
import type { Notice } from "../../words/notice.js";
import { fixed, frequencyText, significant, temperatureText } from "../../words/quantity-text.js";
import type { Batch } from "./batch-common-state.js";
import type { BatchComparison, BatchDifference, Equivalence } from "./batch-difference.js";

/** One difference in plain words, with its state, interval and what it says against the limit. */
export function differenceSentence(
  found: Omit<BatchDifference, "sentence">,
  accepted: string,
  batch: string,
): string {
  const { result, low, high } = found;
  const what = `${quantityWords(found)}: ${valueWords(found, found.batchValue)} in ${batch} against ${valueWords(found, found.acceptedValue)} in ${accepted}`;
  if (found.comparison === "ratio") {
    const between =
      low === null || high === null ? "no interval" : `95 % interval ${ratio(low)} to ${ratio(high)}`;
    return `${what}; ${ratio(result)} times as high (${between}). No limit is stated for it.`;
  }
  const between =
    low === null || high === null
      ? "no interval: single readings show no scatter"
      : `95 % interval ${change(found, low)} to ${change(found, high)}${unitOfChange(found)}`;
  const difference = `difference ${change(found, result)}${unitOfChange(found)} (${between})`;
  return `${what}; ${difference}. ${verdictWords(found)}`;
}

/** All differences in one sentence. */
export function comparisonSentence(
  accepted: string,
  batch: string,
  statement: Equivalence,
  differences: BatchDifference[],
  notCompared: BatchComparison["notCompared"],
): string {
  if (differences.length === 0)
    return `${batch} cannot be compared with ${accepted}: no state is common to both.`;
  const of = (wanted: Equivalence) =>
    differences.filter((one) => one.statement === wanted).map((one) => shortWords(one));
  const missing = notCompared.filter(({ limitStated }) => limitStated).map(shortWords);
  switch (statement) {
    case "equivalent":
      return `${batch} is equivalent to ${accepted} in ${list(of("equivalent"))}, within the stated limits.`;
    case "different":
      return `${batch} differs from ${accepted} by more than the stated limit in ${list(of("different"))}.`;
    case "not decided": {
      const open = [
        of("not decided").length > 0 &&
          `the interval of ${list(of("not decided"))} reaches across the limit or is not known`,
        missing.length > 0 && `${list(missing)} could not be compared, though a limit is stated`,
      ].filter(Boolean);
      return `Whether ${batch} is equivalent to ${accepted} is not decided: ${open.join("; ")}.`;
    }
    case "no limit stated":
      return `${batch} and ${accepted} are compared, but the study states no limits (glassTransitionDifference_K, tanDeltaDifference, reboundDifference), so neither equivalent nor different can be said.`;
  }
}

function quantityWords(found: Omit<BatchDifference, "sentence">): string {
  const { quantity, temperature_C, frequency_Hz, deformation, direction, method } = found;
  const state = [
    frequency_Hz === null ? null : `at ${frequencyText(frequency_Hz)}`,
    deformation === "unstated" ? "mode unstated" : deformation,
    direction,
  ].filter((word) => word !== null);
  switch (quantity) {
    case "glass transition":
      return `Tg (tan δ peak ${state.join(", ")})`;
    case "tan delta at 0 °C":
    case "tan delta at 60 °C":
      return `tan δ at ${temperatureText(temperature_C ?? Number.NaN, 0)} (${state.join(", ")})`;
    case "storage modulus at −25 °C":
      return `M′ at ${temperatureText(temperature_C ?? Number.NaN, 0)} (${state.join(", ")})`;
    case "rebound":
      return `Rebound at ${temperatureText(temperature_C ?? Number.NaN, 0)} (${method ?? "method not stated"})`;
  }
}

const shortWords = ({ quantity }: Pick<BatchDifference, "quantity">) =>
  quantity === "glass transition" ? "Tg" : quantity.replace("tan delta", "tan δ");

function valueWords({ quantity, unit }: Omit<BatchDifference, "sentence">, value: number): string {
  if (unit === "°C") return temperatureText(value, 1);
  if (unit === "Pa") return `${significant(value / 1e6)} MPa`;
  return quantity === "rebound" ? `${fixed(100 * value, 1)} %` : fixed(value, 3);
}

/** Rebound differs in percentage points: "%" would be read as a share of the value. */
function change({ quantity, unit }: Omit<BatchDifference, "sentence">, value: number): string {
  const digits = unit === "°C" || quantity === "rebound" ? 1 : 3;
  const text = fixed(quantity === "rebound" ? 100 * value : value, digits);
  return text.startsWith("−") || Number(text) === 0 ? text : `+${text}`;
}

const unitOfChange = ({ quantity, unit }: Omit<BatchDifference, "sentence">) =>
  unit === "°C" ? " K" : quantity === "rebound" ? " percentage points" : "";

function verdictWords(found: Omit<BatchDifference, "sentence">): string {
  if (found.limit === null) return "No limit is stated for it.";
  const limit = `±${change(found, found.limit).replace("+", "")}${unitOfChange(found)}`;
  switch (found.statement) {
    case "equivalent":
      return `Equivalent: all of the interval lies inside ${limit}.`;
    case "different":
      return `Different: all of the interval lies outside ${limit}.`;
    default:
      return found.low === null
        ? `Not decided against ${limit}: repeat the readings, so that there is an interval.`
        : `Not decided: the interval reaches across ${limit}; more runs would narrow it.`;
  }
}

const ratio = (value: number) => Number(value.toPrecision(3)).toString();

function list(words: string[]): string {
  return words.length < 2
    ? words.join("")
    : `${words.slice(0, -1).join(", ")} and ${words[words.length - 1]}`;
}

/** Heating rates, or strain amplitudes, that differ by more than this factor move Tg or the moduli themselves. */
const unlikeFactor = 2;

/** What a reader of a comparison must know of how the two batches were measured. */
export function batchNotices(accepted: Batch, batch: Batch): Notice[] {
  const notices: Notice[] = [];
  if (haveSameNumbers(accepted, batch)) {
    const message = `${batch.name} and ${accepted.name} hold a sweep with the very same numbers: one is a copy, and no comparison.`;
    notices.push(notice("predict.batches-identical", message));
  }
  const conditions: [string, string, (one: DynamicMeasurement) => number | null, number][] = [
    ["heating rate", "K/min", ({ heatingRate_K_min }) => heatingRate_K_min, 1],
    ["strain amplitude", "%", ({ strainAmplitude }) => median(strainAmplitude), 100],
  ];
  for (const [what, unit, read, scale] of conditions) {
    const [a, b] = [accepted, batch].map((one) => medianOver(one, read));
    if (a === null || b === null || Math.max(a / b, b / a) <= unlikeFactor) continue;
    const words = (value: number) => `${fixed(scale * value, scale * value < 0.1 ? 3 : 2)} ${unit}`;
    const message = `The ${what} was ${words(b)} for ${batch.name} and ${words(a)} for ${accepted.name}; that alone moves the readings, so a difference need not be the compound's.`;
    notices.push(notice("predict.batches-unlike-conditions", message));
  }
  return notices;
}

function medianOver(
  { measurements }: Batch,
  read: (one: DynamicMeasurement) => number | null,
): number | null {
  const values = measurements.flatMap((one) =>
    one.kind === "rebound" || one.kind === "strain sweep" ? [] : [Math.abs(read(one) ?? Number.NaN)],
  );
  return median(Float64Array.from(values));
}

function median(values: Float64Array | null): number | null {
  const sorted = values?.filter((value) => value > 0 && Number.isFinite(value)).sort();
  return sorted === undefined || sorted.length === 0 ? null : sorted[sorted.length >> 1];
}

function haveSameNumbers(a: Batch, b: Batch): boolean {
  const columns = ({ measurements }: Batch) =>
    measurements.flatMap((one) => (one.kind === "rebound" ? [] : [one.storageModulus_Pa]));
  return columns(a).some((one) =>
    columns(b).some(
      (other) => one.length > 2 && one.length === other.length && one.every((value, i) => value === other[i]),
    ),
  );
}
