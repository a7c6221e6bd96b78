import type { JudgedCompound } from "../../results/results.js";
import { type Html, html, nameHtml } from "../html.js";
import { fixed, statedTemperature } from "../numbers.js";

/**
 * The trap in one sentence: the compound that grips best in a warmer use and turns glassy in a colder one;
 * null where no compound does that.
 */
export function contrastSentence(compounds: JudgedCompound[]): Html | null {
  const temperatures = [
    ...new Set(compounds.flatMap((compound) => compound.outlooks.map((outlook) => outlook.temperature_C))),
  ].sort((a, b) => b - a);
  for (const warm_C of temperatures) {
    const gripping = compounds
      .flatMap((compound) => {
        const grip = compound.outlooks.find(
          (outlook) => outlook.temperature_C === warm_C && outlook.grip,
        )?.grip;
        return grip ? [{ compound, grip }] : [];
      })
      .sort((a, b) => b.grip.frictionCoefficient - a.grip.frictionCoefficient);
    // "Best" is said only where the whole interval lies above the next compound's value. What both share, the cut-off,
    // cancels in their ratios to the reference.
    if (gripping.length < 2) continue;
    const [first, second] = gripping.map(({ grip }) => grip);
    const isBest =
      first.relativeToReference !== undefined && second.relativeToReference !== undefined
        ? first.relativeToReference.low > second.relativeToReference.ratio
        : first.low > second.frictionCoefficient;
    if (!isBest) continue;
    const { compound, grip } = gripping[0];
    const glassy = compound.outlooks
      .filter((outlook) => outlook.temperature_C < warm_C && outlook.cold?.verdict === "glassy")
      .sort((a, b) => b.temperature_C - a.temperature_C)[0];
    if (glassy !== undefined) {
      return html`${nameHtml(compound.name)} grips best of all at ${statedTemperature(warm_C)} (µ ${fixed(grip.frictionCoefficient, 2)}) and is glassy at ${statedTemperature(glassy.temperature_C)}.`;
    }
  }
  return null;
}
