import { defaultPredictionSettings, type PredictionSettings } from "../predict/prediction-settings.js";
import type { Assessment } from "./assessment.js";

/** What the outlooks were predicted with: as handed over, else the defaults with the borders the study states. */
export function predictionSettingsOf({
  predictionSettings,
  settings,
}: Pick<Assessment, "predictionSettings" | "settings">): PredictionSettings {
  if (predictionSettings !== undefined) return predictionSettings;
  const stated = (settings.verdict ?? {}) as Record<string, unknown>;
  const border = (name: "glassyBorder_K" | "leatheryBorder_K") =>
    typeof stated[name] === "number" ? stated[name] : defaultPredictionSettings[name];
  const uncertainty = (settings.uncertainty ?? {}) as Record<string, unknown>;
  const halfWidth = (key: string, otherwise: number) =>
    typeof uncertainty[key] === "number" ? uncertainty[key] : otherwise;
  return {
    ...defaultPredictionSettings,
    temperatureUncertainty_K: halfWidth("temperature_K", defaultPredictionSettings.temperatureUncertainty_K),
    modulusUncertainty: halfWidth("modulus", defaultPredictionSettings.modulusUncertainty),
    glassyBorder_K: border("glassyBorder_K"),
    leatheryBorder_K: border("leatheryBorder_K"),
  };
}
