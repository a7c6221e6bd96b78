import type { DecidedCompound, Decision, StandingCompound } from "./decision.js";
import { isPredicted, type Requirement } from "./requirement.js";

/** The standard that gives a property, for the test to run. */
const standards: Record<string, string> = {
  "measured rebound": "ISO 4662 at 23 °C",
  hardness: "ISO 48-4",
  "abrasion loss": "ISO 4649",
  "abrasion resistance index": "ISO 4649",
  "tensile strength": "ISO 37",
  "elongation at break": "ISO 37",
  "stress at 50 %": "ISO 37",
  "stress at 100 %": "ISO 37",
  "stress at 200 %": "ISO 37",
  "stress at 300 %": "ISO 37",
  "tear strength": "ISO 34-1",
  "compression set": "ISO 815-1",
  density: "ISO 2781",
  "flex cracking": "ISO 132",
};

/**
 * The one measurement whose doubt keeps most requirements open, among compounds that fail nothing for sure; null where
 * nothing is open.
 */
export function nextTest(
  requirements: Requirement[],
  compounds: StandingCompound[],
  decided: DecidedCompound[],
): Decision["nextTest"] {
  const tests = new Map<string, { compound: string; test: string; open: string[] }>();
  for (const [i, { name, meets }] of decided.entries()) {
    if (meets.some(({ answer }) => answer === "fails")) continue;
    for (const [k, { answer }] of meets.entries()) {
      if (answer !== "open" && answer !== "unknown") continue;
      const test = compounds[i].standings[k].isUpperBound
        ? boundedTest
        : testFor(requirements[k], compounds[i], answer === "unknown");
      const key = JSON.stringify([name, test]);
      const known = tests.get(key) ?? { compound: name, test, open: [] };
      known.open.push(requirements[k].name);
      tests.set(key, known);
    }
  }
  const [most] = [...tests.values()].sort((a, b) => b.open.length - a.open.length);
  if (most === undefined) return null;
  const { compound, test, open } = most;
  const why =
    open.length === 1
      ? `Without it "${open[0]}" stays open for ${compound}.`
      : `Without it ${open.length} of ${requirements.length} requirements stay open for ${compound}: ${open.join(", ")}.`;
  return { compound, test, why };
}

/** What takes a rebound predicted from small strain to the strain of an impact. */
const boundedTest =
  "Measure its rebound by the method of the use, or run a strain sweep from 0.1 to 20 % at 10 Hz and the temperature of the use.";

function testFor(
  { quantity, use }: Requirement,
  { isAssumed, verdictMissing, predictionMissing }: StandingCompound,
  isUnknown: boolean,
): string {
  if (quantity === "softening temperature") {
    return isUnknown
      ? "A temperature sweep at 1 Hz that goes on until the storage modulus has fallen to half of its plateau."
      : "The same sweep on a second specimen up to its softening: how far specimens differ is what is open.";
  }
  if (!isPredicted(quantity)) {
    const standard = standards[quantity];
    const by = standard === undefined ? "" : ` by ${standard}`;
    return isUnknown
      ? `Measure the ${quantity}${by}, with repeats.`
      : `Repeat the ${quantity}${by}: its scatter is what is open.`;
  }
  const reasons = quantity === "verdict" ? [verdictMissing] : [predictionMissing, verdictMissing];
  const missing =
    isUnknown && use !== null ? reasons.flatMap((reason) => reason.get(use) ?? [])[0] : undefined;
  if (missing !== undefined) return remedyIn(missing);
  if (isAssumed) {
    return "Frequency sweeps at temperatures 5 K apart from about Tg to 60 K above: they measure the shift law, which a sweep at one frequency leaves assumed.";
  }
  return isUnknown
    ? "A temperature sweep at 10 Hz from 40 K below to 60 K above the temperature of the use."
    : "The same sweep on a second specimen: how far specimens differ is what is open.";
}

/** The measurement that a notice asks for, without the reason before it, which stands on the compound's own page. */
function remedyIn(reason: string): string {
  const remedy = /To settle it, run (.+?\.)(?= \p{Lu}|$)/u.exec(reason);
  return remedy === null ? reason : `Run ${remedy[1]}`;
}
