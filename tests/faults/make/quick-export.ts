/** An invented rebound table that is read and assessed in milliseconds; the number makes it differ. */
export function quickExport(number: number, compound = `Birch ${number % 7}`): string {
  const rebound = (t: number) => (38 + 0.4 * t + (number % 13) / 10).toFixed(1);
  return [
    "Compound;Temperature (°C);Rebound 1 (%);Rebound 2 (%);Rebound 3 (%)",
    ...[23, 0, -20].map((t) => [compound, t, rebound(t), rebound(t + 0.5), rebound(t + 1)].join(";")),
    "",
  ].join("\n");
}

/** An invented temperature sweep, small enough to be fitted in about a second. */
export function quickSweep(compound: string, glass_C: number): string {
  const rows: string[] = [];
  for (let t = glass_C - 40; t <= glass_C + 60; t += 4) {
    const glassy = 1 / (1 + Math.exp((t - glass_C) / 7));
    const tanDelta = 0.08 + 0.9 * Math.exp(-(((t - glass_C - 6) / 14) ** 2));
    rows.push(`${t.toFixed(1)};10;${(4 + 2400 * glassy).toFixed(3)};${tanDelta.toFixed(4)}`);
  }
  return [`Sample;${compound}`, "Temperature (°C);Frequency (Hz);E' (MPa);tan delta", ...rows, ""].join("\n");
}
