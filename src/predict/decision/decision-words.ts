import { percentText } from "../../words/quantity-text.js";
import type { DecidedCompound } from "./decision.js";
import type { Requirement } from "./requirement.js";

/** What a compound does wrong that misses a requirement, by quantity: too little of it, too much of it. */
const faults: Record<string, [tooLittle: string, tooMuch: string]> = {
  grip: ["grips too little", "grips too much"],
  "grip relative to reference": ["grips too little", "grips too much"],
  rebound: ["rebounds too little", "rebounds too much"],
  "softening temperature": ["softens too soon", "softens too late"],
  "measured rebound": ["rebounds too little", "rebounds too much"],
  "peak force": ["has too low a peak force", "cushions too little"],
  "peak deceleration": ["has too low a deceleration", "cushions too little"],
  indentation: ["gives too little", "gives too much"],
  "absorbed energy": ["absorbs too little", "absorbs too much"],
  "lowest rubbery temperature": ["stays rubbery too far down", "leaves the rubbery state too early"],
  hardness: ["is too soft", "is too hard"],
  "abrasion loss": ["wears too little", "wears too much"],
  "abrasion resistance index": ["wears too much", "wears too little"],
  "tensile strength": ["is too weak", "is too strong"],
  "elongation at break": ["stretches too little", "stretches too far"],
  "tear strength": ["tears too easily", "is too hard to tear"],
  "compression set": ["sets too little", "sets too much"],
  density: ["is too light", "is too heavy"],
  "flex cracking": ["cracks too soon", "lasts too long"],
};

const counts = [
  "no",
  "the one",
  "both",
  "all three",
  "all four",
  "all five",
  "all six",
  "all seven",
  "all eight",
];

/** "all five requirements". */
function allOf(count: number): string {
  return `${counts[count] ?? `all ${count}`} ${count === 1 ? "requirement" : "requirements"}`;
}

/** A value in three digits at most, with a true minus and its unit; fractions of rebound in per cent. */
export function valueWords(
  value: number,
  { quantity, unit }: Pick<Requirement, "quantity" | "unit">,
): string {
  if (quantity === "rebound") return `${percentText(value, 0)}`;
  const text = String(Number(value.toPrecision(3))).replace("-", "−");
  return unit === "" || unit === "1" ? text : `${text} ${unit}`;
}

/** "wears too much (142 mm³ against 120 mm³)". */
export function faultWords(requirement: Requirement, value: number | null): string {
  const { quantity, use, atLeast, atMost, verdict } = requirement;
  const where = use === null ? "" : ` in "${use}"`;
  // Rubbery would do where leathery is asked.
  if (verdict !== undefined) return `${verdict === "leathery" ? "is glassy" : `is not ${verdict}`}${where}`;
  if (value === null) return `has no ${quantity}${where}`;
  const isTooLittle = atLeast !== undefined && value < atLeast;
  const limit = isTooLittle ? atLeast : (atMost ?? atLeast!);
  const [little, much] = faults[quantity] ?? [`has too little ${quantity}`, `has too much ${quantity}`];
  return `${isTooLittle ? little : much}${where} (${valueWords(value, requirement)} against ${valueWords(limit, requirement)})`;
}

/** More names than this no sentence bears; the rest is counted. */
const mostNamed = 4;

/** "A", "A and B", "A, B, C and 26 others". */
export function namesWords(names: string[]): string {
  if (names.length < 2) return names.join("");
  const [said, last] =
    names.length > mostNamed
      ? [names.slice(0, mostNamed - 1), `${names.length - mostNamed + 1} others`]
      : [names.slice(0, -1), names.at(-1)];
  return `${said.join(", ")} and ${last}`;
}

/**
 * Which compound to take and why, in one sentence; what each other fails first.
 * @param isBounded whether a chosen one's rebound is an upper bound in tendency, by which no limit counts as met
 * @example "Alder N meets all five requirements with a probability of 0.93; Birch 60 wears too much (142 mm³ against 120 mm³)."
 */
export function choiceSentence(
  requirements: Requirement[],
  compounds: DecidedCompound[],
  chosen: string[],
  isBounded = false,
): string {
  const others = compounds.filter(({ name }) => !chosen.includes(name));
  const why = others.flatMap((compound) => firstFault(requirements, compound) ?? []).slice(0, 3);
  const rest = why.length === 0 ? "" : `; ${why.join("; ")}`;
  if (chosen.length > 0) {
    const best = compounds.find(({ name }) => name === chosen[0])!;
    const meet = isBounded ? "would meet" : chosen.length === 1 ? "meets" : "meet";
    const condition = isBounded
      ? ", if the rebound holds: from small strain it is an upper bound in tendency"
      : "";
    return `${namesWords(chosen)} ${meet} ${allOf(requirements.length)} with a probability of ${probabilityWords(best.meetsAllProbability!)}${condition}${rest}.`;
  }
  if (compounds.length === 1) return oneAlone(requirements, compounds[0]);
  const isOpen = compounds.some(({ meetsAllProbability }) => meetsAllProbability === null);
  const head = isOpen
    ? `Whether a compound meets ${allOf(requirements.length)} is open, for something that is asked was not measured`
    : `No compound meets ${allOf(requirements.length)}`;
  return `${head}${rest}.`;
}

/** Of a single compound there is nothing to choose: whether it meets what is asked, and what it misses first. */
function oneAlone(requirements: Requirement[], compound: DecidedCompound): string {
  const { name, meets } = compound;
  const k = meets.findIndex(({ answer }) => answer === "fails");
  return k < 0
    ? `Whether ${name} meets ${allOf(requirements.length)} is open.`
    : `${name} does not meet ${allOf(requirements.length)}; it ${faultWords(requirements[k], meets[k].value)}.`;
}

function probabilityWords(probability: number): string {
  return probability > 0.99 ? "more than 0.99" : probability.toFixed(2);
}

/** What a compound fails first, in the study's order; null where it surely fails nothing. */
function firstFault(requirements: Requirement[], { name, meets }: DecidedCompound): string | null {
  const k = meets.findIndex(({ answer }) => answer === "fails");
  return k < 0 ? null : `${name} ${faultWords(requirements[k], meets[k].value)}`;
}
