import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    globalSetup: ["tests/make/global-setup.ts"],
    include: ["tests/**/*.test.ts"],
    testTimeout: 120_000,
    hookTimeout: 320_000,
    maxWorkers: 2,
  },
});
