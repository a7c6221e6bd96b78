export const smallestExponent = -1022;
export const largestExponent = 1023;
/** 2^e at index e − smallestExponent, down to the smallest normal number. */
export const powersOfTwo = new Float64Array(largestExponent - smallestExponent + 1);
for (let e = 0; e <= largestExponent; e++) {
  powersOfTwo[e - smallestExponent] = e === 0 ? 1 : 2 * powersOfTwo[e - 1 - smallestExponent];
}
for (let e = -1; e >= smallestExponent; e--) {
  powersOfTwo[e - smallestExponent] = powersOfTwo[e + 1 - smallestExponent] / 2;
}
