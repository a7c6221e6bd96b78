import type { StudyNotice, Told, ToldNotice } from "../../words/told-notices.js";
import { doubtOf } from "../doubts.js";
import type { Results } from "../results/results.js";
import { type Html, html, joinHtml } from "./html.js";
import type { ReportContext, SourceContext } from "./report-context.js";
import { sourceLinks } from "./report-context.js";
import { unbroken } from "./unbroken.js";

const words: Record<ToldNotice["severity"], string> = { error: "Error", caution: "Caution", info: "Note" };
const rank: Record<ToldNotice["severity"], number> = { error: 0, caution: 1, info: 2 };

/** Text of results.json as a page prints it: hyphens before a number are minus signs, units stay with their numbers. */
export function asPrinted(text: string): string {
  return unbroken(text.replace(/(^|[\s(])-(?=\d)/g, "$1−"));
}

/** So many compounds are named in a line; more of them are folded. */
const mostNamed = 12;

/** Where a notice that is told once for several compounds stands on the page. */
const studyNoticeId = (code: string) => `notice-${code.replace(/[^a-z0-9]+/g, "-")}`;

function messageHtml(notice: StudyNotice): Html {
  const [first, ...rest] = notice.compounds ?? [];
  const at = first === undefined ? -1 : notice.message.indexOf(`: ${first.name}`);
  if (at < 0 || rest.length < mostNamed) return html`${asPrinted(notice.message)}`;
  return html`<details><summary>${asPrinted(notice.message.slice(0, at))}: ${rest.length + 1} compounds</summary>${asPrinted(notice.message.slice(at + 2))}</details>`;
}

function noticeItem(notice: StudyNotice, context: SourceContext, id = ""): Html {
  return html`<li class="${notice.severity}"${id !== "" && html` id="${id}"`}><b>${words[notice.severity]}</b> <span>${messageHtml(notice)}${
    notice.path !== undefined && html` ${sourceLinks(context, [notice.path], null)}`
  } <code>${notice.code}</code></span></li>`;
}

/** Notices, gravest first. */
export function noticeList(notices: StudyNotice[], context: SourceContext): Html {
  if (notices.length === 0) return html``;
  const sorted = [...notices].sort((a, b) => rank[a.severity] - rank[b.severity]);
  return html`<ul class="notices">${sorted.map((notice) => noticeItem(notice, context))}</ul>`;
}

/** What concerns the folder as a whole, and no compound in particular. */
export const folderNotices = ({ notices }: Results): StudyNotice[] =>
  notices.filter(({ compounds }) => compounds === undefined);

/** Links to what is told once for several compounds and holds for this one; nothing where nothing does. */
export function sharedNotices({ notices }: Pick<Results, "notices">, name: string): Html {
  const holding = notices.filter(({ compounds }) => compounds?.some((one) => one.name === name));
  if (holding.length === 0) return html``;
  const links = [...new Set(holding.map(({ code }) => code))].map(
    (code) => html`<a href="#${studyNoticeId(code)}">${doubtOf(code).words}</a>`,
  );
  return html`<p class="small shared">Told once for several compounds, and true of this one: ${joinHtml(links, ", ")}.</p>`;
}

/** Steps of reading and fitting, in which there is no doubt. */
export function stepList(steps: Told[], context: SourceContext): Html {
  if (steps.length === 0) return html``;
  return html`<ul class="plain small steps">${steps.map(
    ({ message, path }) =>
      html`<li>${asPrinted(message)}${path !== undefined && html` ${sourceLinks(context, [path], null)}`}</li>`,
  )}</ul>`;
}

/** What holds for several compounds alike, each fact once, the gravest first; nothing where nothing does. */
export function noticesSection(context: ReportContext): Html {
  const { notices } = context.assessment.results;
  const shared = notices.filter(({ compounds }) => compounds !== undefined);
  if (shared.length === 0) return html``;
  const seen = new Set<string>();
  const sorted = [...shared].sort((a, b) => rank[a.severity] - rank[b.severity]);
  return html`<section id="notices"><h2>Notices for several compounds</h2>
<p>What holds for one compound alone stands on its page; what a method cannot do stands under <a href="#cautions">Cautions</a>.</p>
<ul class="notices">${sorted.map((notice) => {
    const id = seen.has(notice.code) ? "" : studyNoticeId(notice.code);
    seen.add(notice.code);
    return noticeItem(notice, context, id);
  })}</ul></section>`;
}
