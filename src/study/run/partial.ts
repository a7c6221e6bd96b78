import { createHash } from "node:crypto";
import { z } from "zod";
import type { Assessment } from "../../report/assessment.js";
import type { EarlierResults } from "../../report/results/changes-schema.js";
import type { Outcome } from "../../words/notice.js";
import { type GatheredInputs, groupsOf } from "../inputs/gathered-inputs.js";
import type { InputAsRead } from "../inputs/input-reading.js";
import type { CompoundAssessment } from "./assess-compound.js";
import { concludeAssessment } from "./conclude/conclude-assessment.js";
import { firstMisfit } from "./first-misfit.js";

/**
 * One share of a job, for many machines: its share of the inputs as read, and its share of the compounds as
 * assessed. Every share sees all inputs, because only together do they tell which file belongs to which
 * compound; the fits, which cost far more than the reading, are done once among all shares.
 */
export interface PartialResult {
  schema: "frostline.partial/1";
  version: string;
  part: number;
  of: number;
  /** Of all inputs and the study, so that shares of different jobs are not merged. */
  job: string;
  gathered: Omit<GatheredInputs, "inputs">;
  inputs: { index: number; input: InputAsRead }[];
  compounds: { index: number; assessment: CompoundAssessment }[];
}

/** Hash of what a job is about: the inputs' paths and contents, and the study. */
export function jobOf({ inputs, study }: GatheredInputs): string {
  const identity = [inputs.map(({ path, sha256 }) => [path, sha256]), study];
  return createHash("sha256").update(JSON.stringify(identity)).digest("hex");
}

/** Whether the item with this place in its list belongs to the share. */
export function isInShare(index: number, share: { part: number; of: number }): boolean {
  return index % share.of === share.part - 1;
}

/** The text of a partial result. */
export function partialText(partial: PartialResult): string {
  return `${JSON.stringify(partial, (_, value) => {
    if (value instanceof Float64Array) {
      return { float64: Buffer.from(value.buffer, value.byteOffset, value.byteLength).toString("base64") };
    }
    // JSON has no NaN, and a reading without a temperature is one.
    return typeof value === "number" && !Number.isFinite(value) ? { number: String(value) } : value;
  })}\n`;
}

const count = z.int().min(0);
const noticeShape = z.looseObject({ severity: z.string(), code: z.string(), message: z.string() });
/** What a merge relies on. What lies deeper was written by the same version, or nothing is merged. */
const partialSchema = z.looseObject({
  schema: z.literal("frostline.partial/1"),
  version: z.string(),
  part: count,
  of: count,
  job: z.string().regex(/^[0-9a-f]{64}$/),
  gathered: z.looseObject({
    found: z.looseObject({ notices: z.array(noticeShape) }),
    study: z.looseObject({ uses: z.array(z.looseObject({ name: z.string() })) }),
  }),
  inputs: z.array(
    z.looseObject({
      index: count,
      input: z.looseObject({
        path: z.string(),
        sha256: z.string().regex(/^[0-9a-f]{64}$/),
        bytes: count,
        reading: z.nullable(
          z.looseObject({
            measurements: z.array(z.looseObject({ kind: z.string(), provenance: z.looseObject({}) })),
            notices: z.array(noticeShape),
            properties: z.array(z.looseObject({ property: z.string() })),
          }),
        ),
        problem: z.nullable(z.looseObject({ code: z.string(), message: z.string() })),
      }),
    }),
  ),
  compounds: z.array(
    z.looseObject({
      index: count,
      assessment: z.looseObject({
        material: z.looseObject({ compound: z.string() }),
        outlooks: z.array(z.looseObject({ outlook: z.looseObject({ use: z.string() }) })),
        notices: z.array(noticeShape),
      }),
    }),
  ),
});

/** A partial result from its text; a problem that names the file where it is none. */
export function parsePartial(text: string, name: string): Outcome<PartialResult> {
  const failed = (found: string): Outcome<PartialResult> => ({
    ok: false,
    problem: {
      code: "study.not-a-partial",
      message: `${name}: ${found}; expected a file that \`frostline assess --part\` wrote. Run that share again.`,
    },
  });
  let value: unknown;
  try {
    value = JSON.parse(text, (_, entry) => {
      if (entry === null || typeof entry !== "object") return entry;
      const keys = Object.keys(entry);
      if (keys.length !== 1) return entry;
      if (keys[0] === "float64" && typeof entry.float64 === "string") {
        const bytes = Buffer.from(entry.float64, "base64");
        return new Float64Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength));
      }
      return keys[0] === "number" && typeof entry.number === "string" ? Number(entry.number) : entry;
    });
  } catch {
    return failed("found no complete JSON");
  }
  const checked = partialSchema.safeParse(value);
  return checked.success ? { ok: true, value: value as PartialResult } : failed(firstMisfit(checked.error));
}

/** Puts all shares of one job together; the result is that of a single run. */
export function mergePartials(
  partials: PartialResult[],
  { version, since }: { version: string; since?: EarlierResults | null },
): Outcome<Assessment> {
  const failed = (message: string): Outcome<Assessment> => ({
    ok: false,
    problem: { code: "study.shares-do-not-fit", message },
  });
  if (partials.length === 0) return failed("no share was given; expected all shares of one job.");
  const [first] = partials;
  for (const each of partials) {
    if (each.version !== version) {
      return failed(
        `share ${each.part}/${each.of} was made by version ${each.version}, this is ${version}. Run it again.`,
      );
    }
    if (each.job !== first.job || each.of !== first.of) {
      return failed(
        `share ${each.part}/${each.of} is of another job than share ${first.part}/${first.of}: other inputs, another study or another number of shares. Run all shares on the same folder.`,
      );
    }
  }
  const parts = partials.map(({ part }) => part);
  const missing = Array.from({ length: first.of }, (_, i) => i + 1).filter((part) => !parts.includes(part));
  if (missing.length > 0)
    return failed(`share ${missing.map((part) => `${part}/${first.of}`).join(", ")} is missing.`);
  if (new Set(parts).size !== parts.length) return failed("a share was given twice.");
  const inputs: InputAsRead[] = [];
  const assessed: CompoundAssessment[] = [];
  for (const partial of partials) {
    for (const { index, input } of partial.inputs) inputs[index] = input;
    for (const { index, assessment } of partial.compounds) assessed[index] = assessment;
  }
  const gathered: GatheredInputs = { ...first.gathered, inputs };
  const groups = groupsOf(gathered);
  if (groups.length === 0) return failed("no share holds a measurement.");
  if (groups.some((_, index) => assessed[index] === undefined)) {
    return failed("a compound is in none of the shares. Run all shares on the same folder.");
  }
  return { ok: true, value: concludeAssessment(gathered, groups, assessed, { version, since }) };
}
