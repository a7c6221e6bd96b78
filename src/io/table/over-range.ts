/** Instruments write 9.9E37 and the like for "over range" and "no value". */
export const overRangeValue = 1e30;
