/**
 * A ramp from blue-black through grey to yellow whose lightness rises evenly, readable with every colour
 * vision (cividis: Nuñez, Anderton and Renslow, PLoS ONE 13, e0199239, 2018).
 */
const ramp: [number, number, number][] = [
  [0, 34, 78],
  [18, 53, 112],
  [59, 73, 108],
  [87, 93, 109],
  [112, 113, 115],
  [138, 134, 120],
  [165, 156, 116],
  [195, 179, 105],
  [225, 204, 85],
  [254, 232, 56],
];

/** The colour at a place from 0 to 1. The end that would vanish in the page's ground is left out. */
export function rampColour(place: number, dark: boolean): string {
  const [from, to] = dark ? [0.32, 1] : [0, 0.86];
  const at = (from + (to - from) * Math.min(1, Math.max(0, place))) * (ramp.length - 1);
  const k = Math.min(ramp.length - 2, Math.floor(at));
  const part = at - k;
  const mixed = ramp[k].map((channel, i) => Math.round(channel + part * (ramp[k + 1][i] - channel)));
  return `rgb(${mixed.join(",")})`;
}

/** The same ramp as the plot library takes it. */
export function rampScale(dark: boolean): [number, string][] {
  return Array.from({ length: 11 }, (_, i) => [i / 10, rampColour(i / 10, dark)]);
}

/** Eight hues told apart with every colour vision (Okabe and Ito, 2008), darkened or lightened for the ground. */
const light = ["#0072b2", "#b85c00", "#00785a", "#a33b7c", "#1f2a33", "#3a8fb7", "#8a7400", "#6b6f75"];
const darkSet = ["#56b4e9", "#e69f00", "#2fc49a", "#e08bbd", "#e8edf0", "#8fd0f5", "#e4d64a", "#a3acb3"];
const dashes = ["solid", "dash", "dot", "dashdot", "longdash"];

/** Colour and dash of one compound in the plots of all; dashes change when the hues are used up. */
export function compoundLine(index: number, dark: boolean): { color: string; dash: string } {
  const hues = dark ? darkSet : light;
  return { color: hues[index % hues.length], dash: dashes[Math.floor(index / hues.length) % dashes.length] };
}
