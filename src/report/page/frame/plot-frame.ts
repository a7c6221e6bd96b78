import { exp10 } from "../../../numeric/elementary/exponential.js";
import { log10 } from "../../../numeric/elementary/logarithm.js";
import { workbookBytes, workbookType } from "../../tables/workbook.js";
import { currentTheme, type Theme } from "../theme.js";
import { csvText } from "../tools/csv-text.js";
import { dataTable } from "../tools/data-table.js";
import { download, fileName } from "../tools/download.js";
import { plotConfig } from "./base-layout.js";
import { paperSpec } from "./paper-spec.js";
import { onPoint, onPress, type PlotLibrary, plotLibrary } from "./plot-library.js";
import type { PlotRoom, PlotSpec } from "./plot-spec.js";
import { plotText } from "./plot-text.js";

/** One figure of the page: draws when told, keeps its tools, redraws when colours, width or numbers change. */
export interface PlotFrame {
  figure: HTMLElement;
  isDrawn(): boolean;
  /** What takes long before a drawing; false where it was called off. */
  prepare(): Promise<boolean>;
  /** Draws with a library that is there, at a given width or the figure's own. */
  draw(library: PlotLibrary, size?: DrawnSize): void;
}

/** In pixels; the height as such, or as a share of the one the plot would have by itself. */
type DrawnSize = { width: number } & ({ height: number } | { heightShare: number });

type MakeSpec = (theme: Theme, room: PlotRoom) => PlotSpec;

/** A plot with its tools around it: title, table of its data, downloads, and a summary for a screen reader. */
export function plotFrame(
  figure: HTMLElement,
  makeSpec: MakeSpec,
  title: string,
  pointed: (compound: number | null) => void,
  pressed: ((compound: number) => void) | null,
  prepare: () => Promise<boolean>,
): PlotFrame {
  const area = figure.querySelector<HTMLElement>(".plot-area");
  if (area === null) throw new Error(`The figure ${figure.id} has no place for its plot.`);
  let drawn = false;
  const frame: PlotFrame = {
    figure,
    isDrawn: () => drawn,
    prepare,
    draw(library, size: DrawnSize = { width: area.clientWidth, heightShare: 1 }) {
      const { width } = size;
      const room = {
        width,
        height: (natural: number) =>
          "height" in size ? size.height : Math.round(natural * size.heightShare),
        titleRoom: 0,
      };
      const made = makeSpec(currentTheme(), room);
      const spec = document.documentElement.dataset.printing && width < 460 ? paperSpec(made) : made;
      const height = room.height(spec.height);
      area.style.height = `${height}px`;
      if (!drawn) {
        area.replaceChildren();
      }
      const narrow = width < 460;
      const layout = {
        ...spec.layout,
        width,
        height,
        ...(spec.margin
          ? { margin: { ...spec.margin, autoexpand: false } }
          : narrow && spec === made
            ? { margin: { l: 46, r: 8, t: 12, b: 40 } }
            : {}),
      };
      figure.removeAttribute("data-stale");
      figure.removeAttribute("aria-busy");
      void library.react(area, spec.traces, layout, plotConfig);
      if (!drawn) {
        drawn = true;
        figure.dataset.drawn = "true";
        onPoint(area, pointed);
        if (pressed !== null) onPress(area, pressed);
      }
    },
  };
  addTools(figure, area, makeSpec, title);
  return frame;
}

function toolButton(label: string, spoken: string, act: () => void): HTMLButtonElement {
  const button = document.createElement("button");
  button.type = "button";
  button.textContent = label;
  button.setAttribute("aria-label", spoken);
  button.addEventListener("click", act);
  return button;
}

/** A downloaded picture's. */
const pictureRoom: PlotRoom = { width: 900, height: (natural) => Math.max(520, natural), titleRoom: 0 };

function addTools(figure: HTMLElement, area: HTMLElement, makeSpec: MakeSpec, title: string) {
  const kind = figure.dataset.plot ?? "plot";
  const picture = (format: "svg" | "png") => async () => {
    const library = await plotLibrary();
    const theme = currentTheme();
    const room = { ...pictureRoom, titleRoom: 44 };
    const spec = makeSpec(theme, room);
    const size = { width: room.width, height: room.height(spec.height) };
    const url = await library.toImage(
      {
        data: spec.traces,
        layout: {
          ...spec.layout,
          ...size,
          paper_bgcolor: theme.paper,
          margin: spec.margin ? { ...spec.margin, autoexpand: false } : { l: 70, r: 30, t: 84, b: 56 },
          title: { text: plotText(title, 90), x: 0.02, xanchor: "left", y: 0.97, font: { size: 15 } },
        },
      },
      { format, ...size, scale: format === "png" ? 2 : 1 },
    );
    download(`${fileName(title)}.${format}`, blobOf(url));
  };
  figure.querySelector(".plot-tools")?.append(
    toolButton("SVG", `Download as SVG: ${title}`, () => void picture("svg")()),
    toolButton("PNG", `Download as PNG: ${title}`, () => void picture("png")()),
    toolButton("CSV", `Download the data as CSV: ${title}`, () => {
      const text = csvText(makeSpec(currentTheme(), pictureRoom).table());
      download(`${fileName(title)}.csv`, new Blob(["\ufeff", text], { type: "text/csv" }));
    }),
    toolButton("XLSX", `Download the data as XLSX: ${title}`, () => {
      const { columns, rows, remarks } = makeSpec(currentTheme(), pictureRoom).table();
      const bytes = workbookBytes([
        { name: "Data", rows: [...remarks.map((remark) => [remark]), columns, ...rows] },
      ]);
      download(`${fileName(title)}.xlsx`, new Blob([bytes], { type: workbookType }));
    }),
  );
  const details = document.createElement("details");
  details.className = "data";
  const summary = document.createElement("summary");
  summary.textContent = "Data and range";
  summary.setAttribute("aria-label", `Data and range: ${title}`);
  const content = document.createElement("div");
  details.append(summary, content);
  details.addEventListener("toggle", () => {
    if (!details.open) return;
    content.innerHTML = dataTable(makeSpec(currentTheme(), pictureRoom).table(), `Data: ${title}`).markup;
    content.prepend(rangeInputs(area, kind, title));
  });
  figure.append(details);
}

/** Two fields that set the horizontal range, for those who cannot or will not drag. */
function rangeInputs(area: HTMLElement, kind: string, title: string): HTMLElement {
  const logarithmic = ["master-curve", "wicket", "spectrum", "strain-sweep"].includes(kind);
  const plot = area as HTMLElement & { layout?: { xaxis?: { range?: [number, number] } } };
  const range = plot.layout?.xaxis?.range ?? [0, 1];
  const form = document.createElement("form");
  form.className = "range-form";
  const field = (label: string, value: number) => {
    const input = document.createElement("input");
    input.type = "number";
    input.step = "any";
    input.value = String(Number((logarithmic ? exp10(value) : value).toPrecision(3)));
    input.setAttribute("aria-label", `${label}: ${title}`);
    return input;
  };
  const from = field("Horizontal axis from", range[0]);
  const to = field("Horizontal axis to", range[1]);
  const apply = document.createElement("button");
  apply.textContent = "Set";
  const whole = document.createElement("button");
  whole.type = "button";
  whole.textContent = "Whole range";
  form.append("Horizontal axis from ", from, " to ", to, " ", apply, " ", whole);
  const relayout = async (change: Record<string, unknown>) =>
    void (await plotLibrary()).relayout(area, change);
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const ends = [Number(from.value), Number(to.value)];
    const valid = ends.every(Number.isFinite) && ends[0] < ends[1] && (!logarithmic || ends[0] > 0);
    if (valid) void relayout({ "xaxis.range": logarithmic ? ends.map(log10) : ends });
  });
  whole.addEventListener("click", () => void relayout({ "xaxis.autorange": true }));
  return form;
}

function blobOf(dataUrl: string): Blob {
  const comma = dataUrl.indexOf(",");
  const head = dataUrl.slice(5, comma);
  const body = dataUrl.slice(comma + 1);
  if (!head.endsWith(";base64")) return new Blob([decodeURIComponent(body)], { type: head });
  const bytes = Uint8Array.from(atob(body), (character) => character.charCodeAt(0));
  return new Blob([bytes], { type: head.slice(0, -7) });
}
