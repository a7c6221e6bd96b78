import { atan2 } from "../../numeric/elementary/angle.js";
import { hypotenuse } from "../../numeric/elementary/power.js";
import { type WorkbookCell, workbookBytes } from "../../report/tables/workbook.js";
import type { DemoCompound } from "./compounds.js";
import type { SweepStep } from "./sweeps.js";

const digits = (value: number, count: number) => Number(value.toPrecision(count));

/** A workbook as a laboratory keeps it: a sheet of notes without a table, then one sheet per kind of test. */
export function lindenWorkbook(
  compound: DemoCompound,
  sweep: SweepStep[],
  isotherms: SweepStep[],
): Uint8Array {
  return workbookBytes([
    {
      name: "Notes",
      rows: [
        ["Everything in this workbook is invented."],
        [null],
        ["Sample", compound.name],
        ["Batch", "winter trial 3"],
        ["Mode", "tension"],
      ],
    },
    { name: "Temperature sweep", rows: temperatureSheet(compound, sweep) },
    { name: "Isotherms", rows: isothermSheet(compound, isotherms) },
  ]);
}

function temperatureSheet(compound: DemoCompound, sweep: SweepStep[]): WorkbookCell[][] {
  return [
    ["Sample", compound.name],
    ["Deformation mode", "tension"],
    ["Heating rate", 2, "K/min"],
    [null],
    ["Temperature", "Frequency", "Storage modulus E'", "Loss modulus E''", "tan δ"],
    ["°C", "Hz", "MPa", "MPa", "-"],
    ...sweep.flatMap(({ points }) =>
      points.map((point): WorkbookCell[] => [
        digits(point.temperature_C, 6),
        digits(point.frequency_Hz, 3),
        digits(point.storageModulus_Pa / 1e6, 5),
        digits(point.lossModulus_Pa / 1e6, 5),
        digits(point.lossModulus_Pa / point.storageModulus_Pa, 4),
      ]),
    ),
  ];
}

function isothermSheet(compound: DemoCompound, isotherms: SweepStep[]): WorkbookCell[][] {
  return [
    ["Sample", compound.name],
    ["Deformation mode", "tension"],
    [null],
    ["Temperature (°C)", "Frequency (Hz)", "|E*| (GPa)", "Phase angle (°)"],
    ...isotherms.flatMap(({ points }) =>
      points.map((point): WorkbookCell[] => [
        digits(point.temperature_C, 6),
        digits(point.frequency_Hz, 4),
        digits(hypotenuse(point.storageModulus_Pa, point.lossModulus_Pa) / 1e9, 6),
        digits((atan2(point.lossModulus_Pa, point.storageModulus_Pa) * 180) / Math.PI, 5),
      ]),
    ),
  ];
}
