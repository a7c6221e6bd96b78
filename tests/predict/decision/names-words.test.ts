import { expect, test } from "vitest";
import { namesWords } from "../../../src/predict/decision/decision-words.js";

test("a sentence names four at most and counts the rest", () => {
  expect(namesWords(["A"])).toBe("A");
  expect(namesWords(["A", "B"])).toBe("A and B");
  expect(namesWords(["A", "B", "C", "D"])).toBe("A, B, C and D");
  expect(namesWords(["A", "B", "C", "D", "E"])).toBe("A, B, C and 2 others");
});
