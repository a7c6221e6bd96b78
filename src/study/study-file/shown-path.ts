import { isAbsolute, relative, resolve } from "node:path";

/** A path as a person would type it here: from the current folder where it lies below it, else in full. */
export function shownPath(path: string): string {
  const fromHere = relative(process.cwd(), resolve(path));
  if (fromHere === "") return ".";
  return fromHere.startsWith("..") || isAbsolute(fromHere) ? resolve(path) : fromHere;
}
