import { answerSentence } from "../../html/answer/answer-sentence.js";
import { limitLines, ownLimits } from "../../html/answer/own-limits.js";
import { worstFirst } from "../../html/answer/ranking.js";
import { flagList } from "../../html/answer/summary-section.js";
import { verdictMatrix } from "../../html/answer/verdict-matrix.js";
import { verdictRow } from "../../html/compound/compound-section.js";
import { stateRibbon } from "../../html/compound/state-ribbon.js";
import { useTable } from "../../html/compound/use-table.js";
import type { SourceContext } from "../../html/report-context.js";
import type { JudgedCompound } from "../../results/results.js";
import type { PageState } from "../page-state.js";
import { markPending, writtenParts } from "./written-parts.js";

const sentences = ["answer", "flags", "limits"];

/** The matrix, the sentences, and each compound's own tables, in the contact that the reader has set. */
export function shownVerdicts(state: PageState) {
  const context: SourceContext = {
    borders: state.data.predictionSettings,
    limits: ownLimits(state.data.settings),
    inputNumber: (path) => {
      const index = state.data.inputPaths.indexOf(path);
      return index < 0 ? null : index + 1;
    },
  };
  const reference = state.compounds.map((compound) => compound.isReference);
  const parts = writtenParts();
  const matrix = document.getElementById("matrix");
  parts.keep(matrix);
  let latest: { results: JudgedCompound[]; isComplete: boolean } | null = null;

  /** A compound's own parts, where its verdicts are no longer those the report was written with. */
  const showSection = (section: HTMLElement) => {
    if (latest === null) return;
    const result = latest.results[Number(section.dataset.compound)];
    const part = (name: string, markup: () => string) => {
      const place = section.querySelector(`[data-part="${name}"]`);
      if (place === null) return;
      parts.write(place, markup());
      markPending([place], !latest!.isComplete);
    };
    part("verdicts", () => verdictRow(result).markup);
    part("ribbon", () => stateRibbon(result)?.markup ?? "");
    part("uses", () => useTable(context, result).markup);
  };
  const sections = [...document.querySelectorAll<HTMLElement>("details.compound")];
  const near = new Set<Element>();
  const observer = new IntersectionObserver(
    (entries) => {
      for (const { target, isIntersecting } of entries) {
        if (isIntersecting) near.add(target);
        else near.delete(target);
        if (isIntersecting && stale.delete(target as HTMLElement)) showSection(target as HTMLElement);
      }
    },
    { rootMargin: "300px" },
  );
  for (const section of sections) observer.observe(section);
  /** Sections that do not show the latest yet: those out of sight follow one after the other. */
  const stale = new Set<HTMLElement>();
  let isFollowing = false;
  const followOne = () => {
    const [next] = stale;
    isFollowing = next !== undefined;
    if (next === undefined) return;
    stale.delete(next);
    showSection(next);
    setTimeout(followOne, 0);
  };
  const showSections = (isComplete: boolean) => {
    for (const section of sections) {
      if (near.has(section)) showSection(section);
      else stale.add(section);
    }
    if (isComplete && !isFollowing) setTimeout(followOne, 0);
    if (isComplete) isFollowing = true;
  };
  addEventListener("beforeprint", () => {
    for (const section of stale) showSection(section);
    stale.clear();
  });
  const places = () => [matrix, ...sentences.map((id) => document.getElementById(id))];

  return {
    showSection,
    show(results: JudgedCompound[], isComplete: boolean): void {
      latest = { results, isComplete };
      const order = worstFirst(results);
      parts.write(matrix, verdictMatrix(results, order, reference).markup);
      if (isComplete) {
        // Sentences claim more than a number does: they wait for the intervals.
        const [answer, flags, limits] = sentences.map((id) => document.getElementById(id));
        parts.write(answer, answerSentence(results).markup);
        parts.write(flags, flagList(results, order).markup);
        parts.write(limits, limitLines(results, context.limits).markup);
      }
      markPending(places(), !isComplete);
      showSections(isComplete);
      document.dispatchEvent(new CustomEvent("frostline:verdicts"));
    },
    /** Puts the study's own verdicts back, as the report was written with them. */
    restore(): void {
      latest = null;
      stale.clear();
      parts.restore();
      markPending([...places(), ...document.querySelectorAll("[data-part]")], false);
      document.dispatchEvent(new CustomEvent("frostline:verdicts"));
    },
  };
}
