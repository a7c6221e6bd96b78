import type { CodeMeaning } from "../notice.js";

/** What each code of the reader means and what to do about it; the documentation is made from this table. */
export const readerCodes = {
  "io.empty-file": {
    severity: "error",
    means: "The file holds nothing, or blank lines only.",
    whatToDo: "Export it again.",
  },
  "io.binary-file": {
    severity: "error",
    means: "The bytes are neither text nor a workbook.",
    whatToDo: "Export as delimited text (.csv, .txt) or as an .xlsx workbook.",
  },
  "io.picture": {
    severity: "error",
    means: "The file is a picture, whatever its name says.",
    whatToDo: "Export the numbers, not the plot.",
  },
  "io.document": {
    severity: "error",
    means: "The file is a document (PDF, web page, word processor), not a table.",
    whatToDo: "Export the numbers as delimited text or as an .xlsx workbook.",
  },
  "io.old-workbook": {
    severity: "error",
    means: "A workbook in the old binary format, or one that is encrypted.",
    whatToDo: "Open it, take off the password where it has one, and save it as .xlsx or .csv.",
  },
  "io.other-workbook": {
    severity: "error",
    means: "A spreadsheet in a format the reader does not know (.ods, .xlsb).",
    whatToDo: "Save it as .xlsx or .csv.",
  },
  "io.archive": {
    severity: "error",
    means: "The file is an archive.",
    whatToDo: "Unpack it and give the files inside.",
  },
  "io.damaged-workbook": {
    severity: "error",
    means: "The workbook is cut short or broken.",
    whatToDo: "Copy or export it again.",
  },
  "io.workbook-too-large": {
    severity: "error",
    means: "The workbook unpacks to more than the reader takes on.",
    whatToDo: "Save the sheets with the measurements in a workbook of their own, or as .csv.",
  },
  "io.unsafe-workbook": {
    severity: "error",
    means: "The workbook's XML declares entities or is nested beyond any sheet: the marks of a hostile file.",
    whatToDo:
      "Open it in a spreadsheet program and save it as a new .xlsx, if you trust where it comes from.",
  },
  "io.no-sheets": {
    severity: "error",
    means: "The workbook has no sheet with cells.",
    whatToDo: "Export it again.",
  },
  "io.line-too-long": {
    severity: "error",
    means: "A line is longer than any row of a table.",
    whatToDo: "Export with one row per line.",
  },
  "io.no-known-column": {
    severity: "error",
    means: "No row names columns that the reader knows.",
    whatToDo: "Name the columns in the export, or state them under `columns` in study.yaml.",
  },
  "io.no-rows": {
    severity: "error",
    means: "There is a header, but no row of numbers under it.",
    whatToDo: "Export it again.",
  },
  "io.too-few-points": {
    severity: "error",
    means: "The table holds too few usable rows for a sweep.",
    whatToDo: "Export the whole test.",
  },
  "io.missing-modulus": {
    severity: "error",
    means: "Storage and loss modulus do not follow from the columns.",
    whatToDo:
      "Export any two of storage modulus, loss modulus, complex modulus, tan delta and phase angle (one of them a modulus).",
  },
  "io.no-frequency": {
    severity: "error",
    means: "Neither a column nor a line states the frequency.",
    whatToDo: 'Add a line such as "Frequency: 10 Hz" or a column, or state it in study.yaml.',
  },
  "io.no-temperature": {
    severity: "error",
    means: "Neither a column nor a line states the temperature.",
    whatToDo: 'Add a line such as "Temperature: 23 °C" or a column.',
  },
  "io.duplicate-quantity": {
    severity: "error",
    means: "Two columns claim the same quantity and nothing tells them apart.",
    whatToDo: 'State under `columns` in study.yaml which one to use; "ignore" the other.',
  },
  "io.unknown-unit": {
    severity: "error",
    means: "A header gives a unit that the reader does not know.",
    whatToDo: "Write a unit such as MPa, °C or Hz, or state the column under `columns` in study.yaml.",
  },
  "io.unit-does-not-fit": {
    severity: "error",
    means: "A header gives a unit that its quantity cannot have.",
    whatToDo: "Correct the header, or state the column under `columns` in study.yaml.",
  },
  "io.unit-missing": {
    severity: "error",
    means: "A column has no unit, and its values do not tell which.",
    whatToDo: "Write the unit into the header, or state it under `columns` in study.yaml.",
  },
  "io.scale-unclear": {
    severity: "error",
    means:
      "A header names a power of ten, and the values do not tell whether they are the quantity times it or over it.",
    whatToDo: "Write the unit into the header, or state the column under `columns` in study.yaml.",
  },
  "io.scale-assumed": {
    severity: "caution",
    means:
      "A header names a power of ten beside its name; the numbers were taken in the one way that a rubber can have.",
    whatToDo: "Check it, or state the column under `columns` in study.yaml.",
  },
  "io.tan-delta-impossible": {
    severity: "error",
    means:
      "tan δ is what no polymer has: far above 1 in the glass, above 5 in a solid, or nowhere above 0.002.",
    whatToDo: "Check whether the headers of storage and loss modulus are swapped, and the unit of each.",
  },
  "io.displacement-sweep": {
    severity: "caution",
    means: "A sweep of displacement, not of strain: the file gives no strain.",
    whatToDo: "Export the strain amplitude too.",
  },
  "io.compliance-turned": {
    severity: "info",
    means: "The columns hold a compliance; it was turned into the modulus, M* = 1/J*.",
    whatToDo: "Nothing, if that is right.",
    told: "step",
  },
  "io.give-taken-off": {
    severity: "info",
    means:
      "The give of the machine and its clamps was taken off the moduli, as the study states it (rigidReading_MPa).",
    whatToDo: "Nothing, if the rigid bar had the specimen's size and was deformed in its mode.",
    told: "step",
  },
  "io.beyond-rigid-reading": {
    severity: "error",
    means: "A modulus reads as much as a rigid bar would, by the rigidReading_MPa that the study states.",
    whatToDo: "Measure the bar at the specimen's size and in its mode, or correct the study.",
  },
  "io.sheet-hidden": {
    severity: "caution",
    means: "A sheet of the workbook is hidden and was passed over.",
    whatToDo: "Show the sheet and save the workbook, if it is to be read.",
  },
  "io.master-curve-taken": {
    severity: "caution",
    means:
      "The frequencies are reduced ones: rows that the exporter superposed, read as a frequency sweep at their reference temperature.",
    whatToDo:
      "Export the frequency sweeps as measured, with their temperatures, to have the superposition checked.",
  },
  "io.no-reference-temperature": {
    severity: "error",
    means:
      "A table has a reduced frequency, and nothing states the reference temperature of the superposition.",
    whatToDo:
      'Add a line such as "Reference temperature: 20 °C", state `temperature_C` in study.yaml, or export the sweeps as measured.',
  },
  "io.below-absolute-zero": {
    severity: "error",
    means: "A temperature lies below absolute zero.",
    whatToDo: "Check the unit of the temperature column and the row.",
  },
  "io.modulus-not-positive": {
    severity: "error",
    means: "A modulus, loss factor or phase angle is zero or negative.",
    whatToDo: "Take the row out of the export, or blank the value, if the specimen slipped or broke there.",
  },
  "io.modulus-impossible": {
    severity: "error",
    means:
      "Moduli in the stated unit are beyond what any polymer has (above 20 GPa), or all below what a soft solid has (100 Pa): the unit is wrong.",
    whatToDo:
      "Correct the unit in the export, or state the column under `columns` in study.yaml; what the study states is taken as it stands.",
  },
  "io.frequency-not-positive": {
    severity: "error",
    means: "A frequency is zero or negative.",
    whatToDo: "Correct the row or the unit.",
  },
  "io.decimal-marks-differ": {
    severity: "error",
    means: "Some numbers have a decimal comma, others a decimal point.",
    whatToDo: "Export with one decimal mark.",
  },
  "io.property-out-of-range": {
    severity: "caution",
    means: "Values of a property are beyond what any rubber has; they were left out.",
    whatToDo: "Check the unit of the column.",
  },
  "io.resilience-out-of-range": {
    severity: "error",
    means: "Half of the rebound values or more, or half of one column's, are below 0 or above 100 %.",
    whatToDo: "Check the column, its unit and the row named.",
  },
  "io.rebound-left-out": {
    severity: "caution",
    means: "Rows whose rebound is below 0 or above 100 % were left out.",
    whatToDo: "Correct them in the export.",
  },
  "io.bad-override": {
    severity: "error",
    means: "A column override in study.yaml is not understood, or names a column the file does not have.",
    whatToDo: 'Write the header as the file has it, or the column\'s number, and "quantity in unit".',
  },
  "io.too-large": {
    severity: "error",
    means: "The file is larger than the reader takes on.",
    whatToDo: "Split the export.",
  },
  "io.not-read": {
    severity: "error",
    means: "The reader failed at a place it should not: a defect in the program.",
    whatToDo: "Please report it, with the file if you may.",
  },
  "io.column-unit-unknown": {
    severity: "caution",
    means: "A column that is not needed has a unit that is not known; it was not used.",
    whatToDo: "Nothing where the column does not matter; else state its unit in `columns`.",
  },
  "io.column-without-unit": {
    severity: "info",
    means: "A column that is not needed states no unit; it was not used.",
    whatToDo: "Nothing where the column does not matter; else state its unit in `columns`.",
    told: "step",
  },
  "io.unit-assumed": {
    severity: "caution",
    means: "A column states no unit; the one named was taken.",
    whatToDo: "Check it.",
  },
  "io.columns-disagree": {
    severity: "caution",
    means: "Redundant columns (tan delta beside both moduli) differ by more than 2 %.",
    whatToDo: "Check the export: a compliance correction or a smoothing may have touched only one of them.",
  },
  "io.rows-left-out": {
    severity: "info",
    means: "Rows without usable numbers were left out.",
    whatToDo: "See the list of skipped lines.",
  },
  "io.rebound-rows-joined": {
    severity: "info",
    means: "Rows of one rebound value each were taken for the impacts of one test.",
    whatToDo:
      "Nothing, if that is right; else add a column for the laboratory, specimen, operator or date that tells the tests apart.",
    told: "step",
  },
  "io.decimal-mark-assumed": {
    severity: "caution",
    means: "The numbers could be read with a comma or point as decimal or thousands mark; one was taken.",
    whatToDo: "Check the values; state `decimalMark` where the choice is wrong.",
  },
  "io.stated-outside-table": {
    severity: "info",
    means: "The table has no column for frequency or temperature; a line outside it states the value.",
    whatToDo: "Check that the line means the whole table.",
    told: "step",
  },
  "io.frequency-assumed": {
    severity: "caution",
    means:
      "The frequency is not stated by its name; it was taken from the words of a title, a method, a sheet's or the file's name.",
    whatToDo:
      'Check it; a line such as "Frequency: 10 Hz" or frequency_Hz for the file in study.yaml settles it.',
  },
  "io.temperature-assumed": {
    severity: "caution",
    means: "The temperature is not stated by its name; it was taken from the words of a title.",
    whatToDo: 'Check it; a line such as "Temperature: 23 °C" settles it.',
  },
  "io.frequency-unstated": {
    severity: "caution",
    means:
      "Nothing states the frequency of a sweep: its peaks are given, and nothing is moved or predicted from it.",
    whatToDo:
      'Add a line such as "Frequency: 10 Hz" or a column, or state frequency_Hz for the file in study.yaml.',
  },
  "io.samples-differ": {
    severity: "error",
    means:
      "Lines before one table name several samples, with a letter each, and nothing says whose the rows are.",
    whatToDo: "Add a column with the sample's name, or state sample for the file in study.yaml.",
  },
  "io.statements-differ": {
    severity: "error",
    means: "Two lines state the frequency or the temperature of one table, and they differ.",
    whatToDo: "Take the wrong one out of the export, or state the value for the file in study.yaml.",
  },
  "io.deformation-unstated": {
    severity: "info",
    means: "The file does not say how the specimen was deformed.",
    whatToDo: "State the deformation in study.yaml.",
  },
  "io.deformation-contradicts": {
    severity: "caution",
    means: "The symbol of the modulus and the stated deformation do not go together.",
    whatToDo: "Check whether the values are E or G.",
  },
  "io.glass-when-hot": {
    severity: "caution",
    means:
      "At more than 100 °C, as the column's unit says, the storage modulus is that of a glass; no rubber is one there.",
    whatToDo:
      "If the temperatures are kelvin, correct the unit or state it in study.yaml. Nothing, if it is no rubber.",
  },
  "io.rebound-below-one-percent": {
    severity: "caution",
    means: "A rebound column in % holds no value above 1 %: they may be fractions.",
    whatToDo: "Correct the unit, or state in study.yaml that the column holds fractions.",
  },
  "io.rows-unordered": {
    severity: "caution",
    means:
      "The rows of a sweep stand in no order of temperature, as a table sorted by something else does; they were taken for one sweep.",
    whatToDo: "Sort them by time, or part several runs by a blank line or a column that names the run.",
  },
  "io.file-was-split": {
    severity: "info",
    means: "The file mixes kinds of measurement and was split.",
    whatToDo: "Nothing.",
    told: "step",
  },
  "io.sheet-not-read": {
    severity: "error",
    means: "A sheet holds a table that could not be read.",
    whatToDo: "See the message.",
  },
  "io.sample-from-sheet": {
    severity: "info",
    means: "The sample's name was taken from the sheet's name.",
    whatToDo: "Nothing, if that is right; else state the sample in the sheet.",
    told: "step",
  },
  "io.sample-from-title": {
    severity: "info",
    means: "Rows begin anew under a line without numbers; it was taken for the sample's name.",
    whatToDo: 'Nothing, if that is right; else write "Sample: …" above the rows.',
    told: "step",
  },
  "io.rebound-columns-joined": {
    severity: "caution",
    means: "Columns of rebound under unlike names were taken for the impacts of one test.",
    whatToDo:
      'Nothing, if they are; else state "ignore" for all but one, or write the tests below each other with a column for the method.',
  },
  "io.sample-column-assumed": {
    severity: "caution",
    means:
      "No header says which column names the samples; the first column of words in front of the values was taken.",
    whatToDo:
      'Nothing, if that is right; else state "ignore" for the column, and "sample" for the right one.',
  },
  "io.rows-pooled": {
    severity: "caution",
    means:
      "Rows of a table of properties have no sample's name, and were taken as the repeats of one sample.",
    whatToDo: 'If they are of several, state which column names them as "sample" in the study.',
  },
  "io.cell-not-one-number": {
    severity: "caution",
    means: "A cell holds a range, a limit or several numbers where one value is expected, and was left out.",
    whatToDo: "Write one value per cell, and repeats in rows or columns of their own.",
  },
  "io.modulus-completed": {
    severity: "caution",
    means:
      "A cell of a modulus, of tan δ or of the phase angle holds no usable number; the row's moduli were taken from its other cells.",
    whatToDo: "Nothing, if the row is right otherwise; else mend the cell, or take the row out.",
  },
  "io.sample-carried-down": {
    severity: "info",
    means: "Rows without a sample's name were given the one above.",
    whatToDo: "Nothing, if that is right.",
    told: "step",
  },
  "io.set-temperature": {
    severity: "caution",
    means: "Only set temperatures are given; they stand for the measured ones.",
    whatToDo: "Export the measured temperature where there is one.",
  },
  "io.heating-rate-differs": {
    severity: "caution",
    means: "The stated heating rate and the one the times give differ by more than a fifth.",
    whatToDo: "Check which one is right; the stated one is used.",
  },
  "io.column-not-unique": {
    severity: "info",
    means: "A quantity stands in several columns in different form; one was used.",
    whatToDo: "Nothing, if that is right.",
    told: "step",
  },
  "io.temperature-unstated": {
    severity: "caution",
    means: "Rebound readings without a temperature.",
    whatToDo: "State it in the table.",
  },
  "io.encoding-assumed": {
    severity: "info",
    means: "The bytes are no UTF-8; the encoding named was taken from what the text says.",
    whatToDo: "Nothing, if names and units look right.",
    told: "step",
  },
} as const satisfies Record<string, CodeMeaning>;
