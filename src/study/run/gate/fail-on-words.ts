/** What a gate may close on. It stands alone, for the commands are declared with it before anything is loaded. */
export const failOnWords = ["glassy", "undetermined", "rejected", "requirement"] as const;

export type FailOn = (typeof failOnWords)[number];
