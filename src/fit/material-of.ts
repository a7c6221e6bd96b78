import type { DynamicMeasurement, Measurement } from "../io/measurement.js";
import type { Notice } from "../words/notice.js";
import { transitionNotices } from "./glass/glass-notices.js";
import {
  glassTransitionDefaults,
  glassTransitions,
  glassTransitionsFromIsotherms,
} from "./glass/glass-transition.js";
import { softGlassNotice } from "./glass/soft-glass.js";
import { transitionsFromModel } from "./glass/transitions-from-model.js";
import type { GlassTransition, Material, SuperpositionResult } from "./material.js";
import { measuredStates } from "./measured-states.js";
import { linearRangeNotices } from "./network/linear-range.js";
import { type NetworkOptions, networkDefaults, rubberyNetwork } from "./network/network.js";
import { payneEffects } from "./network/payne.js";
import { softeningOf } from "./network/softening.js";
import { strainSoftening } from "./network/strain-softening.js";
import { assumeSuperposition } from "./single-frequency/assumed-superposition.js";
import { superposeIntoGlass } from "./single-frequency/isotherms-into-glass.js";
import type { RelaxationModel } from "./spectrum/relaxation-model.js";
import { spectraAt } from "./spectrum/spectra-at.js";
import { chooseDeformation, superposeIsotherms } from "./superposition/superpose.js";
import {
  defaultSuperpositionSettings,
  type SuperpositionSettings,
} from "./superposition/superposition-settings.js";

/** How one compound's measurements become a material. */
export interface MaterialSettings {
  /** The compound's name, for the sentences about it. */
  compound: string;
  superposition: SuperpositionSettings;
  /** What is known of the compound's recipe; null where it is not. */
  network: Pick<NetworkOptions, "density_kg_m3" | "fillerVolumeFraction" | "rubberDensity_kg_m3">;
  /** Seeds the draws behind the intervals of peaks, network and strain sweeps. */
  seed: number;
}

/** Nothing known of the recipe; the example's name. */
export const defaultMaterialSettings: MaterialSettings = {
  compound: "the compound",
  superposition: defaultSuperpositionSettings,
  network: networkDefaults,
  seed: glassTransitionDefaults.seed,
};

/**
 * The only way from one compound's measurements to its material: glass transitions from sweeps, or from isotherms
 * where there are none; superposition, spectrum and glass branch; what was measured beside what the model gives; the
 * rubbery network and the strain sweeps. Whatever the data do not allow is null and a notice says why.
 *
 * @param measurements of one compound, of all kinds; rebound is no business of the material
 * @example materialOf([exampleIsotherms()], defaultMaterialSettings).superposition.law // "wlf"
 */
export function materialOf(measurements: Measurement[], settings: MaterialSettings): Material {
  const { compound, seed } = settings;
  const swept = measurements.filter((one): one is DynamicMeasurement => one.kind !== "rebound");
  const dynamic = swept.filter(hasStatedFrequency);
  const glass = transitionsOf(dynamic, seed);
  // Peaks of which the file does not say at what frequency: given as they are, and used for nothing.
  const unplaced = transitionsOf(
    swept.filter((one) => !hasStatedFrequency(one)),
    seed,
  );
  const superposed = superpose(dynamic, glass.transitions, settings.superposition);
  const fitted = {
    compound,
    glassTransitions: transitionsFromModel(glass.transitions, superposed),
    ...(unplaced.transitions.length === 0 ? {} : { transitionsAtUnstatedFrequency: unplaced.transitions }),
    superposition: superposed.superposition,
    model: superposed.model,
    draws: superposed.draws,
    ...(swept.length === 0 ? { hasNoSweep: true } : {}),
    ...spectraOf(dynamic, superposed.model, settings.superposition),
    measuredStates: measuredStates(dynamic, superposed.model),
  };
  const network = rubberyNetwork(dynamic, fitted, { ...networkDefaults, ...settings.network, seed });
  const softGlass = softGlassNotice(
    dynamic,
    glass.transitions,
    (stiffer) => transitionsOf(stiffer, seed).transitions,
  );
  const strain = payneEffects(dynamic, { draws: networkDefaults.draws, seed });
  return {
    ...fitted,
    network: network.network,
    softening: softeningOf(dynamic, glass.transitions, { draws: networkDefaults.draws, seed }),
    payneEffects: strain.effects,
    strainSoftening:
      strainSoftening(dynamic) ?? (settings.network.fillerVolumeFraction === 0 ? "unfilled" : null),
    notices: [
      ...glass.notices,
      ...(softGlass === null ? [] : [softGlass]),
      ...fitted.glassTransitions.filter(({ origin }) => origin === "isotherms").flatMap(transitionNotices),
      ...unplaced.notices,
      ...superposed.notices,
      ...network.notices,
      ...strain.notices,
      ...linearRangeNotices(dynamic, strain.effects),
    ],
  };
}

/** Of isotherms that nothing joins, which predict at their own temperatures. */
function spectraOf(
  dynamic: DynamicMeasurement[],
  model: RelaxationModel | null,
  { draws, seed }: SuperpositionSettings,
): Pick<Material, "spectraAt"> {
  const deformation = model === null ? chooseDeformation(dynamic, []) : null;
  const spectra = deformation === null ? [] : spectraAt(dynamic, deformation, draws, seed);
  return spectra.length === 0 ? {} : { spectraAt: spectra };
}

/** False for a sweep of which nothing states the frequency. */
export function hasStatedFrequency({ frequency_Hz }: DynamicMeasurement): boolean {
  return !frequency_Hz.every(Number.isNaN);
}

function transitionsOf(
  dynamic: DynamicMeasurement[],
  seed: number,
): { transitions: GlassTransition[]; notices: Notice[] } {
  const settings = { ...glassTransitionDefaults, seed };
  const ofSweeps = dynamic.map((measurement) => glassTransitions(measurement, settings));
  const transitions = ofSweeps.flatMap((found) => found.transitions);
  const notices = ofSweeps.flatMap((found) => found.notices);
  if (transitions.length > 0) return { transitions, notices };
  const ofIsotherms = glassTransitionsFromIsotherms(dynamic, settings);
  return { transitions: ofIsotherms.transitions, notices: [...notices, ...ofIsotherms.notices] };
}

/**
 * Time–temperature superposition of all dynamic measurements of one compound. Isotherms give the shift factors, the
 * law and the spectrum by a joint fit; where they end above the transition that they cross, a law places the rest;
 * sweeps at one frequency can give no shifts, and assumed constants are hung on their measured Tg instead.
 *
 * @param glassTransitions readings of the same measurements, for Tg
 */
export function superpose(
  dynamic: DynamicMeasurement[],
  glassTransitions: GlassTransition[],
  settings: SuperpositionSettings,
): SuperpositionResult {
  const chosen: Notice[] = [];
  const deformation = chooseDeformation(dynamic, chosen);
  if (deformation === null) return { superposition: null, model: null, draws: [], notices: [] };
  const isotherms = superposeIsotherms(dynamic, deformation, glassTransitions, settings);
  const ramps = dynamic.filter((one) => one.kind === "temperature sweep" && one.deformation === deformation);
  const hung =
    isotherms.superposition === null && ramps.length > 0
      ? assumeSuperposition(ramps, glassTransitions, settings)
      : null;
  const placed = superposeIntoGlass(hung ?? isotherms, dynamic, glassTransitions, settings);
  if (placed !== null) return { ...placed, notices: [...chosen, ...isotherms.notices, ...placed.notices] };
  const said = [...chosen, ...isotherms.apart, ...isotherms.notices];
  if (hung !== null) return { ...hung, notices: [...said, ...hung.notices] };
  const { superposition, model, draws } = isotherms;
  return { superposition, model, draws, notices: said };
}
