/** A file as the page was given it. */
export interface DroppedFile {
  /** From the top of what was dropped, with forward slashes: "birch.csv", or "exports/winter/birch.csv". */
  path: string;
  /** Null where the browser could not open it. */
  file: File | null;
}
