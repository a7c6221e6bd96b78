/** Plots and tables for the notebooks: plain SVG and HTML, so that they show in Jupyter and on a web page offline. */

export interface Series {
  name: string;
  x: ArrayLike<number>;
  y: ArrayLike<number>;
  /** Default "line". */
  kind?: "line" | "points" | "dashed";
  /** Ends of an interval about each y, drawn as whiskers. */
  low?: ArrayLike<number>;
  high?: ArrayLike<number>;
  /** Text beside each point. */
  labels?: string[];
}

export interface Axis {
  label: string;
  log?: boolean;
  from?: number;
  to?: number;
}

export interface PlotOptions {
  title: string;
  x: Axis;
  y: Axis;
  series: Series[];
  /** Where the names of the series stand, at the right; default "top". */
  legend?: "top" | "bottom";
}

// Okabe and Ito's palette, which colour-blind readers can tell apart.
const colours = ["#0072b2", "#d55e00", "#009e73", "#cc79a7", "#56b4e9", "#e69f00", "#000000"];
const width = 640;
const height = 400;
const margin = { left: 74, right: 16, top: 34, bottom: 50 };

/** A plot as a Jupyter output; its plain text names the title and the series. */
export function plot(options: PlotOptions) {
  const { title, x, y, series } = options;
  const xs = scale(
    x,
    series.map((one) => one.x),
    margin.left,
    width - margin.right,
  );
  const ys = scale(
    y,
    series.flatMap((one) => [one.y, one.low ?? [], one.high ?? []]),
    height - margin.bottom,
    margin.top,
  );
  const parts = [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="img" font-family="sans-serif" font-size="12">`,
    `<title>${escaped(title)}</title>`,
    `<rect width="${width}" height="${height}" fill="#ffffff"/>`,
    `<text x="${margin.left}" y="20" font-size="14" font-weight="bold" fill="#222222">${escaped(title)}</text>`,
  ];
  for (const tick of xs.ticks) {
    const at = fixed(xs.place(tick));
    parts.push(
      `<line x1="${at}" y1="${margin.top}" x2="${at}" y2="${height - margin.bottom}" stroke="#e4e4e4"/>`,
      `<text x="${at}" y="${height - margin.bottom + 16}" text-anchor="middle" fill="#444444">${xs.words(tick)}</text>`,
    );
  }
  for (const tick of ys.ticks) {
    const at = fixed(ys.place(tick));
    parts.push(
      `<line x1="${margin.left}" y1="${at}" x2="${width - margin.right}" y2="${at}" stroke="#e4e4e4"/>`,
      `<text x="${margin.left - 6}" y="${fixed(ys.place(tick) + 4)}" text-anchor="end" fill="#444444">${ys.words(tick)}</text>`,
    );
  }
  const middle = (margin.top + height - margin.bottom) / 2;
  parts.push(
    `<rect x="${margin.left}" y="${margin.top}" width="${width - margin.left - margin.right}" height="${height - margin.top - margin.bottom}" fill="none" stroke="#888888"/>`,
    `<text x="${(margin.left + width - margin.right) / 2}" y="${height - 12}" text-anchor="middle" fill="#222222">${escaped(x.label)}</text>`,
    `<text x="16" y="${middle}" text-anchor="middle" transform="rotate(-90 16 ${middle})" fill="#222222">${escaped(y.label)}</text>`,
  );
  const legendTop =
    options.legend === "bottom" ? height - margin.bottom - 16 * series.length - 6 : margin.top;
  for (const [k, one] of series.entries()) parts.push(...drawn(one, k, xs, ys), ...named(one, k, legendTop));
  parts.push("</svg>");
  const text = `plot: ${title} (${series.map(({ name }) => name).join("; ")})`;
  return output({ "image/svg+xml": parts.join("\n"), "text/plain": text });
}

/** A table as a Jupyter output, first row its header. */
export function table(rows: (string | number)[][]) {
  const [header, ...body] = rows.map((row) => row.map(String));
  const widths = header.map((_, i) => Math.max(...rows.map((row) => String(row[i]).length)));
  const line = (row: string[]) =>
    row
      .map((cell, i) => cell.padEnd(widths[i]))
      .join("  ")
      .trimEnd();
  const cells = (row: string[], tag: string) =>
    row.map((cell) => `<${tag}>${escaped(cell)}</${tag}>`).join("");
  const html = `<table>\n<tr>${cells(header, "th")}</tr>\n${body.map((row) => `<tr>${cells(row, "td")}</tr>`).join("\n")}\n</table>`;
  return output({ "text/html": html, "text/plain": [header, ...body].map(line).join("\n") });
}

/** A number as text with so many digits after the point; "–" where there is none. */
export function round(value: number | null | undefined, digits = 1): string {
  return value === null || value === undefined || !Number.isFinite(value)
    ? "–"
    : value.toFixed(digits).replace("-", "−");
}

function output(data: Record<string, string>) {
  return { [Symbol.for("Jupyter.display")]: () => data };
}

interface Scale {
  place(value: number): number;
  ticks: number[];
  words(tick: number): string;
  holds(value: number): boolean;
}

function scale(axis: Axis, columns: ArrayLike<number>[], start: number, end: number): Scale {
  const values = columns
    .flatMap((column) => Array.from(column))
    .filter((value) => Number.isFinite(value) && (!axis.log || value > 0));
  const along = axis.log ? Math.log10 : (value: number) => value;
  let low = along(axis.from ?? Math.min(...values));
  let high = along(axis.to ?? Math.max(...values));
  if (!(high > low)) [low, high] = [low - 0.5, high + 0.5];
  const room = 0.04 * (high - low);
  if (axis.from === undefined) low -= room;
  if (axis.to === undefined) high += room;
  const step = axis.log ? Math.max(1, Math.ceil((high - low) / 8)) : niceStep((high - low) / 6);
  const ticks: number[] = [];
  for (let k = Math.ceil(low / step - 1e-9); k * step <= high + 1e-9; k++) ticks.push(k * step);
  const digits = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  return {
    place: (value) => start + ((along(value) - low) / (high - low)) * (end - start),
    ticks: axis.log ? ticks.map((tick) => 10 ** tick) : ticks,
    words: (tick) =>
      axis.log
        ? `10<tspan dy="-4" font-size="9">${Math.round(Math.log10(tick))}</tspan>`
            .replaceAll("-", "−")
            .replace('dy="−', 'dy="-')
        : tick.toFixed(digits).replace("-", "−"),
    holds: (value) =>
      Number.isFinite(value) && (!axis.log || value > 0) && along(value) >= low && along(value) <= high,
  };
}

function niceStep(rough: number): number {
  const power = 10 ** Math.floor(Math.log10(rough));
  return power * ([1, 2, 5, 10].find((step) => step * power >= rough) ?? 10);
}

function drawn(one: Series, k: number, xs: Scale, ys: Scale): string[] {
  const colour = colours[k % colours.length];
  const kind = one.kind ?? "line";
  const points = Array.from(one.x, (value, i) => ({ x: value, y: one.y[i], i })).filter(
    ({ x, y }) => xs.holds(x) && ys.holds(y),
  );
  const at = (x: number, y: number) => `${fixed(xs.place(x))},${fixed(ys.place(y))}`;
  const parts: string[] = [];
  if (kind === "points") {
    for (const { x, y, i } of points) {
      const [cx, cy] = [xs.place(x), ys.place(y)];
      if (one.low && one.high) {
        parts.push(
          `<line x1="${fixed(cx)}" y1="${fixed(ys.place(one.low[i]))}" x2="${fixed(cx)}" y2="${fixed(ys.place(one.high[i]))}" stroke="${colour}"/>`,
        );
      }
      parts.push(marker(k, cx, cy, colour));
      if (one.labels) {
        parts.push(
          `<text x="${fixed(cx + 8)}" y="${fixed(cy - 6)}" fill="${colour}">${escaped(one.labels[i])}</text>`,
        );
      }
    }
  } else {
    const dash = kind === "dashed" ? ' stroke-dasharray="6 4"' : "";
    parts.push(
      `<polyline fill="none" stroke="${colour}" stroke-width="1.8"${dash} points="${points.map(({ x, y }) => at(x, y)).join(" ")}"/>`,
    );
  }
  return parts;
}

/** The series' line in the legend. */
function named(one: Series, k: number, legendTop: number): string[] {
  const colour = colours[k % colours.length];
  const top = legendTop + 16 + 16 * k;
  const left = width - margin.right - 12;
  const dash = one.kind === "dashed" ? ' stroke-dasharray="6 4"' : "";
  return [
    `<text x="${left - 22}" y="${top}" text-anchor="end" fill="#222222">${escaped(one.name)}</text>`,
    one.kind === "points"
      ? marker(k, left - 8, top - 4, colour)
      : `<line x1="${left - 18}" y1="${top - 4}" x2="${left}" y2="${top - 4}" stroke="${colour}" stroke-width="1.8"${dash}/>`,
  ];
}

/** Shapes differ as well as colours. */
function marker(k: number, x: number, y: number, colour: string): string {
  const [cx, cy] = [fixed(x), fixed(y)];
  switch (k % 3) {
    case 0:
      return `<circle cx="${cx}" cy="${cy}" r="3.2" fill="${colour}"/>`;
    case 1:
      return `<rect x="${fixed(x - 3)}" y="${fixed(y - 3)}" width="6" height="6" fill="${colour}"/>`;
    default:
      return `<path d="M${cx},${fixed(y - 4)} ${fixed(x + 4)},${cy} ${cx},${fixed(y + 4)} ${fixed(x - 4)},${cy}z" fill="${colour}"/>`;
  }
}

function fixed(value: number): string {
  return value.toFixed(1);
}

function escaped(text: string): string {
  return text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;");
}
