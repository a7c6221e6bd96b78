import { signed } from "./number-words.js";
import type { ColdOutlook, ColdVerdict, Outlook } from "./outlook.js";
import type { RankedOutlook } from "./rank.js";

type ColdCell = RankedOutlook & { outlook: Outlook & { cold: ColdOutlook } };

/**
 * The table of compounds and uses in plain sentences: one for each compound that is glassy, may be, or is
 * leathery in a use, one for each trade-off between grip in the warm and the cold, and one for each compound
 * whose verdict the data do not reach. The order is that of `table`.
 * @example summarise(rankWorstFirst(table))[0] // "Birch 60: glassy at −20 °C in sliding contact; its tan δ peak of −38 °C at 1 Hz stands at −14 °C there."
 */
export function summarise(table: RankedOutlook[]): string[] {
  const compounds = [...new Set(table.map((cell) => cell.compound))];
  const trades = compounds.flatMap((compound) => tradeSentence(compound, table) ?? []);
  const flags = compounds.flatMap((compound) => flagSentence(compound, table) ?? []);
  const unknowns = compounds.flatMap((compound) => unknownSentence(compound, table) ?? []);
  return [...trades, ...flags, ...unknowns];
}

const flagged: ColdVerdict[] = ["glassy", "glassy or leathery", "leathery"];

/** The warmest use of the worst verdict tells where trouble starts. */
function flagSentence(compound: string, table: RankedOutlook[]): string | null {
  const cells = coldCells(compound, table);
  const verdict = flagged.find((one) => cells.some((cell) => cell.outlook.cold.verdict === one));
  if (verdict === undefined) return null;
  const same = cells.filter((cell) => cell.outlook.cold.verdict === verdict);
  const cell = same.reduce((a, b) => (b.outlook.temperature_C > a.outlook.temperature_C ? b : a));
  const { cold } = cell.outlook;
  const colder = same.some((other) => other.outlook.temperature_C < cell.outlook.temperature_C);
  const where = `${place(cell, table)}${colder ? " and below" : ""}`;
  const peak = cold.glassTemperatureAtUse?.tanDeltaPeak.temperature_C;
  const oven = cold.glassTemperatureMeasured;
  const says = `${compound}: ${verdict} ${where} in ${cold.contact} contact`;
  if (peak === undefined) return `${says}.`;
  if (oven?.tanDeltaPeak_C == null) return `${says}; its tan δ peak stands at ${signed(peak)} °C there.`;
  return `${says}; its tan δ peak of ${signed(oven.tanDeltaPeak_C)} °C at ${Number(oven.frequency_Hz.toPrecision(3))} Hz stands at ${signed(peak)} °C there.`;
}

/** A compound with the best grip of all in one use that is glassy in a colder one. */
function tradeSentence(compound: string, table: RankedOutlook[]): string | null {
  const glassy = coldCells(compound, table).filter((cell) => cell.outlook.cold.verdict === "glassy");
  if (glassy.length === 0) return null;
  const warmestGlassy = glassy.reduce((a, b) => (b.outlook.temperature_C > a.outlook.temperature_C ? b : a));
  const best = table.filter(
    (cell) =>
      cell.compound === compound &&
      cell.outlook.temperature_C > warmestGlassy.outlook.temperature_C &&
      hasBestGrip(cell, table),
  );
  if (best.length === 0) return null;
  const coldestBest = best.reduce((a, b) => (b.outlook.temperature_C < a.outlook.temperature_C ? b : a));
  return `${compound} has the best grip ${place(coldestBest, table)} and is glassy ${place(warmestGlassy, table)}.`;
}

function hasBestGrip(cell: RankedOutlook, table: RankedOutlook[]): boolean {
  const grip = cell.outlook.grip?.frictionCoefficient;
  if (grip === undefined) return false;
  const rivals = table.filter(
    (other) =>
      other.outlook.use === cell.outlook.use && other.compound !== cell.compound && other.outlook.grip,
  );
  return rivals.length > 0 && rivals.every((other) => other.outlook.grip!.frictionCoefficient < grip);
}

function unknownSentence(compound: string, table: RankedOutlook[]): string | null {
  const missing = table.filter((cell) => cell.compound === compound && cell.outlook.cold === null);
  if (missing.length === 0) return null;
  const places = missing
    .sort((a, b) => b.outlook.temperature_C - a.outlook.temperature_C)
    .map((cell) => place(cell, table).replace(/^at /, ""));
  return `${compound}: no cold-weather verdict at ${listed(places)}; its notices say which sweep would settle it.`;
}

function coldCells(compound: string, table: RankedOutlook[]): ColdCell[] {
  return table.filter((cell): cell is ColdCell => cell.compound === compound && cell.outlook.cold !== null);
}

/** The temperature, and the use's name where several uses share it. */
function place(cell: RankedOutlook, table: RankedOutlook[]): string {
  const { temperature_C, use } = cell.outlook;
  const plus = temperature_C > 0 ? "+" : "";
  const digits = Number.isInteger(temperature_C) ? 0 : 1;
  const shared = table.some(
    (other) => other.outlook.temperature_C === temperature_C && other.outlook.use !== use,
  );
  return `at ${plus}${signed(temperature_C, digits)} °C${shared ? ` (${use})` : ""}`;
}

function listed(words: string[]): string {
  return words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} and ${words.at(-1)}`;
}
