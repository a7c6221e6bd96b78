import type { Facts } from "./facts.js";
import type { Layout } from "./header/layout.js";

/** A cell of a row that holds no usable number, and what it holds. */
export interface Gap {
  row: number;
  slot: number;
  cell: string;
  kind: "blank" | "missing" | "over-range" | "text" | "not positive";
}

/** Rows of numbers under one header in one section. Values are as written, times the unit's power of ten. */
export class Block {
  rows = 0;
  /** One array per slot of the layout; while rows are added they are longer than `rows`. */
  data: Float64Array[];
  lines: Int32Array;
  /** Sample of each row, where the table has a column for it. */
  samples: string[] | null;
  /** Method of each row, likewise. */
  methods: string[] | null;
  /** Cells of each row in the layout's label columns, where it has any. */
  labels: string[][] | null;
  gaps: Gap[] = [];
  private byRow: Map<number, Gap[]> | null = null;
  private byRowCount = 0;
  private isClosed = false;
  /** How finely the numbers of each slot are printed, as the parser codes it; the finest of the column. */
  precision: Uint8Array;

  constructor(
    readonly layout: Layout,
    public facts: Facts,
    readonly section: string | null,
  ) {
    const room = takeRoom(layout.slots.length);
    this.data = room.columns;
    this.lines = room.lines;
    this.precision = new Uint8Array(layout.slots.length);
    this.samples = layout.sampleColumn === null ? null : [];
    this.methods = layout.methodColumn === null ? null : [];
    this.labels = layout.labelColumns.length === 0 ? null : [];
  }

  /** Makes room for a row. @returns the place in `data` for its numbers, NaN for a gap */
  room(): number {
    if (this.rows === this.lines.length) this.grow();
    return this.rows;
  }

  /** Counts the row whose numbers were written. */
  add(line: number, sample: string | null, method: string | null, labels: string[] | null = null): void {
    const { rows } = this;
    this.lines[rows] = line;
    this.samples?.push(sample ?? "");
    this.methods?.push(method ?? "");
    this.labels?.push(labels ?? []);
    this.rows = rows + 1;
  }

  /** Keeps the rows in arrays of just their length, and leaves the room to others. No row can be added after it. */
  close(): void {
    if (this.isClosed) return;
    this.isClosed = true;
    const { rows, data, lines } = this;
    const slots = this.layout.slots.length;
    const values = new Float64Array(slots * rows);
    this.data = [];
    for (let slot = 0; slot < slots; slot++) {
      values.set(data[slot].subarray(0, rows), slot * rows);
      this.data.push(values.subarray(slot * rows, (slot + 1) * rows));
    }
    this.lines = lines.slice(0, rows);
    giveRoom({ columns: data, lines });
  }

  /** Leaves the room to others, when nothing will ask for the rows again. */
  release(): void {
    if (!this.isClosed) giveRoom({ columns: this.data, lines: this.lines });
    this.isClosed = true;
    this.rows = 0;
    this.data = [];
  }

  /** Gaps of one row. Call it when all rows are in. */
  gapsOf(row: number): Gap[] {
    if (this.byRow === null || this.byRowCount !== this.gaps.length) {
      this.byRow = new Map();
      this.byRowCount = this.gaps.length;
      for (const gap of this.gaps) {
        const list = this.byRow.get(gap.row);
        if (list === undefined) this.byRow.set(gap.row, [gap]);
        else list.push(gap);
      }
    }
    return this.byRow.get(row) ?? [];
  }

  private grow(): void {
    const size = this.lines.length * 2;
    this.data = this.data.map((column) => {
      const larger = new Float64Array(size);
      larger.set(column);
      return larger;
    });
    const lines = new Int32Array(size);
    lines.set(this.lines);
    this.lines = lines;
  }
}

/** Arrays that rows are added to, as long as each other. */
interface Room {
  columns: Float64Array[];
  lines: Int32Array;
}

const firstRows = 32;
/** Numbers in a room that is worth keeping: a megabyte. */
const mostKept = 1 << 17;

/** The room of the last block, for the next one: most exports are of one kind and length. */
let spare: Room | null = null;

function takeRoom(slots: number): Room {
  const room = spare ?? { columns: [], lines: new Int32Array(firstRows) };
  spare = null;
  const { columns, lines } = room;
  while (columns.length < slots) columns.push(new Float64Array(lines.length));
  return room;
}

function giveRoom(room: Room): void {
  if (room.columns.length * room.lines.length <= mostKept) spare = room;
}
