import { defineConfig } from "vitest/config";
import { BaseSequencer, type TestSpecification } from "vitest/node";
import { nativeRooms } from "./tests/make/native-rooms.js";

/** Begun first, so that none of them is still running when all else is done. */
const slowest = [
  "fit/superpose-round-trip",
  "browser/",
  "cli.test",
  "library/package",
  "docs/snippets",
  "docs/cluster",
  "notebooks/",
  "library/api-pages",
  "faults/kill",
  "fit/peak-coverage",
];

class SlowestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const rank = ({ moduleId }: TestSpecification) => {
      const place = slowest.findIndex((name) => moduleId.includes(`/tests/${name}`));
      return place < 0 ? slowest.length : place;
    };
    return (await super.sort(files)).sort((a, b) => rank(a) - rank(b));
  }
}

export default defineConfig({
  plugins: [nativeRooms()],
  test: {
    globalSetup: ["tests/make/global-setup.ts"],
    include: ["tests/**/*.test.ts"],
    testTimeout: 120_000,
    hookTimeout: 320_000,
    maxWorkers: 2,
    // No test changes what a module keeps, so files share what a worker has loaded: four tenths less processor time.
    isolate: false,
    sequence: { sequencer: SlowestFirst },
  },
});
