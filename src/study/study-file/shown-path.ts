import { relative, resolve } from "node:path";
import { leadsOut } from "./inside.js";

/** A path as a person would type it here: from the current folder where it lies below it, else in full. */
export function shownPath(path: string): string {
  const fromHere = relative(process.cwd(), resolve(path));
  if (fromHere === "") return ".";
  return leadsOut(fromHere) ? resolve(path) : fromHere;
}
