import { log10 } from "../../../numeric/elementary/logarithm.js";
import type { Theme } from "../theme.js";
import type { Layout } from "./plot-library.js";

export const plotConfig = { displayModeBar: false, responsive: false, showTips: false, doubleClick: "reset" };

/** An axis in the page's look. */
export function axis(theme: Theme, title: string, further: Layout = {}): Layout {
  return {
    title: { text: title, font: { size: 12, color: theme.quiet }, standoff: 8 },
    color: theme.quiet,
    gridcolor: theme.grid,
    linecolor: theme.line,
    tickcolor: theme.line,
    ticks: "outside",
    ticklen: 4,
    zeroline: false,
    showline: true,
    automargin: true,
    tickfont: { size: 11, color: theme.quiet },
    ...further,
  };
}

/** A logarithmic axis with ticks at whole decades, as far as the values span more than one. */
export function logAxis(
  theme: Theme,
  title: string,
  values: (number | null)[],
  further: Layout = {},
): Layout {
  let low = Number.POSITIVE_INFINITY;
  let high = 0;
  for (const value of values) {
    if (value === null || !(value > 0)) continue;
    if (value < low) low = value;
    if (value > high) high = value;
  }
  const decades = log10(high / low);
  const ticks = decades > 1.3 ? { dtick: Math.ceil(decades / 6) } : {};
  return axis(theme, title, { type: "log", exponentformat: "power", ...ticks, ...further });
}

/** What all plots have in common, with a plot’s own layout laid over it. */
export function baseLayout(theme: Theme, further: Layout = {}): Layout {
  return {
    paper_bgcolor: "rgba(0,0,0,0)",
    plot_bgcolor: "rgba(0,0,0,0)",
    font: { family: theme.font, size: 12, color: theme.ink },
    margin: { l: 56, r: 14, t: 12, b: 44 },
    hovermode: "closest",
    hoverlabel: {
      bgcolor: theme.paper,
      bordercolor: theme.line,
      font: { family: theme.font, size: 12, color: theme.ink },
    },
    dragmode: matchMedia("(pointer: coarse)").matches ? false : "zoom",
    showlegend: true,
    legend: {
      orientation: "h",
      x: 0,
      xanchor: "left",
      y: 1.01,
      yanchor: "bottom",
      font: { size: 11, color: theme.quiet },
      itemclick: false,
      itemdoubleclick: false,
      bgcolor: "rgba(0,0,0,0)",
    },
    ...further,
  };
}
