import { partOfAddress } from "./address.js";

/**
 * Opens or closes all compounds at once, and opens the one a link leads to. `unfold` is called before a
 * compound's section shows, as often as it is opened.
 */
export function foldTools(count: number, unfold: (section: HTMLDetailsElement) => void): void {
  for (const section of document.querySelectorAll<HTMLDetailsElement>("details.compound")) {
    section.addEventListener("toggle", () => {
      if (section.open) unfold(section);
    });
  }
  const open = (target: string) => {
    const [part] = target.slice(1).split("&");
    const section = part === "" ? null : document.getElementById(decodeURIComponent(part));
    const within = section instanceof HTMLDetailsElement ? section : section?.querySelector("details");
    // The drawer that a part stands in may itself stand in a folded section.
    for (let at = section; at !== null; at = at.parentElement)
      if (at instanceof HTMLDetailsElement) at.open = true;
    if (within != null && section?.closest("details") === null) within.open = true;
    return section;
  };
  addEventListener("hashchange", () => open(partOfAddress())?.scrollIntoView());
  open(partOfAddress())?.scrollIntoView();
  const tools = document.getElementById("compound-tools");
  if (tools === null || count < 2) return;
  for (const [label, state] of [
    ["Open all", true],
    ["Close all", false],
  ] as const) {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = label;
    button.addEventListener("click", () => {
      for (const section of document.querySelectorAll<HTMLDetailsElement>("details.compound"))
        section.open = state;
    });
    tools.append(button);
  }
}
