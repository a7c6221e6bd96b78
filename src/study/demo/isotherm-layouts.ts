import { atan2 } from "../../numeric/elementary/angle.js";
import { log10 } from "../../numeric/elementary/logarithm.js";
import { hypotenuse } from "../../numeric/elementary/power.js";
import type { DemoCompound } from "./compounds.js";
import type { SweepStep } from "./sweeps.js";
import { fixed, plain, scientific, thousands } from "./text.js";

/**
 * The layouts of isothermal frequency sweeps in the demo folder, in the manner of the trade and of no
 * particular maker. Every function gives the lines of one file.
 */
const invented = "invented demonstration data";
const zeroCelsius_K = 273.15;
const pascalPerPsi = 6894.757293168;

/** Tabs; a section per temperature step; angular frequency, |G*| in kPa, phase angle; temperatures in K. */
export function angularSections(compound: DemoCompound, isotherms: SweepStep[]): string[] {
  return [
    `Sample name:\t${compound.name}`,
    "Geometry:\tshear, two plates",
    `Note:\t${invented}`,
    ...isotherms.flatMap(({ points }, i) => [
      "",
      `Step ${i + 1}\tfrequency sweep`,
      "ω\tTemperature\t|G*|\tδ",
      "rad/s\tK\tkPa\t°",
      ...points.map((point) =>
        [
          plain(2 * Math.PI * point.frequency_Hz, 5),
          fixed(point.temperature_C + zeroCelsius_K, 2),
          plain(hypotenuse(point.storageModulus_Pa, point.lossModulus_Pa) / 1e3, 6),
          plain((atan2(point.lossModulus_Pa, point.storageModulus_Pa) * 180) / Math.PI, 5),
        ].join("\t"),
      ),
    ]),
  ];
}

/** Quoted fields, thousands marks, °F and psi; isotherms one below the other without a mark between. */
export function fahrenheitPsi(compound: DemoCompound, isotherms: SweepStep[]): string[] {
  return [
    `"Material","${compound.name}"`,
    '"Deformation","tension"',
    `"Remark","${invented}"`,
    '"Temp (°F)","Freq (Hz)","Storage Modulus (psi)","Loss Modulus (psi)"',
    ...isotherms.flatMap(({ points }) =>
      points.map((point) =>
        [
          fixed(point.temperature_C * 1.8 + 32, 3),
          plain(point.frequency_Hz, 4),
          psi(point.storageModulus_Pa),
          psi(point.lossModulus_Pa),
        ]
          .map((cell) => `"${cell}"`)
          .join(","),
      ),
    ),
  ];
}

function psi(modulus_Pa: number): string {
  const value = modulus_Pa / pascalPerPsi;
  return value >= 10_000 ? thousands(value) : plain(value, 5);
}

/** French headers, semicolons, decimal commas, log10 columns; a section per temperature. */
export function frenchLogarithms(compound: DemoCompound, isotherms: SweepStep[]): string[] {
  const log = (value: number) => fixed(log10(value), 4, ",");
  return [
    `Échantillon;${compound.name}`,
    "Mode de sollicitation;traction",
    "Remarque;données inventées",
    ...isotherms.flatMap(({ points }) => [
      "",
      `Température;${fixed(points[0].temperature_C, 2, ",")} °C`,
      "log10 Fréquence (Hz);log10 Module de conservation E' (Pa);log10 Module de perte E'' (Pa)",
      ...points.map((point) =>
        [log(point.frequency_Hz), log(point.storageModulus_Pa), log(point.lossModulus_Pa)].join(";"),
      ),
    ]),
  ];
}

/** Four columns, units after a slash, exponents, no preamble: the sample's name is the file's. */
export function bareExponents(isotherms: SweepStep[]): string[] {
  return [
    "T/°C,f/Hz,E′/Pa,E″/Pa",
    ...isotherms.flatMap(({ points }) =>
      points.map((point) =>
        [
          fixed(point.temperature_C, 2),
          scientific(point.frequency_Hz, 4),
          scientific(point.storageModulus_Pa, 5),
          scientific(point.lossModulus_Pa, 5),
        ].join(","),
      ),
    ),
  ];
}
