/** A file as the page was given it. */
export interface DroppedFile {
  /** From the top of what was dropped, with forward slashes: "birch.csv", or "exports/winter/birch.csv". */
  path: string;
  /** Null where the browser could not open it. */
  file: File | null;
}

/** What a browser gives of one dropped thing; not each gives all of it. */
interface Given {
  handle: Promise<FileSystemHandle | null> | null;
  entry: FileSystemEntry | null;
  file: File | null;
}

/** Not in every browser, and so not in the library's types. */
interface HandleGiver {
  getAsFileSystemHandle?(): Promise<FileSystemHandle | null>;
}

export interface DropTaken {
  files: DroppedFile[];
  /** Folders that this browser does not let the page look into. */
  closedFolders: string[];
}

/**
 * The files of a drop, folders with all that is in them. Call it within the event: the list is gone after it.
 * Of a page opened from disk, Chromium reads dropped folders by handles only, and refuses entries; other browsers
 * have entries only.
 */
export async function filesOfDrop(data: DataTransfer): Promise<DropTaken> {
  const given: Given[] = [...data.items]
    .filter(({ kind }) => kind === "file")
    .map((item) => ({
      handle: (item as HandleGiver).getAsFileSystemHandle?.().catch(() => null) ?? null,
      entry: item.webkitGetAsEntry?.() ?? null,
      file: item.getAsFile(),
    }));
  const taken: DropTaken = { files: [], closedFolders: [] };
  for (const { handle, entry, file } of given) {
    const held = await handle;
    const folder = held?.kind === "directory" || entry?.isDirectory;
    const name = held?.name ?? entry?.name ?? file?.name ?? "";
    if (!folder) {
      taken.files.push({ path: name, file });
      continue;
    }
    const files: DroppedFile[] = [];
    try {
      if (held !== null) await walkHandle(held as FileSystemDirectoryHandle, name, files);
      else await walkEntry(entry!, name, files);
      taken.files.push(...files);
    } catch {
      taken.closedFolders.push(name);
    }
  }
  return taken;
}

/** The files of a file button; those of a chosen folder with their path from it. */
export function filesOfInput(input: HTMLInputElement): DroppedFile[] {
  return [...(input.files ?? [])].map((file) => ({ path: file.webkitRelativePath || file.name, file }));
}

async function walkHandle(
  folder: FileSystemDirectoryHandle,
  path: string,
  files: DroppedFile[],
): Promise<void> {
  const children = folder as unknown as { values(): AsyncIterable<FileSystemHandle> };
  for await (const child of children.values()) {
    const childPath = `${path}/${child.name}`;
    if (child.kind === "directory") await walkHandle(child as FileSystemDirectoryHandle, childPath, files);
    else {
      const file = await (child as FileSystemFileHandle).getFile().catch(() => null);
      files.push({ path: childPath, file });
    }
  }
}

async function walkEntry(entry: FileSystemEntry, path: string, files: DroppedFile[]): Promise<void> {
  if (entry.isFile) {
    const file = await new Promise<File>((resolve, reject) => {
      (entry as FileSystemFileEntry).file(resolve, reject);
    }).catch(() => null);
    files.push({ path, file });
    return;
  }
  const reader = (entry as FileSystemDirectoryEntry).createReader();
  for (;;) {
    // A browser hands out the entries of a folder in batches, an empty one at the end.
    const batch = await new Promise<FileSystemEntry[]>((resolve, reject) => {
      reader.readEntries(resolve, reject);
    });
    if (batch.length === 0) return;
    for (const each of batch) await walkEntry(each, `${path}/${each.name}`, files);
  }
}
