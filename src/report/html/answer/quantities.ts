import { practicallyNone } from "../../../predict/contact/friction.js";
import type { CompoundProperty } from "../../../predict/decision/decision-schema.js";
import type { Outlook } from "../../../predict/outlook.js";
import { html } from "../html.js";
import { glassyMargin } from "./margin.js";

/** A value with its 95 % interval; null ends: none is known. */
export interface Reading {
  value: number;
  low: number | null;
  high: number | null;
}

/** What a compound is compared by: its outlook in the use that is set, and what was measured of it. */
export interface Subject {
  outlook: Outlook | undefined;
  properties: CompoundProperty[];
}

/** A number that compounds are compared by. */
export interface Quantity {
  /** As links and study files name it. */
  key: string;
  label: string;
  unit: string;
  decimals: number;
  /** As measured, so the same in every use. */
  isMeasured: boolean;
  read(subject: Subject): Reading | null;
}

const percent = ({ fraction, low, high }: { fraction: number; low: number; high: number }): Reading => ({
  value: 100 * fraction,
  low: 100 * low,
  high: 100 * high,
});

export const margin: Quantity = {
  key: "margin",
  label: "Above the glassy border",
  unit: "K",
  decimals: 0,
  isMeasured: false,
  read: ({ outlook }) => (outlook?.cold ? glassyMargin(outlook.cold) : null),
};
export const grip: Quantity = {
  key: "grip",
  label: "Grip µ (hysteresis)",
  unit: "",
  decimals: 3,
  isMeasured: false,
  read: ({ outlook }) =>
    outlook?.grip ? { ...outlook.grip, value: outlook.grip.frictionCoefficient } : null,
};
export const relativeGrip: Quantity = {
  key: "grip relative to reference",
  label: "Grip relative to reference",
  unit: "",
  decimals: 2,
  isMeasured: false,
  read: ({ outlook }) => {
    const ratio = outlook?.grip?.relativeToReference;
    return ratio === undefined ? null : { ...ratio, value: ratio.ratio };
  },
};
/** In place of a friction coefficient whose digits mean nothing. */
export const practicallyNoGrip = html`practically none <span class="interval">below ${practicallyNone}</span>`;

export const rebound: Quantity = {
  key: "rebound",
  label: "Rebound",
  unit: "%",
  decimals: 0,
  isMeasured: false,
  read: ({ outlook }) => (outlook?.rebound ? percent(outlook.rebound) : null),
};
export const peakForce: Quantity = {
  key: "peak force",
  label: "Peak force",
  unit: "N",
  decimals: 0,
  isMeasured: false,
  read: ({ outlook }) => outlook?.cushioning?.peakForce_N ?? null,
};

const predictedQuantities: readonly Quantity[] = [grip, relativeGrip, rebound, peakForce, margin];

/** By the method with most readings, the first of equals, as requirements judge it: methods do not mix. */
function measured(quantity: string, unit: string): Quantity {
  return {
    key: quantity,
    label: `${quantity[0].toUpperCase()}${quantity.slice(1)}`,
    unit,
    decimals: 0,
    isMeasured: true,
    read: ({ properties }) =>
      properties
        .filter((one) => one.quantity === quantity && one.unit === unit)
        .sort((a, b) => b.count - a.count)[0] ?? null,
  };
}

/** Every property that was measured of some compound, in the order in which they first stand. */
export function measuredQuantitiesOf(subjects: Pick<Subject, "properties">[]): Quantity[] {
  const found = new Map<string, Quantity>();
  for (const { properties } of subjects)
    for (const { quantity, unit } of properties)
      if (!found.has(quantity)) found.set(quantity, measured(quantity, unit));
  return [...found.values()];
}

/** All that the compounds at hand can be compared by. */
export function quantitiesOf(subjects: Subject[]): Quantity[] {
  return [
    ...predictedQuantities.filter((quantity) => subjects.some((subject) => quantity.read(subject) !== null)),
    ...measuredQuantitiesOf(subjects),
  ];
}

/** "Abrasion loss in mm³". */
export function axisTitle({ label, unit }: Quantity): string {
  return unit === "" ? label : `${label} in ${unit}`;
}
