import { spawn } from "node:child_process";

const commands: Partial<Record<NodeJS.Platform, [command: string, ...args: string[]]>> = {
  darwin: ["open"],
  // `start` takes its first quoted word for a window's title.
  win32: ["cmd", "/c", "start", ""],
};

/**
 * Shows a file in the program that the system has for it, and waits for nothing but that program's start.
 * @returns why it could not be shown; null: it is shown, as far as can be told
 */
export function openFile(path: string, platform = process.platform): Promise<string | null> {
  const [command, ...args] = commands[platform] ?? ["xdg-open"];
  return new Promise((done) => {
    const child = spawn(command, [...args, path], { detached: true, stdio: "ignore" });
    child.once("error", (error: NodeJS.ErrnoException) => {
      done(error.code === "ENOENT" ? `there is no ${command} on this system` : error.message);
    });
    child.once("spawn", () => {
      child.unref();
      done(null);
    });
  });
}
