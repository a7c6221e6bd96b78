// Writes twenty shares into one folder, one after the other, as processes on several hosts do.
import { writeOutputs } from "../../../src/study/outputs/write-outputs.ts";

const [, , folder, letter] = process.argv;
let written = 0;
for (let k = 1; k <= 20; k++) {
  const problem = await writeOutputs(folder, [
    { path: `part-${letter}-${k}.json`, content: `${letter}${k}`.repeat(50_000) },
  ]);
  if (problem === null) written++;
  else console.log(problem.message);
}
console.log(`${written} written`);
