import nodePath from "node:path";

/**
 * Whether a relative path, as `path.relative` gives it, leads out of its folder. A name such as "..odd.csv" does not;
 * between two drives or shares of Windows there is no relative path, and the other's full path stands there.
 */
export function leadsOut(fromFolder: string, path: Pick<typeof nodePath, "isAbsolute" | "sep"> = nodePath) {
  return fromFolder === ".." || fromFolder.startsWith(`..${path.sep}`) || path.isAbsolute(fromFolder);
}

/** The folder that all folders lie in, each given by its full path; null on different drives or shares of Windows. */
export function commonFolder(
  folders: string[],
  path: Pick<typeof nodePath, "parse" | "sep"> = nodePath,
): string | null {
  const { root } = path.parse(folders[0]);
  const alike = (one: string, other: string) =>
    path.sep === "\\" ? one.toLowerCase() === other.toLowerCase() : one === other;
  if (!folders.every((folder) => alike(path.parse(folder).root, root))) return null;
  const partsOf = (folder: string) =>
    folder
      .slice(root.length)
      .split(path.sep)
      .filter((part) => part !== "");
  let common = partsOf(folders[0]);
  for (const folder of folders.slice(1)) {
    const parts = partsOf(folder);
    let same = 0;
    while (same < common.length && same < parts.length && alike(common[same], parts[same])) same++;
    common = common.slice(0, same);
  }
  return root + common.join(path.sep);
}
