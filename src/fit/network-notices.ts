import { formatFrequency, formatNumber, formatTemperature } from "../io/format.js";
import type { Notice } from "../io/problem.js";
import type { NetworkOptions, RubberyNetwork } from "./network.js";
import { mostDrift, type PlateauAbsence, plateauAbovePeak_K, plateauWindow_K } from "./rubbery-plateau.js";
import type { TriedSweep } from "./sweep-plateaus.js";

/** A plateau that loses more than this is still relaxing (common practice). */
const highLoss = 0.15;
const noticeableDrift = 0.1;

/** Why there is no plateau, and the sweep that would show one. */
export function noPlateauNotice(compound: string, tried: TriedSweep[], absence: PlateauAbsence): Notice {
  const starts_C = tried.flatMap(({ above_C }) => above_C ?? []);
  const drifts = [...tried.map(({ outcome }) => outcome.drift), absence.drift].flatMap(
    (drift) => drift ?? [],
  );
  const code = "fit.no-plateau";
  const start = `${compound}: no rubbery plateau is seen, so no network density`;
  if (drifts.length > 0) {
    const least = drifts.reduce((a, b) => (Math.abs(b) < Math.abs(a) ? b : a));
    const message = `${start}. Even where it is steadiest above the transition M′/T changes by ${formatNumber(100 * least, 0)} % over ${plateauWindow_K} K, more than ${100 * mostDrift} %. Measure further up, at a lower frequency.`;
    return { severity: "info", code, message };
  }
  const to =
    starts_C.length > 0
      ? ` up to ${formatTemperature(5 * Math.ceil((Math.min(...starts_C) + plateauWindow_K) / 5), 0)} or more`
      : `, from below the tan δ peak up to ${plateauAbovePeak_K + plateauWindow_K} K above it or more`;
  const message = `${start}: the data end less than ${plateauAbovePeak_K} K above the tan δ peak or too soon after. Sweep${to} at 1 Hz.`;
  return { severity: "info", code, message };
}

/** What a reader of the network must know beside its numbers. */
export function networkNotices(network: RubberyNetwork, compound: string, options: NetworkOptions): Notice[] {
  const notices: Notice[] = [];
  const said = (severity: Notice["severity"], code: string, message: string) =>
    notices.push({ severity, code, message: `${compound}: ${message}` });
  const { deformation, drift, tanDelta, from_C, to_C } = network;
  const where = `between ${formatTemperature(from_C, 0)} and ${formatTemperature(to_C, 0)}`;
  if (deformation === "unstated") {
    said(
      "caution",
      "fit.network-mode-unstated",
      "the file does not state how the specimen was deformed, and the network density from E would be three times that from G. Name the mode in the study (deformation).",
    );
  }
  if (deformation === "compression" || deformation === "bending") {
    said(
      "info",
      "fit.network-mode-stiff",
      `the plateau modulus comes from ${deformation}; specimens held or bonded at their ends read too stiff, and the network too dense. Tension or shear is better for it.`,
    );
  }
  if (options.density_kg_m3 === null && deformation !== "unstated") {
    said(
      "info",
      "fit.network-no-density",
      "Mc is not determined, for the study states no density (density_kg_m3).",
    );
  }
  if (Math.abs(drift) > noticeableDrift || tanDelta > highLoss) {
    said(
      "caution",
      "fit.plateau-not-at-rest",
      `the plateau ${where} is not at rest at ${formatFrequency(network.frequency_Hz)}: M′/T changes by ${formatNumber(100 * drift, 0)} % over ${plateauWindow_K} K and tan δ is ${formatNumber(tanDelta, 2)}. Filler or slow chains still relax there, and the network density depends on where it is read.`,
    );
  }
  const phi = options.fillerVolumeFraction;
  if (phi === null) {
    said(
      "info",
      "fit.network-filler-unstated",
      "the study states no filler; if there is any, the apparent network density counts it too.",
    );
  } else if (phi > 0) {
    said(
      "caution",
      "fit.network-counts-filler",
      `${formatNumber(100 * phi, 0)} % filler by volume raises the modulus, so that the apparent network density counts filler too. The value with Guth–Gold's factor taken out stands beside it; filler particles that touch make even that one too dense.`,
    );
  }
  return notices;
}
