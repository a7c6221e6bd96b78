import { fixed } from "../numbers.js";

/** Two decimals; nearer to an end than a hundredth only as a bound, for so few draws say no more. */
export function probability(value: number): string {
  if (value > 0.99) return "> 0.99";
  return value < 0.01 ? "< 0.01" : fixed(value, 2);
}
