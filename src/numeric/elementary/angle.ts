// Series on small remainders; π/2 in three parts (Cody, W. J., Waite, W., Software Manual for the Elementary Functions, 1980),
// computed with Python's decimal module to 80 digits.

const halfPi1 = 1.5707963267341256;
const halfPi2 = 6.077100509014471e-11;
const halfPi3 = -2.508278806334166e-20;
const halfPi = 1.5707963267948966;
const halfPiRest = 6.123233995736766e-17;
const largestAngle = 1e6;

/** Sine, the same bits on every engine; within 2.5 units in the last place. @param x - radians; NaN beyond a million */
export function sin(x: number): number {
  const quarter = quarterOf(x);
  const r = remainder(x, quarter);
  return turned(quarter, sineSeries(r), cosineSeries(r));
}

/** Cosine, the same bits on every engine; within 2.5 units in the last place. @param x - radians; NaN beyond a million */
export function cos(x: number): number {
  const quarter = quarterOf(x);
  const r = remainder(x, quarter);
  return turned(quarter + 1, sineSeries(r), cosineSeries(r));
}

/** Tangent, the same bits on every engine; within 4 units in the last place. @param x - radians; NaN beyond a million */
export function tan(x: number): number {
  const quarter = quarterOf(x);
  const r = remainder(x, quarter);
  return quarter % 2 === 0 ? sineSeries(r) / cosineSeries(r) : -cosineSeries(r) / sineSeries(r);
}

/** atan(j/4), high and low part, j = 0 to 4. */
// biome-ignore format: one row per j
const arctangents = new Float64Array([
  0.0, 0.0,
  0.24497866312686414, 1.0698755618734451e-17,
  0.4636476090008061, 2.2698777452961687e-17,
  0.6435011087932844, 1.5834785051444286e-17,
  0.7853981633974483, 3.061616997868383e-17,
]);

/** Arc tangent in radians, the same bits on every engine; within 1.5 units in the last place. */
export function atan(x: number): number {
  if (x < 0) return -atan(-x);
  if (x > 1) return halfPi - (atan(1 / x) - halfPiRest);
  if (!(x > 0)) return x;
  const j = Math.floor(4 * x + 0.5);
  const t = (x - j / 4) / (1 + (x * j) / 4);
  return arctangents[2 * j] + (arctangents[2 * j + 1] + arctangentSeries(t));
}

/** Angle of the point (x, y) in radians, from −π to π, the same bits on every engine. */
export function atan2(y: number, x: number): number {
  if (x > 0) return atan(y / x);
  if (x < 0) return (y < 0 || Object.is(y, -0) ? -2 : 2) * halfPi + atan(y / x);
  if (y === 0 && x === 0) return Object.is(x, -0) ? (Object.is(y, -0) ? -2 : 2) * halfPi : y;
  return y > 0 ? halfPi : y < 0 ? -halfPi : Number.NaN;
}

function quarterOf(x: number): number {
  return Math.abs(x) <= largestAngle ? Math.floor(x / halfPi + 0.5) : Number.NaN;
}

function remainder(x: number, quarter: number): number {
  return x - quarter * halfPi1 - quarter * halfPi2 - quarter * halfPi3;
}

function turned(quarter: number, sine: number, cosine: number): number {
  const side = ((quarter % 4) + 4) % 4;
  return side === 0 ? sine : side === 1 ? cosine : side === 2 ? -sine : -cosine;
}

function sineSeries(r: number): number {
  const rr = r * r;
  let sum = 0;
  for (let n = 17; n > 1; n -= 2) sum = (rr * (1 + sum)) / (-n * (n - 1));
  return r + r * sum;
}

function cosineSeries(r: number): number {
  const rr = r * r;
  let sum = 0;
  for (let n = 18; n > 2; n -= 2) sum = (rr * (1 + sum)) / (-n * (n - 1));
  const half = rr / 2;
  const top = 1 - half;
  return top + (1 - top - half - half * sum);
}

function arctangentSeries(t: number): number {
  const tt = t * t;
  let sum = 0;
  for (let n = 19; n > 1; n -= 2) sum = -tt * (1 / n + sum);
  return t + t * sum;
}
