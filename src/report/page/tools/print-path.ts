import type { PlotFrame } from "../frame/plot-frame.js";
import { plotLibrary, plotLibraryNow } from "../frame/plot-library.js";

/** Beyond this many plots only the opened sections print, else the print would take minutes. */
const mostPlots = 240;

/** An A4 page leaves 672 pixels between the margins; two plots stand side by side. */
const wholeWidth = { width: 660, heightShare: 0.9 };
const halfWidth = { width: 326, heightShare: 0.78 };

/** Opens what is folded and draws every plot in print colours and at print width before the page prints. */
export function printPath(frames: PlotFrame[], redraw: () => void): void {
  const opened: HTMLDetailsElement[] = [];
  const prepare = () => {
    const library = plotLibraryNow();
    document.documentElement.dataset.printing = "true";
    document.dispatchEvent(new Event("frostline:theme"));
    if (frames.length <= mostPlots) {
      for (const section of document.querySelectorAll<HTMLDetailsElement>(
        "details.compound, details.how, details.more",
      )) {
        if (!section.open) {
          section.open = true;
          opened.push(section);
        }
      }
    }
    if (library === null) return;
    for (const frame of frames) {
      const section = frame.figure.closest<HTMLDetailsElement>("details.compound");
      if (section?.open === false || section?.hidden) continue;
      frame.draw(library, frame.figure.classList.contains("trade-off") ? wholeWidth : halfWidth);
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
  const tools = document.getElementById("page-tools");
  if (tools !== null) {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = "Print";
    button.addEventListener("click", async () => {
      await plotLibrary();
      print();
    });
    tools.append(button);
  }
}
