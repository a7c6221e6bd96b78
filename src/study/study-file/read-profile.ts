import Papa from "papaparse";
import { textureFromProfile } from "../../predict/contact/texture-from-profile.js";
import type { Texture } from "../../predict/use.js";
import type { Outcome } from "../../words/notice.js";

const lengths_m: Record<string, number> = { m: 1, mm: 1e-3, µm: 1e-6, um: 1e-6, μm: 1e-6, nm: 1e-9 };

/**
 * Makes a texture of the text of a height profile (null: it could not be read): a delimited table whose header names x and z with a unit of length, such as
 * "x in mm; z in µm" or "x_mm,z_um".
 */
export function readProfile(
  text: string | null,
  name: string,
  shownPath: string,
  source: string | null,
): Outcome<Texture> {
  const failed = (message: string, line?: number): Outcome<Texture> => ({
    ok: false,
    problem: {
      code: "study.unreadable",
      message: `texture "${name}": ${shownPath}${line ? `:${line}` : ""}: ${message}`,
      line,
    },
  });
  if (text === null) return failed("the profile cannot be read. Check the path.");
  const { data } = Papa.parse<string[]>(text.replace(/^\uFEFF/, ""), { skipEmptyLines: true });
  const units = (data[0] ?? []).map(columnOf);
  const x = units.findIndex((unit) => unit?.axis === "x");
  const z = units.findIndex((unit) => unit?.axis === "z");
  if (x < 0 || z < 0) {
    return failed(
      `found the header "${(data[0] ?? []).join(", ").slice(0, 60)}"; expected x and z with a unit of length each, such as "x in mm, z in µm".`,
      1,
    );
  }
  const position_m: number[] = [];
  const height_m: number[] = [];
  for (const [i, row] of data.slice(1).entries()) {
    const at = Number(row[x]?.replace(",", "."));
    const height = Number(row[z]?.replace(",", "."));
    if (row[x]?.trim() === "" || row[z]?.trim() === "") continue;
    if (!Number.isFinite(at) || !Number.isFinite(height)) {
      return failed(`found "${row.join(", ").slice(0, 60)}"; expected two numbers.`, i + 2);
    }
    position_m.push(at * units[x]!.scale_m);
    height_m.push(height * units[z]!.scale_m);
  }
  const made = textureFromProfile({ name, source: source ?? `profile ${shownPath}`, position_m, height_m });
  return made.ok ? { ok: true, value: made.value.texture } : failed(made.problem.message);
}

function columnOf(header: string): { axis: "x" | "z"; scale_m: number } | null {
  const words = header
    .trim()
    .split(/[\s_()[\]/,]+/)
    .filter((word) => word !== "" && word !== "in");
  const axis = words[0]?.toLowerCase();
  const scale_m = lengths_m[words[words.length - 1]];
  if ((axis !== "x" && axis !== "z") || scale_m === undefined || words.length < 2) return null;
  return { axis, scale_m };
}
