import type { Material } from "../../fit/material.js";
import { noticeIn } from "../../words/codes/codes.js";
import type { Notice } from "../../words/notice.js";
import { statedTemperature } from "../../words/quantity-text.js";
import { hysteresisFriction } from "../contact/friction.js";
import { roughnessOf } from "../contact/roughness.js";
import { tensileSpectrumAt } from "../contact/tensile-spectrum.js";
import { namedTexture } from "../contact/textures.js";
import type { ColdVerdict } from "../outlook.js";
import type { PredictionSettings } from "../prediction-settings.js";
import type { Use } from "../use.js";
import { coldOutlook } from "./cold.js";
import type { GovernedModel } from "./moved-peaks.js";

/** From this ratio of the friction on the two asphalts on, which of them is under the product matters for it. */
const tellingRatio = 2;

/** The two asphalts of which one is assumed where the study states none; which of them is under the product is not known. */
const asphalts = ["worn asphalt", "asphalt with large stones"];

interface OnOtherAsphalt {
  texture: string;
  frictionCoefficient: number;
  verdict: ColdVerdict | null;
}

/** Verdict and friction on the other one of the two asphalts, where sliding governs; null for any other texture. */
function onOtherAsphalt(
  material: Material,
  { temperature_C, sliding }: Use,
  settings: PredictionSettings,
  governed: GovernedModel,
  drawn: GovernedModel[],
): OnOtherAsphalt | null {
  if (sliding === null || governed.governing.contact !== "sliding") return null;
  const name = asphalts.find((one) => one !== sliding.texture.name);
  const texture = asphalts.includes(sliding.texture.name) && name !== undefined ? namedTexture(name) : null;
  const roughness = texture === null ? null : roughnessOf(texture, settings);
  if (texture === null || roughness === null || !roughness.ok) return null;
  const { speed_m_s, pressure_Pa } = sliding;
  const { contactFrequency_Hz, frictionCoefficient } = hysteresisFriction(
    tensileSpectrumAt(governed.model, temperature_C, settings),
    { speed_m_s, pressure_Pa, roughness: roughness.value },
    settings,
  );
  if (contactFrequency_Hz === null) return null;
  const ratio = contactFrequency_Hz / governed.governing.frequency_Hz;
  const slowed = (one: GovernedModel): GovernedModel => ({
    ...one,
    governing: { ...one.governing, frequency_Hz: one.governing.frequency_Hz * ratio },
  });
  const { cold } = coldOutlook(material, temperature_C, slowed(governed), drawn.map(slowed), settings);
  return {
    texture: texture.name,
    frictionCoefficient,
    verdict: cold?.verdict ?? null,
  };
}

/**
 * What the other one of the two asphalts would make of friction and verdict, said where it is telling; none for any other
 * texture, and where sliding does not govern.
 * @param here friction coefficient and verdict on the texture of the use; null where they are not given
 */
export function otherAsphaltNotices(
  material: Material,
  use: Use,
  settings: PredictionSettings,
  governed: GovernedModel,
  drawn: GovernedModel[],
  here: { friction: number | null; verdict: ColdVerdict | null },
): Notice[] {
  const onOther = onOtherAsphalt(material, use, settings, governed, drawn);
  if (onOther === null) return [];
  const notices: Notice[] = [];
  const at = statedTemperature(use.temperature_C);
  const ratio = here.friction === null ? 1 : onOther.frictionCoefficient / here.friction;
  if (ratio >= tellingRatio || ratio <= 1 / tellingRatio) {
    notices.push(
      noticeIn(
        "predict.grip-by-texture",
        `On ${onOther.texture} the hysteresis friction would be so many times what is given`,
        [`${Number(ratio.toPrecision(2))} at ${at}`],
      ),
    );
  }
  if (onOther.verdict !== here.verdict) {
    notices.push(
      noticeIn(
        "predict.verdict-by-texture",
        `On ${onOther.texture}, which has its own contact frequency, the verdict would be a different one`,
        [`${onOther.verdict ?? "not determined"} at ${at}`],
      ),
    );
  }
  return notices;
}
