import type { Random } from "../../numeric/statistics/random.js";
import { tensileSpectrumAt } from "../../predict/contact/tensile-spectrum.js";
import { defaultPredictionSettings } from "../../predict/prediction-settings.js";
import { predictRebound } from "../../predict/rebound/rebound.js";
import type { ImpactContact } from "../../predict/use.js";
import { compoundModel } from "./compound-model.js";
import type { DemoCompound } from "./compounds.js";
import { fixed } from "./text.js";

/** The pendulum of ISO 4662 as public references describe it: 0.5 J at 1.98 m/s, a sphere 15 mm across. */
const demoPendulum: ImpactContact = {
  method: "ISO 4662 pendulum",
  mass_kg: 0.255,
  speed_m_s: 1.98,
  contact: "sphere",
  indenterRadius_m: 0.0075,
  thickness_m: null,
};

/**
 * The invented specimens answer a little stiffer than a half-space, as a 12.5 mm disc on a steel anvil does:
 * what a calibration on these readings should find.
 */
const demoStiffnessFactor = 1.2;

/** Rebound of the exact spectrum at a temperature, before any scatter; energy fraction. */
export function exactRebound(compound: DemoCompound, temperature_C: number): number {
  const settings = defaultPredictionSettings;
  const spectrum = tensileSpectrumAt(compoundModel(compound).modelAt(temperature_C), temperature_C, settings);
  return predictRebound(spectrum, demoPendulum, settings, demoStiffnessFactor).fraction;
}

/** Impacts at one temperature: three that condition the specimen, then three readings. Fractions. */
function impactSeries(exact: number, random: Random): number[] {
  const conditioning = [0.975, 0.987, 0.995, 1, 1, 1];
  return conditioning.map((factor) => Math.max(0, exact * factor + 0.003 * random.normal()));
}

/** The table as the laboratory keeps it: semicolons, German headers, one row per compound and temperature. */
export function reboundTable(compounds: DemoCompound[], temperatures_C: number[], random: Random): string[] {
  return [
    "Prüfung;Rückprallelastizität",
    "Prüfverfahren;Pendelhammer nach ISO 4662",
    "Bemerkung;erfundene Beispieldaten, Schläge 1 bis 3 dienen der Konditionierung",
    "",
    `Mischung;Prüftemperatur (°C);${[1, 2, 3, 4, 5, 6].map((n) => `Rückprall ${n} (%)`).join(";")}`,
    ...compounds.flatMap((compound) =>
      temperatures_C.map((temperature_C) =>
        [
          compound.name,
          fixed(temperature_C, 0),
          ...impactSeries(exactRebound(compound, temperature_C), random).map((r) => fixed(100 * r, 1, ",")),
        ].join(";"),
      ),
    ),
  ];
}
