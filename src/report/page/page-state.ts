import type { MasterCurve } from "../../fit/material.js";
import { fittedModuli } from "../../fit/spectrum/master-curve.js";
import type { RelaxationModel } from "../../fit/spectrum/relaxation-model.js";
import type { SpectrumAt } from "../../fit/spectrum/spectra-at.js";
import { exp10 } from "../../numeric/elementary/exponential.js";
import { unpackGrid, unpackNumbers } from "../packed-numbers.js";
import type { PackedDraws, PackedModel, PageCompound, PageData } from "../page-data.js";

export interface LiveCompound extends Omit<PageCompound, "masterCurve"> {
  masterCurve: MasterCurve | null;
  index: number;
  /** The model ready to predict with. */
  live: RelaxationModel | null;
  liveDraws: () => RelaxationModel[];
  /** The spectra at single temperatures likewise. */
  liveSpectraAt: () => SpectrumAt[];
}

export interface PageState {
  data: PageData;
  compounds: LiveCompound[];
  /** The compound that stands out in all plots, or null. */
  highlighted: number | null;
}

/** A relaxation model from its packed form, as the predictions take it. */
function unpackModel(packed: PackedModel): RelaxationModel {
  return {
    ...unpackRest(packed),
    times_s: Float64Array.from(packed.times_s),
    moduli_Pa: Float64Array.from(packed.moduli_Pa),
  };
}

function unpackRest<T extends Pick<PackedModel, "furtherPhase" | "mixing">>(packed: T) {
  const { furtherPhase, mixing, ...rest } = packed;
  return {
    ...rest,
    ...(furtherPhase === undefined ? {} : { furtherPhase: unpackPhase(furtherPhase) }),
    ...(mixing === undefined
      ? {}
      : {
          mixing: {
            ...mixing,
            phases: [unpackPhase(mixing.phases[0]), unpackPhase(mixing.phases[1])] as const,
          },
        }),
  };
}

function unpackPhase<T extends { times_s: number[]; moduli_Pa: number[] }>(phase: T) {
  return {
    ...phase,
    times_s: Float64Array.from(phase.times_s),
    moduli_Pa: Float64Array.from(phase.moduli_Pa),
  };
}

function unpackDraws({ rest, grids, bytes, moduli_Pa }: PackedDraws): RelaxationModel[] {
  const moduli = unpackNumbers(moduli_Pa, bytes);
  let from = 0;
  return rest.map((model, k) => {
    const times_s = unpackGrid(grids[k]);
    const to = from + times_s.length;
    const draw = { ...unpackRest(model), times_s, moduli_Pa: moduli.slice(from, to) };
    from = to;
    return draw;
  });
}

/** The points of a master curve, from their shifts and from how far they lie from the model. */
function unpackMasterCurve(
  packed: NonNullable<PageCompound["masterCurve"]>,
  model: RelaxationModel,
): MasterCurve {
  const reducedFrequency_Hz = packed.frequency_Hz.map((f, i) => f * exp10(packed.log10Shift[i]));
  const fitted = fittedModuli(model, { ...packed, reducedFrequency_Hz });
  const finite = (residuals: (number | null)[]) => residuals.map((residual) => residual ?? Number.NaN);
  const storageResidualLog10 = finite(packed.storageResidualLog10);
  const lossResidualLog10 = finite(packed.lossResidualLog10);
  return {
    temperature_C: packed.temperature_C,
    frequency_Hz: packed.frequency_Hz,
    reducedFrequency_Hz,
    storageModulus_Pa: fitted.map(
      ({ storageModulus_Pa }, i) => storageModulus_Pa * exp10(storageResidualLog10[i]),
    ),
    lossModulus_Pa: fitted.map(({ lossModulus_Pa }, i) => lossModulus_Pa * exp10(lossResidualLog10[i])),
    storageResidualLog10,
    lossResidualLog10,
  };
}

/** The model ready to predict with, and what is unpacked when first asked for. */
export function liveModel({
  model,
  draws: packed,
  spectraAt,
}: Pick<PageCompound, "model" | "draws" | "spectraAt">): Pick<
  LiveCompound,
  "live" | "liveDraws" | "liveSpectraAt"
> {
  let draws: RelaxationModel[] | null = null;
  let spectra: SpectrumAt[] | null = null;
  return {
    live: model && unpackModel(model),
    liveDraws: () => {
      draws ??= unpackDraws(packed);
      return draws;
    },
    liveSpectraAt: () => {
      spectra ??= spectraAt.map((one) => ({
        temperature_C: one.temperature_C,
        model: unpackModel(one.model),
        draws: unpackDraws(one.draws),
      }));
      return spectra;
    },
  };
}

/** The page’s compounds with their columns unpacked; models and draws are unpacked when first asked for. */
export function pageState(data: PageData): PageState {
  return {
    data,
    highlighted: null,
    compounds: data.compounds.map((compound, index) => {
      const { live, liveDraws, liveSpectraAt } = liveModel(compound);
      return {
        ...compound,
        index,
        live,
        masterCurve: live && compound.masterCurve && unpackMasterCurve(compound.masterCurve, live),
        liveDraws,
        liveSpectraAt,
      };
    }),
  };
}
