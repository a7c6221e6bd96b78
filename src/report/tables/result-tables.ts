import type { Assessment } from "../assessment.js";
import { flagCodes } from "../doubts.js";
import type { Cell, Table } from "./csv.js";
import { decisionTable, propertiesTable } from "./decision-tables.js";
import { fillerChangesTable } from "./filler-changes-table.js";
import { masterCurveTable } from "./master-curve-table.js";
import { spectrumTable } from "./spectrum-table.js";

/** All tables of an assessment, one file each. Columns carry their units in their names. */
export function resultTables(assessment: Assessment): Table[] {
  const { compounds, inputs, cautions, notices, verdictBorders } = assessment.results;
  return [
    {
      name: "outlooks.csv",
      header: [
        "compound",
        "use",
        "temperature_C",
        "verdict",
        "contact",
        "contactFrequency_Hz",
        "marginToGlassy_K",
        "marginToLeathery_K",
        "glassyBorder_K",
        "leatheryBorder_K",
        "frictionCoefficient",
        "frictionLow",
        "frictionHigh",
        "frictionRelativeToReference",
        "contactAreaRatio",
        "reboundFraction",
        "reboundLow",
        "reboundHigh",
        "reboundTextbook",
        "contactTime_s",
        "peakForce_N",
        "peakForceLow_N",
        "peakForceHigh_N",
        "peakDeceleration_g",
        "indentation_m",
        "energyAbsorbed_J",
        "note",
        "flags",
      ],
      rows: compounds.flatMap(({ name, flags, outlooks }) =>
        outlooks.map((outlook) => {
          const { use, temperature_C, cold, grip, rebound, cushioning } = outlook;
          return [
            name,
            use,
            temperature_C,
            cold?.verdict ?? "not determined",
            cold?.contact,
            cold?.contactFrequency_Hz,
            cold?.marginToGlassy_K,
            cold?.marginToLeathery_K,
            verdictBorders.glassyBorder_K,
            verdictBorders.leatheryBorder_K,
            grip?.frictionCoefficient,
            grip?.low,
            grip?.high,
            grip?.relativeToReference?.ratio,
            grip?.contactAreaRatio,
            rebound?.fraction,
            rebound?.low,
            rebound?.high,
            rebound?.textbookFraction,
            rebound?.contactTime_s,
            cushioning?.peakForce_N.value,
            cushioning?.peakForce_N.low,
            cushioning?.peakForce_N.high,
            cushioning?.peakDeceleration_g.value,
            cushioning?.indentation_m.value,
            cushioning?.energyAbsorbed_J.value,
            "screening prediction; not a friction or safety certificate",
            flagCodes({ flags }, outlook).join(" "),
          ];
        }),
      ),
    },
    {
      name: "glass-transitions.csv",
      header: [
        "compound",
        "path",
        "deformation",
        "direction",
        "frequency_Hz",
        "tanDeltaPeak_C",
        "tanDeltaPeakLow_C",
        "tanDeltaPeakHigh_C",
        "tanDeltaPeakBracketed",
        "tanDeltaHeight",
        "tanDeltaWidth_K",
        "lossModulusPeak_C",
        "lossModulusPeakLow_C",
        "lossModulusPeakHigh_C",
        "lossModulusPeakBracketed",
        "storageModulusOnset_C",
        "storageModulusOnsetLow_C",
        "storageModulusOnsetHigh_C",
      ],
      rows: compounds.flatMap(({ name, glassTransitions }) =>
        glassTransitions.map((transition): Cell[] => {
          const { tanDeltaPeak: tan, lossModulusPeak: loss, storageModulusOnset: onset } = transition;
          return [
            name,
            transition.path,
            transition.deformation,
            transition.direction,
            transition.frequency_Hz,
            tan?.temperature_C,
            tan?.low_C,
            tan?.high_C,
            tan?.bracketed,
            tan?.height,
            tan?.width_K,
            loss?.temperature_C,
            loss?.low_C,
            loss?.high_C,
            loss?.bracketed,
            onset?.temperature_C,
            onset?.low_C,
            onset?.high_C,
          ];
        }),
      ),
    },
    {
      name: "further-peaks.csv",
      header: [
        "compound",
        "frequency_Hz",
        "quantity",
        "temperature_C",
        "low_C",
        "high_C",
        "height",
        "prominence",
      ],
      rows: compounds.flatMap(({ name, glassTransitions }) =>
        glassTransitions.flatMap(({ frequency_Hz, furtherPeaks }) =>
          furtherPeaks.map((p) => [
            name,
            frequency_Hz,
            p.quantity,
            p.temperature_C,
            p.low_C,
            p.high_C,
            p.height,
            p.prominence,
          ]),
        ),
      ),
    },
    {
      name: "shift-factors.csv",
      header: [
        "compound",
        "source",
        "law",
        "referenceTemperature_C",
        "temperature_C",
        "log10aT",
        "log10aTLow",
        "log10aTHigh",
        "log10bT",
      ],
      rows: compounds.flatMap(({ name, superposition: s }) =>
        (s?.shifts ?? []).map((shift) => [
          name,
          s!.source,
          s!.law,
          s!.referenceTemperature_C,
          shift.temperature_C,
          shift.log10aT,
          shift.log10aTLow,
          shift.log10aTHigh,
          shift.log10bT,
        ]),
      ),
    },
    masterCurveTable(assessment),
    spectrumTable(assessment),
    propertiesTable(assessment.results),
    decisionTable(assessment.results),
    fillerChangesTable(assessment),
    {
      name: "inputs.csv",
      header: ["path", "sha256", "bytes", "status", "measurements", "code", "line", "column", "message"],
      rows: inputs.map(({ path, sha256, bytes, status, measurements, problem }) => [
        path,
        sha256,
        bytes,
        status,
        measurements,
        problem?.code,
        problem?.line,
        problem?.column,
        problem?.message,
      ]),
    },
    {
      name: "notices.csv",
      header: ["compound", "severity", "code", "path", "message"],
      rows: [
        ...cautions.map((one): Cell[] => [null, "caution", one.code, null, one.message]),
        ...notices.map((n): Cell[] => [null, n.severity, n.code, n.path, n.message]),
        ...compounds.flatMap(({ name, notices }) =>
          notices.map((n): Cell[] => [name, n.severity, n.code, n.path, n.message]),
        ),
      ],
    },
    {
      name: "steps.csv",
      header: ["compound", "code", "path", "message"],
      rows: [
        ...inputs.flatMap(({ path, steps = [] }) =>
          steps.map((step): Cell[] => [null, step.code, path, step.message]),
        ),
        ...compounds.flatMap(({ name, steps }) =>
          steps.map((step): Cell[] => [name, step.code, step.path, step.message]),
        ),
      ],
    },
  ];
}
