import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type FillerSeriesMember,
  fillerSeries,
  fillerVolumeFraction,
  guthGold,
} from "../../src/fit/network/reinforcement.js";

function member(
  volumeFraction: number | null,
  modulus_Pa: number | null,
  more: Partial<FillerSeriesMember> = {},
) {
  const scale = (factor: number) => (modulus_Pa === null ? null : factor * modulus_Pa);
  return {
    compound: `Birch ${volumeFraction}`,
    volumeFraction,
    plateauModulus_Pa: modulus_Pa,
    low_Pa: scale(0.98),
    high_Pa: scale(1.03),
    deformation: "shear" as const,
    temperature_C: 60,
    frequency_Hz: 1,
    ...more,
  };
}
const codes = (result: ReturnType<typeof fillerSeries>) => result.notices.map(({ code }) => code);

describe("the volume fraction of a filler", () => {
  it("comes from phr and both densities, or as stated", () => {
    // 50 g of 2 g/cm³ are 25 cm³; 100 g of 0.8 g/cm³ are 125 cm³: 25 of 150.
    expect(fillerVolumeFraction({ phr: 50, density_kg_m3: 2000, rubberDensity_kg_m3: 800 })).toBeCloseTo(
      1 / 6,
      12,
    );
    expect(fillerVolumeFraction({ phr: 50, volumeFraction: 0.2 })).toBe(0.2);
    expect(fillerVolumeFraction({ phr: 0 })).toBe(0);
    expect(fillerVolumeFraction({ phr: 50, density_kg_m3: 2000 })).toBeNull();
    expect(fillerVolumeFraction({})).toBeNull();
  });

  it("lies between 0 and 1 and rises with phr", () => {
    const density = fc.double({ min: 500, max: 8000, noNaN: true });
    fc.assert(
      fc.property(density, density, fc.double({ min: 0.1, max: 300, noNaN: true }), (filler, rubber, phr) => {
        const at = (load: number) =>
          fillerVolumeFraction({ phr: load, density_kg_m3: filler, rubberDensity_kg_m3: rubber })!;
        expect(at(phr)).toBeGreaterThan(0);
        expect(at(phr)).toBeLessThan(1);
        expect(at(phr * 1.1)).toBeGreaterThan(at(phr));
      }),
    );
  });
});

describe("a filler series", () => {
  const loads = [0, 0.1, 0.2, 0.25];
  const followed = loads.map((phi) => member(phi, 0.6e6 * guthGold(phi)));

  it("that follows Guth–Gold shows it, against its unfilled member", () => {
    const { series, notices } = fillerSeries("carbon black", followed.toReversed());
    expect(notices).toEqual([]);
    expect(series!.unfilledSource).toBe("unfilled member");
    expect(series!.members.map(({ volumeFraction }) => volumeFraction)).toEqual(loads);
    for (const one of series!.members) expect(one.reinforcement.value).toBeCloseTo(one.guthGold, 12);
    expect(series!.members[0].reinforcement).toEqual({ value: 1, low: 1, high: 1 });
    // Low of the ratio: half widths 1/0.98 of the member and 1.03 of the gum, in quadrature.
    const { reinforcement } = series!.members[2];
    const down = Math.hypot(Math.log(1 / 0.98), Math.log(1.03));
    expect(reinforcement.low! / reinforcement.value).toBeCloseTo(Math.exp(-down), 12);
    expect(series!.sentence).toContain("25.0 % filler");
    expect(series!.caution).toContain("nothing about strength");
  });

  it("without an unfilled member takes M0 from a fit, and says so", () => {
    const noisy = [member(0.1, 0.6e6 * guthGold(0.1) * 1.1), member(0.2, (0.6e6 * guthGold(0.2)) / 1.1)];
    const result = fillerSeries("carbon black", noisy);
    expect(result.series!.unfilledSource).toBe("fit");
    expect(result.series!.unfilledModulus_Pa.value).toBeCloseTo(0.6e6, 3);
    expect(result.series!.unfilledReading).toContain("fit");
    expect(codes(result)).toEqual(["fit.filler-series-without-gum"]);
  });

  it("beyond 30 % by volume carries a caution, and does not enter the fit of M0", () => {
    const result = fillerSeries("silica", [...followed.slice(1), member(0.38, 9e6)]);
    expect(codes(result)).toEqual(["fit.filler-series-without-gum", "fit.filler-beyond-common-range"]);
    expect(result.series!.unfilledModulus_Pa.value).toBeCloseTo(0.6e6, 3);
    expect(result.series!.members.map((one) => one.beyondCommonVolumeFraction)).toEqual([
      false,
      false,
      false,
      true,
    ]);
  });

  it("names what is left out: no φ, no plateau, another mode", () => {
    const result = fillerSeries("mixed", [
      ...followed,
      member(null, 1e6),
      member(0.15, null),
      member(0.3, 1e7, { compound: "stretched", deformation: "tension" }),
    ]);
    expect(result.series!.members).toHaveLength(4);
    expect(codes(result)).toEqual(Array(3).fill("fit.filler-member-left-out"));
    expect(result.notices[2].message).toContain("stretched is left out: it was measured in tension");
  });

  it("warns where the plateaus were read in unlike states", () => {
    const result = fillerSeries("unlike", [
      followed[0],
      member(0.2, 1e6, { temperature_C: 20, frequency_Hz: 10 }),
    ]);
    expect(codes(result)).toEqual(["fit.filler-series-unlike", "fit.filler-series-unlike"]);
  });

  it("of fewer than two loads is null, with the reason", () => {
    for (const members of [[], [followed[1]], [followed[1], { ...followed[1], compound: "twin" }]]) {
      const result = fillerSeries("short", members);
      expect(result.series).toBeNull();
      expect(codes(result)).toEqual(["fit.filler-series-too-short"]);
    }
  });

  it("gives no interval to a ratio whose modulus has none", () => {
    const { series } = fillerSeries("bare", [followed[0], { ...followed[2], low_Pa: null, high_Pa: null }]);
    expect(series!.members[1].reinforcement).toMatchObject({ low: null, high: null });
  });
});
