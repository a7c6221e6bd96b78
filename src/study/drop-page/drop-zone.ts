import { type DropTaken, filesOfDrop, filesOfInput } from "./dropped-files-of.js";

/** Makes the zone take files and folders: dropped, or chosen by its button and the one for folders. */
export function dropZone(take: (taken: DropTaken) => void): void {
  const zone = document.getElementById("drop") as HTMLButtonElement;
  const fileInput = document.getElementById("file-input") as HTMLInputElement;
  const folderInput = document.getElementById("folder-input") as HTMLInputElement;
  const folderButton = document.getElementById("choose-folder") as HTMLButtonElement;

  zone.addEventListener("click", () => fileInput.click());
  folderButton.hidden = !("webkitdirectory" in folderInput);
  folderButton.addEventListener("click", () => folderInput.click());
  for (const input of [fileInput, folderInput]) {
    input.addEventListener("change", () => {
      take({ files: filesOfInput(input), closedFolders: [] });
      // The same files may be chosen once more, after they were changed.
      input.value = "";
    });
  }
  // The whole page takes a drop: beside the zone a browser would leave the page and show the file.
  let depth = 0;
  const mark = () => zone.classList.toggle("over", depth > 0);
  addEventListener("dragenter", (event) => {
    event.preventDefault();
    depth++;
    mark();
  });
  addEventListener("dragleave", () => {
    depth--;
    mark();
  });
  addEventListener("dragover", (event) => {
    event.preventDefault();
    if (event.dataTransfer) event.dataTransfer.dropEffect = "copy";
  });
  addEventListener("drop", async (event) => {
    event.preventDefault();
    depth = 0;
    mark();
    if (event.dataTransfer) take(await filesOfDrop(event.dataTransfer));
  });
}
