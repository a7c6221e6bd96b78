import type { PlotKind } from "../html/plot-figures.js";
import type { PageData } from "../page-data.js";
import { lazyPlots } from "./frame/lazy-plots.js";
import { plotFrame } from "./frame/plot-frame.js";
import { plotLibrary } from "./frame/plot-library.js";
import type { PlotRoom } from "./frame/plot-spec.js";
import { pageState } from "./page-state.js";
import { specOf } from "./plot-specs.js";
import type { Theme } from "./theme.js";
import { copyButton } from "./tools/copy-button.js";
import { foldTools } from "./tools/fold-tools.js";
import { highlighting } from "./tools/highlight.js";
import { matrixTools } from "./tools/matrix-tools.js";
import { printPath } from "./tools/print-path.js";
import { settingsText } from "./tools/settings-text.js";
import { canUnpack, unpackText } from "./unpack.js";
import { controls } from "./what-if/controls.js";
import { predictionPool } from "./what-if/prediction-pool.js";
import { servePredictions } from "./what-if/prediction-server.js";
import { temperatureCurves } from "./what-if/temperature-curves.js";
import { whatIf } from "./what-if/what-if.js";

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
  const pool = predictionPool(state, script);
  const curves = temperatureCurves(state, pool);
  let stand: (compound: number | null) => void = () => {};
  const plots = lazyPlots();
  const play = whatIf(state, pool, plots.redraw);
  matrixTools(state.compounds.length);
  const addFigures = (part: ParentNode) => {
    for (const figure of part.querySelectorAll<HTMLElement>("figure.plot")) {
      const kind = figure.dataset.plot as PlotKind;
      const compound = figure.dataset.compound === undefined ? null : Number(figure.dataset.compound);
      const heading = figure.querySelector(".plot-title")?.textContent ?? kind;
      const spec = (theme: Theme, room: PlotRoom) =>
        specOf(kind, compound, state, curves, play.moment, theme, room);
      const prepare = async () => {
        const setting = play.moment()?.setting;
        if (
          setting === undefined ||
          !["grip", "rebound", "cushioning", "all-grip", "all-rebound"].includes(kind)
        )
          return true;
        const shown = compound === null ? state.compounds : [state.compounds[compound]];
        return curves.prepare(shown, setting, compound !== null);
      };
      plots.add(plotFrame(figure, spec, heading, (index) => stand(index), prepare));
    }
  };
  stand = highlighting(state, () => plots.redraw("all-compounds"));
  if (play.start !== null) {
    const form = document.querySelector<HTMLFormElement>("#controls");
    if (form !== null && play.hasMap) {
      controls(form, state, play.start, (setting) => void play.set(setting));
    }
    void play.set(play.start);
    document
      .querySelector("[data-copy=settings-yaml]")
      ?.append(copyButton("Copy as study.yaml", () => settingsText(state, play.moment()?.setting ?? null)));
  } else {
    document
      .querySelector("[data-copy=settings-yaml]")
      ?.append(copyButton("Copy as study.yaml", () => settingsText(state, null)));
  }
  addFigures(document);
  foldTools(state.compounds.length, (section) => {
    const body = state.data.bodies?.[Number(section.dataset.compound)];
    const place = section.querySelector(".compound-body");
    if (body === undefined || place === null || section.dataset.unpacked) return;
    section.dataset.unpacked = "true";
    place.innerHTML = body;
    play.showSection(section);
    addFigures(section);
  });
  printPath(plots.frames, () => plots.redraw("all"));
  document.documentElement.dataset.ready = "true";
  // The plot library is fetched from the page itself while the reader reads, so that printing finds it there.
  setTimeout(() => void plotLibrary(), 300);
  const { start: first } = state.data;
  if (first !== null) setTimeout(() => pool.warmUp(first.use), 300);
}

if (typeof document === "undefined") servePredictions();
else void start(document.currentScript?.textContent ?? "");
