import type { PlotFrame } from "../frame/plot-frame.js";
import { plotLibrary, plotLibraryNow } from "../frame/plot-library.js";

/** Beyond this many plots only the opened sections print, else the print would take minutes. */
const mostPlots = 240;

/** An A4 page leaves 672 pixels between the margins; two plots stand side by side. */
const wholeWidth = { width: 660, heightShare: 0.8 };
const halfWidth = { width: 326, heightShare: 0.78 };
/** What the margins leave of an A4 page, in pixels. */
const page = { width: 672, height: 984 };
/** Beneath a compound's numbers its plots take what is left of the page; less than this is no plot, more is no gain. */
const plotHeight = { least: 125, most: 250 };

/** Plots of two axes, one above the other, take from the height of those beneath them. */
const twoAxes = new Set(["sweep", "master-curve"]);

/** What a link says so that the page prints all evidence: "#print=full". */
const fullInLink = /(^#|&)print=full(?=&|$)/;

const isFull = () => document.documentElement.dataset.print === "full";

function showFull(full: boolean): void {
  if (full) document.documentElement.dataset.print = "full";
  else delete document.documentElement.dataset.print;
}

/** Keeps the switch in the address, so that a link prints the same. */
function writeLink(full: boolean): void {
  const without = location.hash.replace(fullInLink, "").replace(/^&/, "#");
  const rest = without === "#" ? "" : without;
  const hash = full ? `${rest === "" ? "#" : `${rest}&`}print=full` : rest;
  try {
    history.replaceState(null, "", hash === "" ? location.href.split("#")[0] : hash);
  } catch {
    // A page in a frame of its own, as on the drop page, may not change its address.
  }
}

/** The print form: the short one has one page a compound, the full one all evidence. */
function isPrinted(figure: HTMLElement): boolean {
  const section = figure.closest<HTMLDetailsElement>("details.compound");
  if (section?.open === false || section?.hidden) return false;
  return isFull() || figure.closest("details.evidence, .full-print") === null;
}

/**
 * Before the page prints: opens what is folded and printed, and draws its plots, and no others, in print colours and
 * at print width. The switch beside the button prints all evidence.
 */
export function printPath(frames: PlotFrame[], redraw: () => void): void {
  const opened: HTMLDetailsElement[] = [];
  const open = (selector: string) => {
    for (const section of document.querySelectorAll<HTMLDetailsElement>(selector)) {
      if (section.open) continue;
      section.open = true;
      opened.push(section);
    }
  };
  const prepare = () => {
    const library = plotLibraryNow();
    document.documentElement.dataset.printing = "true";
    document.dispatchEvent(new Event("frostline:theme"));
    if (frames.length <= mostPlots) open("details.compound");
    if (isFull() && frames.length <= mostPlots)
      open("details.evidence, details.how, details.more, .notices details");
    if (library === null) return;
    const heights = isFull() ? new Map<Element, number>() : heightsOnPage();
    for (const frame of frames) {
      const { figure } = frame;
      if (!isPrinted(figure)) continue;
      if (figure.classList.contains("trade-off")) frame.draw(library, wholeWidth);
      else {
        const height = heights.get(figure.closest("details.compound") ?? figure);
        const share = twoAxes.has(figure.dataset.plot ?? "") ? 1.2 : 0.8;
        frame.draw(
          library,
          height === undefined ? halfWidth : { width: halfWidth.width, height: Math.round(share * height) },
        );
      }
    }
  };
  const restore = () => {
    delete document.documentElement.dataset.printing;
    document.dispatchEvent(new Event("frostline:theme"));
    for (const section of opened.splice(0)) section.open = false;
    redraw();
  };
  addEventListener("beforeprint", prepare);
  addEventListener("afterprint", restore);
  showFull(fullInLink.test(location.hash));
  addTools();
}

/**
 * How high the plots of each compound may be for its page to hold all of it. The print styles are laid over the
 * screen's for the measurement.
 */
function heightsOnPage(): Map<Element, number> {
  const printRules = [...document.styleSheets]
    .flatMap((sheet) => [...sheet.cssRules])
    .filter((rule): rule is CSSMediaRule => rule instanceof CSSMediaRule && rule.media.mediaText === "print");
  const areas = [...document.querySelectorAll<HTMLElement>("details.compound .plot-area")];
  const screenWidth = document.body.style.width;
  for (const rule of printRules) rule.media.mediaText = "all";
  document.body.style.width = `${page.width}px`;
  for (const area of areas) area.style.display = "none";
  const heights = new Map<Element, number>();
  for (const section of document.querySelectorAll<HTMLElement>("details.compound[open]")) {
    const figures = [...section.querySelectorAll<HTMLElement>("figure.plot")].filter(isPrinted);
    if (figures.length === 0) continue;
    const rows = Math.ceil(figures.length / 2);
    const left = (page.height - section.getBoundingClientRect().height) / rows - 8;
    heights.set(section, Math.round(Math.min(plotHeight.most, Math.max(plotHeight.least, left))));
  }
  for (const area of areas) area.style.display = "";
  document.body.style.width = screenWidth;
  for (const rule of printRules) rule.media.mediaText = "print";
  return heights;
}

/** The button that prints, and the switch for the full form. */
function addTools(): void {
  const tools = document.getElementById("page-tools");
  if (tools === null) return;
  const button = document.createElement("button");
  button.type = "button";
  button.textContent = "Print";
  button.addEventListener("click", async () => {
    await plotLibrary();
    print();
  });
  const label = document.createElement("label");
  label.className = "print-switch";
  const box = document.createElement("input");
  box.type = "checkbox";
  box.checked = isFull();
  box.addEventListener("change", () => {
    showFull(box.checked);
    writeLink(box.checked);
  });
  label.append(box, " with all evidence");
  tools.append(button, label);
}
