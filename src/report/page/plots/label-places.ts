import { cos, sin } from "../../../numeric/elementary/angle.js";

/** Everything in pixels, from the upper left corner of the plot's area, y downwards. */
export interface MapPoint {
  x: number;
  y: number;
  /** Of the shape, with a ring around it if there is one. */
  radius: number;
  /** How far the interval's lines reach. */
  bars: Box;
  /** Width of the name that goes beside the point; null where it gets none. */
  labelWidth: number | null;
  /** Such a name goes beside its point where there is room, else it is left out. */
  isOptional?: boolean;
}

export interface Box {
  left: number;
  right: number;
  top: number;
  bottom: number;
}

export interface Area {
  width: number;
  height: number;
}

const besides = [
  "middle right",
  "top right",
  "bottom right",
  "middle left",
  "top left",
  "bottom left",
  "top center",
  "bottom center",
] as const;

/** Beside its point, as the plot library words it. */
export type Beside = (typeof besides)[number];

/** A place a name could have. */
export interface Place {
  box: Box;
  /** Null: farther off, at the end of a thin line that leads to the point. */
  beside: Beside | null;
  /** Where that line starts and ends. */
  leader: Box | null;
  /** What it covers that never moves, and how much it is disliked for itself. */
  own: number;
}

/** Size of the names' letters, and the height of a name in it. */
export const labelSize = 11.5;
const labelHeight = 1.2 * labelSize;
/** Air between two names, around a shape, and around a shape that a name beside it might be taken to name. */
const air = 2;
const strangerAir = 7;

const leaderReaches = [14, 24, 36, 52, 72, 100, 135, 175];
const leaderDirections = Array.from({ length: 20 }, (_, k) => (2 * Math.PI * k) / 20);

/** What it costs a name: some hundred at most for what may be, more than any number of those for what may not. */
const cost = {
  onLabel: 10_000,
  outside: 10_000,
  onShape: 150,
  nearStranger: 12,
  /** On an interval's upright line, and on one that strikes the name out. */
  onUpright: 14,
  struckOut: 80,
  leader: 30,
  leaderPerPixel: 0.45,
  leaderOverShape: 40,
  /** A leader over another name or another leader. */
  leaderAcross: 200,
};

/** The eight places beside a point. */
export function placesBeside(point: MapPoint, points: MapPoint[], area: Area): Place[] {
  return besides.map((beside, rank) => {
    const box = boxBeside(point, beside);
    return { box, beside, leader: null, own: 2 * rank + coveredBy(box, point, points, area) };
  });
}

/** Places farther off, inside the area. */
export function placesAtLeaders(point: MapPoint, points: MapPoint[], area: Area): Place[] {
  const places: Place[] = [];
  for (const reach of leaderReaches) {
    for (const direction of leaderDirections) {
      const box = boxAtLeader(point, reach, direction);
      if (outside(box, area) > 0 || doOverlap(box, shapeOf(point, air))) continue;
      const leader = {
        left: point.x,
        top: point.y,
        right: (box.left + box.right) / 2,
        bottom: (box.top + box.bottom) / 2,
      };
      let own = cost.leader + cost.leaderPerPixel * reach + coveredBy(box, point, points, area);
      for (const other of points) {
        if (other !== point && lineCrosses(leader, shapeOf(other, 0))) own += cost.leaderOverShape;
      }
      places.push({ box, beside: null, leader, own });
    }
  }
  return places;
}

/** What two names cost each other. */
export function conflict(a: Place, b: Place): number {
  const apart =
    a.box.left >= b.box.right + 2 * air ||
    b.box.left >= a.box.right + 2 * air ||
    a.box.top >= b.box.bottom + air ||
    b.box.top >= a.box.bottom + air;
  let sum = apart ? 0 : cost.onLabel;
  if (a.leader !== null && lineCrosses(a.leader, b.box)) sum += cost.leaderAcross;
  if (b.leader !== null && lineCrosses(b.leader, a.box)) sum += cost.leaderAcross;
  if (a.leader !== null && b.leader !== null && linesCross(a.leader, b.leader)) sum += cost.leaderAcross;
  return sum;
}

/** Whether a name may stand there at all: nothing beyond the area. */
export function isInside(box: Box, area: Area): boolean {
  return outside(box, area) === 0;
}

/** Whether two boxes, in pixels, share an area. */
export function doOverlap(a: Box, b: Box): boolean {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

/** Where the plot library puts a text of that position beside a shape of that radius. */
function boxBeside({ x, y, radius, labelWidth }: MapPoint, beside: Beside): Box {
  const [vertical, side] = beside.split(" ");
  const width = labelWidth ?? 0;
  const offset = radius / 0.8 + 1;
  const left = side === "right" ? x + offset : side === "left" ? x - offset - width : x - width / 2;
  const middle =
    vertical === "top"
      ? y - offset - 0.6 * labelSize
      : vertical === "bottom"
        ? y + offset + 0.4 * labelSize
        : y;
  return { left, right: left + width, top: middle - labelHeight / 2, bottom: middle + labelHeight / 2 };
}

/** The name's nearest edge or corner at that distance from the shape. */
function boxAtLeader({ x, y, radius, labelWidth }: MapPoint, reach: number, direction: number): Box {
  const [across, down] = [cos(direction), sin(direction)];
  const half = { width: (labelWidth ?? 0) / 2, height: labelHeight / 2 };
  const middleX = x + (radius + reach) * across + half.width * Math.max(-1, Math.min(1, 1.6 * across));
  const middleY = y + (radius + reach) * down + half.height * Math.max(-1, Math.min(1, 1.6 * down));
  return {
    left: middleX - half.width,
    right: middleX + half.width,
    top: middleY - half.height,
    bottom: middleY + half.height,
  };
}

/** What a name's box covers that never moves. */
function coveredBy(box: Box, point: MapPoint, points: MapPoint[], area: Area): number {
  const { left, right, top, bottom } = box;
  const count = { shapes: 0, strangers: 0, across: 0, upright: 0 };
  for (const other of points) {
    const { x, y, bars } = other;
    if (left < bars.right && right > bars.left && top < y + 1 && bottom > y - 1) count.across++;
    if (top < bars.bottom && bottom > bars.top && left < x + 1 && right > x - 1) count.upright++;
    if (other === point) continue;
    if (doOverlap(box, shapeOf(other, air))) count.shapes++;
    else if (doOverlap(box, shapeOf(other, strangerAir))) count.strangers++;
  }
  // Among very many points a few more make no difference.
  return (
    cost.outside * outside(box, area) +
    cost.onShape * count.shapes +
    cost.nearStranger * Math.min(3, count.strangers) +
    cost.struckOut * Math.min(2, count.across) +
    cost.onUpright * Math.min(3, count.upright)
  );
}

function shapeOf({ x, y, radius }: MapPoint, around: number): Box {
  const half = radius + around;
  return { left: x - half, right: x + half, top: y - half, bottom: y + half };
}

/** On which side of a line a point lies. */
function side({ left, top, right, bottom }: Box, x: number, y: number): number {
  return (right - left) * (y - top) - (bottom - top) * (x - left);
}

/** Whether a line, from a box's upper left to its lower right corner as they are named, crosses another box. */
function lineCrosses(line: Box, box: Box): boolean {
  if (Math.max(line.left, line.right) < box.left || Math.min(line.left, line.right) > box.right) return false;
  if (Math.max(line.top, line.bottom) < box.top || Math.min(line.top, line.bottom) > box.bottom) return false;
  // It does where the box has corners on both of its sides.
  const first = side(line, box.left, box.top) > 0;
  return (
    side(line, box.right, box.top) > 0 !== first ||
    side(line, box.left, box.bottom) > 0 !== first ||
    side(line, box.right, box.bottom) > 0 !== first
  );
}

function linesCross(a: Box, b: Box): boolean {
  return (
    side(b, a.left, a.top) > 0 !== side(b, a.right, a.bottom) > 0 &&
    side(a, b.left, b.top) > 0 !== side(a, b.right, b.bottom) > 0
  );
}

/** How many pixels a box reaches beyond the area, on all sides together. */
function outside({ left, right, top, bottom }: Box, { width, height }: Area): number {
  return Math.max(0, -left) + Math.max(0, right - width) + Math.max(0, -top) + Math.max(0, bottom - height);
}
