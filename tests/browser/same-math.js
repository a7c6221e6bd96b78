// Elementary functions from nothing but the operations that IEEE 754 fixes to the last bit. Engines differ in the
// last digit of their own (Node 20 and a current Chromium give another exp for one argument in ten), and with them
// differ the results. With these in both, the same program must give the same bytes. Good to some 15 digits.
(() => {
  const ln2High = 0.6931471803691238;
  const ln2Low = 1.9082149292705877e-10;
  const bits = new DataView(new ArrayBuffer(8));
  const powerOfTwo = (k) => {
    bits.setUint32(0, (k + 1023) << 20);
    bits.setUint32(4, 0);
    return bits.getFloat64(0);
  };
  const exp = (x) => {
    if (!(x >= -745.2)) return x < 0 ? 0 : Number.NaN;
    if (x > 709.8) return Number.POSITIVE_INFINITY;
    const k = Math.round(x / Math.LN2);
    const r = x - k * ln2High - k * ln2Low;
    let sum = 1;
    for (let n = 16; n > 0; n--) sum = 1 + (r * sum) / n;
    const half = Math.trunc(k / 2);
    return sum * powerOfTwo(half) * powerOfTwo(k - half);
  };
  const log = (x) => {
    if (!(x > 0)) return x === 0 ? Number.NEGATIVE_INFINITY : Number.NaN;
    if (x === Number.POSITIVE_INFINITY) return x;
    if (x < 1e-300) return log(x * powerOfTwo(100)) - 100 * Math.LN2;
    bits.setFloat64(0, x);
    let e = (bits.getUint32(0) >>> 20) - 1023;
    let m = x * powerOfTwo(-Math.trunc(e / 2)) * powerOfTwo(Math.trunc(e / 2) - e);
    if (m > Math.SQRT2) {
      m /= 2;
      e++;
    }
    const s = (m - 1) / (m + 1);
    let sum = 0;
    for (let n = 25; n > 0; n -= 2) sum = 1 / n + s * s * sum;
    return e * ln2High + (e * ln2Low + 2 * s * sum);
  };
  const pow = (x, y) => {
    if (Number.isInteger(y) && Math.abs(y) <= 400) {
      let power = 1;
      for (let n = 0; n < Math.abs(y); n++) power *= x;
      return y < 0 ? 1 / power : power;
    }
    if (x === 1) return Number.isFinite(y) ? 1 : Number.NaN;
    if (x === 0) return y > 0 ? 0 : y < 0 ? Number.POSITIVE_INFINITY : Number.NaN;
    return exp(y * log(x));
  };
  const log10 = (x) => {
    const value = log(x) / Math.LN10;
    const whole = Math.round(value);
    return Math.abs(whole) < 300 && pow(10, whole) === x ? whole : value;
  };
  const log1p = (x) => (1 + x === 1 ? x : (log(1 + x) * x) / (1 + x - 1));
  const expm1 = (x) => {
    const u = exp(x);
    if (u === 1) return x;
    return u - 1 === -1 || u === Number.POSITIVE_INFINITY ? u - 1 : ((u - 1) * x) / log(u);
  };
  const sinOf = (r) => {
    let sum = 1;
    for (let n = 20; n > 0; n -= 2) sum = 1 - (r * r * sum) / (n * (n + 1));
    return r * sum;
  };
  const cosOf = (r) => {
    let sum = 1;
    for (let n = 20; n > 0; n -= 2) sum = 1 - (r * r * sum) / (n * (n - 1));
    return sum;
  };
  const turned = (x, quarters) => {
    if (!Number.isFinite(x)) return Number.NaN;
    const n = Math.round(x / (Math.PI / 2));
    const r = x - n * 1.5707963267948966 - n * 6.123233995736766e-17;
    const quarter = (((n + quarters) % 4) + 4) % 4;
    return (quarter > 1 ? -1 : 1) * (quarter % 2 === 0 ? sinOf(r) : cosOf(r));
  };
  const atan = (x) => {
    if (Math.abs(x) > 1) return Math.sign(x) * (Math.PI / 2) - atan(1 / x);
    const half = (t) => t / (1 + Math.sqrt(1 + t * t));
    const t = half(half(x));
    let sum = 0;
    for (let n = 25; n > 0; n -= 2) sum = 1 / n - t * t * sum;
    return 4 * t * sum;
  };
  const atan2 = (y, x) => {
    if (x > 0) return atan(y / x);
    if (x === 0) return y === 0 ? y : Math.sign(y) * (Math.PI / 2);
    return atan(y / x) + (y < 0 || Object.is(y, -0) ? -Math.PI : Math.PI);
  };
  const sinh = (x) => (expm1(x) - expm1(-x)) / 2;
  const cosh = (x) => (exp(x) + exp(-x)) / 2;
  Object.assign(Math, {
    exp,
    log,
    pow,
    log10,
    log1p,
    expm1,
    atan,
    atan2,
    sinh,
    cosh,
    log2: (x) => log(x) / Math.LN2,
    sin: (x) => turned(x, 0),
    cos: (x) => turned(x, 1),
    tan: (x) => turned(x, 0) / turned(x, 1),
    tanh: (x) => (Math.abs(x) > 20 ? Math.sign(x) : sinh(x) / cosh(x)),
    cbrt: (x) => Math.sign(x) * (x === 0 ? 0 : exp(log(Math.abs(x)) / 3)),
    asin: (x) => atan2(x, Math.sqrt(1 - x * x)),
    acos: (x) => atan2(Math.sqrt(1 - x * x), x),
    asinh: (x) => Math.sign(x) * log(Math.abs(x) + Math.sqrt(x * x + 1)),
    acosh: (x) => log(x + Math.sqrt(x * x - 1)),
    atanh: (x) => log1p((2 * x) / (1 - x)) / 2,
  });
})();
