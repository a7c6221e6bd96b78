import { describe, expect, it } from "vitest";
import { readBytes } from "../../src/io/read-bytes.js";
import { readHeader } from "../../src/io/vocabulary/read-header.js";

/** Terms of standards and textbooks in Turkish, Hungarian and Korean, from memory. */
describe("headers in Turkish, Hungarian and Korean", () => {
  it.each([
    ["Sıcaklık (°C)", "temperature"],
    ["SICAKLIK [°C]", "temperature"],
    ["Numune sıcaklığı (°C)", "temperature"],
    ["Frekans (Hz)", "frequency"],
    ["FREKANS (Hz)", "frequency"],
    ["Açısal frekans (rad/s)", "angular frequency"],
    ["Süre (s)", "time"],
    ["Depolama modülü (MPa)", "storage modulus"],
    ["DEPOLAMA MODÜLÜ E' (MPa)", "storage modulus"],
    ["Kayıp modülü E'' (MPa)", "loss modulus"],
    ["KAYIP MODÜLÜ (MPa)", "loss modulus"],
    ["Kayıp faktörü tan δ", "tan delta"],
    ["Faz açısı (°)", "phase angle"],
    ["Gerinim (%)", "strain amplitude"],
    ["Geri sıçrama (%)", "rebound resilience"],
    ["Numune adı", "sample"],
    ["Karışım", "sample"],
    ["Malzeme", "name"],
    ["Hőmérséklet (°C)", "temperature"],
    ["HŐMÉRSÉKLET [°C]", "temperature"],
    ["Frekvencia (Hz)", "frequency"],
    ["Körfrekvencia (rad/s)", "angular frequency"],
    ["Idő (s)", "time"],
    ["Tárolási modulus E' (MPa)", "storage modulus"],
    ["Veszteségi modulusz (MPa)", "loss modulus"],
    ["Veszteségi tényező", "tan delta"],
    ["Fázisszög (°)", "phase angle"],
    ["Alakváltozás (%)", "strain amplitude"],
    ["Visszapattanási rugalmasság (%)", "rebound resilience"],
    ["Minta neve", "sample"],
    ["Keverék", "sample"],
    ["Anyag", "name"],
    ["온도 (°C)", "temperature"],
    ["시료 온도(℃)", "temperature"],
    ["설정 온도 (°C)", "set temperature"],
    ["주파수 (Hz)", "frequency"],
    ["각주파수 (rad/s)", "angular frequency"],
    ["시간 (s)", "time"],
    ["저장 탄성률 E' (MPa)", "storage modulus"],
    ["저장탄성률(MPa)", "storage modulus"],
    ["손실탄성률 (MPa)", "loss modulus"],
    ["손실계수 (tan δ)", "tan delta"],
    ["위상각 (°)", "phase angle"],
    ["변형률 (%)", "strain amplitude"],
    ["반발탄성 (%)", "rebound resilience"],
    ["시료명", "sample"],
    ["재료", "name"],
  ])("%s", (header, quantity) => {
    expect(readHeader(header)).toMatchObject({ quantity, certain: true });
  });

  it.each(["Standart sapma geri sıçrama (%)", "Visszapattanás szórás (%)", "반발탄성 표준편차 (%)"])(
    "%s is a scatter and no rebound",
    (header) => {
      expect(readHeader(header).quantity).not.toBe("rebound resilience");
    },
  );

  it.each(["Geri sıçrama ortalama (%)", "Visszapattanás átlag (%)", "반발탄성 평균 (%)"])(
    "%s is a mean",
    (header) => {
      expect(readHeader(header)).toMatchObject({ quantity: "rebound resilience", mean: true });
    },
  );
});

/** Bytes of letters outside ASCII, by the code pages' tables; Korean by KS X 1001. */
const turkish: Record<string, number> = {
  ı: 0xfd,
  ğ: 0xf0,
  ş: 0xfe,
  İ: 0xdd,
  ç: 0xe7,
  ü: 0xfc,
  ö: 0xf6,
  "°": 0xb0,
};
const hungarian: Record<string, number> = { ő: 0xf5, ű: 0xfb, é: 0xe9, á: 0xe1, ó: 0xf3, ö: 0xf6, "°": 0xb0 };
const oneByte = (text: string, table: Record<string, number>) =>
  Uint8Array.from(text, (letter) => {
    const byte = table[letter] ?? letter.charCodeAt(0);
    if (byte > 0xff) throw new Error(letter);
    return byte;
  });
const korean: Record<string, number[]> = {
  시: [0xbd, 0xc3],
  료: [0xb7, 0xe1],
  명: [0xb8, 0xed],
  온: [0xbf, 0xc2],
  도: [0xb5, 0xb5],
  주: [0xc1, 0xd6],
  파: [0xc6, 0xc4],
  수: [0xbc, 0xf6],
  "℃": [0xa1, 0xc9],
};
const rows = "-40;10;1500;90\n-30;10;800;160\n-20;10;200;120\n-10;10;60;30\n";

describe("their one-byte and Korean encodings", () => {
  it.each<[string, string, Uint8Array]>([
    [
      "Windows-1254",
      "Kayın ağacı",
      oneByte(
        `Numune adı: Kayın ağacı\nSıcaklık (°C);Frekans (Hz);Depolama modülü (MPa);Kayıp modülü (MPa)\n${rows}`,
        turkish,
      ),
    ],
    [
      "Windows-1250",
      "Fenyő",
      oneByte(
        `Minta neve: Fenyő\nHőmérséklet (°C);Frekvencia (Hz);Tárolási modulus (MPa);Veszteségi modulus (MPa)\n${rows}`,
        hungarian,
      ),
    ],
    [
      "EUC-KR",
      "시도",
      Uint8Array.from(
        [...`시료명: 시도\n시료 온도(℃);주파수(Hz);E' (MPa);E'' (MPa)\n${rows}`].flatMap(
          (letter) => korean[letter] ?? [letter.charCodeAt(0)],
        ),
      ),
    ],
  ])("%s", async (encoding, sample, bytes) => {
    const outcome = await readBytes(bytes, "invented.csv");
    if (!outcome.ok) throw new Error(outcome.problem.message);
    expect(outcome.value.encoding).toBe(encoding);
    expect(outcome.value.notices.map(({ code }) => code)).toContain("io.encoding-assumed");
    const [sweep] = outcome.value.measurements;
    if (sweep.kind === "rebound") throw new Error("rebound");
    expect(sweep.sample).toBe(sample);
    expect([...sweep.temperature_C]).toEqual([-40, -30, -20, -10]);
    expect([...sweep.storageModulus_Pa]).toEqual([1500e6, 800e6, 200e6, 60e6]);
    expect([...sweep.lossModulus_Pa]).toEqual([90e6, 160e6, 120e6, 30e6]);
  });
});
