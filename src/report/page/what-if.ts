import type { Outlook } from "../../predict/outlook.js";
import type { PredictedOutlook } from "../../predict/predict-outlook.js";
import type { Use } from "../../predict/use.js";
import { answerSentence } from "../html/answer-sentence.js";
import { verdictRow } from "../html/compound-section.js";
import type { JudgedCompound } from "../html/judged-compound.js";
import { statedTemperature } from "../html/numbers.js";
import { limitLines, ownLimits } from "../html/own-limits.js";
import { worstFirst } from "../html/ranking.js";
import type { SourceContext } from "../html/report-context.js";
import { stateRibbon } from "../html/state-ribbon.js";
import { flagList } from "../html/summary-section.js";
import { tradeOffRows } from "../html/trade-off-section.js";
import { useTable } from "../html/use-table.js";
import { contactWords, verdictMatrix } from "../html/verdict-matrix.js";
import type { PageState } from "./page-state.js";
import type { Moment } from "./plot-specs.js";
import {
  isContactOfStudy,
  predictAll,
  predictOne,
  relateToReference,
  type Setting,
  settingOf,
  useOf,
  withContact,
} from "./predictions.js";

/** The page's compounds with the outlooks of the moment's contact. */
function asResults(state: PageState, outlooks: JudgedCompound["outlooks"][]): JudgedCompound[] {
  return state.compounds.map((compound, index) => ({
    name: compound.name,
    inputs: compound.inputs,
    glassTransitions: compound.glassTransitions,
    superposition: compound.superposition,
    flags: compound.flags,
    outlooks: outlooks[index],
  }));
}

/** Some 40 ms of work at a time. */
const atATime = 4;

/** Runs a step when the page has a moment, unless a newer change has made it pointless. */
function inTurn(steps: (() => void)[], isCurrent: () => boolean, done: () => void): void {
  const run = (k: number) => {
    if (!isCurrent()) return;
    if (k === steps.length) return done();
    steps[k]();
    setTimeout(() => run(k + 1), 0);
  };
  setTimeout(() => run(0), 0);
}

/**
 * Predicts again when the reader changes the setting: values at once, their intervals right after, and where
 * the contact was changed, the verdicts of all uses one after the other.
 */
export function whatIf(state: PageState, redraw: (what: "map" | "curves") => void) {
  const context: SourceContext = {
    leatheryZone_K: state.data.predictionSettings.leatheryBorder_K,
    limits: ownLimits(state.data.settings),
    inputNumber: (path) => {
      const index = state.data.inputPaths.indexOf(path);
      return index < 0 ? null : index + 1;
    },
  };
  const reference = state.compounds.map((compound) => compound.isReference);
  const { start } = state.data;
  let moment: Moment | null = null;
  let generation = 0;
  let contactShown = "own";
  let latest: JudgedCompound[] | null = null;

  const showMap = (setting: Setting, predicted: PredictedOutlook[], withDraws: boolean) => {
    moment = { setting, outlooks: predicted.map(({ outlook }) => outlook) };
    const body = document.querySelector("#map-table tbody");
    if (body !== null) {
      body.innerHTML = tradeOffRows(
        state.compounds.map((compound, index) => ({
          index,
          compound: { ...compound, outlooks: [] },
          isReference: compound.isReference,
          outlook: moment?.outlooks[index],
        })),
      ).markup;
      body.parentElement?.setAttribute("data-intervals", withDraws ? "yes" : "pending");
    }
    redraw("map");
  };

  /** The compounds in one use with their intervals, a few at a time, so that the page stays answerable. */
  const inSteps = (use: Use) => {
    const predicted: PredictedOutlook[] = [];
    const steps: (() => void)[] = [];
    for (let from = 0; from < state.compounds.length; from += atATime) {
      steps.push(() => {
        for (const compound of state.compounds.slice(from, from + atATime))
          predicted[compound.index] = predictOne(state, compound, use, true);
      });
    }
    return { steps, predicted };
  };

  /** A compound's own parts, where its verdicts are no longer those the report was written with. */
  const showSection = (section: HTMLElement) => {
    const result = latest?.[Number(section.dataset.compound)];
    if (result === undefined) return;
    const part = (name: string, markup: string) => {
      const place = section.querySelector(`[data-part="${name}"]`);
      if (place !== null) place.innerHTML = markup;
    };
    part("verdicts", verdictRow(result).markup);
    part("ribbon", stateRibbon(result, context.leatheryZone_K)?.markup ?? "");
    part("uses", useTable(context, result).markup);
  };

  const showEverywhere = (setting: Setting, isCurrent: () => boolean) => {
    const perUse = state.data.uses.map((use) => inSteps(withContact(use, setting)));
    const steps = perUse.flatMap(({ steps: ofUse }) => ofUse);
    inTurn(steps, isCurrent, () => {
      const outlooks: JudgedCompound["outlooks"][] = state.compounds.map((_, index) =>
        perUse.map(({ predicted }) => predicted[index].outlook),
      );
      for (const { predicted } of perUse) relateToReference(state, predicted);
      const results = asResults(state, outlooks);
      latest = results;
      const order = worstFirst(results);
      setMarkup("matrix", verdictMatrix(results, order, reference).markup);
      setMarkup("answer", answerSentence(results).markup);
      setMarkup("flags", flagList(context, results, order).markup);
      setMarkup("limits", limitLines(results, context.limits).markup);
      for (const section of document.querySelectorAll<HTMLElement>("details.compound")) showSection(section);
      document.dispatchEvent(new CustomEvent("frostline:verdicts"));
      redraw("curves");
    });
  };

  return {
    start: start === null ? startWithoutMap(state) : settingOf(start.use),
    hasMap: start !== null,
    moment: () => moment,
    showSection,
    /** Predicts for a new setting and shows it. */
    set(setting: Setting): void {
      generation++;
      const mine = generation;
      const isCurrent = () => mine === generation;
      const contact = JSON.stringify([setting.speed_m_s, setting.pressure_Pa, setting.texture?.name]);
      const first = moment === null;
      if (first) {
        // What the report was written with; its table stands there already.
        const outlooks = state.data.startOutlooks.map((outlook) => outlook ?? nothing(setting));
        moment = { setting, outlooks };
        document.getElementById("map-table")?.setAttribute("data-intervals", "yes");
        return;
      }
      showMap(setting, predictAll(state, useOf(setting), false), false);
      showChange(setting, state.data.thinned);
      const { steps, predicted } = inSteps(useOf(setting));
      inTurn(steps, isCurrent, () => showMap(setting, relateToReference(state, predicted), true));
      // Without a speed each use keeps the contact it has in the study.
      const own = isContactOfStudy(setting);
      const key = own ? "own" : contact;
      if (key !== contactShown) showEverywhere(own ? { ...setting, speed_m_s: null } : setting, isCurrent);
      contactShown = key;
    },
  };
}

/** Where grip and rebound are never known together the curves still need a contact. */
function startWithoutMap(state: PageState): Setting | null {
  const use = state.data.uses.find((candidate) => candidate.sliding !== null) ?? state.data.uses[0];
  return use === undefined ? null : settingOf(use);
}

function setMarkup(id: string, markup: string): void {
  const place = document.getElementById(id);
  if (place !== null) place.innerHTML = markup;
}

function nothing({ base, temperature_C }: Setting): Outlook {
  return { use: base.name, temperature_C, rebound: null, grip: null, cold: null };
}

/** Says which use the numbers hold for, and how it differs from the study. */
function showChange(setting: Setting, thinned: boolean): void {
  const own = settingOf(setting.base);
  const set = (id: string, text: string) => {
    const place = document.getElementById(id);
    if (place !== null) place.textContent = text;
  };
  set("map-temperature", statedTemperature(setting.temperature_C));
  set("map-contact", contactWords(useOf(setting)));
  const changed = document.getElementById("changed");
  if (changed === null) return;
  const contact = !isContactOfStudy(setting);
  const temperature = own.temperature_C !== setting.temperature_C;
  changed.hidden = !contact && !temperature;
  const draws = thinned
    ? " This report holds so many compounds that intervals after a change come from every third draw only."
    : "";
  const words = contact
    ? "The contact was changed on this page: verdicts, grip and rebound now hold for it. The study’s own numbers are in results.json and come back with the button."
    : temperature
      ? "The temperature was changed on this page: the map and its table hold for it; the verdicts hold for the study’s uses."
      : "";
  changed.textContent = `${words}${draws}`;
}
