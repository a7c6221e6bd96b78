import type { BrowserContext, BrowserContextOptions } from "playwright-core";

export interface Browser {
  context: BrowserContext;
  close(): Promise<void>;
}
export function launchChromium(options?: BrowserContextOptions, flags?: string[]): Promise<Browser>;
