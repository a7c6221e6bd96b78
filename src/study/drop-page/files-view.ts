import { describeReading } from "../../io/describe-reading.js";
import { type Html, html } from "../../report/html/html.js";
import { byCodeUnit } from "../inputs/input-names.js";
import type { InputAsRead } from "../inputs/input-reading.js";
import type { SortedFiles } from "./sort-dropped.js";

/** Every dropped file: how it was read, why it was rejected, or why it was left out. Rejected ones stand first. */
export function filesView(sorted: SortedFiles, inputs: InputAsRead[]): Html {
  const readings = [...inputs].sort(
    (a, b) => Number(a.reading !== null) - Number(b.reading !== null) || byCodeUnit(a.path, b.path),
  );
  const rejected = inputs.filter(({ reading }) => reading === null).length;
  return html`<p>${inputs.length} ${inputs.length === 1 ? "file" : "files"}, ${rejected === 0 ? "none" : rejected} rejected${sorted.study && html`; the study is <bdi>${sorted.study.path}</bdi>`}.</p>
<ul class="inputs">${readings.map(fileItem)}${sorted.unusedStudies.map(unusedStudyItem)}${sorted.passedOver.map(passedOverItem)}</ul>`;
}

function fileItem({ path, sha256, reading, problem }: InputAsRead): Html {
  if (reading === null) {
    const place = problem?.line
      ? `line ${problem.line}${problem.column ? `, column ${problem.column}` : ""}: `
      : "";
    return html`<li class="input rejected"><p class="input-head"><b class="path"><bdi>${path}</bdi></b> <span class="tag bad">rejected</span></p>
<p class="problem">${place !== "" && html`<b>${place}</b>`}${problem?.message} <code>${problem?.code}</code></p></li>`;
  }
  const count = reading.measurements.length;
  return html`<li class="input"><p class="input-head"><b class="path"><bdi>${path}</bdi></b> <span class="tag">read</span> <span class="small">${count} ${count === 1 ? "measurement" : "measurements"}</span></p>
<details class="how"><summary>How it was read<span class="visually-hidden">: ${path}</span></summary><pre class="described" tabindex="0">${describeReading(reading, path)}</pre><p class="hash">sha256 ${sha256}</p></details></li>`;
}

function unusedStudyItem(path: string): Html {
  return html`<li class="input"><p class="input-head"><b class="path"><bdi>${path}</bdi></b> <span class="tag warn">not used</span></p><p class="problem">A study file counts where it lies at the top of what was dropped. Drop the folder that holds it alone, or drop the study file beside the others.</p></li>`;
}

function passedOverItem({ path, dropped }: SortedFiles["passedOver"][number]): Html {
  return html`<li class="input"><p class="input-head"><b class="path"><bdi>${path}</bdi></b> <span class="tag">passed over</span> <span class="small">its name says that it holds no measurement</span> <button type="button" data-read="${dropped}">Read it all the same<span class="visually-hidden">: ${path}</span></button></p></li>`;
}
