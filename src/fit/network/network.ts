import type { Deformation, DynamicMeasurement } from "../../io/measurement.js";
import { seedFromText } from "../../numeric/statistics/random.js";
import { mapFalling, mapInterval, type ValueInterval } from "../../numeric/statistics/value-interval.js";
import type { Code } from "../../words/codes/codes.js";
import { coded, notice, noticeIn } from "../../words/codes/codes.js";
import type { Notice } from "../../words/notice.js";
import { fixed, frequencyText, temperatureText } from "../../words/quantity-text.js";
import { transitionAtFrequency } from "../glass/glass-at-frequency.js";
import type { Material, RubberyNetwork } from "../material.js";
import { gasConstant_J_molK, zeroCelsius_K } from "../spectrum/shift-law.js";
import { masterCurvePlateau } from "./master-curve-plateau.js";
import { guthGold } from "./reinforcement.js";
import { mostDrift, type PlateauAbsence, plateauAbovePeak_K, plateauWindow_K } from "./rubbery-plateau.js";
import { combinedPlateau, plateausOf, type TriedSweep } from "./sweep-plateaus.js";

/**
 * Network density ν = G/(RT) of an ideal rubber, in mol of network chains per m³ (kinetic theory; Treloar, The
 * Physics of Rubber Elasticity).
 * @param shearModulus_Pa G on the rubbery plateau
 * @example networkDensity_mol_m3(1e6, 25) // 403.39…
 */
export function networkDensity_mol_m3(shearModulus_Pa: number, temperature_C: number): number {
  return shearModulus_Pa / (gasConstant_J_molK * (temperature_C + zeroCelsius_K));
}

/**
 * Mean molar mass of the chains between crosslinks, Mc = ρ/ν = ρRT/G, in g/mol (kinetic theory; Treloar).
 * @example chainMolarMass_g_mol(920, 403.4) // 2280.6…
 */
export function chainMolarMass_g_mol(density_kg_m3: number, networkDensity_mol_m3: number): number {
  return (1000 * density_kg_m3) / networkDensity_mol_m3;
}

export interface NetworkOptions {
  /** Density of the compound; null: not stated, and Mc is not determined. */
  density_kg_m3: number | null;
  /** Volume of filler over volume of compound; 0: unfilled; null: not stated. */
  fillerVolumeFraction: number | null;
  /** Density of the rubber without filler, for Mc with the filler's share taken out. */
  rubberDensity_kg_m3: number | null;
  seed: number;
  /** Draws behind an interval. */
  draws: number;
}

export const networkDefaults: NetworkOptions = {
  density_kg_m3: null,
  fillerVolumeFraction: null,
  rubberDensity_kg_m3: null,
  seed: 1,
  draws: 200,
};

export const networkCaution =
  "Apparent values: the kinetic theory ascribes the whole plateau modulus to crosslinks, so entanglements are counted too, and so is the stiffening by filler. The interval holds the scatter of the data, not the error of the specimen's dimensions, which adds some 5 to 10 % (common practice). Compare compounds with one another; crosslink density itself needs swelling or a test of its own.";

/**
 * Plateau modulus, network density and Mc of one compound, from its temperature sweeps, else from its master curve.
 *
 * The plateau: 30 K or more above the (warmest) tan δ peak, the 20 K in which M′/T changes least, at the lowest
 * frequency that shows one; see `rubberyPlateau`. Sweeps of different files at that frequency and in that mode count
 * as repeats: their geometric mean, with Student's t on their spread. E = 3 G is used, which holds in the rubber.
 *
 * @param measurements of one compound, all kinds; only temperature sweeps are read directly
 * @param material the same compound's transitions and model
 * @returns null with a notice where no plateau is seen
 * @example rubberyNetwork([exampleSweep()], { ...exampleMaterial(), glassTransitions: glassTransitions(exampleSweep()).transitions }).network.deformation // "shear"
 */
export function rubberyNetwork(
  measurements: DynamicMeasurement[],
  material: Pick<Material, "compound" | "glassTransitions" | "model" | "draws">,
  options: NetworkOptions = networkDefaults,
): { network: RubberyNetwork | null; notices: Notice[] } {
  // Nobody who measured rebound or hardness alone asks for a plateau.
  if (material.model === null && measurements.every(({ kind }) => kind === "strain sweep"))
    return { network: null, notices: [] };
  const seed = options.seed ^ seedFromText("plateau");
  const tried = measurements.flatMap((measurement) => plateausOf(measurement, material, seed, options.draws));
  const found = combinedPlateau(tried) ?? masterCurvePlateau(material, seed);
  if ("absent" in found) {
    const { model } = material;
    const flows_C =
      model === null ? null : transitionAtFrequency(model, plateauFrequency_Hz).flowsWithoutPlateau_C;
    return { network: null, notices: [noPlateauNotice(material.compound, tried, found, flows_C)] };
  }
  const { plateau, deformation } = found;
  const asShear = shearModulus(plateau.storageModulus_Pa, deformation);
  const networkDensity = (modulus_Pa: ValueInterval) =>
    mapInterval(modulus_Pa, (G) => networkDensity_mol_m3(G, plateau.temperature_C));
  const molarMass = (density_kg_m3: number | null, nu: ValueInterval | null) =>
    density_kg_m3 === null || nu === null
      ? null
      : mapFalling(nu, (v) => chainMolarMass_g_mol(density_kg_m3, v));
  const density = asShear === null ? null : networkDensity(asShear);
  const phi = options.fillerVolumeFraction;
  let withoutFiller: RubberyNetwork["withoutFiller"] = null;
  if (asShear !== null && phi !== null && phi > 0) {
    const factor = guthGold(phi);
    const matrix = networkDensity(mapInterval(asShear, (G) => G / factor));
    withoutFiller = {
      volumeFraction: phi,
      guthGold: factor,
      networkDensity_mol_m3: matrix,
      chainMolarMass_g_mol: molarMass(options.rubberDensity_kg_m3, matrix),
    };
  }
  const network: RubberyNetwork = {
    plateauModulus_Pa: plateau.storageModulus_Pa,
    deformation,
    temperature_C: plateau.temperature_C,
    from_C: plateau.from_C,
    to_C: plateau.to_C,
    frequency_Hz: found.frequency_Hz,
    tanDelta: plateau.tanDelta,
    drift: plateau.drift,
    basis: found.basis,
    paths: found.basis === "temperature sweep" ? found.paths : sweepPaths(measurements, deformation),
    shearModulus_Pa: asShear,
    shearModulusReading: shearWords(deformation),
    networkDensity_mol_m3: density,
    chainMolarMass_g_mol: molarMass(options.density_kg_m3, density),
    withoutFiller,
    caution: networkCaution,
  };
  return { network, notices: networkNotices(network, material.compound, options) };
}

function sweepPaths(measurements: DynamicMeasurement[], deformation: Deformation): string[] {
  const sweeps = measurements.filter((one) => one.kind !== "strain sweep" && one.deformation === deformation);
  return [...new Set(sweeps.map(({ provenance }) => provenance.file))];
}

/** G as measured in shear; E/3 from every other stated mode, since ν ≈ 0.5 in the rubber. */
function shearModulus(modulus_Pa: ValueInterval, deformation: Deformation): ValueInterval | null {
  if (deformation === "shear") return modulus_Pa;
  return deformation === "unstated" ? null : mapInterval(modulus_Pa, (E) => E / 3);
}

function shearWords(deformation: Deformation): string {
  if (deformation === "shear") return "G as measured";
  if (deformation === "unstated")
    return "not determined: the file does not state how the specimen was deformed";
  return `G = E/3, from E in ${deformation}; holds in the rubbery range, where ν ≈ 0.5`;
}

/** A plateau that loses more than this is still relaxing (common practice). */
const highLoss = 0.15;
const noticeableDrift = 0.1;

/** A plateau is looked for in a sweep at this frequency. */
const plateauFrequency_Hz = 1;

/**
 * Why there is no plateau, and the sweep that would show one.
 * @param flows_C up to where the material flows without one at 1 Hz; null where it does not flow
 */
export function noPlateauNotice(
  compound: string,
  tried: TriedSweep[],
  absence: PlateauAbsence,
  flows_C: number | null = null,
): Notice {
  const starts_C = tried.flatMap(({ above_C }) => above_C ?? []);
  const drifts = [...tried.map(({ outcome }) => outcome.drift), absence.drift].flatMap(
    (drift) => drift ?? [],
  );
  const code = "fit.no-plateau";
  const start = `${compound}: no rubbery plateau is seen, so no network density`;
  if (flows_C !== null) {
    return notice(
      code,
      `${start}: the material flows when warm, before any plateau up to ${temperatureText(flows_C, 0)} at ${plateauFrequency_Hz} Hz.`,
    );
  }
  if (drifts.length > 0) {
    const least = drifts.reduce((a, b) => (Math.abs(b) < Math.abs(a) ? b : a));
    // A drift that rounds to the border would contradict the sentence.
    const digits =
      [0, 1, 2].find((count) => Number((100 * Math.abs(least)).toFixed(count)) > 100 * mostDrift) ?? 3;
    const message = `${start}: even where M′/T is steadiest above the transition it changes by ${fixed(100 * least, digits)} % over ${plateauWindow_K} K, and ${100 * mostDrift} % is the most a plateau may. Measure warmer or at a lower frequency.`;
    return notice(code, message);
  }
  const to =
    starts_C.length > 0
      ? `up to ${temperatureText(5 * Math.ceil((Math.min(...starts_C) + plateauWindow_K) / 5), 0)} or more`
      : `from below the tan δ peak up to ${plateauAbovePeak_K + plateauWindow_K} K above it or more`;
  const message = `${start}: a plateau is looked for from ${plateauAbovePeak_K} K above the tan δ peak on, over ${plateauWindow_K} K, and what was measured shows no such stretch. Sweep ${to} at ${plateauFrequency_Hz} Hz.`;
  return notice(code, message);
}

/** What a reader of the network must know beside its numbers. */
function networkNotices(network: RubberyNetwork, compound: string, options: NetworkOptions): Notice[] {
  const notices: Notice[] = [];
  const said = (code: Code, message: string) =>
    notices.push({ ...coded(code), message: `${compound}: ${message}` });
  const told = (code: Code, sentence: string, state: string[], remedy = "") =>
    notices.push(noticeIn(code, sentence, state, remedy));
  const { deformation, drift, tanDelta, from_C, to_C } = network;
  const where = `from ${fixed(from_C, 0)} to ${temperatureText(to_C, 0)}`;
  if (deformation === "unstated") {
    said(
      "fit.network-mode-unstated",
      "the file does not state how the specimen was deformed, and the network density from E would be three times that from G. Name the mode in the study (deformation).",
    );
  }
  if (deformation === "compression" || deformation === "bending") {
    said(
      "fit.network-mode-stiff",
      `the plateau modulus comes from ${deformation}, where specimens held or bonded at their ends read too stiff, so the network density is too high. Measure in tension or shear.`,
    );
  }
  if (options.density_kg_m3 === null && deformation !== "unstated") {
    said("fit.network-no-density", "Mc is not determined, for the study states no density (density_kg_m3).");
  }
  if (Math.abs(drift) > noticeableDrift || tanDelta > highLoss) {
    told(
      "fit.plateau-not-at-rest",
      "The rubbery plateau is not level where the network density is read (filler or slow chains still relax), so the density depends on the temperature it is read at",
      [
        `M′/T changes by ${fixed(100 * drift, 0)} % ${where}, tan δ ${fixed(tanDelta, 2)} at ${frequencyText(network.frequency_Hz)}`,
      ],
      "Sweep warmer or slower.",
    );
  }
  const phi = options.fillerVolumeFraction;
  if (phi === null) {
    told(
      "fit.network-filler-unstated",
      "The study states no filler; if there is any, the apparent network density counts it too",
      [],
    );
  } else if (phi > 0) {
    told(
      "fit.network-counts-filler",
      "Filler raises the modulus, so the apparent network density counts filler too; the density without Guth and Gold's factor is given beside it and is still too high where particles touch",
      [`${fixed(100 * phi, 0)} % filler by volume`],
    );
  }
  return notices;
}
