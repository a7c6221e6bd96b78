/**
 * What the build makes for the page, ready to be written into it. Hashes are the base64 text of SHA-256, as a
 * content security policy wants them.
 */
export interface PageAssets {
  css: string;
  /** The page's own program, one classic script. */
  pageScript: string;
  pageScriptSha256: string;
  /** The plot library, gzip-compressed, base64. */
  plotScriptGzipBase64: string;
  /** Of the script after decompression, which is what the browser runs. */
  plotScriptSha256: string;
  /** Names, versions and licences of the libraries in both scripts. */
  licences: string;
}
