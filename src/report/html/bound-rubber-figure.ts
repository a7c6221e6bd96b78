import { effectiveVolumeFraction } from "../../fit/network/bound-rubber.js";
import { guthGold } from "../../fit/network/reinforcement.js";
import type { ValueInterval } from "../../numeric/statistics/value-interval.js";
import type { Results } from "../results/results.js";
import { type Html, html } from "./html.js";
import { fixed, significant } from "./numbers.js";

type FillerSeries = Results["fillerSeries"][number];
type BoundRubber = NonNullable<FillerSeries["boundRubber"]>;

/** The drawing's own units; it is scaled to the width it gets. */
const width = 460;
const frame = { left: 46, right: 14, top: 26, bottom: 42 };

/** Measured M/M0 over the load beside Guth–Gold with and without the layer, and both readings of the layer. */
export function boundRubberFigure({ members, boundRubber }: FillerSeries): Html {
  if (boundRubber == null) return html``;
  return html`<figure class="drawings">${reinforcementDrawing(members, boundRubber)}${layerDrawing(boundRubber)}
<figcaption>Left or above: measured M/M₀ with its interval (discs) over filler by volume; Guth–Gold (line) and Guth–Gold with the immobilised layer (dashes, with the band of the layer’s interval). Right or below: the layer by two independent readings, with 95 % intervals.</figcaption></figure>`;
}

function reinforcementDrawing(
  members: FillerSeries["members"],
  { layer_nm, members: filled }: BoundRubber,
): Html {
  const height = 320;
  const sizes = [...new Set(filled.map(({ particleSize_nm }) => particleSize_nm))].sort((a, b) => a - b);
  const largest = 1.08 * Math.max(...members.map(({ volumeFraction }) => volumeFraction));
  const withLayer = (load: number, size_nm: number, own_nm: number) =>
    guthGold(effectiveVolumeFraction(load, size_nm, Math.max(own_nm, -size_nm / 2)));
  const top =
    1.08 *
    Math.max(
      ...members.map(({ reinforcement }) => reinforcement.high ?? reinforcement.value),
      ...sizes.map((size_nm) => withLayer(largest, size_nm, layer_nm.high ?? layer_nm.value)),
    );
  const right = width - frame.right - (sizes.length > 1 ? 40 : 0);
  const x = scale(0, largest, frame.left, right);
  const y = scale(
    Math.min(1, ...members.map((one) => one.reinforcement.low ?? 1)),
    top,
    height - frame.bottom,
    frame.top,
  );
  const loads = Array.from({ length: 41 }, (_, i) => (i / 40) * largest);
  const curve = (of: (load: number) => number) => loads.map((load) => `${at(x(load))},${at(y(of(load)))}`);
  const curves = sizes.map((size_nm) => {
    const band =
      layer_nm.low === null || layer_nm.high === null
        ? null
        : [
            ...curve((load) => withLayer(load, size_nm, layer_nm.low!)),
            ...curve((load) => withLayer(load, size_nm, layer_nm.high!)).reverse(),
          ].join(" ");
    const end = loads[loads.length - 1];
    return html`${band !== null && html`<polygon class="band" points="${band}"/>`}<polyline class="with-layer" points="${curve((load) => withLayer(load, size_nm, layer_nm.value)).join(" ")}"/>${
      sizes.length > 1 &&
      html`<text x="${at(x(end) + 5)}" y="${at(y(withLayer(end, size_nm, layer_nm.value)) + 4)}">${Number(significant(size_nm))} nm</text>`
    }`;
  });
  const points = members.map(({ volumeFraction, reinforcement: { value, low, high } }) => {
    const place = at(x(volumeFraction));
    const bar = low !== null && high !== null && html`<path d="M${place} ${at(y(low))}V${at(y(high))}"/>`;
    return html`<g class="reading">${bar}<circle cx="${place}" cy="${at(y(value))}" r="4"/></g>`;
  });
  const words = `Measured M/M₀ from ${fixed(members[0].reinforcement.value, 2)} to ${fixed(members[members.length - 1].reinforcement.value, 2)} beside Guth–Gold with and without the layer`;
  return html`<svg viewBox="0 0 ${width} ${height}" role="img" aria-label="${words}">
${ticks(0, 100 * largest, 5).map((tick) => html`<path class="grid" d="M${at(x(tick / 100))} ${frame.top}V${height - frame.bottom}"/><text x="${at(x(tick / 100))}" y="${height - frame.bottom + 17}" text-anchor="middle">${tick}</text>`)}
${ticks(0, top, 5)
  .filter((tick) => y(tick) <= height - frame.bottom)
  .map(
    (tick) =>
      html`<path class="grid" d="M${frame.left} ${at(y(tick))}H${right}"/><text x="${frame.left - 7}" y="${at(y(tick) + 4)}" text-anchor="end">${tick}</text>`,
  )}
<path class="axis" fill="none" d="M${frame.left} ${frame.top}V${height - frame.bottom}H${right}"/>
<text x="${(frame.left + right) / 2}" y="${height - 6}" text-anchor="middle">Filler by volume in %</text><text x="4" y="14">M/M₀</text>
${curves}<polyline class="formula" points="${curve(guthGold).join(" ")}"/>${points}</svg>`;
}

function layerDrawing({ layer_nm, layerByLoss_nm }: BoundRubber): Html {
  const readings: [words: string, layer: ValueInterval][] = [
    ["by the moduli", layer_nm],
    ...(layerByLoss_nm === null
      ? []
      : [["by the tan δ peaks", layerByLoss_nm] satisfies [string, ValueInterval]]),
  ];
  const height = frame.top + 44 * readings.length + frame.bottom;
  const left = 130;
  const ends = readings.flatMap(([, { value, low, high }]) => [value, low ?? value, high ?? value]);
  const lowest = Math.min(0, ...ends);
  const highest = 1.08 * Math.max(...ends, 0.1);
  const x = scale(lowest, highest, left, width - frame.right);
  const bottom = height - frame.bottom;
  const rows = readings.map(([words, { value, low, high }], i) => {
    const y = frame.top + 44 * i + 20;
    const bar =
      low !== null &&
      high !== null &&
      html`<path d="M${at(x(low))} ${y}H${at(x(high))}M${at(x(low))} ${y - 5}v10M${at(x(high))} ${y - 5}v10"/>`;
    return html`<text x="${left - 10}" y="${y + 4}" text-anchor="end">${words}</text><g class="reading">${bar}<circle cx="${at(x(value))}" cy="${y}" r="4"/></g>`;
  });
  const words = readings.map(([name, { value }]) => `${name} ${fixed(value, 1)} nm`).join(", ");
  return html`<svg viewBox="0 0 ${width} ${height}" role="img" aria-label="Immobilised layer: ${words}">
${ticks(lowest, highest, 5).map((tick) => html`<path class="grid" d="M${at(x(tick))} ${frame.top}V${bottom}"/><text x="${at(x(tick))}" y="${bottom + 17}" text-anchor="middle">${String(tick).replace("-", "−")}</text>`)}
<path class="axis" d="M${at(x(0))} ${frame.top}V${bottom}"/>
<text x="${(left + width - frame.right) / 2}" y="${height - 6}" text-anchor="middle">Immobilised layer in nm</text>${rows}</svg>`;
}

const scale = (from: number, to: number, low: number, high: number) => (value: number) =>
  low + ((value - from) / (to - from)) * (high - low);

const at = (place: number) => String(Number(place.toFixed(1)));

/** Round numbers between two ends, 0 among them where it lies inside. */
function ticks(from: number, to: number, about: number): number[] {
  const steps = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100];
  const step = steps.find((one) => (to - from) / one <= about) ?? to - from;
  const first = Math.ceil(from / step - 1e-9);
  const count = Math.floor(to / step + 1e-9) - first + 1;
  return Array.from({ length: count }, (_, i) => Number(((first + i) * step).toFixed(6)));
}
