import type { ColdVerdict, Outlook } from "../../src/predict/outlook.js";

/** What a reader sees of a piece of the page: no tags, plain spaces. */
export const plain = ({ markup }: { markup: string }) =>
  markup
    .replace(/<[^>]+>/g, "")
    .replaceAll("\u202f", " ")
    .replace(/\s+/g, " ")
    .trim();

/** g glassy, l leathery, r rubbery, two letters for a straddled border, or ? for unknown. */
export const states: Record<string, ColdVerdict | null> = {
  g: "glassy",
  gl: "glassy or leathery",
  l: "leathery",
  lr: "leathery or rubbery",
  r: "rubbery",
  "?": null,
};

const unseen = { temperature_C: null, low_C: null, high_C: null, reason: "invented" };

/** An invented outlook in the cold; the numbers fit the verdict. */
export function cold(verdict: ColdVerdict): NonNullable<Outlook["cold"]> {
  return {
    verdict,
    contactFrequency_Hz: 300,
    contact: "sliding",
    marginToGlassy_K: verdict === "glassy" ? -5 : 12,
    marginToLeathery_K: verdict === "rubbery" ? 4 : -3,
    glassTemperatureAtUse: { frequency_Hz: 300, tanDeltaPeak: unseen, lossModulusPeak: unseen },
    glassTemperatureMeasured: null,
    lowestRubbery_C: null,
    lowestAboveGlassy_C: null,
  };
}
