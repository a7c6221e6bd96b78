import { cautionsSection, shortCaution } from "../../report/html/cautions-section.js";
import { documentHead } from "../../report/html/document-head.js";
import { Html, html } from "../../report/html/html.js";
import { licencesFold } from "../../report/html/licences.js";
import type { DropPageAssets } from "./drop-page-assets.js";

/**
 * The whole program as the text of one HTML file: it reads what is dropped on it and writes the same report,
 * results and tables as the command line, without a network or another file.
 */
export function dropPageHtml(assets: DropPageAssets, version: string): string {
  const { pageScriptSha256, plotScriptSha256 } = assets.reportScriptHashes;
  // A report shown from a blob: URL keeps this page's policy beside its own, so its two scripts stand here too.
  // There is no connect-src: the page cannot send anything anywhere.
  const policy = [
    "default-src 'none'",
    `script-src 'sha256-${assets.scriptSha256}' 'sha256-${pageScriptSha256}' 'sha256-${plotScriptSha256}'`,
    "worker-src blob:",
    "frame-src blob:",
    "style-src 'unsafe-inline'",
    "img-src data: blob:",
    "base-uri 'none'",
    "form-action 'none'",
  ];
  const page = html`${documentHead("Frostline: drop exports, get the report", policy, assets.css)}
<body class="drop-page">
<a class="skip" href="#drop">Skip to the drop zone</a>
<header class="top"><p class="brand"><span class="brand-mark" aria-hidden="true"></span>Frostline</p><h1>Drop exports, get the report</h1>
<p class="answer">This page reads the exports of dynamic mechanical and rebound tests and says, for each rubber compound, where its glass transition lies, how it grips and rebounds in use, and whether it turns glassy in the cold.</p>
<p class="promise"><b>Nothing leaves this machine.</b> The page is the whole program: it needs no network, its security policy blocks every connection, and your files are read, never changed.</p></header>
<p class="too-old" id="too-old" role="alert">This page needs JavaScript and a browser not older than Chrome or Edge 105, Firefox 113 or Safari 16.4. Open it in a newer browser, allow its script, or use the command line: frostline assess.</p>
<main>
<section aria-labelledby="drop-heading"><h2 id="drop-heading">Exports</h2>
<button type="button" id="drop" class="drop-zone" aria-describedby="drop-help"><span class="drop-words">Drop exports or a folder of them here</span><span class="drop-or">or press to choose files</span></button>
<input type="file" id="file-input" multiple hidden aria-label="Files to read"><input type="file" id="folder-input" webkitdirectory hidden aria-label="Folder to read">
<p class="small" id="drop-help">Delimited text of any shape and .xlsx workbooks, from any instrument that names its columns. A study.yaml among them says which file belongs to which compound and how it is used; without one, each sample is a compound, judged at 23, 0, −10, −20 and −30 °C. What you drop later is added. A results.json of an earlier run among them is what the new results are compared with.</p>
<p class="drop-tools"><button type="button" id="choose-folder">Choose a folder</button> <button type="button" id="start-again" hidden>Start again</button></p>
<p class="problem" id="closed-folders" role="alert" hidden></p>
${shortCaution()}</section>
<section id="progress-part" hidden aria-labelledby="progress-heading"><h2 id="progress-heading" class="visually-hidden">Progress</h2><p id="status" class="drop-status" role="status"></p><progress id="progress" aria-label="Progress" max="1" value="0"></progress><p class="small" id="progress-name"></p><div id="problems" role="alert"></div></section>
<section id="report-part" hidden aria-labelledby="report-heading"><h2 id="report-heading">Report</h2><div id="report-place"></div></section>
<section id="files-part" hidden aria-labelledby="files-heading"><h2 id="files-heading">How each file was read</h2><div id="files"></div></section>
${cautionsSection()}
</main>
<footer><p class="small">frostline ${version} · one file, works offline, sends nothing anywhere.</p>${licencesFold(assets.licences)}</footer>
<script type="text/plain" id="report-assets">${new Html(assets.reportAssetsGzipBase64)}</script>
<script>${new Html(assets.script)}</script>
</body>
</html>
`;
  return page.markup;
}
