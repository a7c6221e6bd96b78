/**
 * The floor under any reader: decode the bytes and turn every run of digits with its sign, mark and exponent
 * into a number, with no thought for what it means. Finds the delimiter by counting. Values in reading order.
 */
export function decodeAndScan(bytes: Uint8Array): Float64Array {
  const text = new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  const decimalComma = text.indexOf(";") >= 0;
  const mark = decimalComma ? 44 : 46;
  let values = new Float64Array(4096);
  let count = 0;
  const { length } = text;
  for (let i = 0; i < length; ) {
    let code = text.charCodeAt(i);
    const negative = code === 45;
    if (negative) code = text.charCodeAt(++i);
    if (!(code >= 48 && code <= 57)) {
      i++;
      continue;
    }
    let digits = 0;
    let power = 0;
    while (code >= 48 && code <= 57) {
      digits = digits * 10 + (code - 48);
      code = text.charCodeAt(++i);
    }
    if (code === mark) {
      code = text.charCodeAt(++i);
      while (code >= 48 && code <= 57) {
        digits = digits * 10 + (code - 48);
        power++;
        code = text.charCodeAt(++i);
      }
    }
    const value = power === 0 ? digits : digits / powersOfTen[power];
    if (count === values.length) {
      const longer = new Float64Array(2 * count);
      longer.set(values);
      values = longer;
    }
    values[count++] = negative ? -value : value;
  }
  return values.subarray(0, count);
}

const powersOfTen = Float64Array.from({ length: 23 }, (_, power) => 10 ** power);
