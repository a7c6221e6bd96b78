import type { Outlook } from "./outlook.js";

/** One cell of the table of compounds and uses. */
export interface RankedOutlook {
  compound: string;
  outlook: Outlook;
}

/** Worst first. What is not determined could be glassy, so it stands right after what may be. */
const order = [
  "glassy",
  "glassy or leathery",
  "not determined",
  "leathery",
  "leathery or rubbery",
  "rubbery",
];

/**
 * The table of compounds and uses, worst first: by verdict, then by how far it is on the cold side of the
 * glassy border, then by the lower friction, then by name, so that the order is always the same.
 */
export function rankWorstFirst(table: RankedOutlook[]): RankedOutlook[] {
  return [...table].sort(
    (a, b) =>
      severity(a.outlook) - severity(b.outlook) ||
      (a.outlook.cold?.marginToGlassy_K ?? 0) - (b.outlook.cold?.marginToGlassy_K ?? 0) ||
      (a.outlook.grip?.frictionCoefficient ?? 0) - (b.outlook.grip?.frictionCoefficient ?? 0) ||
      compareText(a.compound, b.compound) ||
      compareText(a.outlook.use, b.outlook.use),
  );
}

function severity(outlook: Outlook): number {
  return order.indexOf(outlook.cold?.verdict ?? "not determined");
}

/** By code points: the same on every machine, whatever its language. */
function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
