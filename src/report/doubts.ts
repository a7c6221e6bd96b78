import type { Outlook } from "../predict/outlook.js";
import { doubtCodes } from "../predict/outlook-of.js";
import type { Notice } from "../words/notice.js";

/** A reason to read a verdict with care: the code of a notice and the same in two or three words. */
export interface Doubt {
  code: string;
  words: string;
}

/** Cautions that concern a further number of a compound and leave its outlooks untouched. */
const aboutFurtherNumbers =
  /^fit\.(network|filler|strain-sweep|plateau|no-plateau|linear-)|^predict\.(batches|stiffening|what-it-takes|quick)/;

/** What bears on rebound or grip alone, or is in the verdict's own words already, raises no doubt about the verdict. */
const notAboutTheVerdict =
  /^predict\.(verdict-straddles|calibration|rebound|indentation|texture|contact-outside-range)/;

/** In the order of the fits' and predictions' code tables; what is not here is worded from its code. */
const words: Record<string, string> = {
  "fit.not-simple": "does not superpose",
  "fit.nearly-simple": "superposes nearly",
  "predict.not-thermorheologically-simple": "does not superpose",
  "fit.assumed-shift-constants": "assumed shift",
  "predict.assumed-shift-law": "assumed shift",
  "fit.assumed-constants-misfit": "assumed shift misfits",
  "fit.law-scatter": "shift law scatters",
  "fit.kramers-kronig": "moduli contradict",
  "fit.isotherms-left-out": "isotherms left out",
  "fit.ramp-left-out": "ramp left out",
  "fit.glass-isotherms": "glass off the curve",
  "fit.fast-heating": "heated too fast",
  "fit.coarse-steps": "coarse steps",
  "fit.soft-glass": "glass reads soft",
  "fit.outside-linear-range": "strain too large",
  "fit.peak-beyond-data": "peak beyond data",
  "predict.deformation-unstated": "mode unstated",
  "fit.points-left-out": "points left out",
  "fit.spike-left-out": "points left out",
  "fit.isotherms-placed-by-law": "placed by a law",
  "fit.isotherm-apart": "isotherms left out",
  "fit.isotherms-off-law": "isotherms left out",
  "predict.second-phase-warmer": "warmer phase",
  "predict.phase-not-rubbery": "warmer phase",
  "predict.model-misses-data": "model misses data",
  "predict.broad-transition": "broad transition",
  "predict.rebound-contradicts-sweep": "rebound contradicts sweep",
  "predict.law-outside-range": "extrapolated",
  "predict.contact-partly-outside-range": "partly extrapolated",
  "predict.interval-not-determined": "no interval",
};

/** The words of a doubt by the code of its notice; of an unknown code its name in plain words. */
export function doubtOf(code: string): Doubt {
  return { code, words: words[code] ?? code.replace(/^[^.]*\./, "").replaceAll("-", " ") };
}

/** Codes of a compound's notices that cast doubt on each of its outlooks, beside what the outlooks carry themselves. */
export function compoundFlags(notices: Notice[], outlooks: Outlook[]): string[] {
  const ofOutlooks = new Set(outlooks.flatMap(({ flags }) => flags));
  return doubtCodes(notices).filter((code) => !aboutFurtherNumbers.test(code) && !ofOutlooks.has(code));
}

interface Flagged {
  flags: string[];
  outlooks: Outlook[];
}

/** All codes that cast doubt on an outlook: the compound's and its own. */
export function flagCodes(compound: { flags: string[] }, outlook: Outlook): string[] {
  return [...new Set([...compound.flags, ...outlook.flags])];
}

/** The reasons to read one verdict with care, each wording once; none where there is no verdict. */
export function doubtsOf(compound: { flags: string[] }, outlook: Outlook): Doubt[] {
  if (outlook.cold === null) return [];
  const doubts = new Map<string, Doubt>();
  for (const code of flagCodes(compound, outlook)) {
    const doubt = doubtOf(code);
    if (!notAboutTheVerdict.test(code) && !doubts.has(doubt.words)) doubts.set(doubt.words, doubt);
  }
  return [...doubts.values()];
}

/** What weakens every verdict of a compound alike. */
export function commonDoubts(compound: Flagged): Doubt[] {
  const [first, ...rest] = compound.outlooks
    .filter(({ cold }) => cold !== null)
    .map((outlook) => doubtsOf(compound, outlook));
  if (first === undefined) return [];
  return first.filter(({ words: shared }) =>
    rest.every((doubts) => doubts.some((doubt) => doubt.words === shared)),
  );
}

/** What weakens one verdict and not all of the compound. */
export function ownDoubts(compound: Flagged, outlook: Outlook): Doubt[] {
  const common = new Set(commonDoubts(compound).map((doubt) => doubt.words));
  return doubtsOf(compound, outlook).filter((doubt) => !common.has(doubt.words));
}
