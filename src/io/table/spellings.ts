import { shown } from "../../words/quoted.js";

/** How the names in a file are written, where that is not how they are shown: with tabs, no-break spaces and the like. */
export class Spellings {
  private readonly byName = new Map<string, Set<string>>();
  /** Written otherwise than shown, the first thousand. */
  private readonly odd: { written: string; name: string }[] = [];
  private last = "";

  /** Keeps how a cell is written. Blanks at its ends pad a column and are no part of it. */
  note(cell: string): void {
    if (cell === this.last) return;
    this.last = cell;
    if (cell.length > longestName) return;
    const written = withoutPadding(cell);
    const name = shown(written);
    const known = this.byName.get(name);
    if (known?.has(written)) return;
    if (known === undefined) this.byName.set(name, new Set([written]));
    else known.add(written);
    if (written !== name && this.odd.length < mostOdd) this.odd.push({ written, name });
  }

  addAll(others: Spellings): void {
    for (const spellings of others.byName.values()) for (const each of spellings) this.note(each);
  }

  /** All ways in which a name is written in the file; none where it is written as it is shown throughout. */
  of(name: string): string[] {
    if (this.odd.length === 0) return [];
    const found = new Set(this.byName.get(name));
    const inside = new RegExp(withUnseen(name), "u");
    // "Sample: Birch 60" in one cell.
    for (const line of this.odd) {
      if (line.name === name || !line.name.includes(name)) continue;
      const [written] = inside.exec(line.written.normalize("NFC")) ?? [];
      if (written !== undefined && written !== name) found.add(written);
    }
    return found.size === 1 && found.has(name) ? [] : [...found];
  }
}

const mostOdd = 1000;
/** What is longer is a text, not a name. */
const longestName = 2000;

function withoutPadding(cell: string): string {
  let start = 0;
  let end = cell.length;
  while (cell[start] === " ") start++;
  while (end > start && cell[end - 1] === " ") end--;
  return cell.slice(start, end);
}

/** A name as a pattern that lets what is not seen stand between its characters. */
function withUnseen(name: string): string {
  const unseen = "\\p{Default_Ignorable_Code_Point}";
  return name
    .split(" ")
    .map((word) => [...word].map((sign) => sign.replace(/[\\^$.*+?()[\]{}|/]/, "\\$&")).join(`${unseen}*`))
    .join(`[\\p{Cc}${unseen}\\s]+`);
}

/** Whether a line holds what is not seen in a cell: a quick look, before the line is split once more. */
export function holdsUnseen(record: string, delimiter: string): boolean {
  return (delimiter === "\t" && !record.includes('"') ? unseenBesideTab : unseen).test(record);
}

// Beside controls and what has no width: blanks other than the usual one, two blanks inside a cell, parted accents.
const unseen = /[\p{Cc}\p{Default_Ignorable_Code_Point}\p{Mn}]|[^\S ]|[^\s,;|"] {2,}[^\s,;|"]/u;
const unseenBesideTab = /[^\P{Cc}\t]|[\p{Default_Ignorable_Code_Point}\p{Mn}]|[^\S \t]|[^\s"] {2,}[^\s"]/u;
