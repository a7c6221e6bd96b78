// Makes the pictures of the README from the real page: the demo's report, in a real browser.
// node scripts/screenshots.mjs [report.html]; without a report the demo is made anew in a temporary folder.
import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { launchChromium } from "./launch-chromium.mjs";

const root = join(dirname(fileURLToPath(import.meta.url)), "..");
const pictures = join(root, "docs/pictures");
const mostBytes = 300_000;

const folder = mkdtempSync(join(tmpdir(), "frostline-pictures-"));
let failed = false;
try {
  let report = process.argv[2];
  if (report === undefined) {
    const made = spawnSync(
      process.execPath,
      [join(root, "dist/cli.js"), "demo", "--out", join(folder, "demo")],
      {
        stdio: "inherit",
      },
    );
    if (made.status !== 0) throw new Error("The demo failed; build first (npm run build).");
    report = join(folder, "demo/report/report.html");
  }
  await takePictures(pathToFileURL(resolve(report)).href);
} finally {
  rmSync(folder, { recursive: true, force: true, maxRetries: 5 });
}
process.exit(failed ? 1 : 0);

async function takePictures(url) {
  const { context, close } = await launchChromium({}, ["--hide-scrollbars"]);
  mkdirSync(pictures, { recursive: true });
  const open = async (width, height, colorScheme) => {
    const page = await context.newPage();
    await page.setViewportSize({ width, height });
    await page.emulateMedia({ colorScheme });
    await page.goto(url);
    await page.waitForSelector("html[data-ready]");
    return page;
  };
  const keep = async (name, take) => {
    const path = join(pictures, `${name}.png`);
    await take(path);
    const { size } = statSync(path);
    console.log(`${name}.png ${(size / 1000).toFixed(0)} kB`);
    if (size > mostBytes) {
      console.error(`${name}.png is larger than ${mostBytes / 1000} kB.`);
      failed = true;
    }
  };
  const drawn = async (page, selector) => {
    for (const figure of await page.locator(`${selector} figure.plot:visible`).all()) {
      await figure.scrollIntoViewIfNeeded();
      await figure.and(page.locator("[data-drawn]")).waitFor();
    }
    await page.waitForTimeout(300);
  };

  const light = await open(1280, 800, "light");
  await keep("report-first-screen", (path) => light.screenshot({ path }));
  await drawn(light, "#trade-off");
  await keep("report-trade-off", (path) => light.locator("#trade-off").screenshot({ path }));
  // The first compound that has all plots.
  const whole = light
    .locator("details.compound:has(figure.sweep):has(figure.master-curve):has(figure.grip)")
    .first();
  const id = await whole.getAttribute("id");
  await whole.evaluate((section) => {
    section.open = true;
  });
  await drawn(light, `#${id}`);
  await light.setViewportSize({ width: 1280, height: 1100 });
  const boxOf = async (kind) => {
    const figure = light.locator(`#${id} figure.${kind}`);
    await figure.scrollIntoViewIfNeeded();
    return figure.boundingBox();
  };
  await boxOf("sweep");
  const [left, right] = [await boxOf("sweep"), await boxOf("master-curve")];
  const top = Math.min(left.y, right.y);
  const clip = {
    x: left.x - 12,
    y: top - 12,
    width: right.x + right.width - left.x + 24,
    height: Math.max(left.y + left.height, right.y + right.height) - top + 24,
  };
  await keep("report-compound-plots", (path) => light.screenshot({ path, clip }));
  const dark = await open(1280, 800, "dark");
  await keep("report-first-screen-dark", (path) => dark.screenshot({ path }));
  const phone = await open(390, 844, "light");
  await keep("report-phone", (path) => phone.screenshot({ path }));
  await close();
}
