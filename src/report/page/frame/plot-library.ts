import { unpackText } from "../unpack.js";

export type Trace = Record<string, unknown>;
export type Layout = Record<string, unknown>;

/** The few calls the page makes. */
export interface PlotLibrary {
  react(
    element: HTMLElement,
    traces: Trace[],
    layout: Layout,
    config: Record<string, unknown>,
  ): Promise<unknown>;
  relayout(element: HTMLElement, change: Layout): Promise<unknown>;
  restyle(element: HTMLElement, change: Trace, traces?: number[]): Promise<unknown>;
  purge(element: HTMLElement): void;
  toImage(figure: unknown, options: Record<string, unknown>): Promise<string>;
}

type PlotElement = HTMLElement & {
  on?: (event: string, listener: (event: { points: { customdata?: unknown }[] }) => void) => void;
};

let loading: Promise<PlotLibrary> | null = null;
let loaded: PlotLibrary | null = null;

/** The library where it runs already; the print path cannot wait. */
export function plotLibraryNow(): PlotLibrary | null {
  return loaded;
}

/** Unpacks the plot library and runs it, once. Its hash is in the page's content security policy. */
export function plotLibrary(): Promise<PlotLibrary> {
  loading ??= unpackText("plot-script").then((code) => {
    const script = document.createElement("script");
    script.textContent = code;
    document.head.append(script);
    loaded = (window as unknown as { Plotly: PlotLibrary }).Plotly;
    return loaded;
  });
  return loading;
}

/** Calls back when a point that carries a compound's index is pointed at, and with null when it is left. */
export function onPoint(element: HTMLElement, tell: (compound: number | null) => void): void {
  const plot = element as PlotElement;
  plot.on?.("plotly_hover", ({ points }) => {
    const index = points[0]?.customdata;
    if (typeof index === "number") tell(index);
  });
  plot.on?.("plotly_unhover", () => tell(null));
}

/** Calls back when a point that carries a compound's index is pressed. */
export function onPress(element: HTMLElement, tell: (compound: number) => void): void {
  (element as PlotElement).on?.("plotly_click", ({ points }) => {
    const index = points[0]?.customdata;
    if (typeof index === "number") tell(index);
  });
}
