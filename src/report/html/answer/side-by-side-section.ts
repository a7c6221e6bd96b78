import { type Html, html } from "../html.js";
import { plotFigure } from "../plot-figures.js";
import type { ReportContext } from "../report-context.js";

/** All compounds in one plot each: tan δ, grip and rebound over temperature. */
export function sideBySideSection(context: ReportContext): Html {
  const { compounds, results } = context.assessment;
  const swept = compounds.some((compound) =>
    compound.measurements.some((measurement) => measurement.kind === "temperature sweep"),
  );
  const predicted = (what: "grip" | "rebound") =>
    results.compounds.some((compound) => compound.outlooks.some((outlook) => outlook[what] !== null));
  const figures: Html[] = [];
  if (swept)
    figures.push(
      plotFigure({
        kind: "all-tan-delta",
        compound: null,
        title: "tan δ of all compounds",
        caption: "tan δ over temperature as measured, at the frequency nearest to 1 Hz of each compound.",
        sources: html`<a class="source" href="#method-glass-transition">method</a>`,
      }),
    );
  if (predicted("grip"))
    figures.push(
      plotFigure({
        kind: "all-grip",
        compound: null,
        title: "Grip of all compounds",
        caption:
          "Hysteresis friction over temperature at the sliding contact set above, without intervals; they stand in each compound’s own plot.",
        sources: html`<a class="source" href="#method-grip">method</a>`,
      }),
    );
  if (predicted("rebound"))
    figures.push(
      plotFigure({
        kind: "all-rebound",
        compound: null,
        title: "Rebound of all compounds",
        caption: "Predicted rebound over temperature at the impact of the study, without intervals.",
        sources: html`<a class="source" href="#method-rebound">method</a>`,
      }),
    );
  if (figures.length === 0 || compounds.length < 2) return html``;
  return html`<section id="side-by-side"><h2>Side by side</h2><p class="small">Point at a compound in any table or plot, or press it here, and it stands out in all of them.</p><div class="chooser" id="chooser"></div><div class="plots three">${figures}</div></section>`;
}
