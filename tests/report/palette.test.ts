import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";

type Colour = [number, number, number];

/** Reads the custom properties of the light or the dark part of the page's base style. */
function palette(scheme: "light" | "dark"): Record<string, Colour> {
  const css = readFileSync(new URL("../../src/report/page/style/base.css", import.meta.url), "utf8");
  const [light, dark] = css.split("@media (prefers-color-scheme: dark)");
  const read = (part: string) =>
    Object.fromEntries(
      [...part.matchAll(/--([\w-]+):\s*#([0-9a-f]{6})/g)].map(([, name, hex]) => [
        name,
        [0, 2, 4].map((at) => Number.parseInt(hex.slice(at, at + 2), 16) / 255) as Colour,
      ]),
    );
  return scheme === "light" ? read(light) : { ...read(light), ...read(dark) };
}

const linear = (c: number) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4);
const gamma = (c: number) => (c <= 0.0031308 ? 12.92 * c : 1.055 * c ** (1 / 2.4) - 0.055);

/** Relative luminance and contrast ratio (WCAG 2.2, published). */
const luminance = (c: Colour) => 0.2126 * linear(c[0]) + 0.7152 * linear(c[1]) + 0.0722 * linear(c[2]);
function contrast(a: Colour, b: Colour): number {
  const [high, low] = [luminance(a), luminance(b)].sort((x, y) => y - x);
  return (high + 0.05) / (low + 0.05);
}

/**
 * Full dichromacy, on linear RGB: Machado, Oliveira and Fernandes, IEEE Trans. Vis. Comput. Graph. 15, 1291
 * (2009), severity 1.0 (published).
 */
const visions: Record<string, number[][]> = {
  normal: [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ],
  protanopia: [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
  ],
  deuteranopia: [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881],
  ],
  tritanopia: [
    [1.255528, -0.076749, -0.178779],
    [-0.078411, 0.930809, 0.147602],
    [0.004733, 0.691367, 0.3039],
  ],
};

function seen(colour: Colour, vision: string): Colour {
  const rgb = colour.map(linear);
  return visions[vision].map((row) =>
    gamma(Math.min(1, Math.max(0, row[0] * rgb[0] + row[1] * rgb[1] + row[2] * rgb[2]))),
  ) as Colour;
}

/** CIE 1976 colour difference in L*a*b*, D65 (published); about 2 is just noticeable. */
function difference(a: Colour, b: Colour): number {
  const lab = (colour: Colour) => {
    const [r, g, bl] = colour.map(linear);
    const xyz = [
      (0.4124 * r + 0.3576 * g + 0.1805 * bl) / 0.95047,
      0.2126 * r + 0.7152 * g + 0.0722 * bl,
      (0.0193 * r + 0.1192 * g + 0.9505 * bl) / 1.08883,
    ].map((t) => (t > 216 / 24389 ? Math.cbrt(t) : (841 / 108) * t + 4 / 29));
    return [116 * xyz[1] - 16, 500 * (xyz[0] - xyz[1]), 200 * (xyz[1] - xyz[2])];
  };
  const [p, q] = [lab(a), lab(b)];
  return Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
}

describe.each(["light", "dark"] as const)("colours in %s", (scheme) => {
  const colours = palette(scheme);

  test.each(Object.keys(visions))("verdicts are told apart with %s", (vision) => {
    const pairs = [
      ["glassy", "leathery"],
      ["leathery", "rubbery"],
      ["glassy", "rubbery"],
    ];
    for (const [a, b] of pairs) {
      expect(difference(seen(colours[a], vision), seen(colours[b], vision)), `${a}, ${b}`).toBeGreaterThan(
        20,
      );
    }
  });

  test("text and marks have the contrast WCAG 2.2 AA asks for", () => {
    for (const name of ["ink", "quiet", "accent", "glassy", "rubbery", "caution", "second"]) {
      expect(contrast(colours[name], colours.paper), name).toBeGreaterThan(4.5);
    }
    for (const tint of ["glassy-tint", "leathery-tint", "sunken", "raised"]) {
      expect(contrast(colours.ink, colours[tint]), tint).toBeGreaterThan(4.5);
    }
    // Marks and lines, not text.
    expect(contrast(colours.leathery, colours.paper)).toBeGreaterThan(3);
    expect(contrast(colours.glassy, colours["glassy-tint"])).toBeGreaterThan(3);
    expect(contrast(colours.leathery, colours["leathery-tint"])).toBeGreaterThan(3);
  });
});
