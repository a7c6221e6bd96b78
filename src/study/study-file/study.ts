import { fillerVolumeFraction } from "../../fit/network/reinforcement.js";
import {
  defaultSuperpositionSettings,
  type SuperpositionSettings,
} from "../../fit/superposition/superposition-settings.js";
import type { Deformation } from "../../io/measurement.js";
import type { BatchLimits } from "../../predict/batches/compare-batches.js";
import { namedTexture } from "../../predict/contact/textures.js";
import type { Requirement } from "../../predict/decision/requirement.js";
import { defaultUses, pendulumImpact, useNameAt } from "../../predict/default-uses.js";
import { defaultPredictionSettings, type PredictionSettings } from "../../predict/prediction-settings.js";
import type { ImpactContact, SlidingContact, Texture, Use } from "../../predict/use.js";
import type { StudyFile, StudySettings } from "../../report/results/study-file-schema.js";
import { requirementsOf } from "./requirements-of.js";

export interface StudyCompound {
  name: string;
  /** Globs relative to the study file. */
  files: string[];
  /** Names under which the files' own sample fields know it. */
  samples: string[];
  reference: boolean;
  deformation: Exclude<Deformation, "unstated"> | null;
  density_kg_m3: number | null;
  /** Volume of filler over volume of compound; null: not stated. */
  fillerVolumeFraction: number | null;
  /** Mass of filler per hundred of rubber; null: not stated. */
  filler_phr: number | null;
  /** Diameter of the filler's particles; null: not stated. */
  particleSize_nm: number | null;
  rubberDensity_kg_m3: number | null;
  /** The accepted compound that this one is a batch of. */
  batchOf: string | null;
}

/** A study as understood: every default filled in, uses with their textures, units of the program. */
export interface Study {
  compounds: StudyCompound[];
  uses: Use[];
  superposition: SuperpositionSettings;
  prediction: PredictionSettings;
  /** Column overrides by file glob. */
  columns: Record<string, Record<string, string>>;
  /** What else the study says of files, by glob. */
  files: StudyFile["files"];
  fillerSeries: { name: string; compounds: string[] }[];
  batchLimits: BatchLimits;
  /** One for each use that it concerns; a study's limits among them. */
  requirements: Requirement[];
  seed: number;
  /** Height profiles of textures: no exports, whatever folder they lie in. */
  profileFiles: string[];
  /** The same as a study file would say it, defaults included: copied to study.yaml it gives the same results. */
  settings: StudySettings;
}

/**
 * Fills in the defaults and resolves texture names.
 * @param profiles textures made from the profile files that the study names, by texture name
 * @throws where a use names an unknown texture, which `parseStudyFile` refuses
 */
export function resolveStudy(file: StudyFile, profiles: ReadonlyMap<string, Texture>): Study {
  const own = new Map<string, Texture>();
  for (const texture of file.textures) {
    const measured = profiles.get(texture.name);
    own.set(
      texture.name,
      measured ?? {
        name: texture.name,
        source: texture.source ?? "stated in the study",
        rmsHeight_m: texture.rmsHeight_mm! / 1000,
        hurstExponent: texture.hurstExponent!,
        q0_per_m: texture.q0_per_m!,
        q1_per_m: texture.q1_per_m ?? null,
        measured: null,
      },
    );
  }
  const uses: Use[] = [];
  for (const use of file.uses ?? []) {
    uses.push({
      name: use.name ?? useNameAt(use.temperature_C),
      temperature_C: use.temperature_C,
      sliding: slidingOf(use.sliding, own),
      impact: impactOf(use.impact),
      // A use without any contact stated gets both default ones, and is shown as assumed.
      assumed: use.sliding === undefined && use.impact === undefined,
    });
    const last = uses[uses.length - 1];
    if (last.assumed) {
      last.sliding = slidingOf({ speed_m_s: 0.3, pressure_MPa: 0.3, texture: "worn asphalt" }, own);
      last.impact = pendulumImpact;
    }
  }
  const resolvedUses = uses.length > 0 ? uses : defaultUses();
  const { assumedConstants, ...superposition } = file.superposition;
  const study: Omit<Study, "settings"> = {
    compounds: file.compounds.map((compound) => studyCompound(compound, file)),
    uses: resolvedUses,
    superposition: {
      ...defaultSuperpositionSettings,
      ...superposition,
      ...(assumedConstants && {
        assumed: {
          name: assumedConstants.name ?? "constants of the study",
          c1: assumedConstants.c1,
          c2_K: assumedConstants.c2_K,
        },
      }),
      seed: file.seed,
    },
    prediction: {
      ...defaultPredictionSettings,
      ...file.verdict,
      temperatureUncertainty_K:
        file.uncertainty.temperature_K ?? defaultPredictionSettings.temperatureUncertainty_K,
      modulusUncertainty: file.uncertainty.modulus ?? defaultPredictionSettings.modulusUncertainty,
    },
    columns: file.columns,
    files: file.files,
    fillerSeries: file.fillerSeries,
    batchLimits: {
      glassTransitionDifference_K: file.limits.glassTransitionDifference_K ?? null,
      tanDeltaDifference: file.limits.tanDeltaDifference ?? null,
      reboundDifference: file.limits.reboundDifference ?? null,
    },
    requirements: requirementsOf(file, resolvedUses),
    seed: file.seed,
    profileFiles: [],
  };
  return { ...study, settings: asSettings(file, study) };
}

/** Whether the study names this compound as the one that others are held against. */
export function isReference(name: string, study: Study): boolean {
  return study.compounds.some((compound) => compound.reference && compound.name === name);
}

function studyCompound(compound: StudyFile["compounds"][number], file: StudyFile): StudyCompound {
  const { name, files, samples, reference, deformation, density_kg_m3, filler, batchOf } = compound;
  // A member of a filler series that states no filler is its gum.
  const isInSeries = file.fillerSeries.some((series) => series.compounds.includes(name));
  return {
    name,
    files,
    samples,
    reference,
    deformation: deformation ?? null,
    density_kg_m3: density_kg_m3 ?? null,
    fillerVolumeFraction: filler ? fillerVolumeFraction(filler) : isInSeries ? 0 : null,
    filler_phr: filler ? (filler.phr ?? null) : isInSeries ? 0 : null,
    rubberDensity_kg_m3: filler?.rubberDensity_kg_m3 ?? null,
    particleSize_nm: filler?.particleSize_nm ?? null,
    batchOf: batchOf ?? null,
  };
}

function slidingOf(
  stated: NonNullable<StudyFile["uses"]>[number]["sliding"],
  own: ReadonlyMap<string, Texture>,
): SlidingContact | null {
  if (stated === undefined || stated === null) return null;
  const texture = own.get(stated.texture) ?? namedTexture(stated.texture);
  if (texture === null) throw new Error(`no such texture: ${stated.texture}`);
  return { speed_m_s: stated.speed_m_s, pressure_Pa: stated.pressure_MPa * 1e6, texture };
}

function impactOf(stated: NonNullable<StudyFile["uses"]>[number]["impact"]): ImpactContact | null {
  if (stated === undefined || stated === null) return null;
  const mass_kg = stated.mass_kg ?? pendulumImpact.mass_kg;
  // ½ m v² = E
  const fallen_m_s = stated.energy_J === undefined ? undefined : Math.sqrt((2 * stated.energy_J) / mass_kg);
  const radius_mm = stated.contact === "flat" ? stated.diameter_mm! / 2 : (stated.indenterRadius_mm ?? null);
  return {
    method: stated.method ?? (stated.contact === "flat" ? "flat face on a pad" : "ISO 4662 pendulum"),
    mass_kg,
    speed_m_s: stated.speed_m_s ?? fallen_m_s ?? pendulumImpact.speed_m_s,
    contact: stated.contact,
    indenterRadius_m: radius_mm === null ? pendulumImpact.indenterRadius_m : radius_mm / 1000,
    thickness_m: stated.thickness_mm ? stated.thickness_mm / 1000 : null,
  };
}

function asSettings(file: StudyFile, study: Omit<Study, "settings">): StudySettings {
  const { superposition, prediction } = study;
  const usedTextures = new Map<string, Texture>();
  for (const { sliding } of study.uses) if (sliding) usedTextures.set(sliding.texture.name, sliding.texture);
  return withoutUndefined({
    title: file.title,
    compounds: file.compounds,
    uses: study.uses.map((use) => ({
      name: use.name,
      temperature_C: use.temperature_C,
      sliding: use.sliding && {
        speed_m_s: use.sliding.speed_m_s,
        pressure_MPa: use.sliding.pressure_Pa / 1e6,
        texture: use.sliding.texture.name,
      },
      impact: use.impact && {
        method: use.impact.method,
        mass_kg: use.impact.mass_kg,
        speed_m_s: use.impact.speed_m_s,
        ...(use.impact.contact === "flat"
          ? { contact: "flat" as const, diameter_mm: use.impact.indenterRadius_m * 2000 }
          : { indenterRadius_mm: use.impact.indenterRadius_m * 1000 }),
        thickness_mm: use.impact.thickness_m === null ? null : use.impact.thickness_m * 1000,
      },
    })),
    textures: [...usedTextures.values()].map((texture) => {
      const stated = file.textures.find(({ name }) => name === texture.name);
      return (
        stated ?? {
          name: texture.name,
          source: texture.source,
          rmsHeight_mm: texture.rmsHeight_m * 1000,
          hurstExponent: texture.hurstExponent,
          q0_per_m: texture.q0_per_m,
          q1_per_m: texture.q1_per_m,
        }
      );
    }),
    superposition: {
      referenceTemperature_C: superposition.referenceTemperature_C,
      verticalShift: superposition.verticalShift,
      expansion_per_K: superposition.expansion_per_K,
      law: superposition.law,
      assumedConstants: superposition.assumed,
      draws: superposition.draws,
    },
    verdict: { glassyBorder_K: prediction.glassyBorder_K, leatheryBorder_K: prediction.leatheryBorder_K },
    uncertainty: {
      temperature_K: prediction.temperatureUncertainty_K,
      modulus: prediction.modulusUncertainty,
    },
    limits: file.limits,
    requirements: file.requirements,
    fillerSeries: file.fillerSeries,
    columns: file.columns,
    files: file.files,
    seed: file.seed,
  });
}

function withoutUndefined<Value>(value: Value): Value {
  return JSON.parse(JSON.stringify(value));
}
