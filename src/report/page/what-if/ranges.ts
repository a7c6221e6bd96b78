/** More curves over one another cannot be told apart. */
export const mostPinned = 4;

/** What can be set on the page, lowest to highest. */
export const temperatureRange = [-120, 150] as const;

export const limitsOf = {
  speed_m_s: [1e-6, 200],
  pressure_Pa: [10, 100e6],
} as const satisfies Record<string, readonly [number, number]>;
