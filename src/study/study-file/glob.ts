/** What one character may be; `isFirst` where it begins a name of a path. */
type Test = (character: string, isFirst: boolean) => boolean;

type Part = { test: Test } | { repeat: Test } | { either: Part[][] };

/** A state waits for a character, or leads on without one. */
type State = { test: Test; next: number } | { lead: number[] };

/**
 * Whether a path fits a pattern as shells know it: `*` and `?` within a name, `**` across folders, `[a-z]`, `[!a-z]`,
 * `{one,other}`, `\` before a character that is meant as it stands. Letter case does not count, a pattern without "/"
 * is for the file's name alone, and a path fits itself, whatever characters are in it. The time grows with the length
 * of the path times that of the pattern and no faster, whatever the pattern: a study file may come from anybody.
 * @param glob
 * @returns for a path with "/" between its names
 */
export function globMatcher(glob: string): (path: string) => boolean {
  const pattern = glob.replace(/^\.\//, "").toLowerCase();
  const isOfName = !pattern.includes("/");
  const states: State[] = [];
  const start = statesOf(parse(pattern), states, states.push({ lead: [] }) - 1);
  // Most files differ in their first or last characters.
  const head = /^[^*?[\]{},\\]*/.exec(pattern)![0];
  const tail = /[^*?[\]{},\\/]*$/.exec(pattern)![0];
  return (path) => {
    const whole = path.toLowerCase();
    const text = isOfName ? whole.slice(whole.lastIndexOf("/") + 1) : whole;
    if (text === pattern) return true;
    return text.startsWith(head) && text.endsWith(tail) && fits(states, start, text);
  };
}

function fits(states: State[], start: number, text: string): boolean {
  let at = reached(states, [start]);
  let isFirst = true;
  for (const character of text) {
    const next: number[] = [];
    for (const index of at) {
      const state = states[index];
      if ("test" in state && state.test(character, isFirst)) next.push(state.next);
    }
    if (next.length === 0) return false;
    at = reached(states, next);
    isFirst = character === "/";
  }
  // The first state is the end.
  return at.has(0);
}

/** States that some lead to without a character, themselves among them. */
function reached(states: State[], from: number[]): Set<number> {
  const found = new Set(from);
  for (const index of found) {
    const state = states[index];
    if ("lead" in state) for (const next of state.lead) found.add(next);
  }
  return found;
}

/** Adds the states of a pattern's parts, the last part first. @returns the state they begin with */
function statesOf(parts: Part[], states: State[], end: number): number {
  let next = end;
  for (const part of parts.toReversed()) {
    if ("test" in part) next = states.push({ test: part.test, next }) - 1;
    else if ("repeat" in part) {
      const loop = states.push({ lead: [next] }) - 1;
      (states[loop] as { lead: number[] }).lead.push(states.push({ test: part.repeat, next: loop }) - 1);
      next = loop;
    } else {
      const lead = part.either.map((branch) => statesOf(branch, states, next));
      next = states.push({ lead }) - 1;
    }
  }
  return next;
}

// A name that begins with a point is hidden: only a pattern that says the point means it.
const inName: Test = (character, isFirst) => character !== "/" && !(isFirst && character === ".");
const inPath: Test = (character, isFirst) => !(isFirst && character === ".");

function parse(pattern: string): Part[] {
  let at = 0;
  /** Parts up to the end, or up to the "," or "}" of the braces it stands in. */
  const sequence = (isInBraces: boolean): Part[] => {
    const parts: Part[] = [];
    while (at < pattern.length) {
      const character = pattern[at];
      if (isInBraces && (character === "," || character === "}")) break;
      if (character === "*") parts.push(...stars());
      else if (character === "?") parts.push({ test: inName });
      else if (character === "[") parts.push({ test: characterClass() });
      else if (character === "{") parts.push(braces());
      else
        parts.push({
          test: same(pattern.codePointAt(character === "\\" && at + 1 < pattern.length ? ++at : at)!),
        });
      at += (pattern.codePointAt(at) ?? 0) > 0xffff ? 2 : 1;
    }
    return parts;
  };
  /** `**` that is a whole name stands for any folders, none among them; otherwise it is one star. Ends on its last character. */
  const stars = (): Part[] => {
    const from = at;
    while (pattern[at + 1] === "*") at++;
    const isWhole = at > from && (from === 0 || pattern[from - 1] === "/");
    if (isWhole && pattern[at + 1] === "/") {
      at++;
      return [{ either: [[], [{ test: inPath }, { repeat: inPath }, { test: same(47) }]] }];
    }
    return [{ repeat: isWhole && at + 1 === pattern.length ? inPath : inName }];
  };
  const characterClass = (): Test => {
    const body = /^\[([!^]?)(\]?[^\]/]*)\]/.exec(pattern.slice(at));
    if (body === null) return same(91);
    at += body[0].length - 1;
    const isNot = body[1] !== "";
    const ranges = [...body[2].matchAll(/(.)(?:-(.))?/gsu)].map(([, from, to = from]) => [from, to]);
    return (character, isFirst) =>
      inName(character, isFirst) &&
      ranges.some(([from, to]) => from <= character && character <= to) !== isNot;
  };
  const choices = bracesWithChoice(pattern);
  const braces = (): Part => {
    if (!choices.has(at)) return { test: same(123) };
    const either: Part[][] = [];
    do {
      at++;
      either.push(sequence(true));
    } while (pattern[at] === ",");
    return { either };
  };
  return sequence(false);
}

/** Places of the braces that are closed and hold a "," of their own; others are characters like any other. */
function bracesWithChoice(pattern: string): Set<number> {
  const found = new Set<number>();
  const open: { at: number; hasChoice: boolean }[] = [];
  for (let at = 0; at < pattern.length; at++) {
    const character = pattern[at];
    if (character === "\\") at++;
    else if (character === "{") open.push({ at, hasChoice: false });
    else if (character === "," && open.length > 0) open[open.length - 1].hasChoice = true;
    else if (character === "}") {
      const closed = open.pop();
      if (closed?.hasChoice && open.length < deepest) found.add(closed.at);
    }
  }
  return found;
}

/** Braces within braces; no pattern that is meant for anything goes as deep. */
const deepest = 20;

function same(codePoint: number): Test {
  const wanted = String.fromCodePoint(codePoint);
  return (character) => character === wanted;
}
