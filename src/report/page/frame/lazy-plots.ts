import { afterPaint, nextFrame } from "../paint.js";
import type { PlotFrame } from "./plot-frame.js";
import { plotLibrary } from "./plot-library.js";

type Which = "map" | "curves" | "all-compounds" | "side by side" | "all";

const members: Record<Exclude<Which, "all">, string[]> = {
  map: ["trade-off"],
  curves: ["grip", "rebound", "cushioning", "all-grip", "all-rebound", "all-peak-force"],
  "side by side": ["all-tan-delta", "all-grip", "all-rebound", "all-peak-force"],
  "all-compounds": ["trade-off", "all-tan-delta", "all-grip", "all-rebound", "all-peak-force"],
};

/** Draws each plot when it comes near the screen, and again when something it shows has changed. */
export function lazyPlots() {
  const frames: PlotFrame[] = [];
  const waiting = new Set<PlotFrame>();
  const near = new Set<PlotFrame>();
  const prepared = new Set<PlotFrame>();
  let busy = false;

  /** One plot at a time, so that scrolling stays smooth; what takes long to prepare holds up nothing else. */
  const work = async () => {
    if (busy) return;
    busy = true;
    const library = await plotLibrary();
    for (;;) {
      // What is laid out for paper stays so until it is printed; everything is drawn anew after that.
      const isHeld = document.documentElement.dataset.printing !== undefined;
      const next = isHeld ? undefined : [...waiting].find((frame) => near.has(frame));
      if (next === undefined) break;
      waiting.delete(next);
      if (prepared.has(next)) {
        prepared.delete(next);
        next.draw(library);
        await new Promise((resolve) => setTimeout(resolve, 0));
      } else {
        void next.prepare().then((isReady) => {
          // Where a newer contact called it off, it is prepared once more for that.
          if (isReady) prepared.add(next);
          waiting.add(next);
          void work();
        });
      }
    }
    busy = false;
  };

  const redraw = (which: Which) => {
    for (const frame of frames) {
      const concerned = which === "all" || members[which].includes(frame.figure.dataset.plot ?? "");
      if (!concerned || !frame.isDrawn()) continue;
      prepared.delete(frame);
      waiting.add(frame);
    }
    void work();
  };
  let isMapDue = false;
  /** Drawing the map takes longer than all that is written beside it: it follows a frame after that. */
  const redrawMap = async () => {
    for (const { figure, isDrawn } of frames)
      if (isDrawn() && figure.dataset.plot === "trade-off") figure.setAttribute("aria-busy", "true");
    if (isMapDue) return;
    isMapDue = true;
    await afterPaint();
    await nextFrame();
    await afterPaint();
    isMapDue = false;
    redraw("map");
  };

  const observer = new IntersectionObserver(
    (entries) => {
      for (const entry of entries) {
        const frame = frames.find((candidate) => candidate.figure === entry.target);
        if (frame === undefined) continue;
        if (!entry.isIntersecting) {
          near.delete(frame);
          continue;
        }
        near.add(frame);
        if (!frame.isDrawn()) waiting.add(frame);
      }
      void work();
    },
    { rootMargin: "300px" },
  );
  let settling: ReturnType<typeof setTimeout> | null = null;
  let width = innerWidth;
  addEventListener("resize", () => {
    // A phone's address bar changes the height only.
    if (innerWidth === width || document.documentElement.dataset.printing) return;
    width = innerWidth;
    if (settling !== null) clearTimeout(settling);
    settling = setTimeout(() => redraw("all"), 150);
  });
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => redraw("all"));
  return {
    frames,
    redraw,
    redrawMap,
    /** Says of the drawn curves that they hold for a contact that is no longer set. */
    markCurves(areStale: boolean): void {
      for (const { figure, isDrawn } of frames)
        if (isDrawn() && members.curves.includes(figure.dataset.plot ?? ""))
          figure.toggleAttribute("data-stale", areStale);
    },
    add(frame: PlotFrame): void {
      frames.push(frame);
      observer.observe(frame.figure);
    },
  };
}
