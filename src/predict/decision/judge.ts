import type { Softening } from "../../fit/material.js";
import { power } from "../../numeric/elementary/power.js";
import { normal95 } from "../../numeric/statistics/confidence.js";
import { seededRandom, seedFromText } from "../../numeric/statistics/random.js";
import type { ColdOutlook } from "../outlook.js";
import type { OutlookAndDraws } from "../relative-to-reference.js";
import { ratioDraws } from "../relative-to-reference.js";
import type { CompoundProperty } from "./decision-schema.js";
import { isPredicted, type Requirement } from "./requirement.js";

/** A compound as far as requirements look at it; each outlook under the name of its use. */
export interface Candidate {
  name: string;
  outlooks: OutlookAndDraws[];
  /** The reference compound's in the same uses; null where the study names none. */
  reference: OutlookAndDraws[] | null;
  properties: CompoundProperty[];
  softening: Softening | null;
}

/** How one compound stands to one requirement. */
export interface Standing {
  /** In the requirement's unit, of a verdict the kelvins above the border; null: unknown. */
  value: number | null;
  /** 1 where the requirement is met, one entry a draw; null: unknown. */
  met: Uint8Array | null;
  /** A single value without repeats. */
  asStated: boolean;
  /** From data at small strain alone: an upper bound in tendency, by which no least value counts as met. */
  isUpperBound?: true;
  /** The draws in the requirement's unit, of a verdict in K; missing where the value has no scatter. */
  drawn?: Float64Array;
}

/** Draws of each standing: a multiple of the usual 60 of a model, so that its draws count alike. */
const standingDraws = 600;

const unknown: Standing = { value: null, met: null, asStated: false };

/** Warmer is higher. */
const warmth = { glassy: 0, leathery: 1, rubbery: 2 } as const;

/**
 * How a compound stands to a requirement, draw by draw. What is predicted uses the draws behind its interval, so that
 * what two requirements share is shared here; a measured property is drawn about its mean by its own error,
 * independent of all else; the border of a verdict by its interval, one deviate for all uses of the compound, for its
 * Tg is one.
 */
export function standingOf(requirement: Requirement, candidate: Candidate): Standing {
  if (requirement.quantity === "softening temperature") return standingOfSoftening(requirement, candidate);
  if (!isPredicted(requirement.quantity)) return standingOfProperty(requirement, candidate);
  const found = candidate.outlooks.find(({ outlook }) => outlook.use === requirement.use);
  if (found === undefined) return unknown;
  const { outlook, draws } = found;
  const { grip, rebound, cushioning, cold } = outlook;
  const held = (value: number | null | undefined, drawn: ArrayLike<number> | null, scale = 1) =>
    value === null || value === undefined ? unknown : byDraws(requirement, value * scale, drawn, scale);
  switch (requirement.quantity) {
    case "grip":
      return grip === null ? unknown : byDraws(requirement, grip.frictionCoefficient, withCutOff(found), 1);
    case "grip relative to reference":
      return held(grip?.relativeToReference?.ratio, gripRatios(found, candidate.reference));
    case "rebound":
      return {
        ...held(rebound?.fraction, draws.rebound),
        ...(rebound?.strainBasis === "small strain" && requirement.atLeast !== undefined
          ? { isUpperBound: true as const }
          : {}),
      };
    case "peak force":
      return held(cushioning?.peakForce_N.value, draws.peakForce_N);
    case "peak deceleration": {
      if (cushioning === null) return unknown;
      const perNewton = cushioning.peakDeceleration_g.value / cushioning.peakForce_N.value;
      return held(cushioning.peakForce_N.value, draws.peakForce_N, perNewton);
    }
    case "indentation":
      return held(cushioning?.indentation_m.value, draws.indentation_m, 1000);
    case "absorbed energy":
      return held(cushioning?.energyAbsorbed_J.value, absorbedDraws(found));
    case "lowest rubbery temperature":
      return cold === null || cold.lowestRubbery_C === null
        ? unknown
        : byBorder(requirement, cold.lowestRubbery_C, cold, candidate);
    case "verdict":
      return standingOfVerdict(requirement, outlook.temperature_C, cold, candidate);
  }
}

/**
 * Friction draws with the cut-off's freedom in them: each draw takes a cut-off between half and twice the texture's,
 * evenly in its logarithm, the same for every compound.
 */
function withCutOff({ outlook, draws }: OutlookAndDraws): Float64Array {
  const { frictionCoefficient, cutOffSensitivity } = outlook.grip!;
  const random = seededRandom(seedFromText("cut-off"));
  const drawn = draws.grip === null || draws.grip.length === 0 ? [frictionCoefficient] : draws.grip;
  return Float64Array.from({ length: standingDraws }, (_, i) => {
    const side = 2 * random.uniform() - 1;
    const ratio = (side < 0 ? cutOffSensitivity.halved : cutOffSensitivity.doubled) / frictionCoefficient;
    return drawn[i % drawn.length] * (ratio > 0 ? power(ratio, Math.abs(side)) : 1);
  });
}

function gripRatios(
  { outlook, draws }: OutlookAndDraws,
  reference: OutlookAndDraws[] | null,
): Float64Array | null {
  const of = reference?.find((one) => one.outlook.use === outlook.use);
  if (outlook.grip === null || of === undefined || of.outlook.grip === null) return null;
  return ratioDraws(
    outlook.grip.frictionCoefficient,
    draws.grip,
    of.outlook.grip.frictionCoefficient,
    of.draws.grip,
  );
}

/** (1 − R) of each draw, of the energy of the impact. */
function absorbedDraws({ outlook: { rebound, cushioning }, draws }: OutlookAndDraws): Float64Array | null {
  if (rebound === null || cushioning === null || draws.rebound === null || !(rebound.fraction < 1))
    return null;
  const energy_J = cushioning.energyAbsorbed_J.value / (1 - rebound.fraction);
  return draws.rebound.map((fraction) => (1 - fraction) * energy_J);
}

/** By the method with most readings, the first of equals: those of different methods do not mix. */
function standingOfProperty(requirement: Requirement, candidate: Candidate): Standing {
  const [property] = candidate.properties
    .filter(({ quantity, unit }) => quantity === requirement.quantity && unit === requirement.unit)
    .sort((a, b) => b.count - a.count);
  if (property === undefined) return unknown;
  if (property.low === null || property.high === null) {
    return { ...byDraws(requirement, property.value, null, 1), asStated: true };
  }
  return byInterval(
    requirement,
    { value: property.value, low: property.low, high: property.high },
    candidate,
  );
}

/** A compound that had not softened where its data end softens above that: enough for a limit that lies colder. */
function standingOfSoftening(requirement: Requirement, candidate: Candidate): Standing {
  const { softening } = candidate;
  if (softening === null) return unknown;
  const { temperature_C, low_C, high_C } = softening;
  if (temperature_C === null) {
    const { atLeast, atMost } = requirement;
    if (low_C === null) return unknown;
    if (atMost !== undefined && atMost < low_C) return plainly(low_C, false);
    return atMost === undefined && atLeast !== undefined && atLeast <= low_C ? plainly(low_C, true) : unknown;
  }
  if (low_C === null || high_C === null)
    return { ...byDraws(requirement, temperature_C, null, 1), asStated: true };
  return byInterval(requirement, { value: temperature_C, low: low_C, high: high_C }, candidate);
}

/** A state or a warmer one: plain where the words settle it, else by the interval of the border between them. */
function standingOfVerdict(
  requirement: Requirement,
  temperature_C: number,
  cold: ColdOutlook | null,
  candidate: Candidate,
): Standing {
  if (cold === null) return unknown;
  const wanted = warmth[requirement.verdict!];
  const words = cold.verdict.split(" or ").map((word) => warmth[word as keyof typeof warmth]);
  const margin_K = wanted === warmth.rubbery ? cold.marginToLeathery_K : cold.marginToGlassy_K;
  const value = margin_K ?? temperature_C;
  const border =
    margin_K === null
      ? unknown
      : byBorder({ ...requirement, atLeast: 0 }, margin_K, cold, candidate, wanted === warmth.rubbery);
  const settled = (isMet: boolean): Standing => ({
    ...plainly(value, isMet),
    ...(border.drawn !== undefined && { drawn: border.drawn }),
  });
  if (words.every((word) => word >= wanted)) return settled(true);
  return words.every((word) => word < wanted) ? settled(false) : border;
}

const plainly = (value: number, isMet: boolean): Standing => ({
  value,
  met: new Uint8Array(standingDraws).fill(isMet ? 1 : 0),
  asStated: false,
});

/** A temperature or margin that is as uncertain as the peak its border hangs on. */
function byBorder(
  requirement: Requirement,
  value: number,
  { glassTemperatureAtUse: { tanDeltaPeak, lossModulusPeak } }: ColdOutlook,
  { name }: Candidate,
  isLeathery = true,
): Standing {
  const { temperature_C, low_C, high_C } = isLeathery ? tanDeltaPeak : lossModulusPeak;
  if (temperature_C === null || low_C === null || high_C === null) return unknown;
  // A warmer peak is a smaller margin, and a warmer lowest temperature.
  const sign = requirement.quantity === "verdict" ? -1 : 1;
  const random = seededRandom(seedFromText(`border ${name}`));
  const drawn = Float64Array.from({ length: standingDraws }, () => {
    const z = random.normal();
    const side_K = z < 0 ? temperature_C - low_C : high_C - temperature_C;
    return value + (sign * z * side_K) / normal95;
  });
  return byDraws(requirement, value, drawn, 1);
}

/** Normal on each side of the value, with a deviate of its own for each quantity. */
function byInterval(
  requirement: Requirement,
  { value, low, high }: { value: number; low: number; high: number },
  { name }: Candidate,
): Standing {
  const random = seededRandom(seedFromText(`${requirement.quantity} ${name}`));
  const drawn = Float64Array.from({ length: standingDraws }, () => {
    const z = random.normal();
    return value + (z * (z < 0 ? value - low : high - value)) / normal95;
  });
  return byDraws(requirement, value, drawn, 1);
}

function byDraws(
  requirement: Requirement,
  value: number,
  drawn: ArrayLike<number> | null,
  scale: number,
): Standing {
  if (drawn === null || !Array.from(drawn).some(Number.isFinite)) {
    return plainly(value, meets(requirement, value));
  }
  // A draw without a value meets nothing.
  const scaled = Float64Array.from({ length: standingDraws }, (_, i) => drawn[i % drawn.length] * scale);
  const met = Uint8Array.from(scaled, (one) => (meets(requirement, one) ? 1 : 0));
  return { value, met, asStated: false, drawn: scaled };
}

/** Whether a value lies within a requirement's limits; without limits it does. */
export function meets({ atLeast, atMost }: Pick<Requirement, "atLeast" | "atMost">, value: number): boolean {
  return (atLeast === undefined || value >= atLeast) && (atMost === undefined || value <= atMost);
}
