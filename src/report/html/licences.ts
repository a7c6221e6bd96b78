import { type Html, html } from "./html.js";

/** The licences of the libraries that a page holds, as they ask for: in every copy, and folded away. */
export function licencesFold(licences: string): Html {
  return html`<details class="licences"><summary>Libraries in this page, and their licences</summary><pre>${licences}</pre></details>`;
}
