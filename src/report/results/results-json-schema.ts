import { z } from "zod";
import { resultsSchema } from "./results.js";

/** The shape of results.json as JSON Schema (draft 2020-12). New keys are allowed, as the contract says. */
export function resultsJsonSchema(): unknown {
  return {
    title: "frostline.results/1",
    description:
      "What `frostline assess` writes to results.json. Null means not determined; a notice says why.",
    ...z.toJSONSchema(resultsSchema, { io: "input" }),
  };
}
