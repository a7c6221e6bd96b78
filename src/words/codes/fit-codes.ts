import type { CodeMeaning } from "../notice.js";

/** What each code of the fits means and what to do about it; the documentation is made from this table. */
export const fitNoticeCodes = {
  "fit.too-few-points": {
    severity: "caution",
    means: "A sweep has fewer than seven temperatures at this frequency, too few for a glass transition.",
    whatToDo: "Measure with 2 K steps through the transition.",
  },
  "fit.fast-heating": {
    severity: "caution",
    means:
      "The sweep was faster than 3 K/min: the specimen lags behind the oven and every transition reads off.",
    whatToDo: "Repeat at 1 to 3 K/min.",
  },
  "fit.coarse-steps": {
    severity: "caution",
    means: "The temperature steps are over 5 K and resolve a peak poorly.",
    whatToDo: "Repeat with 2 K steps across the transition.",
  },
  "fit.soft-glass": {
    severity: "caution",
    means:
      "The glass reads softer than a rubber's, below 1.2 GPa in tension or a third of it in shear: where an instrument gives or a specimen slips, the M″ peak and the onset read too warm, and moduli, grip and rebound near the glass are off; below a quarter of the usual 2 GPa a unit that slipped is likelier.",
    whatToDo:
      "Measure a rigid bar of the specimen's size and state what it reads (rigidReading_MPa under files in the study); look at the clamps and at the export's unit. Nothing, if it is a foam.",
  },
  "fit.no-peak": {
    severity: "caution",
    means: "The curve shows no peak: the sweep covers no transition, or does not resolve it.",
    whatToDo: "Sweep from well below to well above the expected glass transition, in 2 K steps.",
  },
  "fit.peak-beyond-data": {
    severity: "caution",
    means:
      "The curve climbs to an edge of the sweep, or turns too near to it to tell; the peak lies there or beyond, and a bound is given for it.",
    whatToDo: "Extend the sweep by at least 30 K on that side.",
  },
  "fit.no-onset": {
    severity: "info",
    means:
      "Too little of the glass below the transition was measured for an onset of the storage modulus on the cold side of the loss modulus peak.",
    whatToDo: "Start the sweep some 40 K colder.",
    told: "for the study",
  },
  "fit.spike-left-out": {
    severity: "caution",
    means: "Single rows far off the curve of their neighbours were left out of the glass transition.",
    whatToDo: "Look at the specimen and its clamps; repeat the sweep if it comes again.",
  },
  "fit.further-peaks": {
    severity: "info",
    means: "There are further peaks: a second phase or a secondary transition.",
    whatToDo: "Look at the sweep; in a blend the colder and the warmer phase each have their own verdict.",
  },
  "fit.deformation-chosen": {
    severity: "info",
    means:
      "Measurements in several deformation modes; the mode with the most isotherms was superposed, the others kept apart.",
    whatToDo: "Nothing, if that is right; else give the modes as compounds of their own.",
  },
  "fit.too-few-temperatures": {
    severity: "caution",
    means: "Fewer than three temperatures with at least two frequencies each: no superposition.",
    whatToDo: "Measure further isotherms, best 5 K apart from about Tg to 60 K above.",
  },
  "fit.no-overlap": {
    severity: "error",
    means: "Neighbouring isotherms share no range of storage modulus, so no shift can be measured.",
    whatToDo: "Measure temperatures in between, or a wider range of frequencies.",
  },
  "fit.isotherms-left-out": {
    severity: "caution",
    means: "Some isotherms share no range of modulus with the others and were left out.",
    whatToDo: "Measure temperatures in between.",
  },
  "fit.points-left-out": {
    severity: "caution",
    means: "Single points stand far off the curve of the others and were left out of the superposition.",
    whatToDo:
      "Look at the lines that the message names; if the values are right, measure that isotherm again.",
  },
  "fit.isotherm-apart": {
    severity: "caution",
    means: "All moduli of one isotherm stand apart from the others by one factor; it was left out.",
    whatToDo: "Look for a slipped clamp or a wrong specimen dimension; measure that isotherm again.",
  },
  "fit.isotherms-off-law": {
    severity: "caution",
    means: "A few isotherms lie off the law that the others follow and were set aside.",
    whatToDo: "Hold the specimen longer at each temperature, and measure those isotherms again.",
  },
  "fit.isotherms-placed-by-law": {
    severity: "caution",
    means:
      "Isotherms near the glass transition share no range of modulus; they were placed by a law, not by their overlap.",
    whatToDo: "Measure a wider range of frequencies, or temperatures in between.",
  },
  "fit.all-below-glass-transition": {
    severity: "caution",
    means: "All isotherms lie in the glass, where no shift law of the rubber can be had.",
    whatToDo: "Measure from the glass transition upwards.",
  },
  "fit.shifts-undetermined": {
    severity: "caution",
    means:
      "The shifts cannot be told: the isotherms hardly change with temperature and frequency, or they contradict each other.",
    whatToDo:
      "Measure nearer to the glass transition, or look for a wrong isotherm in the master curve's plots.",
  },
  "fit.replicate-runs": {
    severity: "info",
    means: "Several runs were superposed together, each with a modulus scale and a temperature of its own.",
    whatToDo: "Nothing; how far the runs differ is in the intervals.",
    told: "step",
  },
  "fit.ramps-joined": {
    severity: "caution",
    means: "Ramps at one frequency each were read together as one ramp at several frequencies.",
    whatToDo: "Check that they are of one specimen; else a difference in stiffness enters the shifts.",
  },
  "fit.ramp-regrouped": {
    severity: "info",
    means: "A temperature ramp at several frequencies was regrouped into isotherms.",
    whatToDo: "Nothing.",
    told: "step",
  },
  "fit.ramp-left-out": {
    severity: "caution",
    means: "A temperature ramp does not follow the master curve of the frequency sweeps and was left out.",
    whatToDo: "Compare the two runs: specimen, clamping, stiffness correction, thermal lag.",
  },
  "fit.vertical-shift-chosen": {
    severity: "info",
    means: "Whether a vertical factor was taken, by the misfit with and without it.",
    whatToDo: "Nothing; or state `verticalShift` in the study.",
    told: "step",
  },
  "fit.glass-isotherms": {
    severity: "info",
    means: "Isotherms in the glass do not follow the shift law and stand outside the master curve.",
    whatToDo: "Nothing; read M″ below that temperature as a rough value.",
    told: "for the study",
  },
  "fit.two-phases": {
    severity: "caution",
    means:
      "One shift law fails, and two phases, each with a spectrum and a law of its own, follow the isotherms; predictions come from both side by side.",
    whatToDo:
      "Look at the phases' Tg against what was mixed; measure near the use temperature where a prediction decides.",
    covers: [
      "fit.not-simple",
      "fit.nearly-simple",
      "predict.not-thermorheologically-simple",
      "fit.further-peaks",
      "predict.second-phase-colder",
      "predict.second-phase-warmer",
    ],
  },
  "fit.law-border": {
    severity: "info",
    means: "The coldest isotherms leave the WLF curve; below that temperature the law goes on as a tangent.",
    whatToDo: "Nothing; read numbers below that border with care.",
    told: "step",
  },
  "fit.law-scatter-small": {
    severity: "info",
    means: "The isotherms scatter a little about the shift law, beyond their own errors.",
    whatToDo: "Nothing; the intervals include it.",
    told: "step",
  },
  "fit.law-scatter": {
    severity: "caution",
    means: "The isotherms scatter about the law by more than their own errors; the intervals include it.",
    whatToDo: "Check the temperature steps and how long the specimen was held at each.",
    contrary: "fit.law-scatter-small",
  },
  "fit.arrhenius-law": {
    severity: "info",
    means: "The Arrhenius law describes the shifts as well as the WLF law with one constant fewer.",
    whatToDo: "Do not carry it far outside the measured temperatures; measure over a wider range.",
  },
  "fit.reference-temperature": {
    severity: "caution",
    means: "The reference temperature asked for lies below where the WLF curve ends; another was taken.",
    whatToDo: "State a higher referenceTemperature_C.",
  },
  "fit.not-simple": {
    severity: "caution",
    means:
      "The isotherms do not fall on one line in the wicket plot, or a sweep shows two phases: not thermorheologically simple.",
    whatToDo: "Measure at the use temperature and as near to the contact frequency as the instrument goes.",
    covers: ["predict.not-thermorheologically-simple"],
  },
  "fit.nearly-simple": {
    severity: "caution",
    means:
      "One shift law brings the isotherms together, but at equal modulus they differ by more than noise explains: nearly, not strictly, thermorheologically simple.",
    whatToDo:
      "Nothing for numbers near what was measured; further away measure near the use where a number decides.",
  },
  "fit.kramers-kronig": {
    severity: "caution",
    means: "No relaxation spectrum gives both moduli: storage and loss modulus contradict each other.",
    whatToDo: "Check the columns, their units and any correction that touched only one of them.",
  },
  "fit.assumed-shift-constants": {
    severity: "caution",
    means: "Data of a single frequency give no shift law; stated constants were referred to the measured Tg.",
    whatToDo: "Measure at several frequencies, or state constants of the compound in the study.",
    covers: ["predict.assumed-shift-law"],
  },
  "fit.assumed-constants-misfit": {
    severity: "caution",
    means: "With the assumed constants no spectrum gives storage and loss modulus together.",
    whatToDo: "Measure at several frequencies, or state constants of the compound in the study.",
  },
  "fit.no-glass-transition": {
    severity: "caution",
    means: "A sweep at one frequency without a peak: there is no Tg for assumed constants to refer to.",
    whatToDo: "Measure through the glass transition, or at several frequencies.",
  },
  "fit.reference-curves": {
    severity: "error",
    means: "The program's table of published constants is damaged.",
    whatToDo: "Correct the entry that the message names.",
  },
  "fit.no-plateau": {
    severity: "info",
    means: "No rubbery plateau is seen, so no network density is given.",
    whatToDo: "Sweep to 60 K or more above the tan δ peak, at 1 Hz.",
  },
  "fit.network-mode-unstated": {
    severity: "caution",
    means: "The deformation mode is not known, so E and G cannot be told apart.",
    whatToDo: "State `deformation` in the study.",
  },
  "fit.network-mode-stiff": {
    severity: "info",
    means: "The plateau comes from bending or compression, which read too stiff.",
    whatToDo: "Measure in shear or tension.",
  },
  "fit.network-no-density": {
    severity: "info",
    means: "The density of the compound is not known, so Mc is not given.",
    whatToDo: "State `density_kg_m3` in the study.",
  },
  "fit.plateau-not-at-rest": {
    severity: "caution",
    means: "M′/T still changes on the plateau or tan δ is high there.",
    whatToDo: "Read the network density as depending on where it was read; sweep warmer or slower.",
    told: "for the study",
    contrary: "fit.no-plateau",
  },
  "fit.network-filler-unstated": {
    severity: "info",
    means: "The study states no filler; if there is any, the density of the network counts it too.",
    whatToDo: "State `filler` in the study.",
    told: "for the study",
  },
  "fit.network-counts-filler": {
    severity: "caution",
    means: "Filler raises the modulus, so the apparent density of the network counts it too.",
    whatToDo: "Compare compounds of the same filler load, or use the value with the factor taken out.",
    told: "standing",
    contrary: "fit.network-filler-unstated",
  },
  "fit.filler-series-too-short": {
    severity: "caution",
    means: "Fewer than two members of the series can be compared.",
    whatToDo: "Give each member its filler and a sweep that reaches the plateau.",
  },
  "fit.filler-series-without-gum": {
    severity: "info",
    means: "No member is unfilled; the modulus without filler comes from a fit.",
    whatToDo: "Measure the compound without filler.",
  },
  "fit.filler-beyond-common-range": {
    severity: "caution",
    means: "A member holds more than 30 % filler by volume, for which the formula is not meant.",
    whatToDo: "Judge that member by measurement alone.",
  },
  "fit.filler-member-left-out": {
    severity: "caution",
    means: "A member has no plateau or volume fraction, or was measured in another mode.",
    whatToDo: "See the message.",
  },
  "fit.filler-series-unlike": {
    severity: "caution",
    means: "The plateaus were read at different temperatures or frequencies.",
    whatToDo: "Sweep all members over the same temperatures at the same frequencies.",
  },
  "fit.strain-sweep-unusable": {
    severity: "caution",
    means: "A strain sweep has no strain amplitudes, or too few.",
    whatToDo: "Export the strain column; measure six strains or more over two decades.",
  },
  "fit.strain-sweep-returns": {
    severity: "info",
    means: "The sweep goes back to small strains; only the rising part is read.",
    whatToDo: "Nothing.",
    told: "step",
  },
  "fit.strain-sweep-coarse": {
    severity: "info",
    means: "Fewer than six strains: no interval.",
    whatToDo: "Measure six strains or more.",
  },
  "fit.strain-sweep-starts-late": {
    severity: "caution",
    means: "M′ falls from the first strain on: the linear range lies below it.",
    whatToDo: "Start at a tenth of that strain.",
  },
  "fit.strain-sweep-ends-early": {
    severity: "info",
    means: "M′ still falls at the largest strain: the amplitude is a lower bound.",
    whatToDo: "Go to larger strains, where the instrument allows.",
    contrary: "fit.linear-throughout",
  },
  "fit.linear-throughout": {
    severity: "info",
    means: "M′ drops by less than 5 % over the whole strain sweep: no limit of linearity.",
    whatToDo: "Nothing, or go to larger strains.",
    contrary: "fit.outside-linear-range",
  },
  "fit.outside-linear-range": {
    severity: "caution",
    means: "A sweep was run at a strain outside the linear range found by a strain sweep.",
    whatToDo: "Repeat it at the strain that the message names, or less.",
  },
  "fit.strain-not-covered": {
    severity: "info",
    means: "The strain of a sweep lies outside the strains of the strain sweep.",
    whatToDo: "Extend the strain sweep, or run the sweep within it.",
  },
  "fit.linear-range-unknown": {
    severity: "info",
    means: "Whether a sweep was run in the linear range cannot be told.",
    whatToDo: "Run a strain sweep in the same deformation mode, and export the strain.",
    contrary: "fit.outside-linear-range",
  },
} as const satisfies Record<string, CodeMeaning>;
