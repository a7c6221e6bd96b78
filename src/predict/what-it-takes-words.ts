import type { Material } from "../fit/material.js";
import type { ValueInterval } from "../fit/value-interval.js";
import { formatTemperature } from "../io/format.js";
import { hertz, signed } from "./number-words.js";
import type { ColdOutlook } from "./outlook.js";
import type { SlowerContact, WayAcross, WhatItTakes } from "./what-it-takes.js";

/** What must stand beside the numbers. */
export function whatItTakesCaution(material: Material): string {
  const assumed =
    material.superposition?.source === "assumed"
      ? " They lean on assumed shift constants: measure at several frequencies before acting on them."
      : "";
  return `Screening numbers, all else equal: a real change of polymer, plasticiser or speed moves stiffness, loss and the contact too.${assumed} No proof of grip, rebound or safety in the cold; that is for tests of the product by its own standard, the limits of local codes and a qualified person.`;
}

/** The answer in plain words. */
export function whatItTakesSentence(
  { compound }: Material,
  found: Omit<WhatItTakes, "sentence" | "caution">,
  cold: ColdOutlook,
): string {
  const at = formatTemperature(found.temperature_C, 0);
  const start = `${compound} is ${found.verdict} at ${at} in "${found.use}".`;
  const rubbery = wayWords(found.toBeRubbery, `To be rubbery at ${at}`, measuredPeak(cold));
  const above =
    found.toLeaveGlassy === null
      ? ""
      : ` ${wayWords(found.toLeaveGlassy, "To leave the glassy state", null)}`;
  return `${start} ${rubbery}${above}`;
}

function wayWords(
  way: WayAcross,
  aim: string,
  peak: { frequency_Hz: number; temperature_C: number } | null,
): string {
  const fall = way.glassTransitionFall_K;
  const slower = way.contacts.filter(({ frequencyFactor }) => frequencyFactor.value < 1);
  if (fall === null && way.contacts.length === 0)
    return `${aim}, what it would take is not determined: ${way.reasons.join("; ")}.`;
  const parts: string[] = [];
  if (fall !== null) {
    if (fall.value <= 0) {
      parts.push(
        `by the best estimate it is there already, with ${(-fall.value).toFixed(1)} K to spare; to be sure of it Tg would have to fall by ${kelvin(fall.high ?? 0)}`,
      );
    } else {
      const from =
        peak === null
          ? ""
          : `, from ${signed(peak.temperature_C, 1)} to about ${signed(peak.temperature_C - fall.value, 1)} °C (tan δ peak at ${hertz(peak.frequency_Hz)})`;
      parts.push(
        `its Tg would have to fall by ${kelvin(fall.value)}${spread(fall, (value) => value.toFixed(1), " K")}${from}`,
      );
    }
  }
  if (slower.length > 0) parts.push(slower.map(slowerWords).join(" and "));
  const missing = way.reasons.length > 0 ? ` Not determined: ${way.reasons.join("; ")}.` : "";
  return `${aim}, ${parts.join(", or ")}.${missing}`;
}

function slowerWords({ contact, frequencyFactor, speed_m_s, neededSpeed_m_s }: SlowerContact): string {
  const times = 1 / frequencyFactor.value;
  const interval = spread(
    {
      value: times,
      low: frequencyFactor.high === null ? null : 1 / frequencyFactor.high,
      high: frequencyFactor.low === null ? null : 1 / frequencyFactor.low,
    },
    significant,
    "",
  );
  const hopeless = times > 1e4 ? ", which no speed of use brings" : "";
  if (contact === "impact")
    return `the impact would have to last ${significant(times)} times as long${interval}${hopeless}`;
  const speed =
    neededSpeed_m_s === null
      ? ""
      : `, at ${significant(neededSpeed_m_s.value)} m/s instead of ${significant(speed_m_s ?? Number.NaN)} m/s`;
  return `the sliding would have to be ${significant(times)} times slower${interval}${speed}${hopeless}`;
}

function measuredPeak({ glassTemperatureMeasured }: ColdOutlook) {
  const temperature_C = glassTemperatureMeasured?.tanDeltaPeak_C ?? null;
  if (temperature_C === null || !glassTemperatureMeasured) return null;
  return { frequency_Hz: glassTemperatureMeasured.frequency_Hz, temperature_C };
}

/** " (5 to 9 K)", or nothing where there is no interval. */
function spread({ low, high }: ValueInterval, write: (value: number) => string, unit: string): string {
  return low === null || high === null
    ? ""
    : ` (${write(low).replace("-", "−")} to ${write(high).replace("-", "−")}${unit})`;
}

const kelvin = (value: number) => `${value.toFixed(1)} K`;

/** Two digits: "0.045", "310", "1.3×10⁻⁶". */
function significant(value: number): string {
  if (value < 1e6 && value >= 1e-4) return Number(value.toPrecision(2)).toString();
  const [digits, power] = value.toExponential(1).split("e");
  const raised = Array.from(String(Number(power)), (sign) =>
    sign === "-" ? "⁻" : "⁰¹²³⁴⁵⁶⁷⁸⁹"[Number(sign)],
  );
  return `${Number(digits)}×10${raised.join("")}`;
}
