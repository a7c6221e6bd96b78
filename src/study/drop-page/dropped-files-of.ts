import type { DroppedFile } from "./dropped-file.js";

/** The files of a drop, folders with all that is in them. Call it within the event: the list is gone after it. */
export async function filesOfDrop(data: DataTransfer): Promise<DroppedFile[]> {
  const entries = [...data.items].flatMap((item) => item.webkitGetAsEntry?.() ?? []);
  if (entries.length === 0) return [...data.files].map((file) => ({ path: file.name, file }));
  const files: DroppedFile[] = [];
  for (const entry of entries) await walk(entry, entry.name, files);
  return files;
}

/** The files of a file button; those of a chosen folder with their path from it. */
export function filesOfInput(input: HTMLInputElement): DroppedFile[] {
  return [...(input.files ?? [])].map((file) => ({ path: file.webkitRelativePath || file.name, file }));
}

async function walk(entry: FileSystemEntry, path: string, files: DroppedFile[]): Promise<void> {
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
    for (const each of batch) await walk(each, `${path}/${each.name}`, files);
  }
}
