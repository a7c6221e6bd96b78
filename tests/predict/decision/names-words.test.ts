import { expect, test } from "vitest";
import { faultWords, namesWords } from "../../../src/predict/decision/decision-words.js";

test("a sentence names four at most and counts the rest", () => {
  expect(namesWords(["A"])).toBe("A");
  expect(namesWords(["A", "B"])).toBe("A and B");
  expect(namesWords(["A", "B", "C", "D"])).toBe("A, B, C and D");
  expect(namesWords(["A", "B", "C", "D", "E"])).toBe("A, B, C and 2 others");
});

test("who is not even leathery is glassy; who is not rubbery may be either", () => {
  const verdict = { name: "", quantity: "verdict" as const, use: "yard", unit: "" };
  expect(faultWords({ ...verdict, verdict: "leathery" }, -9)).toBe('is glassy in "yard"');
  expect(faultWords({ ...verdict, verdict: "rubbery" }, -9)).toBe('is not rubbery in "yard"');
});
