// Reads an output folder again and again, as a careful reader would, until it is told to stop.
import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { parentPort, receiveMessageOnPort, workerData } from "node:worker_threads";

const paths = ["results.json", "tables/outlooks.csv", "tables/spectrum.csv", "report.html"];
const seen = { reads: 0, whole: 0, half: [], sets: 0, torn: 0, lied: 0 };

for (;;) {
  if (receiveMessageOnPort(parentPort)) break;
  const list = readFileSync(join(workerData, "tables/files.csv"), "utf8");
  let fits = true;
  const numbers = new Set();
  for (const path of paths) {
    const bytes = readFileSync(join(workerData, path));
    seen.reads++;
    const number = numberOf(path, bytes.toString("utf8"));
    if (number === null) seen.half.push(`${path}: ${bytes.length} bytes`);
    else seen.whole++;
    numbers.add(number);
    fits &&= list.includes(`${path},${bytes.length},${createHash("sha256").update(bytes).digest("hex")}`);
  }
  if (fits) seen.sets++;
  else seen.torn++;
  if (fits && numbers.size !== 1) seen.lied++;
}
parentPort.postMessage(seen);

/** The number that a whole file states from end to end; null where it is no whole file. */
function numberOf(path, text) {
  const lines = text.split("\n");
  if (path.endsWith(".json")) {
    try {
      const { body, number } = JSON.parse(text);
      return body === `${number}\n`.repeat(100_000) ? number : null;
    } catch {
      return null;
    }
  }
  const number = Number(path.endsWith(".csv") ? lines[1] : lines[0].replace("<html>", ""));
  const body = `${number}\n`.repeat(100_000);
  const whole = path.endsWith(".csv") ? `number\r\n${body}${number}\r\n` : `<html>${body}</html>`;
  return text === whole ? number : null;
}
