import { isNearlySimple } from "../../fit/superposition/nearly-simple.js";
import type { DynamicMeasurement } from "../../io/measurement.js";
import { modulusSymbol } from "../../words/quantity-text.js";
import type { AssessedCompound } from "../assessment.js";
import type { ResultsCompound } from "../results/results.js";
import { quotedPeak } from "./answer/peaks.js";
import { type Html, type HtmlValue, html, nameHtml } from "./html.js";
import { fixed, frequencyText, pascal, significant } from "./numbers.js";
import { type ReportContext, sourceLinks } from "./report-context.js";

/** The plots of the page; the page's script draws what `data-plot` names. */
export type PlotKind =
  | "trade-off"
  | "all-tan-delta"
  | "all-grip"
  | "all-rebound"
  | "all-peak-force"
  | "sweep"
  | "strain-sweep"
  | "master-curve"
  | "shift-factors"
  | "wicket"
  | "spectrum"
  | "rebound"
  | "cushioning"
  | "grip";

interface Figure {
  kind: PlotKind;
  /** Index of the compound, or null for a plot of all. */
  compound: number | null;
  /** The id of that compound's section. */
  of?: string;
  title: HtmlValue;
  /** What is seen, in words: the text alternative and the caption at once. */
  caption: HtmlValue;
  sources: Html;
}

/** A frame for one plot: title and caption are there at once, the drawing comes when it is looked at. */
export function plotFigure({ kind, compound, of, title, caption, sources }: Figure): Html {
  const id = compound === null ? `plot-${kind}` : `plot-${kind}-${of}`;
  return html`<figure class="plot ${kind}" id="${id}" data-plot="${kind}"${
    compound !== null && html` data-compound="${compound}"`
  } aria-labelledby="${id}-title"><div class="plot-head"><p class="plot-title" id="${id}-title">${title}</p><div class="plot-tools"></div></div>
<div class="plot-area" id="${id}-area" role="img" aria-labelledby="${id}-title ${id}-caption"><p class="waiting">This plot is drawn by the page’s script.</p></div>
<figcaption id="${id}-caption">${caption} ${sources}</figcaption></figure>`;
}

function isDynamic(measurement: { kind: string }): measurement is DynamicMeasurement {
  return measurement.kind !== "rebound";
}

function range(values: Iterable<number>): [number, number] {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const value of values) {
    if (value < low) low = value;
    if (value > high) high = value;
  }
  return [low, high];
}

function rangeWords(values: Float64Array[], unit: string): string {
  const [low, high] = range(values.flatMap((array) => [...array]).filter(Number.isFinite));
  if (!Number.isFinite(low)) return "";
  return low === high
    ? `${fixed(low, 0)}\u202f${unit}`
    : `${fixed(low, 0)} to ${fixed(high, 0)}\u202f${unit}`;
}

/** The plots one compound's data allow, those of its page and those of the evidence, and in words what cannot be drawn and why. */
export function compoundFigures(
  context: ReportContext,
  compound: AssessedCompound,
  result: ResultsCompound,
  index: number,
): { shown: Html[]; evidence: Html[]; missing: Html } {
  const dynamic = compound.measurements.filter(isDynamic);
  const sweeps = dynamic.filter((measurement) => measurement.kind === "temperature sweep");
  const frequencySweeps = dynamic.filter((measurement) => measurement.kind === "frequency sweep");
  const strainSweeps = dynamic.filter((measurement) => measurement.kind === "strain sweep");
  const name = nameHtml(compound.name);
  const paths = (measurements: { provenance: { file: string } }[]) =>
    measurements.map((measurement) => measurement.provenance.file);
  const shown: Html[] = [];
  const evidence: Html[] = [];
  const onPage = new Set<PlotKind>(["sweep", "master-curve", "rebound", "grip"]);
  if (context.asksCushioning) onPage.add("cushioning");
  const missing: Html[] = [];
  const figure = (kind: PlotKind, title: string, caption: HtmlValue, sources: Html) =>
    (onPage.has(kind) ? shown : evidence).push(
      plotFigure({
        kind,
        compound: index,
        of: context.compoundIds[index],
        title: html`${title}<span class="of"> · ${name}</span>`,
        caption,
        sources,
      }),
    );

  const modes = new Set(sweeps.map(({ deformation }) => modulusSymbol(deformation)));
  const M = modes.size === 1 ? [...modes][0] : "M";
  if (sweeps.length > 0) {
    const peak = quotedPeak(result);
    figure(
      "sweep",
      "Temperature sweep",
      html`Storage and loss modulus and tan δ from ${rangeWords(
        sweeps.map((sweep) => sweep.temperature_C),
        "°C",
      )}. Solid: storage modulus ${M}′; dashed: loss modulus ${M}″. Marks with 95 % intervals: ✕ onset, △ loss modulus peak, ▽ tan δ peak.${
        peak !== null &&
        html` The tan δ peak lies at ${fixed(peak.temperature_C, 1)} °C (${frequencyText(peak.transition.frequency_Hz)}).`
      }`,
      sourceLinks(context, paths(sweeps), "glass-transition"),
    );
  } else if (frequencySweeps.length > 0) {
    missing.push(html`<b>Temperature sweep:</b> none was measured; the isotherms are in the master curve.`);
  } else {
    missing.push(html`<b>Temperature sweep:</b> none was read for this compound.`);
  }

  const { superposition, spectrum } = result;
  if (superposition !== null) {
    const simple = superposition.thermorheologicallySimple;
    if (compound.material.superposition?.masterCurve) {
      figure(
        "master-curve",
        "Master curve",
        html`${compound.material.model?.superposedUpTo_Hz === undefined ? "All points" : "All points that the law superposes, without those in the glass,"} moved to ${fixed(superposition.referenceTemperature_C, 0)} °C, coloured by temperature, ${compound.material.model?.furtherPhase === undefined ? "with the fitted spectrum as a line and" : "without a line, for two phases have none in common, and"} the residuals beneath${
          superposition.rmsLog10 !== null &&
          html` (root mean square ${significant(superposition.rmsLog10, 2)} in log₁₀)`
        }.${
          simple === false &&
          (isNearlySimple(compound.material)
            ? " At equal modulus the isotherms differ by more than noise; the intervals include that misfit."
            : " The isotherms do not fall on one curve, so extrapolated numbers are doubtful.")
        }`,
        sourceLinks(context, paths(dynamic), "superposition"),
      );
    } else {
      missing.push(
        html`<b>Master curve:</b> the shift is ${superposition.source}, so there are no shifted isotherms to show.`,
      );
    }
    figure(
      "shift-factors",
      "Shift factors",
      html`log₁₀ a<sub>T</sub> against temperature, with the ${superposition.source} ${
        superposition.law === "wlf" ? "Williams–Landel–Ferry" : "Arrhenius"
      } law and its 95 % band.`,
      sourceLinks(context, paths(dynamic), "shift-law"),
    );
  } else {
    const reason = result.notices.find((notice) =>
      /superpos|isotherm|shift|overlap|single-frequency|master/.test(notice.code),
    );
    missing.push(
      html`<b>Master curve, shift factors, spectrum:</b> ${
        reason?.message ??
        "the measurements allow no superposition. It takes isotherms at three temperatures or more, or a sweep at several frequencies, that overlap."
      }`,
    );
  }
  if (sweeps.length + frequencySweeps.length > 0) {
    figure(
      "wicket",
      "Wicket plot",
      html`tan δ against |M*|, both logarithmic, unshifted. A simple material falls on one curve; branches tell of a blend, of crystals or of much filler.`,
      sourceLinks(context, paths([...sweeps, ...frequencySweeps]), "wicket"),
    );
  }
  if (spectrum !== null && spectrum.modes.length > 0) {
    figure(
      "spectrum",
      "Relaxation spectrum",
      html`Modes of the generalised Maxwell model at ${fixed(spectrum.referenceTemperature_C, 0)} °C; equilibrium modulus ${pascal(spectrum.equilibriumModulus_Pa)}. Shaded: relaxation times inside the measured range.`,
      sourceLinks(context, paths(dynamic), "spectrum"),
    );
  }
  if (strainSweeps.length > 0) {
    figure(
      "strain-sweep",
      "Strain sweep",
      html`Storage and loss modulus against strain amplitude: the fall of the storage modulus is the Payne effect.`,
      sourceLinks(context, paths(strainSweeps), "payne"),
    );
  }
  const rebounds = compound.measurements.filter((measurement) => measurement.kind === "rebound");
  const predicted = (what: "rebound" | "cushioning" | "grip") =>
    result.outlooks.some((outlook) => outlook[what] !== null);
  if (predicted("rebound") || rebounds.length > 0) {
    figure(
      "rebound",
      "Rebound over temperature",
      html`${predicted("rebound") ? "Predicted rebound with its 95 % band, and the textbook value as a dotted line. " : ""}${
        rebounds.length > 0
          ? "Measured rebound as points (median of the readings). "
          : "No rebound was measured. "
      }`,
      sourceLinks(context, [...paths(rebounds), ...(predicted("rebound") ? paths(dynamic) : [])], "rebound"),
    );
  } else {
    missing.push(html`<b>Rebound:</b> neither measured nor predicted for this compound.`);
  }
  if (predicted("cushioning")) {
    figure(
      "cushioning",
      "Peak force over temperature",
      html`Greatest force of the impact with its 95 % band: lower is softer. Marks: the uses. A screening prediction for a solid body; protection needs the product’s own test.`,
      sourceLinks(context, paths(dynamic), "rebound"),
    );
  }
  if (predicted("grip")) {
    figure(
      "grip",
      "Grip over temperature",
      html`Hysteresis friction with its 95 % band, and the values with the cut-off q₁ halved and doubled (dotted). Marks: the uses.`,
      sourceLinks(context, paths(dynamic), "grip"),
    );
  } else {
    missing.push(html`<b>Grip:</b> not predicted for this compound; its notices say why.`);
  }
  return {
    shown,
    evidence,
    missing: html`${missing.length > 0 && html`<ul class="why-list">${missing.map((line) => html`<li>${line}</li>`)}</ul>`}`,
  };
}
