import type { PageAssets } from "../../report/page-assets.js";

/** What the build makes for the drop page; hashes as a content security policy wants them. */
export interface DropPageAssets {
  css: string;
  /** Names, versions and licences of the libraries in the script. */
  licences: string;
  /** The page's program, one classic script; its workers run it too. */
  script: string;
  scriptSha256: string;
  /** For the reports that the page writes, as JSON, gzip-compressed, base64. */
  reportAssetsGzipBase64: string;
  /** Of the scripts of those reports, which are shown inside the page. */
  reportScriptHashes: Pick<PageAssets, "pageScriptSha256" | "plotScriptSha256">;
}
