import type { Material } from "../../fit/material.js";
import { type Contacts, contactState } from "../contact/contact-state.js";
import type { PredictionSettings } from "../prediction-settings.js";
import { representativeStrain, type StrainBasis, strainEffect } from "./impact-strain.js";

/** The contacts at the strain of the impact, where a strain sweep says what that does; its factor on the loss beside. */
export function strainedContacts(
  material: Material,
  temperature_C: number,
  contacts: Contacts,
  settings: PredictionSettings,
  basis: StrainBasis,
): { contacts: Contacts; loss: number } {
  const { model, strainSoftening } = material;
  const { impact } = contacts;
  if (basis !== "corrected" || model === null || impact === null) return { contacts, loss: 1 };
  if (strainSoftening === undefined || strainSoftening === null || strainSoftening === "unfilled") {
    return { contacts, loss: 1 };
  }
  let effect = { stiffness: 1, loss: 1 };
  // A softer rubber is indented deeper, by the fifth root or so: the second round settles it.
  for (let round = 0; round < 2; round++) {
    const softened = {
      ...contacts,
      sliding: null,
      stiffnessFactor: contacts.stiffnessFactor * effect.stiffness,
    };
    const { rebound } = contactState(model, temperature_C, softened, settings);
    if (rebound === null) break;
    effect = strainEffect(
      strainSoftening,
      representativeStrain(rebound.indentation_m, impact.indenterRadius_m),
    );
  }
  return {
    contacts: { ...contacts, stiffnessFactor: contacts.stiffnessFactor * effect.stiffness },
    loss: effect.loss,
  };
}
