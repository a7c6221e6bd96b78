import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { DynamicMeasurement } from "../../src/io/measurement.js";
import { readBytes } from "../../src/io/read-bytes.js";

/** Ways to write one and the same sweep; what is read must not depend on them. */
const layout = fc.record({
  delimiter: fc.constantFrom(";", "\t", ",", "  "),
  comma: fc.boolean(),
  thousands: fc.constantFrom("", "other mark", " ", "\u00a0", "\u202f", "'"),
  modulusUnit: fc.constantFrom(...(["Pa", "kPa", "MPa", "GPa", "N/mm²"] as const)),
  temperatureUnit: fc.constantFrom(...(["°C", "K", "°F"] as const)),
  pair: fc.constantFrom(...(["loss", "tan"] as const)),
  letter: fc.constantFrom("E", "G"),
  words: fc.constantFrom(
    "symbols",
    "English",
    "German",
    "French",
    "Spanish",
    "Italian",
    "Portuguese",
    "Chinese",
    "Japanese",
    "Turkish",
    "Hungarian",
    "Korean",
  ),
  unitPlace: fc.constantFrom("round", "square", "slash", "comma", "row"),
  frequencyPlace: fc.constantFrom("column", "preamble", "angular"),
  encoding: fc.constantFrom("utf-8", "utf-8 bom", "utf-16le bom", "utf-16be bom"),
  lineEnd: fc.constantFrom("\n", "\r\n"),
  order: fc.constantFrom("given", "reversed"),
  preamble: fc.boolean(),
  blankLine: fc.boolean(),
});

type Layout = typeof layout extends fc.Arbitrary<infer T> ? T : never;

const names: Record<
  string,
  [temperature: string, frequency: string, angular: string, storage: string, loss: string, tan: string]
> = {
  English: [
    "Temperature",
    "Frequency",
    "Angular frequency",
    "Storage modulus",
    "Loss modulus",
    "Loss factor",
  ],
  German: ["Temperatur", "Frequenz", "Kreisfrequenz", "Speichermodul", "Verlustmodul", "Verlustfaktor"],
  French: [
    "Température",
    "Fréquence",
    "Pulsation",
    "Module de conservation",
    "Module de perte",
    "Facteur de perte",
  ],
  Spanish: [
    "Temperatura",
    "Frecuencia",
    "Frecuencia angular",
    "Módulo de almacenamiento",
    "Módulo de pérdida",
    "Factor de pérdida",
  ],
  Italian: [
    "Temperatura",
    "Frequenza",
    "Pulsazione",
    "Modulo conservativo",
    "Modulo dissipativo",
    "Fattore di perdita",
  ],
  Portuguese: [
    "Temperatura",
    "Frequência",
    "Frequência angular",
    "Módulo de armazenamento",
    "Módulo de perda",
    "Fator de perda",
  ],
  Chinese: ["温度", "频率", "角频率", "储能模量", "损耗模量", "损耗因子"],
  Turkish: ["Sıcaklık", "Frekans", "Açısal frekans", "Depolama modülü", "Kayıp modülü", "Kayıp faktörü"],
  Hungarian: [
    "Hőmérséklet",
    "Frekvencia",
    "Körfrekvencia",
    "Tárolási modulus",
    "Veszteségi modulus",
    "Veszteségi tényező",
  ],
  Korean: ["온도", "주파수", "각주파수", "저장 탄성률", "손실 탄성률", "손실계수"],
  Japanese: ["温度", "周波数", "角周波数", "貯蔵弾性率", "損失弾性率", "損失正接"],
};

const powers = { Pa: 0, kPa: 3, MPa: 6, GPa: 9, "N/mm²": 6 };
const points = Array.from({ length: 12 }, (_, i) => ({
  temperature_C: -60 + 7.5 * i,
  storageModulus_Pa: Math.round(2.3456789e9 * Math.exp(-0.6 * i)),
  lossModulus_Pa: Math.round(1.23456e8 * Math.exp(-0.4 * i)),
}));

/** Decimal digits shifted, so that the printed number is exact. */
function shifted(value: number, power: number): string {
  const digits = String(value).padStart(power + 1, "0");
  return power === 0 ? digits : `${digits.slice(0, -power)}.${digits.slice(-power)}`;
}

function written(plain: string, { comma, thousands, delimiter }: Layout): string {
  const [whole, fraction] = plain.split(".");
  const mark = comma ? "," : ".";
  const other = comma ? "." : ",";
  let group = thousands === "other mark" ? other : thousands;
  if (delimiter === "  " && /\s/.test(group)) group = "";
  const grouped = group === "" ? whole : whole.replace(/\B(?=(\d{3})+(?!\d))/g, group);
  const text = fraction === undefined ? grouped : `${grouped}${mark}${fraction}`;
  return delimiter !== "  " && text.includes(delimiter) ? `"${text}"` : text;
}

function fileOf(choice: Layout): { bytes: Uint8Array; frequency_Hz: number } {
  const { words, letter, pair, modulusUnit, temperatureUnit, frequencyPlace, unitPlace, delimiter } = choice;
  const symbolNames = ["T", "f", "ω", `${letter}′`, `${letter}″`, "tan δ"];
  const [temperature, frequency, angular, storage, loss, tan] =
    words === "symbols" ? symbolNames : names[words];
  const columns: { name: string; unit: string; cell: (i: number) => string }[] = [
    {
      name: temperature,
      unit: temperatureUnit,
      cell: (i) => inUnit(points[i].temperature_C, temperatureUnit),
    },
    {
      name: storage,
      unit: modulusUnit,
      cell: (i) => shifted(points[i].storageModulus_Pa, powers[modulusUnit]),
    },
    pair === "loss"
      ? { name: loss, unit: modulusUnit, cell: (i) => shifted(points[i].lossModulus_Pa, powers[modulusUnit]) }
      : {
          name: tan,
          unit: "-",
          cell: (i) => (points[i].lossModulus_Pa / points[i].storageModulus_Pa).toFixed(6),
        },
  ];
  if (frequencyPlace === "column") columns.push({ name: frequency, unit: "Hz", cell: () => "12.5" });
  if (frequencyPlace === "angular") columns.push({ name: angular, unit: "rad/s", cell: () => "62.5" });
  if (choice.order === "reversed") columns.reverse();
  const header = columns.map(({ name, unit }) => headed(name, unit, unitPlace, delimiter));
  const lines = [
    ...(choice.preamble ? ["Report 12 of the winter trial"] : []),
    ...(frequencyPlace === "preamble" ? [`Frequency: ${choice.comma ? "12,5" : "12.5"} Hz`] : []),
    ...(choice.blankLine ? [""] : []),
    header.join(delimiter),
    ...(unitPlace === "row" ? [columns.map(({ unit }) => unit).join(delimiter)] : []),
    ...points.map((_, i) => columns.map(({ cell }) => written(cell(i), choice)).join(delimiter)),
  ];
  const text = lines.join(choice.lineEnd);
  return {
    bytes: encoded(text, choice.encoding),
    frequency_Hz: frequencyPlace === "angular" ? 62.5 / (2 * Math.PI) : 12.5,
  };
}

function inUnit(celsius: number, unit: Layout["temperatureUnit"]): string {
  if (unit === "K") return (celsius + 273.15).toFixed(2);
  return unit === "°F" ? (celsius * 1.8 + 32).toFixed(1) : celsius.toFixed(1);
}

function headed(name: string, unit: string, place: string, delimiter: string): string {
  if (place === "row") return name;
  if (place === "square") return `${name} [${unit}]`;
  if (place === "slash" && unit !== "-") return `${name}/${unit}`;
  if (place === "comma" && unit !== "-") return delimiter === "," ? `"${name}, ${unit}"` : `${name}, ${unit}`;
  return `${name} (${unit})`;
}

function encoded(text: string, encoding: string): Uint8Array {
  if (encoding === "utf-8") return new TextEncoder().encode(text);
  if (encoding === "utf-8 bom") return new TextEncoder().encode(`\ufeff${text}`);
  const view = new DataView(new ArrayBuffer(2 * text.length + 2));
  [...`\ufeff${text}`].forEach((character, i) => {
    view.setUint16(2 * i, character.charCodeAt(0), encoding.startsWith("utf-16le"));
  });
  return new Uint8Array(view.buffer);
}

/** Commas cannot part cells and decimals both unless cells are quoted; `written` quotes them. */
describe("one sweep in many layouts", () => {
  it("is read alike, to the last printed digit", async () => {
    await fc.assert(
      fc.asyncProperty(layout, async (choice) => {
        const { bytes, frequency_Hz } = fileOf(choice);
        const outcome = await readBytes(bytes, "invented.csv");
        if (!outcome.ok)
          throw new Error(`${JSON.stringify(outcome.problem)}\n${new TextDecoder().decode(bytes)}`);
        expect(outcome.value.measurements.length).toBe(1);
        const one = outcome.value.measurements[0] as DynamicMeasurement;
        expect(one.kind).toBe("temperature sweep");
        expect(one.temperature_C.length).toBe(points.length);
        points.forEach(({ temperature_C, storageModulus_Pa, lossModulus_Pa }, i) => {
          expect(one.temperature_C[i]).toBeCloseTo(temperature_C, 10);
          expect(one.frequency_Hz[i]).toBeCloseTo(frequency_Hz, 12);
          expect(one.storageModulus_Pa[i]).toBe(storageModulus_Pa);
          const expected =
            choice.pair === "loss"
              ? lossModulus_Pa
              : storageModulus_Pa * Number((lossModulus_Pa / storageModulus_Pa).toFixed(6));
          expect(Math.abs(one.lossModulus_Pa[i] / expected - 1)).toBeLessThan(1e-14);
        });
      }),
      { seed: 7, numRuns: 400 },
    );
  });
});
