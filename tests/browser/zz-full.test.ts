import { mkdirSync, mkdtempSync, readFileSync, writeFileSync, readdirSync } from "node:fs";
import { dirname, join } from "node:path";
import { test } from "vitest";
import { startChromium } from "/work/main/tests/browser/chromium.js";
import { buildPageAndCli } from "/work/main/tests/browser/drop-page-and-cli.js";
import { demoFolder } from "/work/main/src/study/demo/demo-folder.js";
import { unzipSync } from "fflate";
function diff(a:any,b:any,at:string,top:[number,string][]):void{ if(typeof a==="number"&&typeof b==="number"){ if(a!==b)top.push([Math.abs(a-b)/Math.max(Math.abs(a),Math.abs(b)),at]); return;} if(typeof a!=="object"||a===null||typeof b!=="object"||b===null){ if(a!==b)console.log("WORD",at,a,b); return;} if(Object.keys(a).join()!==Object.keys(b).join())console.log("KEYS",at); for(const k of Object.keys(a))diff(a[k],b[k],at+"."+k,top);}
test("full", async () => {
  const folder = mkdtempSync("/tmp/dpfull-");
  const exports = join(folder, "exports");
  for (const { path, bytes } of demoFolder()) { mkdirSync(dirname(join(exports, path)), { recursive: true }); writeFileSync(join(exports, path), bytes); }
  const built = await buildPageAndCli(folder);
  let t = Date.now();
  await built.runCli("assess", exports, "--out", join(folder, "out"), "--quiet");
  console.log("cli same math 1 worker ms", Date.now() - t);
  const browser = await startChromium();
  for (const [name,url] of [["same",built.sameMathUrl],["own",built.url]] as const) {
    const page = await browser.context.newPage();
    page.on("console", (m) => console.log("CONSOLE", m.text()));
    await page.goto(url);
    await page.screenshot({ path: `/tmp/dp-start-${name}.png` });
    t = Date.now();
    await page.setInputFiles("#folder-input", exports);
    await page.waitForTimeout(2500);
    await page.screenshot({ path: `/tmp/dp-mid-${name}.png` });
    await page.locator("#report-part").waitFor({ state: "visible", timeout: 300000 });
    console.log(name, "page ms", Date.now() - t);
    const get = async (what: string) => { const [d] = await Promise.all([page.waitForEvent("download"), page.locator(`[data-save=${what}]`).click()]); return readFileSync(await d.path()); };
    const own = (await get("results")).toString("utf8");
    const cli = readFileSync(join(folder, "out/results.json"), "utf8");
    console.log(name, "identical:", own === cli, own.length);
    const top: [number,string][] = []; diff(JSON.parse(own), JSON.parse(cli), "", top); top.sort((a,b)=>b[0]-a[0]); console.log(top.length, top.slice(0,6));
    const all = unzipSync(await get("all"));
    for (const p of Object.keys(all)) if (Buffer.from(all[p]).toString("utf8") !== readFileSync(join(folder,"out",p),"utf8")) console.log(name, "differs", p);
    await page.screenshot({ path: `/tmp/dp-end-${name}.png`, fullPage: true });
    await page.setViewportSize({ width: 390, height: 800 });
    await page.screenshot({ path: `/tmp/dp-narrow-${name}.png` });
    await page.close();
  }
  // native CLI
  await browser.close();
}, 400000);
