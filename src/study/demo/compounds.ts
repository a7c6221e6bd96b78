import type { Deformation } from "../../io/measurement.js";
import { power, square } from "../../numeric/elementary/power.js";

/** One phase of a compound: its transition, its shift constants at that transition, and its spectrum. */
export interface DemoPhase {
  /** Static glass transition, where the shift constants hang; °C. */
  glassTransition_C: number;
  c1: number;
  c2_K: number;
  /** Share of the phase in the compound's modulus; the shares of a compound add up to one. */
  share: number;
  /** Modulus of the frozen state, in the compound's own deformation mode. */
  glassyModulus_Pa: number;
  /** Equilibrium modulus of the network with its filler, same mode. */
  rubberModulus_Pa: number;
  /** Havriliak–Negami exponents: `alpha` is the slope on the rubbery side, `alpha · beta` that on the glassy one. */
  transition: { alpha: number; beta: number };
  /** Slow, broad losses of filler and chain ends: log-normal, in decades of time past the transition. */
  slow: { modulus_Pa: number; centre_decades: number; width_decades: number };
  /**
   * Local motions that go on inside the glass: an even spectrum of eight decades up to `slowest_s` at the glass
   * transition, `share` of the glassy modulus, with an activation energy of its own.
   */
  local: { share: number; slowest_s: number; activationEnergy_J_mol: number };
}

/** Filler as the study file states it; phr is mass per hundred of rubber. */
export interface DemoFiller {
  name: string;
  phr: number;
  density_kg_m3: number;
  rubberDensity_kg_m3: number;
  /** Diameter of its particles; null: not known. */
  particleSize_nm: number | null;
}

export interface DemoCompound {
  name: string;
  /** What it resembles, in words. */
  resembles: string;
  deformation: Deformation;
  density_kg_m3: number;
  hardness_ShoreA: number;
  filler: DemoFiller | null;
  phases: DemoPhase[];
  /** Where the exact spectrum has its tan δ maxima, °C: one per phase. A test holds the table to them within 0.3 K. */
  tanDeltaPeaks_C: { at1Hz: number[]; at10Hz: number[] };
}

const MPa = 1e6;
const GPa = 1e9;
const local = { share: 0.12, slowest_s: 2e-4, activationEnergy_J_mol: 70_000 };
const carbonBlack = { name: "carbon black", density_kg_m3: 1800, particleSize_nm: 30 };
const silica = { name: "silica", density_kg_m3: 2000, particleSize_nm: null };

export const birch60: DemoCompound = {
  name: "Birch 60",
  resembles: "natural rubber with carbon black",
  deformation: "shear",
  density_kg_m3: 1100,
  hardness_ShoreA: 60,
  filler: { ...carbonBlack, phr: 50, rubberDensity_kg_m3: 920 },
  phases: [
    {
      ...{ glassTransition_C: -60, c1: 16.7, c2_K: 53.6, share: 1, local },
      ...{ glassyModulus_Pa: 1.0 * GPa, rubberModulus_Pa: 1.3 * MPa },
      transition: { alpha: 0.74, beta: 0.26 },
      slow: { modulus_Pa: 5.5 * MPa, centre_decades: 4.5, width_decades: 2.6 },
    },
  ],
  tanDeltaPeaks_C: { at1Hz: [-48.1], at10Hz: [-43.0] },
};

export const rowanW: DemoCompound = {
  name: "Rowan W",
  resembles: "butadiene-rich winter compound with silica",
  deformation: "tension",
  density_kg_m3: 1090,
  hardness_ShoreA: 58,
  filler: { ...silica, phr: 45, rubberDensity_kg_m3: 900 },
  phases: [
    {
      ...{ glassTransition_C: -88, c1: 15.5, c2_K: 50, share: 1, local },
      ...{ glassyModulus_Pa: 2.4 * GPa, rubberModulus_Pa: 4.2 * MPa },
      transition: { alpha: 0.76, beta: 0.24 },
      slow: { modulus_Pa: 7 * MPa, centre_decades: 5, width_decades: 3 },
    },
  ],
  tanDeltaPeaks_C: { at1Hz: [-75.6], at10Hz: [-70.2] },
};

export const alderN: DemoCompound = {
  name: "Alder N",
  resembles: "styrene-butadiene rubber with carbon black",
  deformation: "tension",
  density_kg_m3: 1140,
  hardness_ShoreA: 64,
  filler: { ...carbonBlack, phr: 55, rubberDensity_kg_m3: 940 },
  phases: [
    {
      ...{ glassTransition_C: -52, c1: 15.8, c2_K: 49, share: 1, local },
      ...{ glassyModulus_Pa: 2.6 * GPa, rubberModulus_Pa: 3.6 * MPa },
      transition: { alpha: 0.74, beta: 0.3 },
      slow: { modulus_Pa: 19 * MPa, centre_decades: 4.5, width_decades: 2.6 },
    },
  ],
  tanDeltaPeaks_C: { at1Hz: [-40.5], at10Hz: [-35.3] },
};

/** A later mix of Alder N: the transition 1.5 K higher, the network 6 % looser. */
export const alderNSecondBatch: DemoCompound = {
  ...alderN,
  name: "Alder N batch 2",
  resembles: "the same compound from a later mix",
  phases: alderN.phases.map((phase) => ({
    ...phase,
    glassTransition_C: phase.glassTransition_C + 1.5,
    rubberModulus_Pa: phase.rubberModulus_Pa * 0.94,
  })),
  tanDeltaPeaks_C: { at1Hz: [-39.0], at10Hz: [-33.8] },
};

export const spruceH: DemoCompound = {
  name: "Spruce H",
  resembles: "stiff styrene-rich rubber with much silica, a high glass transition",
  deformation: "tension",
  density_kg_m3: 1240,
  hardness_ShoreA: 72,
  filler: { ...silica, phr: 80, rubberDensity_kg_m3: 950 },
  phases: [
    {
      ...{ glassTransition_C: -28, c1: 16.2, c2_K: 47, share: 1, local },
      ...{ glassyModulus_Pa: 2.9 * GPa, rubberModulus_Pa: 5.5 * MPa },
      transition: { alpha: 0.72, beta: 0.32 },
      slow: { modulus_Pa: 22 * MPa, centre_decades: 4.5, width_decades: 2.8 },
    },
  ],
  tanDeltaPeaks_C: { at1Hz: [-17.2], at10Hz: [-12.4] },
};

export const lindenPU: DemoCompound = {
  name: "Linden PU",
  resembles: "cast polyether polyurethane, unfilled",
  deformation: "tension",
  density_kg_m3: 1090,
  hardness_ShoreA: 80,
  filler: null,
  phases: [
    {
      ...{ glassTransition_C: -42, c1: 15, c2_K: 50, share: 1, local },
      ...{ glassyModulus_Pa: 2.1 * GPa, rubberModulus_Pa: 9 * MPa },
      transition: { alpha: 0.62, beta: 0.3 },
      slow: { modulus_Pa: 10 * MPa, centre_decades: 6, width_decades: 3.5 },
    },
  ],
  tanDeltaPeaks_C: { at1Hz: [-28.7], at10Hz: [-22.9] },
};

export const mapleDuo: DemoCompound = {
  name: "Maple Duo",
  resembles: "two-phase blend of a natural and a styrene-rich rubber",
  deformation: "shear",
  density_kg_m3: 1115,
  hardness_ShoreA: 62,
  filler: { ...carbonBlack, phr: 50, rubberDensity_kg_m3: 930 },
  phases: [
    {
      ...{ glassTransition_C: -62, c1: 16.4, c2_K: 54, share: 0.55, local },
      ...{ glassyModulus_Pa: 0.95 * GPa, rubberModulus_Pa: 1.5 * MPa },
      transition: { alpha: 0.72, beta: 0.28 },
      slow: { modulus_Pa: 5 * MPa, centre_decades: 4.5, width_decades: 2.8 },
    },
    {
      ...{ glassTransition_C: -32, c1: 15.2, c2_K: 46, share: 0.45, local },
      ...{ glassyModulus_Pa: 0.3 * GPa, rubberModulus_Pa: 1.5 * MPa },
      transition: { alpha: 0.74, beta: 0.3 },
      slow: { modulus_Pa: 6 * MPa, centre_decades: 4.5, width_decades: 2.8 },
    },
  ],
  tanDeltaPeaks_C: { at1Hz: [-54.6, -22.7], at10Hz: [-50.0, -18.0] },
};

export const juniper55: DemoCompound = {
  name: "Juniper 55",
  resembles: "chloroprene rubber with carbon black",
  deformation: "tension",
  density_kg_m3: 1360,
  hardness_ShoreA: 55,
  filler: { ...carbonBlack, phr: 40, rubberDensity_kg_m3: 1230 },
  phases: [
    {
      ...{ glassTransition_C: -43, c1: 16.2, c2_K: 50, share: 1, local },
      ...{ glassyModulus_Pa: 2.5 * GPa, rubberModulus_Pa: 3.2 * MPa },
      transition: { alpha: 0.76, beta: 0.28 },
      slow: { modulus_Pa: 9 * MPa, centre_decades: 5, width_decades: 2.8 },
    },
  ],
  tanDeltaPeaks_C: { at1Hz: [-31.1], at10Hz: [-26.0] },
};

export const hazelT: DemoCompound = {
  name: "Hazel T",
  resembles: "thermoplastic elastomer: soft chains held by glassy domains, which let go in the warm",
  deformation: "tension",
  density_kg_m3: 940,
  hardness_ShoreA: 62,
  filler: null,
  phases: [
    {
      ...{ glassTransition_C: -61, c1: 15.5, c2_K: 50, share: 0.97, local },
      ...{ glassyModulus_Pa: 2.1 * GPa, rubberModulus_Pa: 0.4 * MPa },
      transition: { alpha: 0.76, beta: 0.28 },
      slow: { modulus_Pa: 0.6 * MPa, centre_decades: 4.5, width_decades: 2.6 },
    },
    {
      // The domains: C1 and C2 as of polystyrene (from memory).
      ...{ glassTransition_C: 76, c1: 13.7, c2_K: 50, share: 0.03, local },
      ...{ glassyModulus_Pa: 0.18 * GPa, rubberModulus_Pa: 0.2 * MPa },
      transition: { alpha: 0.7, beta: 0.5 },
      slow: { modulus_Pa: 0.2 * MPa, centre_decades: 2, width_decades: 2 },
    },
  ],
  tanDeltaPeaks_C: { at1Hz: [-47.8], at10Hz: [-42.2] },
};

/** Volume of filler over volume of compound, from phr and the two densities. */
export function fillerVolumeFraction({ phr, density_kg_m3, rubberDensity_kg_m3 }: DemoFiller): number {
  const filler = phr / density_kg_m3;
  return filler / (filler + 100 / rubberDensity_kg_m3);
}

/** M/M0 = 1 + 2.5φ + 14.1φ² (Guth, J. Appl. Phys. 16, 20, 1945). */
function guthGoldFactor(volumeFraction: number): number {
  return 1 + 2.5 * volumeFraction + 14.1 * square(volumeFraction);
}

/**
 * Birch with another load of carbon black: the network's modulus by Guth and Gold, the slow losses a little
 * faster than the load (particles that touch; the exponent 1.2 is invented) on top of some from chain ends.
 */
function birchWithCarbonBlack(name: string, phr: number, hardness_ShoreA: number): DemoCompound {
  const full = birch60.filler!;
  const filler = { ...full, phr };
  const ratio = guthGoldFactor(fillerVolumeFraction(filler)) / guthGoldFactor(fillerVolumeFraction(full));
  const phase = birch60.phases[0];
  const slowShare = 0.06 + 0.94 * power(phr / full.phr, 1.2);
  const density_kg_m3 = (100 + phr) / (100 / full.rubberDensity_kg_m3 + phr / full.density_kg_m3);
  return {
    ...birch60,
    name,
    resembles: `Birch 60 with ${phr} phr of carbon black instead of ${full.phr}`,
    density_kg_m3: Math.round(density_kg_m3),
    hardness_ShoreA,
    filler: phr > 0 ? filler : null,
    phases: [
      {
        ...phase,
        rubberModulus_Pa: phase.rubberModulus_Pa * ratio,
        slow: { ...phase.slow, modulus_Pa: phase.slow.modulus_Pa * slowShare },
      },
    ],
  };
}

/** The filler series around Birch 60, which itself is the third of four loads. */
export const birchGum: DemoCompound = {
  ...birchWithCarbonBlack("Birch gum", 0, 38),
  tanDeltaPeaks_C: { at1Hz: [-45.3], at10Hz: [-39.7] },
};
export const birch48: DemoCompound = {
  ...birchWithCarbonBlack("Birch 48", 25, 48),
  tanDeltaPeaks_C: { at1Hz: [-47.2], at10Hz: [-41.8] },
};
export const birch66: DemoCompound = {
  ...birchWithCarbonBlack("Birch 66", 65, 66),
  tanDeltaPeaks_C: { at1Hz: [-48.5], at10Hz: [-43.4] },
};

/** All invented compounds, in the order of the study file. */
export const demoCompounds: DemoCompound[] = [
  birch60,
  rowanW,
  alderN,
  alderNSecondBatch,
  spruceH,
  lindenPU,
  mapleDuo,
  juniper55,
  birchGum,
  birch48,
  birch66,
  hazelT,
];
