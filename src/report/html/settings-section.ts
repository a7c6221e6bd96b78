import { stringify } from "yaml";
import type { StudySettings } from "../results/study-file-schema.js";
import { type Html, html } from "./html.js";
import type { ReportContext } from "./report-context.js";

/** The study as understood, as the text of a study.yaml that makes this report again. */
export function settingsYaml(settings: StudySettings): string {
  return stringify(settings, { lineWidth: 100 });
}

/** The section with the settings of the study, ready to be copied. */
export function settingsSection(context: ReportContext): Html {
  const { program } = context.assessment.results;
  return html`<section id="settings"><h2>Settings</h2>
<p>Made with ${program.name} ${program.version}. Saved as <code>study.yaml</code> beside the same files, these settings make this report again.</p>
<div class="copyable"><div class="plot-tools" data-copy="settings-yaml"></div><pre id="settings-yaml" tabindex="0">${settingsYaml(context.assessment.settings)}</pre></div></section>`;
}
