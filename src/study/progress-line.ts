import { printable } from "../report/terminal-summary.js";
import type { Progress } from "./assess.js";

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
    show({ stage, done, total, name }) {
      const share = total === 0 ? 1 : Math.min(1, (done + 1) / total);
      if (stream.isTTY) {
        const width = 24;
        const bar = "█".repeat(Math.round(share * width)).padEnd(width, "░");
        const room = Math.max(10, (stream.columns ?? 80) - width - 24);
        stream.write(
          `\r\x1b[2K${words[stage]} ${bar} ${done + 1}/${total} ${printable(name).slice(0, room)}`,
        );
        isBarShown = true;
      } else {
        const tenth = `${stage} ${Math.floor(share * 10)}`;
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
