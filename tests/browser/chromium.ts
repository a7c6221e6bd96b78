import { findChromium } from "../../scripts/find-tools.mjs";
import { type Browser, launchChromium } from "../../scripts/launch-chromium.mjs";

export type { Browser };

/** Starts the browser that the tests drive, with a window of a usual size. */
export function startChromium(options: { reducedMotion?: boolean } = {}): Promise<Browser> {
  return launchChromium({
    viewport: { width: 1280, height: 800 },
    reducedMotion: options.reducedMotion ? "reduce" : null,
    acceptDownloads: true,
  });
}

/** True where the checks in a browser are to be skipped by name: no Chromium, and not on CI, where they must fail. */
export const withoutChromium = findChromium() === null && !process.env.CI;
