import { significant } from "../../words/quantity-text.js";
import type { Changes, EarlierResults } from "./changes-schema.js";

type Compound = EarlierResults["compounds"][number];
type Valued = Changes["numbers"][number]["after"];

/**
 * What moved since earlier results of the same study: verdicts, the choice, and numbers where each value lies outside
 * the other's interval; each with the file or setting that changed for the compound, as far as there is one.
 */
export function changesSince(before: EarlierResults, after: EarlierResults): Changes {
  const files = fileChanges(before, after);
  const settings =
    before.settings === undefined ? null : settingChanges(before.settings, after.settings ?? {});
  const old = new Map(before.compounds.map((compound) => [compound.name, compound]));
  const names = new Set(after.compounds.map(({ name }) => name));
  const changes: Changes = {
    since: { version: before.program.version },
    files,
    settings,
    compounds: {
      added: after.compounds.flatMap(({ name }) => (old.has(name) ? [] : [name])),
      removed: before.compounds.flatMap(({ name }) => (names.has(name) ? [] : [name])),
    },
    verdicts: [],
    numbers: [],
    choice: choiceChange(before, after),
    sentences: [],
  };
  for (const compound of after.compounds) {
    const was = old.get(compound.name);
    if (was === undefined) continue;
    const because = causeOf(was, compound, files, settings, before.program.version, after.program.version);
    for (const outlook of compound.outlooks) {
      const earlier = was.outlooks.find(({ use }) => use === outlook.use);
      if (earlier === undefined) continue;
      const [from, to] = [earlier.cold?.verdict ?? null, outlook.cold?.verdict ?? null];
      if (from === to) continue;
      changes.verdicts.push({ compound: compound.name, use: outlook.use, before: from, after: to, because });
    }
    const earlier = numbersOf(was);
    for (const [key, now] of numbersOf(compound)) {
      const then = earlier.get(key);
      if (then === undefined || !isMoved(then.value, now.value)) continue;
      const { use, quantity, unit } = now;
      changes.numbers.push({
        compound: compound.name,
        use,
        quantity,
        unit,
        before: then.value,
        after: now.value,
        because,
      });
    }
  }
  return { ...changes, sentences: sentencesOf(changes) };
}

function fileChanges(before: EarlierResults, after: EarlierResults): Changes["files"] {
  const old = new Map(before.inputs.map(({ path, sha256 }) => [path, sha256]));
  const now = new Set(after.inputs.map(({ path }) => path));
  return {
    added: after.inputs.flatMap(({ path }) => (old.has(path) ? [] : [path])),
    removed: before.inputs.flatMap(({ path }) => (now.has(path) ? [] : [path])),
    changed: after.inputs.flatMap(({ path, sha256 }) =>
      old.has(path) && old.get(path) !== sha256 ? [path] : [],
    ),
  };
}

/** Every leaf that differs, by its place in the study file: "uses.0.temperature_C". */
function settingChanges(before: unknown, after: unknown, place = ""): NonNullable<Changes["settings"]> {
  if (JSON.stringify(before) === JSON.stringify(after)) return [];
  const isNode = (value: unknown): value is Record<string, unknown> =>
    typeof value === "object" && value !== null;
  if (!isNode(before) || !isNode(after)) {
    const text = (value: unknown) => (value === undefined ? "not stated" : JSON.stringify(value));
    return [{ key: place, before: text(before), after: text(after) }];
  }
  const keys = new Set([...Object.keys(before), ...Object.keys(after)]);
  return [...keys].flatMap((key) =>
    settingChanges(before[key], after[key], place === "" ? key : `${place}.${key}`),
  );
}

function choiceChange(before: EarlierResults, after: EarlierResults): Changes["choice"] {
  const [from, to] = [before.decision?.choice.names ?? [], after.decision?.choice.names ?? []];
  return [...from].sort().join("\n") === [...to].sort().join("\n") ? null : { before: from, after: to };
}

interface ComparedNumber {
  use: string | null;
  quantity: string;
  unit: string;
  value: Valued;
}

function numbersOf({ outlooks, glassTransitions, properties }: Compound): Map<string, ComparedNumber> {
  const found = new Map<string, ComparedNumber>();
  const put = (one: ComparedNumber) => found.set(`${one.use}\n${one.quantity}`, one);
  for (const { use, rebound, grip, cushioning } of outlooks) {
    if (rebound !== null) {
      const { fraction: value, low, high } = rebound;
      put({ use, quantity: "rebound", unit: "", value: { value, low, high } });
    }
    if (grip !== null) {
      const { frictionCoefficient: value, low, high } = grip;
      put({ use, quantity: "friction coefficient", unit: "", value: { value, low, high } });
    }
    if (cushioning != null) {
      const { value, low, high } = cushioning.peakForce_N;
      put({ use, quantity: "peak force", unit: "N", value: { value, low, high } });
    }
  }
  for (const { frequency_Hz, deformation, tanDeltaPeak, lossModulusPeak } of glassTransitions) {
    const at = frequency_Hz === null ? "an unstated frequency" : `${significant(frequency_Hz)} Hz`;
    for (const [name, peak] of [
      ["tan δ peak", tanDeltaPeak],
      ["M″ peak", lossModulusPeak],
    ] as const) {
      if (peak?.temperature_C == null) continue;
      const value = { value: peak.temperature_C, low: peak.low_C, high: peak.high_C };
      put({ use: null, quantity: `${name} at ${at} in ${deformation}`, unit: "°C", value });
    }
  }
  for (const { quantity, method, unit, value, low, high } of properties ?? []) {
    const name = method === null ? quantity : `${quantity} (${method})`;
    put({ use: null, quantity: name, unit, value: { value, low, high } });
  }
  return found;
}

/** Each value lies outside the other's interval; a value without one is its own interval. */
function isMoved(before: Valued, after: Valued): boolean {
  const isOutside = (value: number, { value: centre, low, high }: Valued) => {
    const rounding = 1e-9 * Math.abs(centre);
    return value < (low ?? centre) - rounding || value > (high ?? centre) + rounding;
  };
  return isOutside(after.value, before) && isOutside(before.value, after);
}

function causeOf(
  was: Compound,
  is: Compound,
  files: Changes["files"],
  settings: Changes["settings"],
  from: string,
  to: string,
): string {
  const own = new Set([...was.inputs, ...is.inputs]);
  const among = (paths: string[], word: string) =>
    paths.filter((path) => own.has(path)).map((path) => `${path} ${word}`);
  const causes = [
    ...among(files.changed, "changed"),
    ...among(files.added, "is new"),
    ...among(files.removed, "is gone"),
  ];
  if (settings !== null && settings.length > 0) causes.push(settingsText(settings));
  if (from !== to) causes.push(`version ${to} instead of ${from}`);
  if (causes.length > 0) return causes.join("; ");
  return settings === null
    ? "none of its files changed; the earlier results do not hold their settings"
    : "none of its files and no setting changed: what it is compared with did";
}

const mostShown = 3;

function settingsText(settings: NonNullable<Changes["settings"]>): string {
  const shown = settings
    .slice(0, mostShown)
    .map(({ key, before, after }) => `${key} is ${after}, was ${before}`);
  const more = settings.length - shown.length;
  return `${shown.join(", ")}${more > 0 ? ` and ${more} more settings` : ""}`;
}

function sentencesOf(changes: Changes): string[] {
  const { files, compounds, verdicts, numbers, choice, settings } = changes;
  const sentences: string[] = [];
  const list = (names: string[]) => (names.length === 0 ? "none" : names.join(", "));
  if (choice !== null) {
    sentences.push(`The choice is ${list(choice.after)}, was ${list(choice.before)}.`);
  }
  const said = (verdict: string | null) => verdict ?? "not determined";
  for (const { compound, use, before, after, because } of verdicts) {
    sentences.push(`${compound}, ${use}: ${said(after)}, was ${said(before)} (${because}).`);
  }
  for (const { compound, use, quantity, unit, before, after, because } of numbers) {
    const place = use === null ? compound : `${compound}, ${use}`;
    sentences.push(
      `${place}: ${quantity} ${valueText(after, unit)}, was ${valueText(before, unit)} (${because}).`,
    );
  }
  if (compounds.added.length > 0) sentences.push(`New: ${list(compounds.added)}.`);
  if (compounds.removed.length > 0) sentences.push(`No longer there: ${list(compounds.removed)}.`);
  if (verdicts.length + numbers.length === 0 && choice === null) {
    const isSame = [files.added, files.removed, files.changed, settings ?? []].every(
      (one) => one.length === 0,
    );
    sentences.push(
      isSame
        ? "No file and no setting changed, and nothing moved."
        : "No verdict changed, and no number by more than its interval.",
    );
  }
  return sentences;
}

function valueText({ value, low, high }: Valued, unit: string): string {
  const own = unit === "" ? "" : ` ${unit}`;
  const spread = low === null || high === null ? "" : ` (${significant(low)} to ${significant(high)})`;
  return `${significant(value)}${spread}${own}`;
}
