import type { Changes } from "../results/changes-schema.js";
import { type Html, html } from "./html.js";

/** What moved since an earlier results.json; nothing where none was given. */
export function changesSection(changes: Changes | null): Html | false {
  if (changes === null) return false;
  const { since, files, settings, sentences } = changes;
  const filesText = (
    [
      ["changed", files.changed],
      ["new", files.added],
      ["gone", files.removed],
    ] as const
  ).flatMap(([word, paths]) => (paths.length === 0 ? [] : [`${word}: ${paths.join(", ")}`]));
  return html`<section id="changes"><h2>What changed</h2><p class="small">Beside earlier results of version ${since.version}. A number is told where each value lies outside the other's 95 % interval.</p>
<ul>${sentences.map((sentence) => html`<li>${sentence}</li>`)}</ul>
<p class="small">Files: ${filesText.length === 0 ? "none changed" : filesText.join("; ")}. Settings: ${settings === null ? "the earlier results do not hold theirs" : settings.length === 0 ? "none changed" : settings.map(({ key, before, after }) => `${key} is ${after}, was ${before}`).join("; ")}.</p></section>`;
}
