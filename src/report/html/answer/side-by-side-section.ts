import { intervalAround } from "../../../numeric/statistics/value-interval.js";
import type { OutlookDraws } from "../../../predict/outlook-of.js";
import { reboundMethodOf } from "../../../predict/rebound/rebound-method.js";
import { type OutlookAndDraws, relativeToReference } from "../../../predict/relative-to-reference.js";
import { type Html, html, nameHtml } from "../html.js";
import { fixed, significant, statedTemperature } from "../numbers.js";
import { plotFigure } from "../plot-figures.js";
import type { ReportContext } from "../report-context.js";
import type { AnsweredCompound } from "./answer.js";
import { glassyMargin, marginText } from "./margin.js";
import { measuredQuantitiesOf, type Reading } from "./quantities.js";
import { verdictTag } from "./verdict.js";

/** All compounds in one plot each, or those that are pinned with their bands, and the place for their differences. */
export function sideBySideSection(context: ReportContext): Html {
  const { compounds, results } = context.assessment;
  if (compounds.length < 2) return html``;
  const swept = compounds.some((compound) =>
    compound.measurements.some((measurement) => measurement.kind === "temperature sweep"),
  );
  const predicted = (what: "grip" | "rebound" | "cushioning") =>
    results.compounds.some((compound) => compound.outlooks.some((outlook) => outlook[what] !== null));
  const figures: Html[] = [];
  const figure = (
    kind: "all-tan-delta" | "all-grip" | "all-rebound" | "all-peak-force",
    title: string,
    caption: string,
    method: string,
  ) =>
    figures.push(
      plotFigure({
        kind,
        compound: null,
        title,
        caption,
        sources: html`<a class="source" href="#method-${method}">method</a>`,
      }),
    );
  if (swept)
    figure(
      "all-tan-delta",
      "tan δ side by side",
      "tan δ over temperature as measured, at the frequency nearest to 1 Hz of each compound that has a temperature sweep.",
      "glass-transition",
    );
  if (predicted("grip"))
    figure(
      "all-grip",
      "Grip side by side",
      "Hysteresis friction over temperature at the sliding contact set above; of pinned compounds with their 95 % bands.",
      "grip",
    );
  if (predicted("rebound"))
    figure(
      "all-rebound",
      "Rebound side by side",
      "Predicted rebound over temperature at the impact of the study; of pinned compounds with their 95 % bands.",
      "rebound",
    );
  if (predicted("cushioning"))
    figure(
      "all-peak-force",
      "Peak force side by side",
      "Greatest force of the impact over temperature, lower is softer; of pinned compounds with their 95 % bands.",
      "rebound",
    );
  if (figures.length === 0) return html``;
  return html`<section id="side-by-side"><h2>Side by side</h2>
<div id="differences"></div>
<p class="small">Point at a compound in any table or plot, or press it here, and it stands out in all of them.</p><div class="chooser" id="chooser"></div><div class="plots two">${figures}</div></section>`;
}

/** One pinned compound: what was measured of it, and its outlook with draws in the use that is set. */
export interface Pinned {
  index: number;
  compound: AnsweredCompound;
  predicted: OutlookAndDraws;
}

interface Difference extends Reading {
  /** "+3.2 K" or "1.31 times": how the difference is stated. */
  words: Html;
  /** Whether nothing could part them; null where no interval of one of the two is known. */
  isDistinguishable: boolean | null;
}

const signed = (value: number, decimals: number) => {
  const text = fixed(value, decimals);
  return text.startsWith("−") || Number(text) === 0 ? text : `+${text}`;
};

/** A ratio draw against draw: what both share, the surface and its cut-off, the contact, the calibration, cancels. */
function ratio(
  one: number,
  draws: Float64Array | null,
  base: number,
  baseDraws: Float64Array | null,
): Difference | null {
  const found = relativeToReference(one, draws, base, baseDraws);
  if (found === null) return null;
  const { ratio: value, low, high } = found;
  return {
    value,
    low,
    high,
    words: html`<span class="value">${fixed(value, 2)} times</span> <span class="interval">${fixed(low, 2)} to ${fixed(high, 2)}</span>`,
    isDistinguishable: draws === null || baseDraws === null ? null : low > 1 || high < 1,
  };
}

/** A difference draw against draw. */
function drawnDifference(
  one: number,
  draws: Float64Array | null,
  base: number,
  baseDraws: Float64Array | null,
  scale: number,
  unit: string,
): Difference {
  const value = scale * (one - base);
  const isDrawn = draws !== null && baseDraws !== null && draws.length > 0 && baseDraws.length > 0;
  const paired = isDrawn ? draws.map((drawn, i) => scale * (drawn - baseDraws[i % baseDraws.length])) : null;
  return stated(value, isDrawn ? intervalAround(value, paired) : null, unit, 1);
}

/** A difference of two values with errors of their own. */
function independentDifference(one: Reading, base: Reading, unit: string, decimals: number): Difference {
  const value = one.value - base.value;
  const { low, high } = one;
  if (low === null || high === null || base.low === null || base.high === null)
    return stated(value, null, unit, decimals);
  const down = Math.sqrt(
    (one.value - low) * (one.value - low) + (base.high - base.value) * (base.high - base.value),
  );
  const up = Math.sqrt(
    (high - one.value) * (high - one.value) + (base.value - base.low) * (base.value - base.low),
  );
  return stated(value, { low: value - down, high: value + up }, unit, decimals);
}

function stated(
  value: number,
  range: { low: number; high: number } | null,
  unit: string,
  decimals: number,
): Difference {
  return {
    value,
    low: range?.low ?? null,
    high: range?.high ?? null,
    words: html`<span class="value">${signed(value, decimals)}\u202f${unit}</span> <span class="interval">${
      range === null ? "no interval" : `${signed(range.low, decimals)} to ${signed(range.high, decimals)}`
    }</span>`,
    isDistinguishable: range === null ? null : range.low > 0 || range.high < 0,
  };
}

const draw = ({ predicted }: Pinned, kind: keyof OutlookDraws) => predicted.draws[kind];

interface Row {
  label: string;
  own(pinned: Pinned): Html | null;
  difference(pinned: Pinned, base: Pinned): Difference | null;
}

const predictedRows: Row[] = [
  {
    label: "Above the glassy border",
    own: ({ predicted: { outlook } }) =>
      outlook.cold && html`${verdictTag(outlook.cold.verdict)} ${marginText(outlook.cold)}`,
    difference: (one, base) => {
      const [own, other] = [one, base].map(
        ({ predicted: { outlook } }) => outlook.cold && glassyMargin(outlook.cold),
      );
      return own && other ? independentDifference(own, other, "K", 1) : null;
    },
  },
  {
    label: "Grip µ",
    own: ({ predicted: { outlook } }) => outlook.grip && html`${fixed(outlook.grip.frictionCoefficient, 3)}`,
    difference: (one, base) =>
      one.predicted.outlook.grip && base.predicted.outlook.grip
        ? ratio(
            one.predicted.outlook.grip.frictionCoefficient,
            draw(one, "grip"),
            base.predicted.outlook.grip.frictionCoefficient,
            draw(base, "grip"),
          )
        : null,
  },
  {
    label: "Rebound",
    own: ({ predicted: { outlook } }) =>
      outlook.rebound && html`${fixed(100 * outlook.rebound.fraction, 1)} %`,
    difference: (one, base) =>
      one.predicted.outlook.rebound && base.predicted.outlook.rebound
        ? drawnDifference(
            one.predicted.outlook.rebound.fraction,
            draw(one, "rebound"),
            base.predicted.outlook.rebound.fraction,
            draw(base, "rebound"),
            100,
            "percentage points",
          )
        : null,
  },
  {
    label: "Peak force",
    own: ({ predicted: { outlook } }) =>
      outlook.cushioning && html`${fixed(outlook.cushioning.peakForce_N.value, 0)} N`,
    difference: (one, base) =>
      one.predicted.outlook.cushioning && base.predicted.outlook.cushioning
        ? ratio(
            one.predicted.outlook.cushioning.peakForce_N.value,
            draw(one, "peakForce_N"),
            base.predicted.outlook.cushioning.peakForce_N.value,
            draw(base, "peakForce_N"),
          )
        : null,
  },
];

/** What tells methods apart; of a rebound the standard alone, for its text may hold a title and the temperature. */
function methodKey(method: string | null): string {
  const name = (method ?? "").replace(/(?:, )?at -?[\d.]+ °C$/, "");
  const { key, known } = reboundMethodOf(name);
  return known ? key : name.toLowerCase();
}

function measuredRows(pinned: Pinned[]): Row[] {
  return measuredQuantitiesOf(pinned.map(({ compound }) => compound)).map(({ label, unit, read }) => {
    const readingOf = ({ compound }: Pinned) => read({ outlook: undefined, properties: compound.properties });
    // Methods do not mix: where they differ each is named and nothing is compared.
    const methodOf = (one: Pinned) => {
      const reading = readingOf(one);
      return one.compound.properties.find((property) => property === reading)?.method ?? null;
    };
    const isMixed = new Set(pinned.filter(readingOf).map((one) => methodKey(methodOf(one)))).size > 1;
    return {
      label: /measured/i.test(label) ? label : `${label}, measured`,
      own: (one) => {
        const reading = readingOf(one);
        return (
          reading &&
          html`${significant(reading.value)}\u202f${unit}${isMixed && html` <span class="interval">${methodOf(one) ?? "method not stated"}</span>`}`
        );
      },
      difference: (one, base) => {
        const [own, other] = [readingOf(one), readingOf(base)];
        return own && other && methodKey(methodOf(one)) === methodKey(methodOf(base))
          ? independentDifference(own, other, unit, Math.abs(own.value) < 10 ? 2 : 0)
          : null;
      },
    };
  });
}

/** Each pinned compound against the first: differences with intervals, and whether the data tell them apart. */
export function differenceTable(pinned: Pinned[], temperature_C: number): Html {
  const [base, ...others] = pinned;
  const rows = [...predictedRows, ...measuredRows(pinned)].filter((row) =>
    pinned.some((one) => row.own(one) !== null),
  );
  const none = html`<span class="none">—</span>`;
  const cell = (row: Row, one: Pinned) => {
    const own = row.own(one);
    if (own === null) return none;
    const difference = row.difference(one, base);
    if (difference === null) return own;
    const { words, isDistinguishable } = difference;
    return html`${own}<span class="difference">${words}</span><span class="tells ${String(isDistinguishable)}">${
      isDistinguishable === null
        ? "not known: no repeats"
        : isDistinguishable
          ? "distinguishable"
          : "not distinguishable"
    }</span>`;
  };
  return html`<div class="table-frame" role="group" aria-label="Differences of the pinned compounds" tabindex="0"><table class="facts differences">
<caption>At ${statedTemperature(temperature_C)}, against ${nameHtml(base.compound.name)}: ratio or difference, its 95 % interval, and whether the data tell the two apart</caption>
<thead><tr><th scope="col">Quantity</th><th scope="col" class="number">${nameHtml(base.compound.name)}</th>${others.map(({ compound }) => html`<th scope="col" class="number">${nameHtml(compound.name)}</th>`)}</tr></thead>
<tbody>${rows.map((row) => html`<tr><th scope="row">${row.label}</th><td class="number">${row.own(base) ?? none}</td>${others.map((one) => html`<td class="number">${cell(row, one)}</td>`)}</tr>`)}</tbody></table></div>
<p class="small">Grip and peak force as ratios and rebound as a difference, draw against draw, so that what both share cancels; distances from the border and measured values with both errors. Between single values without repeats, or by different methods, nothing is claimed.</p>`;
}
