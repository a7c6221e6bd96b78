import { type EarlierResults, earlierResultsSchema } from "../../../report/results/changes-schema.js";
import type { Outcome } from "../../../words/notice.js";
import { firstMisfit } from "../first-misfit.js";

/** A results.json of an earlier run, of whatever version, from its text; `name` is what messages call it. */
export function earlierResults(text: string, name: string): Outcome<EarlierResults> {
  const failed = (found: string): Outcome<EarlierResults> => ({
    ok: false,
    problem: {
      code: "study.not-results",
      message: `${name}: ${found}; expected the results.json of an earlier run of Frostline.`,
    },
  });
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return failed("found no complete JSON");
  }
  const checked = earlierResultsSchema.safeParse(value);
  return checked.success ? { ok: true, value: checked.data } : failed(firstMisfit(checked.error));
}
