export function findChromium(): string | null;
export function findPython(modules?: string[]): string | null;
