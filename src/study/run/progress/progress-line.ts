import { printable } from "../../../report/terminal/terminal-summary.js";
import type { Progress } from "../assess-from.js";
import { timeLeft } from "./time-left.js";

const words = { reading: "reading", fitting: "fitting" };
/** In a pipe a line comes at each tenth, and at the next event once so long has passed. */
const silence_ms = 4000;

/** Progress on stderr: a bar with an estimate on a terminal, plain lines in a pipe, nothing when quiet. */
export function progressLine(
  stream: NodeJS.WriteStream,
  quiet: boolean,
  now_ms: () => number = () => performance.now(),
): { show(progress: Progress): void; end(): void } {
  if (quiet) return { show() {}, end() {} };
  let lastTenth = "";
  let lastLine_ms = now_ms();
  let isBarShown = false;
  const leftOf = timeLeft(now_ms);
  return {
    show(progress) {
      const { stage, done, total, name, share } = progress;
      const left = leftOf(progress);
      if (stream.isTTY) {
        const width = 24;
        const filled = total === 0 ? 1 : Math.min(1, (done + (share ?? 1)) / total);
        const bar = "█".repeat(Math.round(filled * width)).padEnd(width, "░");
        const count = `${done + 1}/${total}${left === "" ? "" : `, ${left},`}`;
        const ofFile = share ? ` ${Math.round(100 * share)} % of` : "";
        const room = Math.max(
          0,
          (stream.columns ?? 80) - width - words[stage].length - count.length - ofFile.length - 5,
        );
        stream.write(`\r\x1b[2K${words[stage]} ${bar} ${count}${ofFile} ${printable(name).slice(0, room)}`);
        isBarShown = true;
        return;
      }
      const tenth = `${stage} ${Math.floor(total === 0 ? 10 : (10 * (done + 1)) / total)}`;
      const isDue = now_ms() - lastLine_ms >= silence_ms;
      const isNews = !share && (tenth !== lastTenth || done + 1 === total);
      if (!isNews && !isDue) return;
      lastTenth = tenth;
      lastLine_ms = now_ms();
      const ofFile = share ? `, ${Math.round(100 * share)} % of` : "";
      stream.write(
        `${words[stage]} ${done + 1}/${total}${ofFile} ${printable(name)}${left === "" ? "" : `; ${left}`}\n`,
      );
    },
    end() {
      if (isBarShown) stream.write("\r\x1b[2K");
    },
  };
}
