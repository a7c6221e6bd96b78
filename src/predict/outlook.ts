import type { z } from "zod";
import type { outlookSchema } from "./outlook-schema.js";

/** What one compound does in one use. Null is "not determined"; a notice says why. */
export type Outlook = z.infer<typeof outlookSchema>;
export type ReboundOutlook = NonNullable<Outlook["rebound"]>;
export type CushioningOutlook = NonNullable<Outlook["cushioning"]>;
export type GripOutlook = NonNullable<Outlook["grip"]>;
export type ColdOutlook = NonNullable<Outlook["cold"]>;
export type ColdVerdict = ColdOutlook["verdict"];

/** The glass transition at the contact frequency, from all that was measured. */
export type TransitionAtContact = NonNullable<Outlook["transitionAtContact"]>;

/** A temperature as far as it is known: null where no value was seen, and for an end that nothing bounds. */
export type OpenInterval = TransitionAtContact["tanDeltaPeak"];

/** A temperature with its 95 % interval. */
export interface TemperatureInterval {
  temperature_C: number;
  low_C: number;
  high_C: number;
}
