/** A point with the name that goes beside it; x and y as shares of the plot's width and height, y upwards. */
export interface LabelledPoint {
  x: number;
  y: number;
  text: string;
}

interface Box {
  left: number;
  right: number;
  bottom: number;
  top: number;
}

/** Sizes as shares of a plot of some 560 by 380 pixels, as the map has on a desk. */
const character = 6.3 / 560;
const lineHeight = 15 / 380;
const gapX = 7 / 560;
const gapY = 5 / 380;
const pointX = 8 / 560;
const pointY = 8 / 380;

const positions = [
  "top right",
  "bottom right",
  "top left",
  "bottom left",
  "middle right",
  "middle left",
] as const;
export type LabelPosition = (typeof positions)[number];

/**
 * Places names one after the other where each covers least of the points, of the names placed before and of
 * the outside. Greedy: for a dozen names that is enough.
 */
export function placeLabels(points: LabelledPoint[]): LabelPosition[] {
  const taken: Box[] = points.map(({ x, y }) => ({
    left: x - pointX,
    right: x + pointX,
    bottom: y - pointY,
    top: y + pointY,
  }));
  return points.map((point, own) => {
    let best: { position: LabelPosition; box: Box; cost: number } | null = null;
    for (const position of positions) {
      const box = boxAt(point, position);
      let cost = 5 * outside(box);
      for (const [k, other] of taken.entries()) if (k !== own) cost += overlap(box, other);
      if (best === null || cost < best.cost - 1e-9) best = { position, box, cost };
    }
    taken.push(best!.box);
    return best!.position;
  });
}

function boxAt({ x, y, text }: LabelledPoint, position: LabelPosition): Box {
  const [vertical, side] = position.split(" ");
  const width = [...text].length * character;
  const left = side === "right" ? x + gapX : x - gapX - width;
  const bottom =
    vertical === "top" ? y + gapY : vertical === "bottom" ? y - gapY - lineHeight : y - lineHeight / 2;
  return { left, right: left + width, bottom, top: bottom + lineHeight };
}

function overlap(a: Box, b: Box): number {
  const width = Math.min(a.right, b.right) - Math.max(a.left, b.left);
  const height = Math.min(a.top, b.top) - Math.max(a.bottom, b.bottom);
  return width > 0 && height > 0 ? width * height : 0;
}

function outside(box: Box): number {
  const beyond = (low: number, high: number) => Math.max(0, -low) + Math.max(0, high - 1);
  return (
    beyond(box.left, box.right) * (box.top - box.bottom) +
    beyond(box.bottom, box.top) * (box.right - box.left)
  );
}
