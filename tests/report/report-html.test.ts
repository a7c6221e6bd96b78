import { describe, expect, test } from "vitest";
import { parse } from "yaml";
import { worstFirst } from "../../src/report/html/answer/ranking.js";
import { peakText } from "../../src/report/html/compound/glass-transition-table.js";
import { html } from "../../src/report/html/html.js";
import { settingsYaml } from "../../src/report/html/settings-section.js";
import type { PageAssets } from "../../src/report/page-assets.js";
import { reportHtml } from "../../src/report/report-html.js";
import { hostileNames } from "./hostile-names.js";
import { makeAssessment } from "./make-assessment.js";

const assets: PageAssets = {
  css: "body{}",
  pageScript: "void 0",
  pageScriptSha256: "page",
  plotScriptGzipBase64: "AAAA",
  plotScriptSha256: "plot",
  licences: "a library 1.0.0 (MIT)",
};
const plain = (markup: string) => markup.replace(/<[^>]+>/g, "").replace(/\s+/g, " ");

describe("report as text", () => {
  test("is the same for the same assessment", () => {
    expect(reportHtml(makeAssessment(), assets)).toBe(reportHtml(makeAssessment(), assets));
  });

  test("allows nothing from outside and no evaluated text", () => {
    const page = reportHtml(makeAssessment({ compounds: 1 }), assets);
    const policy = /http-equiv="Content-Security-Policy" content="([^"]+)"/.exec(page)?.[1] ?? "";
    expect(policy).toContain("default-src &#39;none&#39;");
    expect(policy).toContain("script-src &#39;sha256-page&#39; &#39;sha256-plot&#39;");
    // Workers from the page's own memory; nothing that an address could name.
    expect(policy).toContain("worker-src blob:;");
    expect(policy).not.toMatch(/https?:|\*|connect-src|'self'/);
    expect(policy).not.toContain("unsafe-eval");
    expect(policy.split("script-src")[1].split(";")[0]).not.toContain("unsafe-inline");
    expect(page).not.toMatch(/(src|href)="(https?:)?\/\//);
  });

  test("answers first: the sentence, the caution and one row a compound stand before all else", () => {
    const assessment = makeAssessment();
    const page = reportHtml(assessment, assets);
    const places = ["answer-sentence", "answer-card", "verdict-matrix", "trade-off"].map((id) =>
      page.indexOf(`id="${id}"`),
    );
    expect(places.every((place) => place > 0)).toBe(true);
    expect([...places].sort((a, b) => a - b)).toEqual(places);
    const card = page.slice(places[1], page.indexOf("</table>", places[1]));
    expect(card.match(/<tr data-compound/g)).toHaveLength(assessment.results.compounds.length);
    const caution = page.indexOf("A screening prediction, no friction or safety certificate");
    expect(caution).toBeGreaterThan(0);
    expect(caution).toBeLessThan(places[1]);
  });

  test("puts the worst compound first", () => {
    const { compounds } = makeAssessment().results;
    const order = worstFirst(compounds);
    const glassyUses = (index: number) =>
      compounds[index].outlooks.filter((outlook) => outlook.cold?.verdict === "glassy").length;
    expect(compounds[order[0]].name).toBe("Spruce stiff");
    expect(compounds[order[order.length - 1]].name).toBe("Larch winter");
    for (let k = 1; k < order.length; k++)
      expect(glassyUses(order[k])).toBeLessThanOrEqual(glassyUses(order[k - 1]));
  });

  test("shows hostile names as text and nothing else", () => {
    const page = reportHtml(makeAssessment({ compounds: hostileNames.length, names: hostileNames }), assets);
    // The page's own three: data, plot library, program.
    expect(page.match(/<script/g)).toHaveLength(3);
    expect(page).not.toContain("<img");
    expect(page).not.toContain("<b onmouseover");
    expect(page).toContain("&lt;script&gt;alert(1)&lt;/script&gt;");
    expect(page).toContain("🧊 ÄÖÜ");
    expect(page).not.toContain("\u0000");
  });

  test("gives with the formula of grip what it takes to compute it again: constants, texture and its source", () => {
    const page = reportHtml(makeAssessment({ compounds: 1 }), assets);
    const grip = plain(page.slice(page.indexOf('id="method-grip"'), page.indexOf('id="method-cold"')));
    expect(grip).toContain("γ = 0.5, and ν = 0.5");
    // q₁ by bisection of h q₀ √(∫t^(1−2H) dt / ∫t^(−1−2H) dt) = 1.3 in Python, apart from the program: 24623.8 1/m.
    expect(grip).toContain(
      "Texture “worn asphalt”: C(q) ∝ q^−2(1 + H) with H = 0.8 and a root mean square height of 0.300 mm, from q₀ = 1500 to q₁ = 24624 1/m (from the slope; root mean square slope 1.30). Its source: from memory",
    );
  });

  test("works without superposition and outlooks, and says why a plot is missing", () => {
    const page = reportHtml(makeAssessment({ compounds: 2, predictions: false }), assets);
    expect(page).not.toContain('data-plot="master-curve"');
    expect(page).not.toContain('data-plot="grip"');
    expect(plain(page)).toContain("One frequency only was measured, so nothing can be shifted.");
    expect(plain(page)).toContain("No verdict on cold weather");
    expect(page).toContain('data-plot="sweep"');
  });

  test("works without any compound", () => {
    const assessment = makeAssessment({ compounds: 1 });
    assessment.compounds = [];
    assessment.results.compounds = [];
    const page = plain(reportHtml(assessment, assets));
    expect(page).toContain("No compound could be read.");
    expect(page).toContain("This is a PNG picture, not a table.");
  });

  test("lists rejected inputs first, with place, remedy and hash", () => {
    const assessment = makeAssessment({ compounds: 2 });
    const page = reportHtml(assessment, assets);
    const inputs = page.slice(page.indexOf('id="inputs"'));
    expect(inputs.indexOf("photos/tread.csv")).toBeLessThan(inputs.indexOf("birch-60.csv"));
    expect(plain(inputs)).toContain(
      "line 1, column 1: This is a PNG picture, not a table. Export the measurement",
    );
    for (const input of assessment.results.inputs) expect(inputs).toContain(input.sha256);
  });

  test("gives every link of the page a place to go", () => {
    const page = reportHtml(makeAssessment(), assets);
    const ids = new Set([...page.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id));
    const targets = [...page.matchAll(/href="#([^"]+)"/g)].map(([, id]) => id);
    expect(targets.length).toBeGreaterThan(100);
    expect(targets.filter((target) => !ids.has(target))).toEqual([]);
    // Each id once.
    expect([...page.matchAll(/ id="([^"]+)"/g)]).toHaveLength(ids.size);
  });

  test("carries the settings as the text of a study.yaml", () => {
    const { settings } = makeAssessment();
    expect(parse(settingsYaml(settings))).toEqual(settings);
  });

  test("words a peak beyond the data as a bound", () => {
    const peak = { temperature_C: null, low_C: 40, high_C: null, bracketed: false };
    expect(peakText(peak).markup).toBe("above 40\u202f°C");
    expect(peakText({ ...peak, low_C: null, high_C: -60 }).markup).toBe("below −60\u202f°C");
    expect(plain(peakText(null).markup)).toBe("not found");
  });

  test("breaks no line between a temperature and its unit, in its own words and in those of the results", () => {
    const words = reportHtml(makeAssessment(), assets)
      .replace(/<(script|style|pre|code)\b[\s\S]*?<\/\1>/g, "")
      .replace(/<bdi[\s\S]*?<\/bdi>/g, "")
      .replace(/<[^>]*>/g, "\n");
    expect(words).toContain("Below 0\u202f°C ice and snow");
    expect(words.match(/\d\u202f°C/g)!.length).toBeGreaterThan(100);
    const breaking = words.split("\n").filter((line) => /\d °C/.test(line));
    expect(breaking).toEqual([]);
    // Names and files stay as they are written.
    expect(html`<a title="${"10 Hz"}">${"Birch 10 Hz"}</a> at ${10} Hz, 95 % band`.markup).toBe(
      '<a title="10 Hz">Birch 10 Hz</a> at 10\u202fHz, 95\u202f% band',
    );
  });

  test("escapes in markup, attributes and lists alike", () => {
    const name = `"><img src=x onerror='a'>&`;
    expect(html`<a title="${name}">${[name, html`<b>${name}</b>`]}</a>`.markup).toBe(
      `<a title="&quot;&gt;&lt;img src=x onerror=&#39;a&#39;&gt;&amp;">&quot;&gt;&lt;img src=x onerror=&#39;a&#39;&gt;&amp;<b>&quot;&gt;&lt;img src=x onerror=&#39;a&#39;&gt;&amp;</b></a>`,
    );
  });
});
