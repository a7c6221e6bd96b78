import { printable } from "../../report/terminal/terminal-summary.js";
import type { Progress } from "./assess-from.js";

const words = { reading: "reading", fitting: "fitting" };

/** Progress on stderr: a bar on a terminal, a plain line per tenth in a pipe, nothing when quiet. */
export function progressLine(
  stream: NodeJS.WriteStream,
  quiet: boolean,
): { show(progress: Progress): void; end(): void } {
  if (quiet) return { show() {}, end() {} };
  let lastTenth = "";
  let isBarShown = false;
  return {
    show({ stage, done, total, name, share }) {
      if (stream.isTTY) {
        const width = 24;
        const filled = total === 0 ? 1 : Math.min(1, (done + (share ?? 1)) / total);
        const bar = "█".repeat(Math.round(filled * width)).padEnd(width, "░");
        const count = `${done + 1}/${total}`;
        const ofFile = share ? ` ${Math.round(100 * share)} % of` : "";
        const room = Math.max(10, (stream.columns ?? 80) - width - 24 - ofFile.length);
        stream.write(`\r\x1b[2K${words[stage]} ${bar} ${count}${ofFile} ${printable(name).slice(0, room)}`);
        isBarShown = true;
      } else if (!share) {
        const tenth = `${stage} ${Math.floor(total === 0 ? 10 : (10 * (done + 1)) / total)}`;
        if (tenth === lastTenth && done + 1 !== total) return;
        lastTenth = tenth;
        stream.write(`${words[stage]} ${done + 1}/${total} ${printable(name)}\n`);
      }
    },
    end() {
      if (isBarShown) stream.write("\r\x1b[2K");
    },
  };
}
