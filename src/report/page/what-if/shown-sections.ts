import { verdictRow } from "../../html/compound/compound-section.js";
import { stateRibbon } from "../../html/compound/state-ribbon.js";
import { useTable } from "../../html/compound/use-table.js";
import type { SourceContext } from "../../html/report-context.js";
import type { JudgedCompound } from "../../results/results.js";
import type { PageState } from "../page-state.js";
import { markPending } from "./shown-answer.js";

/** Each compound's own tables, in the contact that the reader has set; those out of sight follow later. */
export function shownSections(state: PageState) {
  const context: SourceContext = {
    borders: state.data.predictionSettings,
    uses: state.data.uses,
    inputNumber: (path) => {
      const index = state.data.inputPaths.indexOf(path);
      return index < 0 ? null : index + 1;
    },
  };
  /** As the report was written, until the contact is changed for the first time. */
  let latest: { results: JudgedCompound[]; isComplete: boolean } | null = null;
  let shown = "";

  /** A compound's own parts, where its verdicts are no longer those the report was written with. */
  const showSection = (section: HTMLElement) => {
    if (latest === null) return;
    const result = latest.results[Number(section.dataset.compound)];
    const part = (name: string, markup: () => string) => {
      const place = section.querySelector(`[data-part="${name}"]`);
      if (place === null) return;
      place.innerHTML = markup();
      markPending(place, "intervals", !latest!.isComplete);
    };
    part("verdicts", () => verdictRow(result).markup);
    part("ribbon", () => stateRibbon(result)?.markup ?? "");
    part("uses", () => useTable(context, result).markup);
  };
  const sections = [...document.querySelectorAll<HTMLElement>("[data-compound]:is(details, section)")];
  const near = new Set<Element>();
  /** Sections that do not show the latest yet: those out of sight follow one after the other. */
  const stale = new Set<HTMLElement>();
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
  let isFollowing = false;
  const followOne = () => {
    const [next] = stale;
    isFollowing = next !== undefined;
    if (next === undefined) return;
    stale.delete(next);
    showSection(next);
    setTimeout(followOne, 0);
  };
  addEventListener("beforeprint", () => {
    for (const section of stale) showSection(section);
    stale.clear();
  });

  return {
    showSection,
    /** @param contact names the contact that the outlooks hold for: the same one is not written twice. */
    show(results: JudgedCompound[], isComplete: boolean, contact: string): void {
      const now = `${contact} ${isComplete}`;
      if (now === shown || (shown === "" && contact === "own")) return;
      shown = now;
      latest = { results, isComplete };
      for (const section of sections) {
        if (near.has(section)) showSection(section);
        else stale.add(section);
      }
      if (isComplete && !isFollowing) setTimeout(followOne, 0);
      if (isComplete) isFollowing = true;
    },
  };
}
