/** Ids that the page's own parts have: no compound may take one. */
const ownIds = [
  "answer",
  "axes",
  "card",
  "cautions",
  "changed",
  "changes",
  "chooser",
  "compounds",
  "controls",
  "decision",
  "differences",
  "flags",
  "inputs",
  "limits",
  "matrix",
  "matrix-tools",
  "methods",
  "notices",
  "refused",
  "series",
  "settings",
  "side-by-side",
  "too-old",
  "trade-off",
  "verdict-matrix",
  "verdicts",
];

/** What the ids of plots, methods, files and the page's own further parts begin with. */
const ownBeginning =
  /^(plot|method|file|notice|page|compound|card|decision|settings|answer|evidence|map|mark|matrix|verdict|error|too)-/;

/** A text as an id or a link may have it: letters and digits of any script, in small, with hyphens between. */
function slug(text: string): string {
  return text
    .normalize("NFKC")
    .toLowerCase()
    .replace(/[^\p{Letter}\p{Mark}\p{Number}]+/gu, "-")
    .replace(/^-+|-+$/g, "");
}

/**
 * Names of compounds as a link may have them, each once: "Birch 60" is birch-60, a second one of that name birch-60-2.
 * @example compoundIds(["Birch 60", "Birch 60", "%"]) // ["birch-60", "birch-60-2", "compound"]
 */
export function compoundIds(names: string[]): string[] {
  const taken = new Set(ownIds);
  return names.map((name) => {
    const own = slug(name) || "compound";
    const plain = ownBeginning.test(own) ? `the-${own}` : own;
    let id = plain;
    for (let k = 2; taken.has(id); k++) id = `${plain}-${k}`;
    taken.add(id);
    return id;
  });
}

/** The id of an input's entry: its path, and a few characters that tell paths of one slug apart. */
export function fileId(path: string): string {
  let hash = 0x811c9dc5;
  for (let i = 0; i < path.length; i++) hash = Math.imul(hash ^ path.charCodeAt(i), 0x01000193) >>> 0;
  return `file-${slug(path)}-${hash.toString(36).slice(-4)}`;
}
