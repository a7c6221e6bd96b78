/**
 * What must stand beside the numbers that could hurt someone who trusts them. The report, the JSON notices and
 * the tables take their words from here, so that a caution reads the same wherever its number goes.
 */
export const cautions = {
  screening:
    "A screening prediction, no friction or safety certificate: slip and impact safety need the tests and limits that local codes and the product's own standard ask for, and a qualified person's judgement.",
  frost:
    "Below 0 °C ice and snow usually govern grip (common practice). These numbers hold for a clean, dry surface and must not rank compounds in frost; what counts is the tests and limits that local codes and the product's own standard ask for, and a qualified person's judgement.",
  methods: "Rebound values of different methods do not mix.",
  grip: "Screening prediction of hysteresis friction from dynamic data; no friction certificate. Slip safety needs the friction test and the limits that local codes and the product's own standard ask for, and a qualified person's judgement.",
  gripNotIncluded:
    "Not in this number: adhesion, water film, flash heating, wear, snow and ice. It comes from data at small strain; asperities strain the rubber by tens of per cent, where a filled compound is softer and loses more. Rank compounds by it on a clean, dry surface above 0 °C, relative to a reference compound: below, ice and snow usually govern grip (common practice).",
  gripCutOff:
    "The cut-off of the texture is a free choice of the model and moves the friction coefficient a lot: the interval reaches to the values with the cut-off halved and doubled. Waves shorter than 2π/q1, nearly all microtexture, are left out.",
  rebound:
    "Rebound of a simulated impact from dynamic data at small strain; not a rebound test. Protection against impact needs the test of the product's own standard and a qualified person's judgement.",
  cushioning:
    "Cushioning of a simulated impact on a solid body from dynamic data at small strain: it ranks outsoles and pads. Not in it: stiffening at deep compression, foams, the foot. Protection needs the test and the limits of the product's own standard and a qualified person's judgement.",
  cold: "Computed from dynamic data at small strain. Whether a product is safe to use in the cold is for the tests and limits that local codes and the product's own standard ask for, and for a qualified person.",
  crystallisation:
    "Crystallisation on long storage in the cold, as natural and chloroprene rubber show, is not seen by a sweep and can stiffen a compound far above its glass transition.",
  stiffening:
    "Ratios of the 10 s relaxation modulus computed from dynamic data; not the Gehman test of ISO 1432, whose ratios they use.",
  tanDeltaAt0C:
    "Common practice: tan δ at 0 °C and 10 Hz ranks wet grip, higher is better. It is no friction value and says nothing of snow or ice.",
  tanDeltaAt60C:
    "Common practice: tan δ at 60 °C and 10 Hz ranks rolling loss, lower is better. It is no rolling resistance of a product.",
  storageModulusAtMinus25C:
    "Common practice: the storage modulus at −25 °C and 10 Hz ranks compliance in winter, lower is better. It is no proof of grip on snow or ice.",
} as const;

export type CautionName = keyof typeof cautions;
