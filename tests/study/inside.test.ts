import path from "node:path";
import { describe, expect, it } from "vitest";
import { commonFolder, leadsOut } from "../../src/study/study-file/inside.js";

describe("a relative path", () => {
  it.each([
    ["..", true],
    ["../odd.csv", true],
    ["..odd.csv", false],
    ["...", false],
    ["deeper/../odd.csv", false],
    ["/etc/odd.csv", true],
    ["", false],
  ])("%j leads out: %s", (fromFolder, isOut) => {
    expect(leadsOut(fromFolder, path.posix)).toBe(isOut);
  });

  it("between two drives or shares of Windows leads out", () => {
    const { relative } = path.win32;
    expect(leadsOut(relative("C:\\lab\\winter", "D:\\lab\\winter\\x.csv"), path.win32)).toBe(true);
    expect(leadsOut(relative("\\\\server\\a\\winter", "\\\\server\\b\\x.csv"), path.win32)).toBe(true);
    expect(leadsOut(relative("C:\\lab\\winter", "C:\\lab\\winter\\..odd.csv"), path.win32)).toBe(false);
    expect(leadsOut(relative("C:\\Lab\\Winter", "c:\\lab\\winter\\x.csv"), path.win32)).toBe(false);
    expect(leadsOut(relative("C:\\lab\\winter", "C:\\lab\\summer"), path.win32)).toBe(true);
  });
});

describe("the folder that all inputs lie in", () => {
  it.each([
    [["/lab/winter", "/lab/winter/birch"], "/lab/winter"],
    [["/lab/winter", "/lab/winterly"], "/lab"],
    [["/lab", "/data"], "/"],
  ])("of %j is %j", (folders, common) => {
    expect(commonFolder(folders, path.posix)).toBe(common);
  });

  it.each([
    [["C:\\lab\\winter", "c:\\LAB\\winter\\birch"], "C:\\lab\\winter"],
    [["C:\\lab", "C:\\data"], "C:\\"],
    [["C:\\lab", "D:\\lab"], null],
    [["\\\\server\\share\\lab\\a", "\\\\server\\share\\lab\\b"], "\\\\server\\share\\lab"],
    [["\\\\server\\share\\lab", "\\\\server\\other\\lab"], null],
    [["\\\\server\\share\\lab", "C:\\lab"], null],
  ])("on Windows, of %j is %j", (folders, common) => {
    expect(commonFolder(folders, path.win32)).toBe(common);
  });
});
