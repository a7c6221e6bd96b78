import type { ColdVerdict, Outlook } from "../../../predict/outlook.js";
import { axis, baseLayout } from "../base-layout.js";
import type { PageState } from "../page-state.js";
import type { Trace } from "../plot-library.js";
import type { PlotSpec } from "../plot-spec.js";
import { plotText } from "../plot-text.js";
import type { Theme } from "../theme.js";
import { placeLabels } from "./label-placement.js";
import { withAlpha } from "./shift-factor-plot.js";

/** Full shapes for one state, open ones of the worse state where the intervals straddle a border. */
const symbols: Record<ColdVerdict | "none", string> = {
  glassy: "square",
  "glassy or leathery": "square-open",
  leathery: "diamond",
  "leathery or rubbery": "diamond-open",
  rubbery: "circle",
  none: "x-thin-open",
};

export function verdictColour(verdict: ColdVerdict | null, theme: Theme): string {
  if (verdict === null) return theme.quiet;
  if (verdict.startsWith("glassy")) return theme.glassy;
  return verdict.startsWith("leathery") ? theme.leathery : theme.rubbery;
}

/** Grip against rebound of all compounds in one use; crosses are intervals. */
export function tradeOffPlot(state: PageState, outlooks: Outlook[], theme: Theme, setting: string): PlotSpec {
  const points = outlooks.flatMap((outlook, index) =>
    outlook.grip === null || outlook.rebound === null
      ? []
      : [{ index, grip: outlook.grip, rebound: outlook.rebound, verdict: outlook.cold?.verdict ?? null }],
  );
  const many = points.length > 24;
  const labelOf = ({ index, verdict }: (typeof points)[number]) =>
    `${plotText(state.compounds[index].name, 20)}${verdict?.startsWith("glassy") ? ` (${verdict})` : ""}`;
  const [left, right] = padded(points.flatMap((p) => [100 * p.rebound.low, 100 * p.rebound.high]));
  const top = 1.12 * Math.max(0.05, ...points.map((p) => p.grip.high));
  const positions = placeLabels(
    points.map((p) => ({
      x: (100 * p.rebound.fraction - left) / (right - left),
      y: p.grip.frictionCoefficient / top,
      text: labelOf(p),
    })),
  );
  const chosen = state.highlighted;
  const traces: Trace[] = [];
  const reference = points.find(({ index }) => state.compounds[index].isReference);
  if (reference !== undefined) {
    traces.push({
      type: "scatter",
      mode: "markers",
      x: [100 * reference.rebound.fraction],
      y: [reference.grip.frictionCoefficient],
      name: "reference compound",
      marker: { symbol: "circle-open", size: 24, color: theme.ink, line: { width: 1.5 } },
      hoverinfo: "skip",
    });
  }
  const verdicts: (ColdVerdict | null)[] = [
    "glassy",
    "glassy or leathery",
    "leathery",
    "leathery or rubbery",
    "rubbery",
    null,
  ];
  for (const verdict of verdicts) {
    const group = points.filter((point) => point.verdict === verdict);
    if (group.length === 0) continue;
    const color = verdictColour(verdict, theme);
    const bar = (value: (p: (typeof group)[number]) => [number, number, number], scale: number) => ({
      type: "data",
      symmetric: false,
      array: group.map((p) => scale * (value(p)[2] - value(p)[0])),
      arrayminus: group.map((p) => scale * (value(p)[0] - value(p)[1])),
      color: withAlpha(color, 0.55),
      thickness: many ? 0.6 : 1.2,
      width: 0,
    });
    traces.push({
      type: "scatter",
      mode: many ? "markers" : "markers+text",
      x: group.map((p) => 100 * p.rebound.fraction),
      y: group.map((p) => p.grip.frictionCoefficient),
      error_x: bar((p) => [p.rebound.fraction, p.rebound.low, p.rebound.high], 100),
      error_y: bar((p) => [p.grip.frictionCoefficient, p.grip.low, p.grip.high], 1),
      text: group.map((p) => labelOf(p)),
      hovertext: group.map(
        (p) =>
          `${plotText(state.compounds[p.index].name, 40)}<br>${verdict ?? "verdict not determined"}<br>grip µ ${p.grip.frictionCoefficient.toFixed(3)}, ${p.grip.low.toFixed(3)} to ${p.grip.high.toFixed(3)}<br>rebound ${(100 * p.rebound.fraction).toFixed(1)} %, ${(100 * p.rebound.low).toFixed(1)} to ${(100 * p.rebound.high).toFixed(1)} %`,
      ),
      hovertemplate: "%{hovertext}<extra></extra>",
      customdata: group.map((p) => p.index),
      textposition: group.map((p) => positions[points.indexOf(p)]),
      textfont: { size: 11.5, color: verdict?.startsWith("glassy") ? theme.glassy : theme.ink },
      name: verdict ?? "verdict not determined",
      marker: {
        symbol: symbols[verdict ?? "none"],
        size: group.map((p) => (p.index === chosen ? 17 : many ? 8 : 12)),
        color,
        opacity: group.map((p) => (chosen === null || p.index === chosen ? 1 : 0.35)),
        line: { width: verdict?.includes(" or ") ? 2 : 0, color },
      },
    });
  }
  return {
    traces,
    height: 440,
    layout: baseLayout(theme, {
      xaxis: axis(theme, "Rebound in %", {
        range: [left, right],
      }),
      yaxis: axis(theme, "Grip µ (hysteresis)", {
        range: [0, top],
      }),
    }),
    table: () => ({
      columns: [
        "Compound",
        "Verdict",
        "Above glassy in K",
        "Above leathery in K",
        "Contact frequency in Hz",
        "Grip µ",
        "Grip low",
        "Grip high",
        "Grip to reference",
        "Rebound in %",
        "Rebound low in %",
        "Rebound high in %",
      ],
      rows: outlooks.map(({ cold, grip, rebound }, index) => [
        state.compounds[index].name,
        cold?.verdict ?? null,
        cold?.marginToGlassy_K ?? null,
        cold?.marginToLeathery_K ?? null,
        cold?.contactFrequency_Hz ?? null,
        grip?.frictionCoefficient ?? null,
        grip?.low ?? null,
        grip?.high ?? null,
        grip?.relativeToReference?.ratio ?? null,
        rebound === null ? null : 100 * rebound.fraction,
        rebound === null ? null : 100 * rebound.low,
        rebound === null ? null : 100 * rebound.high,
      ]),
      remarks: [
        setting,
        "screening prediction, no friction or safety certificate: slip and impact safety need the tests and limits that local codes and the product's own standard ask for, and a qualified person's judgement",
      ],
    }),
  };
}

/** Room at both ends for shapes and names. */
function padded(values: number[]): [number, number] {
  if (values.length === 0) return [0, 100];
  const low = Math.min(...values);
  const high = Math.max(...values);
  const room = Math.max(2, 0.09 * (high - low));
  return [low - room, high + room];
}
