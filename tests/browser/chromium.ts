import { accessSync, constants, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { delimiter, join } from "node:path";
import { type BrowserContext, chromium } from "playwright-core";

const names = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome"];

/** The browser the tests drive: the one CHROMIUM names, else the first found on the path; null where there is none. */
export function findChromium(): string | null {
  const stated = process.env.CHROMIUM;
  const folders = [...(process.env.PATH ?? "").split(delimiter), "/usr/bin", "/usr/local/bin", "/snap/bin"];
  const places = [
    ...(stated ? [stated] : []),
    ...folders.flatMap((folder) => names.map((name) => join(folder, name))),
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
  ];
  return places.find(isExecutable) ?? null;
}

function isExecutable(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

export interface Browser {
  context: BrowserContext;
  close(): Promise<void>;
}

/** Starts the browser without any service of its own that would reach for the network. */
export async function startChromium(options: { reducedMotion?: boolean } = {}): Promise<Browser> {
  const executablePath = findChromium();
  if (executablePath === null) {
    throw new Error(
      "No Chromium was found. Install it (Debian: apt-get install chromium) or name it in the environment variable CHROMIUM.",
    );
  }
  const profile = mkdtempSync(join(tmpdir(), "frostline-browser-"));
  const context = await chromium.launchPersistentContext(profile, {
    executablePath,
    ignoreDefaultArgs: true,
    args: [
      "--headless",
      "--no-sandbox",
      "--disable-gpu",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
      `--user-data-dir=${profile}`,
      // How the test library talks to the browser: a pipe, no port.
      "--remote-debugging-pipe",
    ],
    viewport: { width: 1280, height: 800 },
    reducedMotion: options.reducedMotion ? "reduce" : null,
    offline: true,
    acceptDownloads: true,
  });
  return {
    context,
    async close() {
      await context.close();
      rmSync(profile, { recursive: true, force: true, maxRetries: 5 });
    },
  };
}
