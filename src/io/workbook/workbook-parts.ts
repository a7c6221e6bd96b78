import { shown } from "../../words/quoted.js";
import { type Budget, walkXml } from "./walk-xml.js";
import type { ZipEntry } from "./zip-entries.js";

type Entries = Map<string, ZipEntry>;

/** Target of each relationship of a part, by its identifier. */
export interface Relationship {
  type: string;
  target: string;
}

/** Reads the relationships of a part; targets are paths inside the archive, in lower case. */
function relationships(entries: Entries, part: string, budget: Budget): Map<string, Relationship> {
  const slash = part.lastIndexOf("/");
  const folder = part.slice(0, slash + 1);
  const entry = entries.get(`${folder}_rels/${part.slice(slash + 1)}.rels`.toLowerCase());
  const found = new Map<string, Relationship>();
  if (entry === undefined) return found;
  walkXml(entry, budget, {
    open(name, attributes) {
      if (name !== "Relationship" || attributes.TargetMode === "External") return;
      found.set(attributes.Id ?? "", {
        type: attributes.Type ?? "",
        target: resolved(folder, attributes.Target ?? ""),
      });
    },
  });
  return found;
}

/** A target is relative to its part's folder unless it starts with a slash; it cannot leave the archive. */
function resolved(folder: string, target: string): string {
  const steps = (target.startsWith("/") ? target : folder + target).split("/");
  const path: string[] = [];
  for (const step of steps) {
    if (step === "..") path.pop();
    else if (step !== "" && step !== ".") path.push(step);
  }
  return path.join("/").toLowerCase();
}

export interface SheetPart {
  name: string;
  /** The name as the file writes it. */
  writtenName: string;
  entry: ZipEntry;
  isHidden: boolean;
}

/** Path of the workbook part, or null where the archive has none. */
export function workbookPath(entries: Entries, budget: Budget): string | null {
  for (const { type, target } of relationships(entries, "", budget).values()) {
    if (type.endsWith("/officeDocument") && entries.has(target)) return target;
  }
  return entries.has("xl/workbook.xml") ? "xl/workbook.xml" : null;
}

/** The worksheets of a workbook in the order of their tabs. */
export function sheetParts(entries: Entries, workbook: string, budget: Budget): SheetPart[] {
  const targets = relationships(entries, workbook, budget);
  const parts: SheetPart[] = [];
  walkXml(entries.get(workbook)!, budget, {
    open(name, attributes) {
      if (name !== "sheet") return;
      const key = Object.keys(attributes).find((each) => each === "id" || each.endsWith(":id"));
      const target = targets.get(key === undefined ? "" : attributes[key]);
      const entry =
        target === undefined || !target.type.endsWith("/worksheet") ? undefined : entries.get(target.target);
      if (entry === undefined) return;
      const isHidden = attributes.state === "hidden" || attributes.state === "veryHidden";
      const writtenName = attributes.name ?? "";
      parts.push({ name: shown(writtenName), writtenName, entry, isHidden });
    },
  });
  return parts;
}

/** Shared strings (ECMA-376 Part 1, 18.4), formatted runs joined, phonetic readings left out. */
export function sharedStrings(entries: Entries, workbook: string, budget: Budget): string[] {
  const entry = partOfType(entries, workbook, "/sharedStrings", budget);
  const strings: string[] = [];
  if (entry === null) return strings;
  let text = "";
  let collecting = false;
  let phonetic = false;
  walkXml(entry, budget, {
    open(name) {
      if (name === "si") text = "";
      else if (name === "rPh") phonetic = true;
      else if (name === "t") collecting = !phonetic;
    },
    text(piece) {
      if (collecting && text.length < 32_768) text += piece;
    },
    close(name) {
      if (name === "t") collecting = false;
      else if (name === "rPh") phonetic = false;
      else if (name === "si") strings.push(text);
    },
  });
  return strings;
}

/** Cell styles whose number format shows a fraction as per cent: 0.523 stands there as 52.3 %. */
export function percentStyles(entries: Entries, workbook: string, budget: Budget): Set<number> {
  const styles = new Set<number>();
  const entry = partOfType(entries, workbook, "/styles", budget);
  if (entry === null) return styles;
  // 9 and 10 are the built-in formats "0%" and "0.00%".
  const formats = new Set([9, 10]);
  let inCells = false;
  let style = 0;
  walkXml(entry, budget, {
    open(name, attributes) {
      if (name === "numFmt" && (attributes.formatCode ?? "").includes("%"))
        formats.add(Number(attributes.numFmtId));
      else if (name === "cellXfs") inCells = true;
      else if (name === "xf" && inCells) {
        if (formats.has(Number(attributes.numFmtId))) styles.add(style);
        style++;
      }
    },
    close(name) {
      if (name === "cellXfs") inCells = false;
    },
  });
  return styles;
}

function partOfType(entries: Entries, workbook: string, type: string, budget: Budget): ZipEntry | null {
  for (const relationship of relationships(entries, workbook, budget).values()) {
    if (relationship.type.endsWith(type)) return entries.get(relationship.target) ?? null;
  }
  return null;
}
