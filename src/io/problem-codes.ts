import type { Notice, Problem, Severity } from "../words/notice.js";

/** What each code of the reader means and what to do about it; the documentation is made from this table. */
export const readerCodes = {
  "io.empty-file": { means: "The file holds nothing, or blank lines only.", whatToDo: "Export it again." },
  "io.binary-file": {
    means: "The bytes are neither text nor a workbook.",
    whatToDo: "Export as delimited text (.csv, .txt) or as an .xlsx workbook.",
  },
  "io.picture": {
    means: "The file is a picture, whatever its name says.",
    whatToDo: "Export the numbers, not the plot.",
  },
  "io.document": {
    means: "The file is a document (PDF, web page, word processor), not a table.",
    whatToDo: "Export the numbers as delimited text or as an .xlsx workbook.",
  },
  "io.old-workbook": {
    means: "A workbook in the old binary format, or one that is encrypted.",
    whatToDo: "Open it, take off the password where it has one, and save it as .xlsx or .csv.",
  },
  "io.other-workbook": {
    means: "A spreadsheet in a format the reader does not know (.ods, .xlsb).",
    whatToDo: "Save it as .xlsx or .csv.",
  },
  "io.archive": { means: "The file is an archive.", whatToDo: "Unpack it and give the files inside." },
  "io.damaged-workbook": {
    means: "The workbook is cut short or broken.",
    whatToDo: "Copy or export it again.",
  },
  "io.workbook-too-large": {
    means: "The workbook unpacks to more than the reader takes on.",
    whatToDo: "Save the sheets with the measurements in a workbook of their own, or as .csv.",
  },
  "io.unsafe-workbook": {
    means: "The workbook's XML declares entities or is nested beyond any sheet: the marks of a hostile file.",
    whatToDo:
      "Open it in a spreadsheet program and save it as a new .xlsx, if you trust where it comes from.",
  },
  "io.no-sheets": { means: "The workbook has no sheet with cells.", whatToDo: "Export it again." },
  "io.line-too-long": {
    means: "A line is longer than any row of a table.",
    whatToDo: "Export with one row per line.",
  },
  "io.no-known-column": {
    means: "No row names columns that the reader knows.",
    whatToDo: "Name the columns in the export, or state them under `columns` in study.yaml.",
  },
  "io.no-rows": { means: "There is a header, but no row of numbers under it.", whatToDo: "Export it again." },
  "io.too-few-points": {
    means: "The table holds too few usable rows for a sweep.",
    whatToDo: "Export the whole test.",
  },
  "io.missing-modulus": {
    means: "Storage and loss modulus do not follow from the columns.",
    whatToDo:
      "Export any two of storage modulus, loss modulus, complex modulus, tan delta and phase angle (one of them a modulus).",
  },
  "io.no-frequency": {
    means: "Neither a column nor a line states the frequency.",
    whatToDo: 'Add a line such as "Frequency: 10 Hz" or a column, or state it in study.yaml.',
  },
  "io.no-temperature": {
    means: "Neither a column nor a line states the temperature.",
    whatToDo: 'Add a line such as "Temperature: 23 °C" or a column.',
  },
  "io.duplicate-quantity": {
    means: "Two columns claim the same quantity and nothing tells them apart.",
    whatToDo: 'State under `columns` in study.yaml which one to use; "ignore" the other.',
  },
  "io.unknown-unit": {
    means: "A header gives a unit that the reader does not know.",
    whatToDo: "Write a unit such as MPa, °C or Hz, or state the column under `columns` in study.yaml.",
  },
  "io.unit-does-not-fit": {
    means: "A header gives a unit that its quantity cannot have.",
    whatToDo: "Correct the header, or state the column under `columns` in study.yaml.",
  },
  "io.unit-missing": {
    means: "A column has no unit, and its values do not tell which.",
    whatToDo: "Write the unit into the header, or state it under `columns` in study.yaml.",
  },
  "io.scale-unclear": {
    means:
      "A header names a power of ten, and the values do not tell whether they are the quantity times it or over it.",
    whatToDo: "Write the unit into the header, or state the column under `columns` in study.yaml.",
  },
  "io.scale-assumed": {
    means:
      "A header names a power of ten beside its name; the numbers were taken in the one way that a rubber can have.",
    whatToDo: "Check it, or state the column under `columns` in study.yaml.",
  },
  "io.tan-delta-impossible": {
    means:
      "tan δ is what no polymer has: far above 1 in the glass, above 5 in a solid, or nowhere above 0.002.",
    whatToDo: "Check whether the headers of storage and loss modulus are swapped, and the unit of each.",
  },
  "io.displacement-sweep": {
    means: "A sweep of displacement, not of strain: the file gives no strain.",
    whatToDo: "Export the strain amplitude too.",
  },
  "io.compliance-turned": {
    means: "The columns hold a compliance; it was turned into the modulus, M* = 1/J*.",
    whatToDo: "Nothing, if that is right.",
  },
  "io.sheet-hidden": {
    means: "A sheet of the workbook is hidden and was passed over.",
    whatToDo: "Show the sheet and save the workbook, if it is to be read.",
  },
  "io.below-absolute-zero": {
    means: "A temperature lies below absolute zero.",
    whatToDo: "Check the unit of the temperature column and the row.",
  },
  "io.modulus-not-positive": {
    means: "A modulus, loss factor or phase angle is zero or negative.",
    whatToDo: "Take the row out of the export, or blank the value, if the specimen slipped or broke there.",
  },
  "io.modulus-impossible": {
    means:
      "Moduli in the stated unit are beyond what any polymer has (above 20 GPa), or all below what a soft solid has (100 Pa): the unit is wrong.",
    whatToDo:
      "Correct the unit in the export, or state the column under `columns` in study.yaml; what the study states is taken as it stands.",
  },
  "io.frequency-not-positive": {
    means: "A frequency is zero or negative.",
    whatToDo: "Correct the row or the unit.",
  },
  "io.decimal-marks-differ": {
    means: "Some numbers have a decimal comma, others a decimal point.",
    whatToDo: "Export with one decimal mark.",
  },
  "io.property-out-of-range": {
    means: "Values of a property are beyond what any rubber has; they were left out.",
    whatToDo: "Check the unit of the column.",
  },
  "io.resilience-out-of-range": {
    means: "A rebound resilience is below 0 or above 100 %.",
    whatToDo: "Check the row and the unit.",
  },
  "io.bad-override": {
    means: "A column override in study.yaml is not understood, or names a column the file does not have.",
    whatToDo: 'Write the header as the file has it, or the column\'s number, and "quantity in unit".',
  },
  "io.too-large": { means: "The file is larger than the reader takes on.", whatToDo: "Split the export." },
  "io.not-read": {
    means: "The reader failed at a place it should not: a defect in the program.",
    whatToDo: "Please report it, with the file if you may.",
  },
  "io.unit-assumed": { means: "A column states no unit; the one named was taken.", whatToDo: "Check it." },
  "io.columns-disagree": {
    means: "Redundant columns (tan delta beside both moduli) differ by more than 2 %.",
    whatToDo: "Check the export: a compliance correction or a smoothing may have touched only one of them.",
  },
  "io.rows-left-out": {
    means: "Rows without usable numbers were left out.",
    whatToDo: "See the list of skipped lines.",
  },
  "io.rebound-rows-joined": {
    means: "Rows of one rebound value each were taken for the impacts of one test.",
    whatToDo:
      "Nothing, if that is right; else add a column for the laboratory, specimen, operator or date that tells the tests apart.",
  },
  "io.decimal-mark-assumed": {
    means: "The numbers could be read with a comma or point as decimal or thousands mark; one was taken.",
    whatToDo: "Check the values; state `decimalMark` where the choice is wrong.",
  },
  "io.stated-outside-table": {
    means: "The table has no column for frequency or temperature; a line outside it states the value.",
    whatToDo: "Check that the line means the whole table.",
  },
  "io.frequency-assumed": {
    means:
      "The frequency is not stated by its name; it was taken from the words of a title, a method, a sheet's or the file's name.",
    whatToDo:
      'Check it; a line such as "Frequency: 10 Hz" or frequency_Hz for the file in study.yaml settles it.',
  },
  "io.temperature-assumed": {
    means: "The temperature is not stated by its name; it was taken from the words of a title.",
    whatToDo: 'Check it; a line such as "Temperature: 23 °C" settles it.',
  },
  "io.frequency-unstated": {
    means:
      "Nothing states the frequency of a sweep: its peaks are given, and nothing is moved or predicted from it.",
    whatToDo:
      'Add a line such as "Frequency: 10 Hz" or a column, or state frequency_Hz for the file in study.yaml.',
  },
  "io.statements-differ": {
    means: "Two lines state the frequency or the temperature of one table, and they differ.",
    whatToDo: "Take the wrong one out of the export, or state the value for the file in study.yaml.",
  },
  "io.deformation-unstated": {
    means: "The file does not say how the specimen was deformed.",
    whatToDo: "State the deformation in study.yaml.",
  },
  "io.deformation-contradicts": {
    means: "The symbol of the modulus and the stated deformation do not go together.",
    whatToDo: "Check whether the values are E or G.",
  },
  "io.file-was-split": { means: "The file mixes kinds of measurement and was split.", whatToDo: "Nothing." },
  "io.sheet-not-read": {
    means: "A sheet holds a table that could not be read.",
    whatToDo: "See the message.",
  },
  "io.sample-from-sheet": {
    means: "The sample's name was taken from the sheet's name.",
    whatToDo: "Nothing, if that is right; else state the sample in the sheet.",
  },
  "io.sample-from-title": {
    means: "Rows begin anew under a line without numbers; it was taken for the sample's name.",
    whatToDo: 'Nothing, if that is right; else write "Sample: …" above the rows.',
  },
  "io.sample-carried-down": {
    means: "Rows without a sample's name were given the one above.",
    whatToDo: "Nothing, if that is right.",
  },
  "io.set-temperature": {
    means: "Only set temperatures are given; they stand for the measured ones.",
    whatToDo: "Export the measured temperature where there is one.",
  },
  "io.heating-rate-differs": {
    means: "The stated heating rate and the one the times give differ by more than a fifth.",
    whatToDo: "Check which one is right; the stated one is used.",
  },
  "io.column-not-unique": {
    means: "A quantity stands in several columns in different form; one was used.",
    whatToDo: "Nothing, if that is right.",
  },
  "io.temperature-unstated": {
    means: "Rebound readings without a temperature.",
    whatToDo: "State it in the table.",
  },
  "io.encoding-assumed": {
    means: "The bytes are no UTF-8; the encoding named was taken from what the text says.",
    whatToDo: "Nothing, if names and units look right.",
  },
} as const satisfies Record<string, { means: string; whatToDo: string }>;

export type ReaderCode = keyof typeof readerCodes;

export function problem(code: ReaderCode, message: string, line?: number, column?: number): Problem {
  return {
    code,
    message,
    ...(line === undefined ? {} : { line }),
    ...(column === undefined ? {} : { column }),
  };
}

export function notice(severity: Severity, code: ReaderCode, message: string): Notice {
  return { severity, code, message };
}

/** Text from a file for a message: one line, short. */
export function quoted(text: string, most = 60): string {
  const line = shown(text);
  return `"${line.length > most ? `${line.slice(0, most - 1)}…` : line}"`;
}

/** A text from a file without control characters and marks that turn the writing direction, blanks single. */
export function shown(text: string): string {
  if (isPlain(text)) return text;
  let plain = "";
  for (const character of text.slice(0, 400)) plain += isUnseen(character.charCodeAt(0)) ? " " : character;
  return plain.replace(/ +/g, " ").trim();
}

/** Nothing to take out: printable ASCII, with single blanks inside only. */
function isPlain(text: string): boolean {
  if (text.length > 400) return false;
  let before = 32;
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i);
    if (code < 32 || code > 126 || (code === 32 && before === 32)) return false;
    before = code;
  }
  return before !== 32 || text === "";
}

function isUnseen(code: number): boolean {
  return (
    code < 0x20 ||
    (code >= 0x7f && code <= 0x9f) ||
    (code >= 0x2028 && code <= 0x202e) ||
    (code >= 0x2066 && code <= 0x2069)
  );
}
