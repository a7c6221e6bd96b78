/** A list whose members are made one by one, as they are written, so that all of them are never there at once. */
export class MadeInTurn<Member> {
  constructor(
    readonly count: number,
    readonly make: (index: number) => Member,
  ) {}

  all(): Member[] {
    return Array.from({ length: this.count }, (_, index) => this.make(index));
  }
}

/** Characters that a piece has at least, but for the last one. */
const pieceLength = 1 << 18;

/**
 * The text that JSON.stringify gives for an object, piece by piece: of the lists that it holds one member after the other,
 * for the text of a large job is larger than all that it was made from.
 * @param indent as JSON.stringify takes it: 0 for all in one line
 */
export function* jsonPieces(object: object, indent: 0 | 2): Generator<string> {
  const [line, step, colon] = indent === 0 ? ["", "", ":"] : ["\n", "  ", ": "];
  const shifted = (value: unknown, by: string) => {
    const text = JSON.stringify(value, null, indent);
    return indent === 0 ? text : text.replaceAll("\n", `\n${by}`);
  };
  let piece = "{";
  let isFirst = true;
  for (const [key, value] of Object.entries(object)) {
    if (value === undefined) continue;
    piece += `${isFirst ? "" : ","}${line}${step}${JSON.stringify(key)}${colon}`;
    isFirst = false;
    const list = Array.isArray(value) ? new MadeInTurn(value.length, (index) => value[index]) : value;
    if (!(list instanceof MadeInTurn) || list.count === 0) {
      piece += list instanceof MadeInTurn ? "[]" : shifted(value, step);
      continue;
    }
    for (let index = 0; index < list.count; index++) {
      piece += `${index === 0 ? "[" : ","}${line}${step}${step}`;
      piece += shifted(list.make(index), step + step);
      if (piece.length < pieceLength) continue;
      yield piece;
      piece = "";
    }
    piece += `${line}${step}]`;
  }
  yield isFirst ? "{}" : `${piece}${line}}`;
}
