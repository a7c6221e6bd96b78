import picomatch from "picomatch";
import { describe, expect, it } from "vitest";
import { globMatcher } from "../../src/study/study-file/glob.js";

const fits = (glob: string, path: string) => globMatcher(glob)(path);

describe("a pattern", () => {
  it.each([
    ["birch*.csv", "sub/Birch 60.CSV", true],
    ["birch*.csv", "my birch.csv", false],
    ["sub/*.csv", "sub/a.csv", true],
    ["sub/*.csv", "sub/deep/a.csv", false],
    ["sub/**", "sub/deep/a.csv", true],
    ["**/a.csv", "a.csv", true],
    ["**/a.csv", "x/y/a.csv", true],
    ["x/**/a.csv", "x/a.csv", true],
    ["x/**/a.csv", "y/x/a.csv", false],
    ["run ?.csv", "run 7.csv", true],
    ["run ?.csv", "run 12.csv", false],
    ["run [1-3].csv", "run 2.csv", true],
    ["run [!1-3].csv", "run 2.csv", false],
    ["run [^1-3].csv", "run 7.csv", true],
    ["*.{csv,txt}", "a.txt", true],
    ["{a,b{1,2}}*.csv", "b2 x.csv", true],
    ["{a,b{1,2}}*.csv", "b3 x.csv", false],
    ["./a.csv", "a.csv", true],
    ["*.csv", ".hidden.csv", false],
    ["a\\*.csv", "a*.csv", true],
    ["a\\*.csv", "ab.csv", false],
    ["Öl?.csv", "ölè.csv", true],
    ["*🧊.csv", "a🧊.csv", true],
    ["?.csv", "🧊.csv", true],
    // Names that hold a pattern's own characters fit themselves, and braces that choose nothing are braces.
    ["run [2].csv", "run [2].csv", true],
    ["Birch (2).csv", "Birch (2).csv", true],
    ["Birch (*).csv", "Birch (2).csv", true],
    ["a{b}*.csv", "a{b}1.csv", true],
    ["a{b*.csv", "a{b1.csv", true],
    ["[a*.csv", "[ab.csv", true],
  ])("%s and %s: %s", (glob, path, expected) => {
    expect(fits(glob, path)).toBe(expected);
  });

  it("means what picomatch means by it, for all short ones of these parts", () => {
    const parts = ["a", "*", "?", "**", "/", "[ab]", "[^a]", "{a,b/}", "."];
    const paths = ["a", "b", "ab", "a/b", "b/a", "a/b/a", "a.b", "ba", "aab", "b/b/b", "a/.b", ".a"];
    let compared = 0;
    const differing: string[] = [];
    for (const one of parts)
      for (const two of parts)
        for (const three of parts) {
          const glob = one + two + three;
          // Empty names, points before names and stars in a row are not in any study.
          if (/\/\/|^\/|\/$|\*{3}|\.|[^/]\*\*|\*\*[^/]|\/}./.test(glob)) continue;
          const theirs = picomatch(glob, { nocase: true, basename: !glob.includes("/") });
          for (const path of paths) {
            // A folder is no file; and a hidden name is meant by its point alone, as POSIX has it (2.14.3).
            if (glob.endsWith("/**") && !path.includes("/")) continue;
            if (glob.startsWith("[^a]") && /(^|\/)\./.test(path)) continue;
            compared++;
            if (fits(glob, path) !== theirs(path)) differing.push(`${glob} and ${path}: ${fits(glob, path)}`);
          }
        }
    expect(differing).toEqual([]);
    expect(compared).toBeGreaterThan(2000);
  });

  // Each made a matcher by regular expressions run for minutes; the steps are counted by the length, not by a clock.
  it.each([
    "*a*a*a*a*a*a*a*a*a*a*a*b",
    "**/*a*a*a*a*a*a*a*a*/**/b",
    `${"{a,aa}".repeat(40)}b`,
    `${"{".repeat(5000)}b`,
    `${"{a,".repeat(5000)}b${"}".repeat(5000)}`,
    `${"[a".repeat(5000)}`,
    "?*".repeat(100),
    "**/".repeat(100),
  ])("however hostile is done with: %.40s", (glob) => {
    expect(fits(glob, `${"a".repeat(250)}.csv`)).toBe(glob.startsWith("?*"));
    expect(fits(glob, `${"a/".repeat(120)}c`)).toBe(false);
  });
});
