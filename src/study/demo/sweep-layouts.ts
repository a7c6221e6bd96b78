import type { DemoCompound } from "./compounds.js";
import type { SweepPoint, SweepStep } from "./sweeps.js";
import { aligned, fixed, plain, scientific } from "./text.js";

/**
 * The layouts of temperature and strain sweeps in the demo folder, in the manner of the trade and of no
 * particular maker. Every function gives the lines of one file.
 */
const invented = "invented demonstration data";
const zeroCelsius_K = 273.15;
const tanDelta = (point: SweepPoint) => point.lossModulus_Pa / point.storageModulus_Pa;

/** The points of stepped sweeps, one list per frequency. */
function byFrequency(sweep: SweepStep[]): SweepPoint[][] {
  return sweep[0].points.map((_, i) => sweep.map((step) => step.points[i]));
}

/** Semicolons, decimal commas, German headers with units in brackets; all frequencies in one table. */
export function germanSweep(compound: DemoCompound, sweep: SweepStep[]): string[] {
  const c = (value: number, digits: number) => plain(value, digits, ",");
  return [
    "Prüfbericht;Dynamisch-mechanische Analyse",
    `Probe;${compound.name}`,
    "Bemerkung;erfundene Beispieldaten",
    "Prüfart;Scherung (Doppelscherprobe)",
    "Heizrate;1 K/min",
    "Dehnungsamplitude;0,1 %",
    "",
    "Temperatur [°C];Frequenz [Hz];Speichermodul G' [MPa];Verlustmodul G'' [MPa];Verlustfaktor tan delta [-]",
    ...sweep.flatMap(({ points }) =>
      points.map((point) =>
        [
          fixed(point.temperature_C, 2, ","),
          c(point.frequency_Hz, 3),
          c(point.storageModulus_Pa / 1e6, 5),
          c(point.lossModulus_Pa / 1e6, 5),
          c(tanDelta(point), 4),
        ].join(";"),
      ),
    ),
  ];
}

/** Commas; strain in per cent; one temperature and one frequency, stated in the preamble and in columns. */
export function strainTable(compound: DemoCompound, points: SweepPoint[]): string[] {
  return [
    `Sample,${compound.name}`,
    "Test,strain sweep in shear",
    `Remark,${invented}`,
    "",
    "Strain amplitude (%),Temperature (°C),Frequency (Hz),G' (MPa),G'' (MPa),tan delta",
    ...points.map((point) =>
      [
        plain(100 * point.strain, 4),
        fixed(point.temperature_C, 2),
        plain(point.frequency_Hz, 3),
        plain(point.storageModulus_Pa / 1e6, 5),
        plain(point.lossModulus_Pa / 1e6, 5),
        plain(tanDelta(point), 4),
      ].join(","),
    ),
  ];
}

/** Tabs, English headers with units after a comma; all frequencies in one table, temperature rising. */
export function tabbedSweep(compound: DemoCompound, sweep: SweepStep[]): string[] {
  return [
    `Specimen\t${compound.name}`,
    "Clamping\ttension, film",
    "Heating rate\t1.5 °C/min",
    `Remark\t${invented}`,
    "",
    "Temperature, °C\tFrequency, Hz\tStorage modulus E′, MPa\tLoss modulus E″, MPa\ttan δ",
    ...sweep.flatMap(({ points }) =>
      points.map((point) =>
        [
          fixed(point.temperature_C, 2),
          plain(point.frequency_Hz, 3),
          plain(point.storageModulus_Pa / 1e6, 5),
          plain(point.lossModulus_Pa / 1e6, 5),
          plain(tanDelta(point), 4),
        ].join("\t"),
      ),
    ),
  ];
}

/** Commas, a long preamble, a row of units, and a section with its own header per frequency. */
export function commaSections(compound: DemoCompound, sweep: SweepStep[]): string[] {
  return [
    "DMA temperature sweep",
    `Sample ID,${compound.name}`,
    `Comment,"${invented}, not a real compound"`,
    "Deformation mode,Tension",
    'Specimen,"length 20.0 mm, width 5.02 mm, thickness 2.03 mm"',
    "Ramp,1 °C/min",
    ...byFrequency(sweep).flatMap((points) => [
      "",
      `Frequency,${plain(points[0].frequency_Hz, 3)} Hz`,
      "Temp,E',E'',tan delta,Static force",
      "°C,MPa,MPa,-,N",
      ...points.map((point) =>
        [
          fixed(point.temperature_C, 2),
          plain(point.storageModulus_Pa / 1e6, 5),
          plain(point.lossModulus_Pa / 1e6, 5),
          plain(tanDelta(point), 4),
          plain(0.5 + (0.4 * point.storageModulus_Pa) / 1e9, 3),
        ].join(","),
      ),
    ]),
  ];
}

/** Italian headers, semicolons, decimal commas, moduli in Pa with exponents. */
export function italianSweep(compound: DemoCompound, sweep: SweepStep[]): string[] {
  const e = (value: number) => scientific(value, 5).replace(".", ",");
  return [
    `Campione;${compound.name}`,
    "Modo di deformazione;trazione",
    "Velocità di riscaldamento;2 °C/min",
    "Nota;dati inventati",
    "",
    "Temperatura [°C];Frequenza [Hz];Modulo conservativo E' [Pa];Modulo dissipativo E'' [Pa]",
    ...sweep.flatMap(({ points }) =>
      points.map((point) =>
        [
          fixed(point.temperature_C, 2, ","),
          plain(point.frequency_Hz, 3, ","),
          e(point.storageModulus_Pa),
          e(point.lossModulus_Pa),
        ].join(";"),
      ),
    ),
  ];
}

/**
 * Aligned blanks, a section per frequency. Two readings were lost (dashes) and one ran over the range of
 * the force sensor, as happens.
 */
export function alignedSections(compound: DemoCompound, sweep: SweepStep[]): string[] {
  return [
    `sample:       ${compound.name}`,
    "mode:         tension",
    "heating rate: 1 K/min",
    `remark:       ${invented}`,
    ...byFrequency(sweep).flatMap((points, section) => [
      "",
      `frequency     ${plain(points[0].frequency_Hz, 3)} Hz`,
      aligned(["T/°C", "E'/MPa", "E''/MPa", "tan_delta"], 12),
      ...points.map((point, i) => {
        const lost = (section === 1 && i === 20) || (section === 2 && i === 61);
        const overRange = section === 0 && i === 3;
        const cells = [
          plain(point.storageModulus_Pa / 1e6, 5),
          plain(point.lossModulus_Pa / 1e6, 5),
          plain(tanDelta(point), 4),
        ];
        return aligned(
          [fixed(point.temperature_C, 2), ...cells.map((cell) => (lost ? "---" : overRange ? ">>>>" : cell))],
          12,
        );
      }),
    ]),
  ];
}

/** Storage modulus and tan δ only; semicolons with decimal points; frequency in the header line of a section. */
export function storageAndTanDelta(compound: DemoCompound, sweep: SweepStep[]): string[] {
  return [
    `Sample;${compound.name}`,
    "Mode;shear sandwich",
    `Remark;${invented}`,
    ...byFrequency(sweep).flatMap((points) => [
      "",
      `Frequency = ${plain(points[0].frequency_Hz, 3)} Hz`,
      "Temperature (K);Storage modulus G' (MPa);tan δ",
      ...points.map((point) =>
        [
          fixed(point.temperature_C + zeroCelsius_K, 2),
          plain(point.storageModulus_Pa / 1e6, 5),
          plain(tanDelta(point), 4),
        ].join(";"),
      ),
    ]),
  ];
}

/** Spanish headers, one frequency stated in the preamble only, storage modulus and tan δ, times in minutes. */
export function spanishSingleFrequency(compound: DemoCompound, sweep: SweepStep[]): string[] {
  const start_C = sweep[0].points[0].temperature_C;
  return [
    `Muestra\t${compound.name}`,
    "Modo\ttracción",
    `Frecuencia\t${plain(sweep[0].points[0].frequency_Hz, 3)} Hz`,
    "Nota\tdatos inventados",
    "",
    "Tiempo (min)\tTemperatura (°C)\tMódulo de almacenamiento E' (MPa)\ttan δ",
    ...sweep.map(({ points: [point] }) =>
      [
        fixed((point.temperature_C - start_C) / 2, 2),
        fixed(point.temperature_C, 2),
        plain(point.storageModulus_Pa / 1e6, 5),
        plain(tanDelta(point), 4),
      ].join("\t"),
    ),
  ];
}

/** The short sweeps of the filler series: commas, units in parentheses, moduli in kPa. */
export function shortSweep(compound: DemoCompound, sweep: SweepStep[]): string[] {
  return [
    `Sample,${compound.name}`,
    "Test,temperature sweep in shear",
    `Carbon black (phr),${compound.filler?.phr ?? 0}`,
    `Remark,${invented}`,
    "",
    "Temperature (°C),Frequency (Hz),G' (kPa),G'' (kPa)",
    ...sweep.flatMap(({ points }) =>
      points.map((point) =>
        [
          fixed(point.temperature_C, 2),
          plain(point.frequency_Hz, 3),
          plain(point.storageModulus_Pa / 1e3, 5),
          plain(point.lossModulus_Pa / 1e3, 5),
        ].join(","),
      ),
    ),
  ];
}

/** Units behind a stroke, the frequency a column, moduli in MPa: of the thermoplastic, up to where it softens. */
export function strokeUnits(compound: DemoCompound, sweep: SweepStep[]): string[] {
  return [
    `Compound,${compound.name}`,
    "Deformation,tension",
    `Remark,${invented}`,
    "T/°C,f/Hz,E'/MPa,E''/MPa",
    ...sweep.flatMap(({ points }) =>
      points.map((point) =>
        [
          fixed(point.temperature_C, 2),
          plain(point.frequency_Hz, 3),
          plain(point.storageModulus_Pa / 1e6, 5),
          plain(point.lossModulus_Pa / 1e6, 5),
        ].join(","),
      ),
    ),
  ];
}
