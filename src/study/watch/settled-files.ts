/** What tells one state of a file from another without reading it. */
export interface FileState {
  size: number;
  modified_ms: number;
  inode: number;
}

/**
 * Which files have stopped growing. A file is settled once its state has been the same for a while by a clock
 * that only goes forward, so that a jump of the wall clock neither hurries nor stalls anything.
 */
export class SettledFiles {
  private readonly pending = new Map<string, { state: FileState; since_ms: number }>();
  private readonly settled = new Map<string, FileState>();

  constructor(private readonly settle_ms: number) {}

  /**
   * Takes note of the files as they are now.
   * @returns names that have newly settled or gone, and how many are still growing
   */
  observe(
    files: ReadonlyMap<string, FileState>,
    now_ms: number,
  ): { changed: string[]; gone: string[]; growing: number } {
    const changed: string[] = [];
    for (const [name, state] of files) {
      const known = this.settled.get(name);
      if (known !== undefined && sameState(known, state)) {
        this.pending.delete(name);
        continue;
      }
      const seen = this.pending.get(name);
      if (seen === undefined || !sameState(seen.state, state)) {
        this.pending.set(name, { state, since_ms: now_ms });
        if (this.settle_ms > 0) continue;
      } else if (now_ms - seen.since_ms < this.settle_ms) continue;
      this.pending.delete(name);
      this.settled.set(name, state);
      changed.push(name);
    }
    const gone: string[] = [];
    for (const name of [...this.settled.keys(), ...this.pending.keys()]) {
      if (files.has(name)) continue;
      this.pending.delete(name);
      if (this.settled.delete(name)) gone.push(name);
    }
    return { changed, gone, growing: this.pending.size };
  }

  /** True for a file that stands still; false again while it changes. */
  isSettled(name: string): boolean {
    return this.settled.has(name) && !this.pending.has(name);
  }
}

function sameState(a: FileState, b: FileState): boolean {
  return a.size === b.size && a.modified_ms === b.modified_ms && a.inode === b.inode;
}
