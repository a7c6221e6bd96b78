import type { PlotKind } from "../html/plot-figures.js";
import type { PageData } from "../page-data.js";
import { lazyPlots } from "./frame/lazy-plots.js";
import { plotFrame } from "./frame/plot-frame.js";
import { plotLibrary } from "./frame/plot-library.js";
import type { PlotRoom } from "./frame/plot-spec.js";
import { pageState } from "./page-state.js";
import { prepareCurves, specOf } from "./plot-specs.js";
import type { Theme } from "./theme.js";
import { viewOfAddress, writeAddress } from "./tools/address.js";
import { copyButton } from "./tools/copy-button.js";
import { findTools } from "./tools/find-tools.js";
import { foldTools } from "./tools/fold-tools.js";
import { highlighting } from "./tools/highlight.js";
import { matrixTools } from "./tools/matrix-tools.js";
import { pins } from "./tools/pins.js";
import { printPath } from "./tools/print-path.js";
import { settingsText } from "./tools/settings-text.js";
import { canUnpack, unpackText } from "./unpack.js";
import { axesForm } from "./what-if/axes-form.js";
import { controls } from "./what-if/controls.js";
import { limitsForm } from "./what-if/limits-form.js";
import { predictionPool } from "./what-if/prediction-pool.js";
import { servePredictions } from "./what-if/prediction-server.js";
import type { Moment, Setting } from "./what-if/predictions.js";
import { shownAnswer } from "./what-if/shown-answer.js";
import { shownSections } from "./what-if/shown-sections.js";
import { sideBySide } from "./what-if/side-by-side.js";
import { temperatureCurves } from "./what-if/temperature-curves.js";
import { type View, viewOfStudy, viewText } from "./what-if/view.js";
import { contactOf, whatIf } from "./what-if/what-if.js";

function tooOld(): void {
  const place = document.getElementById("too-old");
  if (place === null) return;
  place.hidden = false;
  place.textContent =
    "This browser is too old to unpack the plots and to predict anew: it lacks DecompressionStream, which Chrome and Edge have since version 80, Safari since 16.4, Firefox since 113. All numbers below are complete; only plots and controls are missing.";
}

async function start(script: string): Promise<void> {
  document.documentElement.dataset.script = "true";
  if (!canUnpack()) return tooOld();
  const state = pageState(JSON.parse(await unpackText("page-data")) as PageData);
  const { data } = state;
  const linked = viewOfAddress(data);
  const view = viewOfStudy(data);
  const pool = predictionPool(state, script);
  const curves = temperatureCurves(state, pool);
  const plots = lazyPlots();
  const find = findTools(state.compounds.length);
  const sort = matrixTools(state.compounds.length);
  const axes = axesForm(view, () => play.refresh());
  const pinned = pins(state, view.pinned, () => {
    play.refresh();
    plots.redraw("side by side");
  });
  const standing = highlighting(state, () => plots.redraw("all-compounds"));
  const beside = sideBySide(state, view, pool, pinned.toggle);
  const sections = shownSections(state);
  const written = shownAnswer(state, view, (part) => {
    if (part.id === "matrix") sort();
    else if (part.id === "card") pinned.addTo(part);
    find();
    standing.mark(part);
  });
  let curvesOf = "";
  const show = (moment: Moment) => {
    void plots.redrawMap();
    written.show(moment);
    axes.show(moment.answer);
    if (moment.contact !== "") sections.show(moment.answer.compounds, moment.isJudged, moment.contact);
    if (moment.isJudged && moment.contact === curvesOf) plots.markCurves(false);
    else if (moment.isJudged) {
      plots.redraw("curves");
      curvesOf = moment.contact;
    }
    void beside(moment);
    writeAddress(data, view);
  };
  const announce = (setting: Setting) => {
    written.announce(setting);
    plots.markCurves(contactOf(setting) !== curvesOf);
  };
  const play = whatIf(state, view, pool, show, announce);
  const addFigures = (part: ParentNode) => {
    for (const figure of part.querySelectorAll<HTMLElement>("figure.plot")) {
      const kind = figure.dataset.plot as PlotKind;
      const compound = figure.dataset.compound === undefined ? null : Number(figure.dataset.compound);
      const heading = figure.querySelector(".plot-title")?.textContent ?? kind;
      const spec = (theme: Theme, room: PlotRoom) =>
        specOf(kind, compound, state, view, curves, play.moment, theme, room);
      const prepare = async () => {
        const setting = play.moment()?.setting;
        return setting === undefined || prepareCurves(kind, compound, state, view, curves, setting);
      };
      const pressed = kind === "trade-off" ? pinned.toggle : null;
      plots.add(plotFrame(figure, spec, heading, standing.show, pressed, prepare));
    }
  };
  const first = play.moment();
  written.dress();
  if (first !== null) {
    axes.show(first.answer);
    void beside(first);
    curvesOf = first.contact;
  }
  takeView(linked.view, view);
  const form = document.querySelector<HTMLFormElement>("#controls");
  if (form !== null && data.start !== null && view.setting !== null)
    controls(form, state, view.setting, (setting) => void play.set(setting));
  limitsForm(state, view, play.refresh);
  if (viewText(data, view) !== "" && view.setting !== null) void play.set(view.setting);
  pinned.markAll();
  sayRefused(linked.refused);
  addEventListener("hashchange", () => {
    // A link of this page to one of its parts carries no view: it is the one that is shown.
    const text = viewText(data, viewOfAddress(data).view);
    if (text === "") writeAddress(data, view);
    else if (text !== viewText(data, view)) location.reload();
  });
  document
    .querySelector("[data-copy=settings-yaml]")
    ?.append(copyButton("Copy as study.yaml", () => settingsText(state, view)));
  addFigures(document);
  const pinInto = (section: Element) => {
    const body = section.querySelector(".compound-body");
    if (body === null || state.compounds.length < 2 || body.querySelector("button[data-pin]") !== null)
      return;
    body.prepend(pinned.buttonFor(Number((section as HTMLElement).dataset.compound)));
  };
  foldTools(state.compounds.length, (section) => {
    const body = data.bodies?.[Number(section.dataset.compound)];
    const place = section.querySelector(".compound-body");
    if (body === undefined || place === null || section.dataset.unpacked) return;
    section.dataset.unpacked = "true";
    place.innerHTML = body;
    sections.showSection(section);
    addFigures(section);
    pinInto(section);
  });
  if (data.bodies === null) for (const section of document.querySelectorAll(".compound")) pinInto(section);
  printPath(plots.frames, () => plots.redraw("all"));
  document.documentElement.dataset.ready = "true";
  // The plot library is fetched from the page itself while the reader reads, so that printing finds it there.
  setTimeout(() => void plotLibrary(), 300);
  if (data.start !== null) setTimeout(() => pool.warmUp(data.start!.use), 300);
}

/** The view of a link takes the place of the one that the page opens with. */
function takeView(linked: View, view: View): void {
  view.setting = linked.setting;
  view.asked = linked.asked;
  Object.assign(view.axes, linked.axes);
  view.pinned.push(...linked.pinned);
}

/** A link that was made for another report is not followed in silence. */
function sayRefused(refused: string[]): void {
  const place = document.getElementById("refused");
  if (place === null || refused.length === 0) return;
  place.hidden = false;
  place.textContent = `The link asks for what this report does not have, and was followed without it: ${refused.join(", ")}.`;
}

if (typeof document === "undefined") servePredictions();
else void start(document.currentScript?.textContent ?? "");
