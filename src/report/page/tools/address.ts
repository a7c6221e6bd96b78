import type { PageData } from "../../page-data.js";
import { type View, viewOfText, viewText } from "../what-if/view.js";

/** The part of the page that a link leads to, and the view that it carries: "#birch-60&at=-15". */
interface Fragment {
  part: string;
  view: string;
}

function fragmentOf(hash: string): Fragment {
  const pieces = hash.replace(/^#/, "").split("&");
  const isPart = pieces[0] !== "" && !pieces[0].includes("=");
  return { part: isPart ? pieces[0] : "", view: (isPart ? pieces.slice(1) : pieces).join("&") };
}

/** The id of the part that the address leads to; empty where it leads to none. */
export function partOfAddress(): string {
  const { part } = fragmentOf(location.hash);
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}

/** What the address says of the view. */
export function viewOfAddress(data: PageData): { view: View; refused: string[] } {
  return viewOfText(data, fragmentOf(location.hash).view);
}

/** Keeps the address in step with the view, so that a copied address shows another reader the same. */
export function writeAddress(data: PageData, view: View): void {
  const { part } = fragmentOf(location.hash);
  const text = [part, viewText(data, view)].filter((piece) => piece !== "").join("&");
  const hash = text === "" ? "" : `#${text}`;
  if (location.hash === hash) return;
  try {
    history.replaceState(null, "", hash === "" ? location.href.split("#")[0] : hash);
  } catch {
    // A page in a frame of its own, as on the drop page, may not change its address.
  }
}
