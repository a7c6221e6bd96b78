import { describe, expect, it } from "vitest";
import {
  type BoundRubberMember,
  boundRubber,
  effectiveVolumeFraction,
} from "../../src/fit/network/bound-rubber.js";
import { guthGold } from "../../src/fit/network/reinforcement.js";

/** Heights of peaks whose W stands to the gum's as (1 − C)/(1 − φ): the formula of Rao and Pochan, read backwards. */
function filledPeak(gum: number, share: number, volumeFraction: number): number {
  const gumLoss = (Math.PI * gum) / (Math.PI * gum + 1);
  const loss = (gumLoss * (1 - share)) / (1 - volumeFraction);
  return loss / (Math.PI * (1 - loss));
}

/** Spheres of 30 nm with a layer, measured within 2 %. */
function member(volumeFraction: number, layer_nm: number, lossLayer_nm = layer_nm): BoundRubberMember {
  const ratio = guthGold(effectiveVolumeFraction(volumeFraction, 30, layer_nm));
  const share = effectiveVolumeFraction(volumeFraction, 30, lossLayer_nm);
  return {
    ...{ compound: `${volumeFraction}`, volumeFraction, particleSize_nm: 30 },
    reinforcement: { value: ratio, low: 0.98 * ratio, high: 1.02 * ratio },
    tanDeltaPeaks: [1.6, 1.7].map((gum) => ({ gum, filled: filledPeak(gum, share, volumeFraction) })),
  };
}

describe("the immobilised layer of a known series", () => {
  it("comes back from moduli and from tan δ peaks, which agree", () => {
    const found = boundRubber([member(0.1, 3), member(0.2, 3), member(0.25, 3)])!;
    expect(found.layer_nm.value).toBeCloseTo(3, 6);
    expect(found.layer_nm.low!).toBeLessThan(2.99);
    expect(found.layer_nm.high!).toBeGreaterThan(3.01);
    expect(found.layerByLoss_nm!.value).toBeCloseTo(3, 6);
    expect(found.agree).toBe(true);
    expect(found.members[1].effectiveVolumeFraction).toBeCloseTo(0.3456, 4);
    expect(found.members[1].immobilisedShare!).toBeCloseTo(0.3456, 4);
  });

  it("is said to disagree where moduli and peaks do beyond their intervals", () => {
    const found = boundRubber([member(0.1, 5.9, 1.1), member(0.2, 6, 1), member(0.25, 6.1, 0.9)])!;
    expect(found.agree).toBe(false);
    expect(found.sentence).toContain("disagree beyond their intervals");
  });

  it("is none where filler adds no more than its volume, and unsettled without an interval", () => {
    const { layer_nm } = boundRubber([member(0.1, 0), member(0.2, 0)])!;
    expect(layer_nm.value).toBeCloseTo(0, 9);
    expect(layer_nm.low!).toBeLessThan(0);
    const bare = {
      ...member(0.2, 3),
      reinforcement: { value: 3.5, low: null, high: null },
      tanDeltaPeaks: [],
    };
    expect(boundRubber([bare])).toMatchObject({ layerByLoss_nm: null, agree: null });
    expect(boundRubber([])).toBeNull();
  });
});
