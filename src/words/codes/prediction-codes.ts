import type { CodeMeaning } from "../notice.js";

/** What to do where nothing was swept; without its full stop. */
export const sweepAdvice = "Run a temperature sweep at 1 or 10 Hz from −100 to +80 °C";

/** Every notice a prediction can carry: how grave it is and what to do. Codes are stable. */
export const predictionNotices = {
  "predict.grip-screening": {
    severity: "caution",
    means: "What a hysteresis friction number is and is not.",
    whatToDo: "Test friction on the product's surface before anybody relies on it.",
    told: "standing",
  },
  "predict.rebound-screening": {
    severity: "caution",
    means: "What a predicted rebound is and is not.",
    whatToDo: "Test the product's protection against impact by its own standard.",
    told: "standing",
  },
  "predict.cushioning-screening": {
    severity: "caution",
    means: "What predicted cushioning is and is not.",
    whatToDo: "Test the product's protection against impact by its own standard.",
    told: "standing",
  },
  "predict.softened": {
    severity: "caution",
    means:
      "The use is as warm as where the compound softens: what is said of its rubber does not hold there.",
    whatToDo: "Take a compound that softens later, or test creep and set at the temperature of the use.",
  },
  "predict.compression-deep": {
    severity: "caution",
    means: "The impact compresses the pad so far that rubber stiffens, which is not in the numbers.",
    whatToDo: "Take a thicker pad or a weaker impact into the study, or measure the impact.",
  },
  "predict.cold-screening": {
    severity: "caution",
    means: "What a verdict in the cold is and is not.",
    whatToDo: "Test the product in the cold by its own standard; store a sample cold to see crystallisation.",
    told: "standing",
  },
  "predict.no-model": {
    severity: "caution",
    means: "Nothing was measured that allows a prediction at another temperature or frequency.",
    whatToDo: `${sweepAdvice}, or frequency sweeps from 0.1 to 100 Hz every 5 K over that range.`,
  },
  "predict.no-sweep": {
    severity: "caution",
    means:
      "No sweep was measured, only routine properties or rebound: no verdict, so the compound could be glassy.",
    whatToDo: `${sweepAdvice}.`,
  },
  "predict.use-without-contact": {
    severity: "caution",
    means: "The use has neither a sliding nor an impact contact that can be predicted.",
    whatToDo: "Give the use a sliding or an impact contact.",
  },
  "predict.assumed-shift-law": {
    severity: "caution",
    means: "The prediction rests on assumed shift constants, referred to the measured Tg.",
    whatToDo: "Measure at several frequencies, so that the shift constants come from the compound itself.",
  },
  "predict.not-thermorheologically-simple": {
    severity: "caution",
    means: "Superposition fails for this compound, and the prediction rests on it all the same.",
    whatToDo:
      "Measure near the use temperature and contact frequency; superposition fails for this compound.",
  },
  "predict.shear-to-tension": {
    severity: "info",
    means: "E = 3 G was used for data in shear; it overstates E by some 10 % in the glass.",
    whatToDo: "Measure in tension or compression where the glassy range matters.",
    told: "for the study",
  },
  "predict.deformation-unstated": {
    severity: "caution",
    means: "The mode is not known; the modulus was taken for E.",
    whatToDo:
      "State the deformation mode of the measurement; for shear data the modulus is three times higher.",
    covers: ["io.deformation-unstated", "fit.network-mode-unstated"],
  },
  "predict.contact-outside-range": {
    severity: "caution",
    means: "The contact's frequencies lie outside what was measured: the number is not determined.",
    whatToDo: "Run the sweep the message names.",
  },
  "predict.contact-partly-outside-range": {
    severity: "caution",
    means: "Part of the contact's frequencies lies outside what was measured.",
    whatToDo: "Run the sweep the message names, or read the number as extrapolated.",
  },
  "predict.law-outside-range": {
    severity: "caution",
    means: "The temperature of use lies beyond the measured temperatures, on the shift law's extrapolation.",
    whatToDo: "Measure at the use temperature, or read the number as extrapolated.",
  },
  "predict.transition-outside-range": {
    severity: "caution",
    means: "The glass transition at the contact frequency lies outside what was measured: no verdict.",
    whatToDo: "Run the sweep the message names.",
  },
  "predict.hardness-contradicts-modulus": {
    severity: "caution",
    means: "Hardness and dynamic modulus at room temperature are more than a factor of three apart.",
    whatToDo: "Look for a slipped unit, for G taken as E, or for files of another compound.",
  },
  "predict.glass-branch": {
    severity: "info",
    means:
      "The number rests on the glass branch of the shift law, where measured isotherms do not superpose.",
    whatToDo: "Read it as extrapolated; superpose isotherms nearer to the use if it decides.",
  },
  "predict.grip-practically-none": {
    severity: "info",
    means: "The predicted friction coefficient is below 0.001; its digits mean nothing.",
    whatToDo: "Read it as no hysteresis friction; adhesion and the rest that is not in the number remain.",
  },
  "predict.secondary-relaxation": {
    severity: "info",
    means:
      "The use is colder than the glass transition, where a secondary relaxation loses more than the shift law carries to the contact's frequency; intervals reach as far as it was measured to lose.",
    whatToDo:
      "Measure at the temperature and near the frequency of the use if grip or rebound in the glass decides.",
  },
  "predict.grip-by-texture": {
    severity: "info",
    means:
      "On another asphalt the same model gives twice the hysteresis friction or more, or half of it or less.",
    whatToDo: "State the texture of the use's own surface; rank compounds by their ratios.",
    told: "for the study",
  },
  "predict.verdict-by-texture": {
    severity: "info",
    means:
      "On another asphalt the contact's frequency, and with it the word of the verdict, would be another.",
    whatToDo: "State the texture of the use's own surface; a measured profile is best.",
    told: "for the study",
  },
  "predict.rebound-small-strain": {
    severity: "caution",
    means:
      "Rebound was predicted from data at small strain; an impact strains the rubber by 10 to 20 %, where a filled one is softer and loses more.",
    whatToDo:
      "Run a strain sweep to 20 %, or measure rebound; state a filler volume fraction of 0 for a gum.",
    told: "for the study",
  },
  "predict.verdict-from-bounds": {
    severity: "info",
    means:
      "A peak lies beyond what was measured; the verdict rests on the side it lies on, which the data do show.",
    whatToDo: "Extend the sweep to the peak if its place is wanted, or the verdict is one of two words.",
  },
  "predict.contact-frequency-extrapolated": {
    severity: "info",
    means:
      "The contact frequency comes from the model beyond what was measured; the verdict's borders were measured.",
    whatToDo: "Extend the sweep to the use temperature and contact frequency.",
  },
  "predict.second-phase-warmer": {
    severity: "caution",
    means: "A second phase has its transition on the warm side of the one that governs.",
    whatToDo: "Look at the sweep: a blend's second phase may still be leathery in the use.",
  },
  "predict.phase-not-rubbery": {
    severity: "caution",
    means: "A tan δ peak was measured so warm that a part of the compound is not rubbery in the use.",
    whatToDo:
      "Take the compound for leathery there; measure at the use temperature, as near to the contact frequency as can be.",
    covers: ["predict.second-phase-warmer"],
  },
  "predict.model-misses-data": {
    severity: "caution",
    means: "Near the use temperature the model misses what was measured on the compound itself.",
    whatToDo:
      "Trust the measurement; look for a bad point, a slipped specimen or a blend, and measure near the use temperature and contact frequency.",
  },
  "predict.broad-transition": {
    severity: "caution",
    means: "The verdict is rubbery by its border, but tan δ in the contact still stands near its peak.",
    whatToDo:
      "Read rebound and stiffness instead of the word; widen `leatheryBorder_K` for broad transitions.",
  },
  "predict.second-phase-colder": {
    severity: "info",
    means: "A second phase has its transition on the cold side of the one that governs.",
    whatToDo: "Look at the sweep: the colder phase keeps some compliance below the verdict's border.",
  },
  "predict.verdict-straddles": {
    severity: "info",
    means: "The interval of the transition straddles a border of the verdict.",
    whatToDo: "Repeat the sweep, or add frequencies, to narrow the interval of the transition.",
  },
  "predict.interval-not-determined": {
    severity: "caution",
    means:
      "The data give no interval (low and high repeat the value itself), or too few of the equally likely models reach the number, so that its interval is too narrow.",
    whatToDo: "Read the value as one without a known error; repeats or more frequencies give an interval.",
  },
  "predict.texture-unusable": {
    severity: "error",
    means: "A number of the texture is impossible.",
    whatToDo: "Correct the texture's numbers in the study.",
  },
  "predict.texture-slope-not-reached": {
    severity: "caution",
    means: "The measured texture ends before its rms slope reaches the cut-off's.",
    whatToDo: "Measure the profile with finer steps, or state the cut-off.",
  },
  "predict.texture-profile-unusable": {
    severity: "error",
    means: "A height profile is too short or not one.",
    whatToDo: "Correct the profile file: positions and heights in metres, one pair a line.",
  },
  "predict.texture-profile-resampled": {
    severity: "info",
    means: "A height profile has uneven steps and was put on even ones.",
    whatToDo: "Measure with even steps where the finest wave numbers matter.",
  },
  "predict.indentation-deep": {
    severity: "info",
    means: "The indentation is deep against the indenter's radius.",
    whatToDo: "Calibrate on measured rebound: the theory of the contact is for shallow indentations.",
    told: "for the study",
  },
  "predict.indentation-past-layer": {
    severity: "caution",
    means: "The indentation is deep against the specimen's thickness.",
    whatToDo: "Test a thicker specimen, or calibrate on measured rebound.",
  },
  "predict.rebound-readings-skipped": {
    severity: "caution",
    means: "Rebound readings without temperature, or outside what the sweep reached, were left out.",
    whatToDo: "State temperature and method with each rebound reading.",
  },
  "predict.rebound-methods-differ": {
    severity: "caution",
    means: "Rebound readings by several methods; they do not mix.",
    whatToDo: "Keep to one method: resilience by different methods does not compare.",
  },
  "predict.rebound-method-unknown": {
    severity: "caution",
    means: "Rebound readings by a method that names no single standard known here; they are kept apart.",
    whatToDo:
      "Write the standard into the method's column (ISO 4662, DIN 53512, ASTM D7121, D1054, D2632, ISO 8307), or give the use's `impact` the same `method` in study.yaml.",
  },
  "predict.rebound-method-unstated": {
    severity: "caution",
    means: "Rebound readings state no method and were taken for the use's.",
    whatToDo: "State the method in a column or a line of the file.",
  },
  "predict.rebound-tests-pooled": {
    severity: "info",
    means:
      "Several tests or laboratories measured rebound at one temperature; their mean is used, with the spread between them in its interval.",
    whatToDo: "Where laboratories differ widely, compare their specimens, conditioning and pendulums.",
    told: "step",
  },
  "predict.rebound-conditioning-unclear": {
    severity: "info",
    means: "It cannot be told which impacts were for conditioning.",
    whatToDo: "Record every impact in order: conditioning impacts first, then three readings.",
  },
  "predict.rebound-not-calibrated": {
    severity: "info",
    means: "No measured rebound to calibrate on; the prediction is uncalibrated.",
    whatToDo: "Measure rebound at three temperatures or more inside the range of the sweep.",
    contrary: "predict.calibration-weak",
  },
  "predict.calibration-weak": {
    severity: "caution",
    means: "The readings hardly fix the calibration factor.",
    whatToDo: "Measure rebound at temperatures where it changes, on both sides of its minimum.",
  },
  "predict.rebound-contradicts-sweep": {
    severity: "caution",
    means:
      "Measured rebound lies outside the interval of what the sweep predicts, and no calibration was had.",
    whatToDo:
      "Look whether both are of the same compound; then at units, specimen and method. Trust neither before.",
  },
  "predict.calibration-single-reading": {
    severity: "caution",
    means: "One reading only: the factor has no check.",
    whatToDo: "Measure rebound at three temperatures or more: one reading leaves no check.",
  },
  "predict.stiffening-outside-range": {
    severity: "info",
    means: "A stiffening ratio is reached outside what was measured, or not at all.",
    whatToDo: "Run the sweep the message names, where it names one.",
  },
  "predict.batches-not-comparable": {
    severity: "caution",
    means: "Two batches share no state in which both were measured.",
    whatToDo:
      "Measure both batches at the same frequency, in the same mode and direction, over the same range.",
  },
  "predict.batches-identical": {
    severity: "caution",
    means: "Two batches hold the same numbers: one file under two names.",
    whatToDo: "Look for the file that was copied, and put the other run in its place.",
  },
  "predict.batches-unlike-conditions": {
    severity: "caution",
    means: "Two batches were measured at different heating rates or strains.",
    whatToDo: "Repeat one of the two with the heating rate and strain amplitude of the other.",
  },
  "predict.what-it-takes-outside-range": {
    severity: "info",
    means: "What it would take to be rubbery lies partly outside what was measured.",
    whatToDo: "Extend the sweep as the message says.",
  },
} as const satisfies Record<string, CodeMeaning>;
