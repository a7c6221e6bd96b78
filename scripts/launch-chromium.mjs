// @ts-check
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { chromium } from "playwright-core";
import { findChromium } from "./find-tools.mjs";

/** @typedef {{ context: import("playwright-core").BrowserContext, close(): Promise<void> }} Browser */

/**
 * Starts the browser on a profile of its own, offline and without any service that would reach for the network.
 * Throws where there is no browser.
 *
 * @param {import("playwright-core").BrowserContextOptions} [options] of the browser's context
 * @param {string[]} [flags] of its command line
 * @returns {Promise<Browser>}
 */
export async function launchChromium(options = {}, flags = []) {
  const executablePath = findChromium();
  if (executablePath === null) {
    const stated = process.env.CHROMIUM;
    throw new Error(
      stated
        ? `CHROMIUM names ${stated}, which is no program that can be run. Name another, or unset it.`
        : "No Chromium was found. Install it (Debian: apt-get install chromium) or name it in the environment variable CHROMIUM.",
    );
  }
  // On a busy machine a browser may hang while it starts; then another one is started, once.
  try {
    return await launch(executablePath, options, flags, 60_000);
  } catch {
    return launch(executablePath, options, flags, 180_000);
  }
}

/**
 * All profiles of this process. A browser's helpers may outlive it by a moment and write their files once more, so that each
 * is removed again at the end.
 * @type {Set<string>}
 */
const profiles = new Set();

/** @param {string} profile */
function removeAtExit(profile) {
  if (profiles.size === 0) process.once("exit", () => profiles.forEach(removeProfile));
  profiles.add(profile);
}

/** @param {string} profile */
const removeProfile = (profile) => rmSync(profile, { recursive: true, force: true, maxRetries: 5 });

/**
 * @param {string} executablePath
 * @param {import("playwright-core").BrowserContextOptions} options
 * @param {string[]} flags
 * @param {number} timeout in ms
 * @returns {Promise<Browser>}
 */
async function launch(executablePath, options, flags, timeout) {
  const profile = mkdtempSync(join(tmpdir(), "frostline-browser-"));
  const remove = () => removeProfile(profile);
  // Where a program ends without closing its browser, playwright-core, which listens first, ends it.
  const launching = chromium.launchPersistentContext(profile, {
    timeout,
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
      ...flags,
      `--user-data-dir=${profile}`,
      // How playwright-core talks to the browser: a pipe, no port.
      "--remote-debugging-pipe",
    ],
    offline: true,
    ...options,
  });
  try {
    const context = await launching;
    removeAtExit(profile);
    return {
      context,
      async close() {
        await context.close();
        remove();
      },
    };
  } catch (error) {
    removeAtExit(profile);
    remove();
    throw error;
  }
}
