import { Html, html } from "./html.js";

/**
 * The beginning of a page that needs nothing from outside: its security policy before anything that it governs,
 * no referrer, an icon of no bytes (so that a browser asks nobody for one), and its styles.
 * @param policy the directives of the content security policy
 */
export function documentHead(title: string, policy: string[], css: string): Html {
  return html`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy.join("; ")}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<meta name="referrer" content="no-referrer">
<title>${title}</title>
<link rel="icon" href="data:,">
<style>${new Html(css)}</style>
</head>`;
}
