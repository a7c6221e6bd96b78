import type { ResultsInput } from "../results/results.js";
import { fileId } from "./compound-ids.js";
import { type Html, html, nameHtml } from "./html.js";
import { stepList } from "./notices.js";
import type { ReportContext } from "./report-context.js";

function bytesText(bytes: number): string {
  return bytes < 1000
    ? `${bytes} bytes`
    : bytes < 1e6
      ? `${(bytes / 1e3).toFixed(1)} kB`
      : `${(bytes / 1e6).toFixed(1)} MB`;
}

function placeText(problem: NonNullable<ResultsInput["problem"]>): string {
  if (problem.line === undefined) return "";
  return problem.column === undefined
    ? `line ${problem.line}`
    : `line ${problem.line}, column ${problem.column}`;
}

function rejectedItem(input: ResultsInput, number: number): Html {
  const { problem } = input;
  return html`<li class="input rejected" id="${fileId(input.path)}"><p class="input-head"><span class="input-number">file ${number}</span> <b class="path"><bdi>${input.path}</bdi></b> <span class="tag bad">rejected</span></p>
${problem && html`<p class="problem">${placeText(problem) !== "" && html`<b>${placeText(problem)}:</b> `}${problem.message} <code>${problem.code}</code></p>`}
<p class="hash">sha256 ${input.sha256} · ${bytesText(input.bytes)}</p></li>`;
}

function readItem(input: ResultsInput, number: number, context: ReportContext): Html {
  const how = [
    input.encoding,
    input.delimiter,
    input.decimalMark && (input.decimalMark === "," ? "decimal comma" : "decimal point"),
  ].filter(Boolean);
  const readings = (input.readings ?? []).map(
    (
      reading,
    ) => html`<div class="reading"><p>${reading.kind} of ${nameHtml(reading.compound)}: ${reading.points} points${reading.sheet !== null && html`, sheet <bdi>${reading.sheet}</bdi>`}${reading.section !== null && html`, ${/section/i.test(reading.section) ? "" : "section "}<bdi>${reading.section}</bdi>`}, lines ${reading.firstLine} to ${reading.lastLine}</p>
<div class="table-frame" role="group" aria-label="Columns as read" tabindex="0"><table class="facts columns"><thead><tr><th scope="col" class="number">Column</th><th scope="col">Header</th><th scope="col">Read as</th><th scope="col">Unit</th></tr></thead><tbody>${reading.columns.map(
      (column) =>
        html`<tr><td class="number">${column.column}</td><td><bdi>${column.header}</bdi></td><td>${column.quantity}</td><td><bdi>${column.unit === "" ? "—" : column.unit}</bdi>${column.unitAssumed && html` <span class="tag">assumed</span>`}</td></tr>`,
    )}</tbody></table></div></div>`,
  );
  return html`<li class="input" id="${fileId(input.path)}"><p class="input-head"><span class="input-number">file ${number}</span> <b class="path"><bdi>${input.path}</bdi></b> <span class="tag">read</span> <span class="small">${input.measurements} ${input.measurements === 1 ? "measurement" : "measurements"} · ${bytesText(input.bytes)}${how.length > 0 && ` · ${how.join(", ")}`}</span></p>
<p class="hash">sha256 ${input.sha256}</p>
${stepList(input.steps ?? [], context)}
${readings.length > 0 && html`<details class="how"><summary>How it was read<span class="visually-hidden">: file ${number}</span></summary>${readings}</details>`}</li>`;
}

/** All files in one table, for the short print: what links lead to on the screen. */
function paperTable({ assessment }: ReportContext): Html {
  const { inputs, compounds } = assessment.results;
  const withProperties = new Set(
    compounds.flatMap(({ properties }) => properties.flatMap((property) => property.inputs)),
  );
  const numbered = inputs.map((input, index) => ({ input, number: index + 1 }));
  const rejectedFirst = [
    ...numbered.filter(({ input }) => input.status === "rejected"),
    ...numbered.filter(({ input }) => input.status === "read"),
  ];
  const rows = rejectedFirst.map(
    ({
      input: { path, status, problem, measurements, bytes, sha256, readings = [] },
      number,
    }) => html`<tr><td class="number">${number}</td><th scope="row"><bdi>${path}</bdi>${problem !== undefined && html` <span class="interval">${placeText(problem) !== "" && html`${placeText(problem)}: `}${problem.message}</span>`}</th>
<td>${status === "rejected" ? html`<b>rejected</b>` : measurements === 0 ? "read" : `${measurements} ${measurements === 1 ? "measurement" : "measurements"}`}</td><td>${[...new Set([...readings.map(({ kind }) => kind), ...(withProperties.has(path) ? ["properties"] : [])])].join(", ")}</td><td class="number">${bytesText(bytes)}</td><td class="hash">${sha256.slice(0, 16)}…</td></tr>`,
  );
  return html`<table class="facts paper-only"><thead><tr><th scope="col" class="number">File</th><th scope="col">Path</th><th scope="col">Read</th><th scope="col">As</th><th scope="col" class="number">Size</th><th scope="col">SHA-256</th></tr></thead><tbody>${rows}</tbody></table>`;
}

/** Every file with its hash: the rejected first, with the reason and the remedy, then how each was read. */
export function inputsSection(context: ReportContext): Html {
  const { inputs } = context.assessment.results;
  const rejected = inputs.filter((input) => input.status === "rejected");
  const numbered = inputs.map((input, index) => ({ input, number: index + 1 }));
  return html`<section id="inputs"><h2>Inputs</h2>
<p>${inputs.length} ${inputs.length === 1 ? "file" : "files"}, ${rejected.length === 0 ? "none" : rejected.length} rejected. The hash tells whether a file is the one this report was made from.</p>
${paperTable(context)}
<ol class="inputs full-print">${numbered.filter(({ input }) => input.status === "rejected").map(({ input, number }) => rejectedItem(input, number))}${numbered.filter(({ input }) => input.status === "read").map(({ input, number }) => readItem(input, number, context))}</ol></section>`;
}
