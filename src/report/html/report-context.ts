import type { VerdictBorders } from "../../predict/cold/border-words.js";
import type { Use } from "../../predict/use.js";
import type { Assessment } from "../assessment.js";
import { compoundIds, fileId } from "./compound-ids.js";
import { type Html, html } from "./html.js";

/** What a part of the page needs to point from a number to its source; the page's script has it too. */
export interface SourceContext {
  borders: VerdictBorders;
  /** Those of the study: what is predicted in each. */
  uses: Pick<Use, "name" | "sliding" | "impact">[];
  /** 1-based number of an input in the list at the end of the page. */
  inputNumber(path: string): number | null;
}

/** What the writer of the whole report works from. */
export interface ReportContext extends SourceContext {
  assessment: Assessment;
  /** The id of each compound's section, in their order. */
  compoundIds: string[];
  /** Whether the study asks anything of the impact's force, depth or energy. */
  asksCushioning: boolean;
  /** True while there are so many compounds that their sections start closed. */
  collapsed: boolean;
  /** True while there are so many that a section is unpacked only when it is opened. */
  packed: boolean;
}

const cushioningQuantities = ["peak force", "peak deceleration", "indentation", "absorbed energy"];

/** What all parts of one report share. */
export function reportContext(assessment: Assessment): ReportContext {
  const numbers = new Map(assessment.results.inputs.map((input, index) => [input.path, index + 1]));
  return {
    assessment,
    compoundIds: compoundIds(assessment.compounds.map(({ name }) => name)),
    asksCushioning: (assessment.results.decision?.requirements ?? []).some(({ quantity }) =>
      cushioningQuantities.includes(quantity),
    ),
    borders: assessment.predictionSettings,
    uses: assessment.uses,
    inputNumber: (path) => numbers.get(path) ?? null,
    collapsed: assessment.compounds.length > 12,
    packed: assessment.compounds.length > 40,
  };
}

/** Links from a number to its files and, where one is named, to its method; paper has the files' names instead. */
export function sourceLinks(context: SourceContext, paths: string[], method: string | null): Html {
  const files = [...new Set(paths)].map((path) => {
    const number = context.inputNumber(path);
    return number === null
      ? html``
      : html`<a class="source" href="#${encodeURIComponent(fileId(path))}" title="${path}">file ${number}</a> `;
  });
  return html`${files}${method !== null && html`<a class="source" href="#method-${method}">method</a>`}`;
}
