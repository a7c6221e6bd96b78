/**
 * Names of compounds as a link may have them, each once: "Birch 60" is birch-60, a second one of that name birch-60-2.
 * @example compoundIds(["Birch 60", "Birch 60", "%"]) // ["birch-60", "birch-60-2", "compound"]
 */
export function compoundIds(names: string[]): string[] {
  const taken = new Set<string>();
  return names.map((name) => {
    const plain =
      name
        .normalize("NFKC")
        .toLowerCase()
        .replace(/[^\p{Letter}\p{Number}]+/gu, "-")
        .replace(/^-+|-+$/g, "") || "compound";
    let id = plain;
    for (let k = 2; taken.has(id); k++) id = `${plain}-${k}`;
    taken.add(id);
    return id;
  });
}
