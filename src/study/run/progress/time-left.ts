import type { Progress } from "../assess-from.js";

/** Earlier than this a rate says little. */
const soonest_ms = 2000;

/**
 * How long a stage will still take, by the rate so far, in words; nothing while too little is done to tell, or where it
 * is over in a moment.
 * @param now_ms of a clock that only goes forward
 */
export function timeLeft(now_ms: () => number): (progress: Progress) => string {
  let stage = "";
  let since_ms = 0;
  return (progress) => {
    if (progress.stage !== stage) {
      stage = progress.stage;
      since_ms = now_ms();
      return "";
    }
    // A file tells of itself at its start, a compound at its end.
    const done = progress.done + (progress.share ?? 1);
    const spent_ms = now_ms() - since_ms;
    if (spent_ms < soonest_ms || done < 1) return "";
    const left_s = ((progress.total - done) * spent_ms) / done / 1000;
    if (left_s < 1.5) return "";
    return left_s < 90 ? `about ${Math.round(left_s)} s left` : `about ${Math.round(left_s / 60)} min left`;
  };
}
