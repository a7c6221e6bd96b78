import { foldText } from "./fold-text.js";

export type Dimension =
  | "temperature"
  | "temperature rate"
  | "frequency"
  | "angular frequency"
  | "per second"
  | "time"
  | "stress"
  | "ratio"
  | "angle"
  | "length"
  | "compliance"
  | "hardness"
  | "volume"
  | "line force"
  | "density"
  | "cycles"
  | "other";

/** value in SI (°C for temperatures) = (written value + before) · 10^power · factor */
export interface Unit {
  dimension: Dimension;
  /** Added before the scale: −273.15 for K, −32 for °F. */
  before: number;
  /** Power of ten, kept apart so that "922.34 MPa" becomes exactly 922340000. */
  power: number;
  factor: number;
}

const unit = (dimension: Dimension, power = 0, factor = 1, before = 0): Unit => ({
  dimension,
  before,
  power,
  factor,
});

/** Pound-force per square inch and kilogram-force in SI: NIST Special Publication 811, Appendix B. */
const pascalPerPsi = 6894.757293168361;
const standardGravity_m_s2 = 9.80665;
const rpm = (2 * Math.PI) / 60;

/** Spellings that count as written, letter case and all, after blanks, "^" and "·" are taken out. */
const exact = new Map<string, Unit>();
/** The same in lower case, where that is not ambiguous (mHz and MHz, mPa and MPa are). */
const anyCase = new Map<string, Unit>();

function define(value: Unit, spellings: string): void {
  for (const spelling of spellings.split(" ")) {
    exact.set(spelling, value);
    const lower = spelling.toLowerCase();
    if (!anyCase.has(lower)) anyCase.set(lower, value);
  }
}

define(
  unit("temperature"),
  "°C C degC deg.C °Celsius Celsius celsius degreesC degreeC DegC GradC grdC oC grC °С град.С 摄氏度 °c ?C \ufffdC ーC",
);
define(unit("temperature", 0, 1, -273.15), "K Kelvin kelvin °K degK 开尔文");
define(unit("temperature", 0, 5 / 9, -32), "°F F degF deg.F °Fahrenheit Fahrenheit DegF 华氏度 ?F \ufffdF");
define(
  unit("temperature rate"),
  "K/min °C/min C/min degC/min Kmin-1 °Cmin-1 K/Min °C/Min K/分 °C/分 C/minute °C/minute degC/minute",
);
define(unit("temperature rate", 0, 5 / 9), "°F/min F/min degF/min");
define(unit("temperature rate", 0, 60), "K/s °C/s C/s K/sec °C/sec");
define(unit("temperature rate", 0, 1 / 60), "K/h °C/h C/h");
define(
  unit("stress", 6),
  "MPa MPA Mpa N/mm2 MN/m2 Nmm-2 N/mm² MN/m² MNm-2 megapascal Megapascal MPascal МПа Мпа Н/мм2 МН/м2 兆帕",
);
define(unit("stress"), "Pa PA pa N/m2 Nm-2 pascal Pascal pascals Па Н/м2 帕 パスカル");
define(unit("stress", 3), "kPa KPa kPA KPA kN/m2 kNm-2 kilopascal Kilopascal кПа кН/м2 千帕");
define(unit("stress", 9), "GPa GPA Gpa kN/mm2 GN/m2 kNmm-2 gigapascal Gigapascal ГПа 吉帕");
define(unit("stress", 2), "hPa mbar");
define(unit("stress", -3), "mPa");
define(unit("stress", 0, pascalPerPsi), "psi PSI lbf/in2 lb/in2 lbs/in2 lb/sqin lbf/sqin psi.");
define(unit("stress", 3, pascalPerPsi), "ksi KSI kpsi kip/in2");
define(unit("stress", 6, pascalPerPsi), "Msi Mpsi");
define(unit("stress", -1), "dyn/cm2 dyne/cm2 dynes/cm2 dyncm-2 dyn/sqcm dyn/qcm");
define(unit("stress", 4, standardGravity_m_s2), "kgf/cm2 kg/cm2 kp/cm2 kgfcm-2 кгс/см2");
define(unit("stress", 6, standardGravity_m_s2), "kgf/mm2 kp/mm2 kg/mm2");
define(unit("stress", 5), "bar");
define(unit("stress", 4), "N/cm2 Ncm-2");
define(unit("frequency"), "Hz hz HZ Hertz hertz cps c/s cycles/s cycle/s Гц 赫兹 ヘルツ");
define(unit("frequency", 3), "kHz KHz kilohertz кГц");
define(unit("frequency", 6), "MHz");
define(unit("frequency", -3), "mHz");
define(unit("frequency", 0, 1 / 60), "cpm cycles/min");
define(
  unit("angular frequency", 0, 1 / (2 * Math.PI)),
  "rad/s rad/sec rads-1 radsec-1 r/s rad.s-1 rad/second rads/s radian/s radians/s рад/с rad/秒",
);
define(unit("angular frequency", 0, rpm / (2 * Math.PI)), "rpm U/min");
define(unit("angular frequency", 0, 1 / 360), "°/s deg/s");
define(unit("per second"), "1/s s-1 sec-1 1/sec");
define(
  unit("time"),
  "s sec sec. secs second seconds Sek Sek. sek Sekunde Sekunden seconde secondes segundo segundos secondo secondi с сек сек. 秒",
);
define(
  unit("time", 0, 60),
  "min min. mins minute minutes Min Min. Minute Minuten minuto minutos minuti mn мин мин. 分 分钟 分鐘",
);
define(
  unit("time", 0, 3600),
  "h hr hrs hour hours Std Std. std Stunde Stunden heure heures hora horas ora ore 小时 時間 h.",
);
define(unit("time", -3), "ms msec");
/** Times written as on a clock; minutes and seconds, or hours, minutes and seconds. */
export const clock = unit("time");
define(clock, "hh:mm:ss h:mm:ss mm:ss hh:mm:ss.s hh:mm:ss.sss h:min:s min:s");
define(
  unit("ratio", -2),
  "% pct percent Percent Prozent %strain %rel pourcent porciento percento porcento vH v.H. 百分比 % ％",
);
define(unit("ratio", -3), "‰ permille");
define(unit("ratio"), "- 1 none dimensionless unitless ohne m/m mm/mm 1/1 -/- fraction Anteil [] .");
define(unit("ratio", -6), "μstrain microstrain με ppm");
define(
  unit("angle"),
  "° deg deg. degree degrees Grad grad degré degrés grado grados gradi grau graus 度 Deg",
);
define(unit("angle", 0, 180 / Math.PI), "rad radian radians Radiant rd 弧度 ラジアン");
define(unit("angle", -3, 180 / Math.PI), "mrad");
define(unit("length", -3), "mm мм millimetre millimeter Millimeter 毫米 ミリ");
define(unit("length", -6), "μm um micron microns micrometre micrometer 微米");
define(unit("length", -2), "cm");
define(unit("length"), "m metre meter");
define(unit("length", -9), "nm");
define(unit("length", 0, 0.0254), "in inch inches ''");
/** Of these the base is the one in which the standards give the property: mm³, kN/m, g/cm³, kilocycles. */
define(
  unit("hardness"),
  "ShoreA ShA ShA. °ShA °ShoreA Sh.A ShA° ShoreAº °SHA SHA IRHD °IRHD ShoreD ShD Shore00 Sh ShoreA(3s) SHOREA 邵A 邵氏A 邵尔A ショアA ﾃﾞｭﾛA タイプA ShoreA° pts Punkte points DuroA DurometerA A型 HA JISA JISK6253A度 ШорА ШорA ед.ШорА ед.ШорA Шор",
);
define(unit("volume"), "mm3 cmm mmc мм3");
define(unit("volume", 3), "cm3 cc ccm cmc ml mL см3");
define(unit("line force"), "kN/m N/mm kNm-1 Nmm-1 KN/m кН/м Н/мм");
define(unit("line force", -3), "N/m Nm-1");
define(unit("line force", -1), "N/cm");
define(unit("line force", 0, standardGravity_m_s2 / 10), "kgf/cm kg/cm kp/cm");
define(unit("line force", 0, standardGravity_m_s2), "kgf/mm");
define(unit("line force", 0, 0.1751268), "lbf/in lb/in ppi pli lbs/in");
define(unit("density"), "g/cm3 g/ccm g/cc g/ml g/mL gcm-3 Mg/m3 kg/dm3 t/m3 kg/l kg/L gr/cm3 г/см3");
define(unit("density", -3), "kg/m3 kgm-3 кг/м3 g/l g/L g/dm3");
define(
  unit("cycles"),
  "kc kilocycles kcycles kcy Kc kCycles kilocycle kLW kcycle 千次 ×1000cycles 1000cycles kflex",
);
define(unit("cycles", -3), "cycles cycle Zyklen Zyklus cicli ciclos flexions flexes Lastwechsel LW 次 回");
define(unit("cycles", 1), "万次 万回");
define(unit("compliance"), "1/Pa Pa-1 m2/N m2N-1");
define(unit("compliance", -3), "1/kPa kPa-1 m2/kN");
define(unit("compliance", -6), "1/MPa MPa-1 mm2/N mm2N-1 m2/MN");
define(unit("compliance", -9), "1/GPa GPa-1 mm2/kN");
define(unit("compliance", 1), "cm2/dyn cm2/dyne");
define(
  unit("other"),
  "N mN kN J mJ g mg kg V mV W A Pas Pa·s mPas kPas MPas Poise P kN/mm mm2 phr dyn gf kgf lbf Nm mNm μNm",
);

/** Letters that end ordinary words or stand for quantities: taken for a unit only inside brackets or after a slash. */
const loose = new Set([
  "C",
  "F",
  "K",
  "m",
  "h",
  "s",
  "in",
  "N",
  "A",
  "V",
  "W",
  "P",
  "J",
  "g",
  "1",
  "-",
  ".",
  "''",
  "r/s",
  "dyn",
  "grad",
  "ohne",
  "none",
  "std",
  "mn",
  "ore",
  "ora",
  "hora",
  "min",
  "Min",
  "min.",
  "Min.",
  "m/m",
  "rd",
  "pa",
  "microns",
  "fraction",
]);

/**
 * The unit a text names, or null. `strict` is for words that stand free at the end of a header, where "m"
 * or "in" is more likely a word.
 * @example readUnit("N/mm²") // { dimension: "stress", power: 6, factor: 1, before: 0 }
 */
export function readUnit(text: string, strict = false): Unit | null {
  if (text.length === 0 || text.length > 24) return null;
  const compact = compactUnit(foldText(text));
  if (compact === "") return null;
  if (strict && loose.has(compact)) return null;
  const known = exact.get(compact) ?? anyCase.get(compact.toLowerCase());
  if (known) return known;
  return powerOfTenUnit(compact);
}

function compactUnit(folded: string): string {
  if (!/[ ^·(*]/.test(folded)) return folded;
  let compact = "";
  for (const character of folded) {
    if (character === " " || character === "^" || character === "·") continue;
    compact += character;
  }
  // "N/(mm2)" and "(MPa)" say the same without their brackets.
  if (compact.includes("(")) compact = compact.replaceAll("(", "").replaceAll(")", "");
  if (compact.includes("**")) compact = compact.replaceAll("**", "");
  return compact;
}

/** "10^6 Pa", "x106Pa", "1E6 Pa": a power of ten before a unit. The caret is already gone. */
function powerOfTenUnit(compact: string): Unit | null {
  let at = 0;
  if (compact[at] === "x" || compact[at] === "*") at++;
  if (compact.startsWith("10", at)) at += 2;
  else if (compact.startsWith("1E", at) || compact.startsWith("1e", at)) at += 2;
  else if (/^[Ee]\d[A-Za-z]/.test(compact)) at++;
  else return null;
  const negative = compact[at] === "-";
  if (negative || compact[at] === "+") at++;
  const first = at;
  while (at < compact.length && compact[at] >= "0" && compact[at] <= "9") at++;
  if (at === first || at - first > 2) return null;
  const power = Number(compact.slice(first, at)) * (negative ? -1 : 1);
  let rest = compact.slice(at);
  if (rest.startsWith("*") || rest.startsWith("x")) rest = rest.slice(1);
  // "tan δ [10^-3]"; "100" is no unit.
  if (rest === "") return negative ? unit("ratio", power) : null;
  const base = exact.get(rest);
  if (base === undefined || base.before !== 0) return null;
  return { ...base, power: base.power + power };
}

/** A written value in SI, °C for temperatures. Grid of 1e-11 K: takes the noise out of 213.17 K − 273.15 K. */
export function toSI(value: number, { before, power, factor }: Unit): number {
  if (before !== 0) return Math.round((value + before) * factor * 1e11) / 1e11;
  const scaled = power === 0 ? value : scaleByPower(value, power);
  return factor === 1 ? scaled : scaled * factor;
}

/** value · 10^power as if the digits had been written so: exact where a product would round twice. */
export function scaleByPower(value: number, power: number): number {
  return Number.isFinite(value) ? Number(withExponent(value, power)) : value;
}

function withExponent(value: number, power: number): string {
  const text = String(value);
  const e = text.indexOf("e");
  return e < 0 ? `${text}e${power}` : `${text.slice(0, e)}e${Number(text.slice(e + 1)) + power}`;
}
