import { problem } from "../../../words/codes/codes.js";
import type { Problem } from "../../../words/notice.js";
import { quoted } from "../../../words/quoted.js";
import { columnInStudy } from "../../study-example.js";
import { complianceQuantities, type Quantity } from "../../vocabulary/quantities.js";
import type { Group, Layout } from "./layout.js";

/** Why a complex modulus does not follow from the columns of a group; null where it does. */
export function modulusTrouble(group: Group, layout: Layout): Problem | null {
  const has = (quantity: Quantity) => (group.slots.get(quantity)?.length ?? 0) > 0;
  const absolute = (["storage modulus", "loss modulus", "complex modulus"] as Quantity[]).filter(has);
  const angles = (["tan delta", "phase angle"] as Quantity[]).filter(has);
  if (absolute.length >= 2 || (absolute.length === 1 && angles.length > 0)) return null;
  const compliances = complianceQuantities.filter(has);
  if (compliances.length >= 2 || (compliances.length === 1 && angles.length > 0)) return null;
  const found = [...absolute, ...compliances, ...angles];
  const unread = layout.columns.filter(({ quantity, reading }) => quantity === null && reading.text !== "");
  const others =
    unread.length > 0
      ? ` Columns not understood: ${unread
          .slice(0, 6)
          .map(({ reading }) => quoted(reading.text, 30))
          .join(", ")}.`
      : "";
  const where =
    found.length > 0 ? layout.columns.find(({ quantity }) => quantity === found[0])?.position : undefined;
  return problem(
    "io.missing-modulus",
    `Storage and loss modulus do not follow from the columns: found ${found.length > 0 ? `only ${found.join(" and ")}` : "neither"}; ` +
      `expected any two of storage modulus, loss modulus, complex modulus, tan delta and phase angle, one of them a modulus.${others} ` +
      (unread.length > 0
        ? `Export one more of them, or state in study.yaml which column holds one, as in ${columnInStudy(unread[0].reading.text, "loss modulus in MPa")}`
        : `${whatToExport(absolute, angles)} The file has no other column that could hold one.`),
    layout.headerLine,
    where === undefined ? undefined : where + 1,
  );
}

/** The columns of the same test that make up for what is missing. */
function whatToExport(absolute: Quantity[], angles: Quantity[]): string {
  if (absolute.length > 0) return "Export the same test with tan delta or another modulus beside it.";
  const has = angles.length > 0 ? angles.join(" and ") : "the table";
  return (
    `A modulus is missing: ${has} alone ${angles.length > 1 ? "say" : "says"} how much is lost of what is stored, not how much is stored. Export the same test with ` +
    `the storage modulus beside it, as in a column "E' (MPa)" or "G' (MPa)".`
  );
}
