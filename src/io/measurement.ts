import type { Notice } from "../words/notice.js";

/** How the specimen was deformed. It stays with the data: G is never turned into E on the way in. */
export type Deformation = "shear" | "tension" | "bending" | "compression" | "unstated";

export type Direction = "heating" | "cooling";

/** What a column was taken for, so that a reader of the report can question it. */
export interface ColumnMeaning {
  /** The header as the file writes it. */
  header: string;
  /** 1-based position in the table. */
  column: number;
  /** The quantity in plain words, such as "storage modulus", or "not used". */
  quantity: string;
  /** The unit the values were read in, as the file writes it, or the one assumed. */
  unit: string;
  /** True where the file states no unit and one was assumed. */
  unitAssumed: boolean;
}

/** Where the numbers of a measurement stand. Lines count from 1 and include the last one. */
export interface Provenance {
  file: string;
  sheet: string | null;
  section: string | null;
  firstLine: number;
  lastLine: number;
  columns: ColumnMeaning[];
}

/**
 * Complex modulus against temperature, frequency or strain, for one specimen in one deformation mode.
 * All arrays have one length; rows stand in the order in which they were measured.
 */
export interface DynamicMeasurement {
  kind: "temperature sweep" | "frequency sweep" | "strain sweep";
  /** The sample's own name as the file gives it. */
  sample: string | null;
  /** All ways in which the file writes the sample's name, where one of them holds what is not seen, such as a tab. */
  spellings?: string[];
  deformation: Deformation;
  /** For a temperature sweep; null elsewhere and where the data do not tell. */
  direction: Direction | null;
  temperature_C: Float64Array;
  /** NaN throughout where the file states none and the caller asked for such sweeps. */
  frequency_Hz: Float64Array;
  storageModulus_Pa: Float64Array;
  lossModulus_Pa: Float64Array;
  /** Strain amplitude as a fraction (0.001 is 0.1 %), where the file gives it. */
  strainAmplitude: Float64Array | null;
  time_s: Float64Array | null;
  /** The rate the file states or its times give. */
  heatingRate_K_min: number | null;
  provenance: Provenance;
}

export interface ReboundImpacts {
  /** NaN where the file states none. */
  temperature_C: number;
  /** Energy returned, h_rebound / h_drop, one value per impact in the order of the impacts. */
  fractions: number[];
  line: number;
  /** The laboratory as the file states it; absent or null where it does not. */
  laboratory?: string | null;
}

/** Rebound resilience of one sample by one method. */
export interface ReboundMeasurement {
  kind: "rebound";
  sample: string | null;
  /** All ways in which the file writes the sample's name, where one of them holds what is not seen, such as a tab. */
  spellings?: string[];
  /** The method as the file states it ("ISO 4662 pendulum"), or null. */
  method: string | null;
  readings: ReboundImpacts[];
  provenance: Provenance;
}

/** Durability and routine properties as the trade's standards give them, with the unit they have in results. */
export const propertyUnits = {
  hardness: "Shore A",
  "abrasion loss": "mm³",
  "abrasion resistance index": "%",
  "tensile strength": "MPa",
  "elongation at break": "%",
  "stress at 50 %": "MPa",
  "stress at 100 %": "MPa",
  "stress at 200 %": "MPa",
  "stress at 300 %": "MPa",
  "tear strength": "kN/m",
  "compression set": "%",
  density: "g/cm³",
  "flex cracking": "kilocycles",
} as const;

export type PropertyName = keyof typeof propertyUnits;

/** A durability or routine property of one sample by one method, as measured; nothing is predicted from it. */
export interface PropertyMeasurement {
  property: PropertyName;
  /** "Shore A", "IRHD", "mm³", "%", "MPa", "kN/m", "g/cm³" or "kilocycles". */
  unit: string;
  sample: string | null;
  /** All ways in which the file writes the sample's name, where one of them holds what is not seen, such as a tab. */
  spellings?: string[];
  /** The method as the file states it, or null; values of different methods stand in measurements of their own. */
  method: string | null;
  /** One value per repeat, in `unit`, in the order of the file. */
  values: number[];
  /** Line of each value. */
  lines: number[];
  /** True where the values are means that the file gives in place of single ones. */
  areMeans: boolean;
  provenance: Provenance;
}

export type Measurement = DynamicMeasurement | ReboundMeasurement;

/** A line or block that was passed over, and why. */
export interface Skipped {
  line: number;
  text: string;
  why: string;
}

/** A fact that a line outside the tables states, or a value in it that is not the test's and was passed over. */
export interface StatedLine {
  line: number;
  sheet: string | null;
  /** "frequency", "sample", "deformation" …; null where it was passed over. */
  fact: string | null;
  /** As it was understood: "10 Hz"; as the file writes it where it was passed over. */
  value: string;
  /** Why it was passed over, or how it was said where not by its name; null where there is nothing to add. */
  why: string | null;
}

/** All that was got from one file, and how it was read. */
export interface FileContent {
  measurements: Measurement[];
  /** Hardness, abrasion, tear, tensile and their like; often in sheets that hold no measurement. */
  properties: PropertyMeasurement[];
  /** In the order of the file; the first few hundred. */
  stated: StatedLine[];
  notices: Notice[];
  skipped: Skipped[];
  /** In plain words: "UTF-16 LE", "Windows-1252", "workbook". */
  encoding: string;
  /** In plain words: "semicolon", "tab", "aligned blanks", "workbook cells". */
  delimiter: string;
  decimalMark: "." | "," | null;
}
