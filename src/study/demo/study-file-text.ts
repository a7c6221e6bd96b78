import {
  alderN,
  alderNSecondBatch,
  birch48,
  birch60,
  birch66,
  birchGum,
  type DemoCompound,
  hazelT,
  juniper55,
  lindenPU,
  mapleDuo,
  rowanW,
  spruceH,
} from "./compounds.js";

/** Which files of the demo folder belong to which compound, as globs relative to the study file. */
const compoundFiles: [compound: DemoCompound, globs: string[]][] = [
  [birch60, ["Birch 60*"]],
  [rowanW, ["Rowan W winter.txt", "rowan w*.csv"]],
  [alderN, ["alder_n_tension.csv", "Alder N balayages*.csv"]],
  [alderNSecondBatch, ["Alder N seconda*.csv"]],
  [spruceH, ["Spruce H*"]],
  [lindenPU, ["Linden PU*.xlsx"]],
  [mapleDuo, ["Maple Duo*"]],
  [juniper55, ["Juniper 55*"]],
  [birchGum, ["Filler series Birch gum.csv"]],
  [birch48, ["Filler series Birch 48.csv"]],
  [birch66, ["Filler series Birch 66.csv"]],
  [hazelT, ["Hazel T*"]],
];

/** The file that settles the choice: abrasion measured again. */
export const secondLook = "Abrasion repeats, second look.csv";

/** The annotated `study.yaml` of the demo folder: every key that a study may have, with its meaning and default. */
export function studyFileText(): string {
  return `# study.yaml: what the files in this folder are, and what the compounds are used for.
# The file is optional, and so is every key in it; what a key does without it stands beside it as "default".
# Everything in this example is invented.
# Grip, rebound and cold verdicts are screening predictions, no friction or safety certificate: local codes, the
# product's test standard and a qualified person decide.

title: Treads for delivery bikes, winter trial   # heads the report; default: the folder's name

# Compounds. Default: one per sample name in the files, else one per file name.
# A file that no glob takes, such as the rebound table, goes to the compounds by its own sample names.
compounds:
${compoundFiles.map(([compound, globs], i) => compoundLines(compound, globs, i === 0)).join("\n")}

# Uses: each compound is judged in each of them. Default: 23, 0, -10, -20 and -30 °C, sliding and impact.
uses:
  - name: wet corner                           # any text
    temperature_C: 5                           # of the tread, °C
    sliding:                                   # grip and, with it, the contact frequency; leave out: none
      speed_m_s: 0.3                           # sliding speed of the rubber on the road, m/s; default 0.3
      pressure_MPa: 0.3                        # nominal contact pressure, MPa; default 0.3
      texture: worn asphalt                    # a name from "textures" below or a built-in one; default: worn asphalt
    impact:                                    # rebound; leave out: none
      method: ISO 4662 pendulum                # named with every number; default: this one
      mass_kg: 0.255                           # effective mass of the hammer, kg; default 0.255
      speed_m_s: 1.98                          # at first touch, m/s; default 1.98
      indenterRadius_mm: 7.5                   # of its spherical face, mm; default 7.5
      thickness_mm: null                       # of the specimen, mm; null (default): thick against the contact
  - name: cold dry road
    temperature_C: -10
    sliding: { speed_m_s: 0.3, pressure_MPa: 0.3, texture: worn asphalt }
    impact: { method: ISO 4662 pendulum }
  - name: winter morning
    temperature_C: -20
    sliding: { speed_m_s: 0.3, pressure_MPa: 0.3, texture: worn asphalt }
    impact: { method: ISO 4662 pendulum }
  - name: cobbles
    temperature_C: -30
    sliding: { speed_m_s: 0.3, pressure_MPa: 0.3, texture: own cobbles }
    impact: { method: ISO 4662 pendulum }

# Surfaces of our own, by parameters or by a measured height profile ("profile: file.csv", columns x and z).
textures:
  - name: own cobbles                          # to be used in "uses"
    rmsHeight_mm: 0.25                         # root mean square height of the roughness, mm
    source: invented                           # where the numbers come from; default: "stated in the study"
    hurstExponent: 0.85                        # 0 to 1; how fast the heights smooth out at finer scales
    q0_per_m: 1200                             # longest waves, 2π over their length, 1/m
    q1_per_m: null                             # shortest waves, 1/m; null (default): where the rms slope reaches 1.3

# Time-temperature superposition.
superposition:
  referenceTemperature_C: null                 # of the master curve, °C; null (default): the middle isotherm
  verticalShift: auto                          # auto (default: by misfit), "off", density-temperature, or fitted
  expansion_per_K: 6.6e-4                      # volume expansion, 1/K, for density-temperature only; default 6.6e-4
  law: auto                                    # auto (default: by AICc), wlf, or arrhenius
  assumedConstants:                            # at Tg, for data of a single frequency, which give none of their own
    name: universal constants                  # shown wherever they are used; default: as here
    c1: 17.44                                  # no unit; default 17.44 (Williams, Landel and Ferry 1955)
    c2_K: 51.6                                 # K; default 51.6 (same paper)
  draws: 60                                    # equally likely models behind each interval; default 60

# Where the verdicts change, in K.
verdict:
  glassyBorder_K: 0                            # above the loss-modulus peak at the contact frequency; default 0
  leatheryBorder_K: 10                         # above the tan δ peak at the contact frequency; default 10

# What the instrument may be off by, 95 % half widths: they enter every interval and verdict.
uncertainty:
  temperature_K: 1.5                           # of the specimen, K; default 1.5 (common practice)
  modulus: 0.1                                 # as a share: dimensions, clamping; default 0.1 (common practice)

# What a compound has to do to be chosen. For each compound the report says how probably it meets each requirement and
# all together, which one to take, and what test would settle most. Default: none, and nothing is chosen.
# Asked of today's tread, Birch 60: as much grip and winter, and a longer life. At first glance no compound does it all:
# Rowan W wears least of the rubbers but slides on the wet corner, Spruce H grips best and is glassy at -20 °C, and
# Birch 66, with more carbon black, wore 124 mm³ where 120 are allowed, by one specimen in "Perda por abrasão.txt".
# The second look, "${secondLook}", measured six more: they wear 109 to 114, the median of all
# seven is 112, and Birch 66 meets all. Move that file out of the folder to see the first glance again.
requirements:
  - name: rubber on a winter morning           # any text; default: made from the quantity and its limit
    quantity: verdict                          # grip, rebound, abrasion loss ...: docs/reference/study-file.md has all
    use: winter morning                        # for what is predicted; default: in every use. Never for what is measured
    verdict: rubbery                           # of the quantity verdict: this state or a warmer one
  - name: grips on the wet corner
    quantity: grip relative to reference
    use: wet corner
    atLeast: 0.95                              # in the quantity's own unit; also atMost, or both
  - name: rolls easily in the cold
    quantity: rebound
    use: cold dry road
    atLeast: 0.4
  - name: wears little
    quantity: abrasion loss
    atMost: 120                                # mm³
  - name: not too hard
    quantity: hardness
    atMost: 70                                 # Shore A

# Limits for all uses at once, short forms of requirements, and limits for batches. Default: none.
limits:
# reboundMinimum: 0.3                          # energy fraction returned, 0 to 1, in every use that has an impact
# frictionMinimum: 0.2                         # hysteresis friction coefficient, in every use that slides
  glassTransitionDifference_K: 2               # between batches of one compound, K
  tanDeltaDifference: 0.02                     # between batches, no unit
  reboundDifference: 0.03                      # between batches, energy fraction

# Compounds that differ in the load of filler only, lowest to highest.
fillerSeries:
  - name: carbon black in Birch
    compounds: [Birch gum, Birch 48, Birch 60, Birch 66]

# Columns of a file that the reader could not tell by itself: "header as written": "quantity in unit".
# This one would be read without help too; it shows how it is said.
columns:
  "Juniper 55 barrido.txt":
    "Módulo de almacenamiento E' (MPa)": storage modulus in MPa

seed: 1                                        # of all random draws (intervals); same seed, same bytes; default 1
`;
}

/** One compound; the comments stand on the first one, which states every key. */
function compoundLines(compound: DemoCompound, globs: string[], annotated: boolean): string {
  const { filler } = compound;
  const line = (text: string, comment: string) => (annotated ? `${text.padEnd(46)} # ${comment}` : text);
  const lines = [
    line(`  - name: ${compound.name}`, "as the report and the rebound table call it"),
    line(
      `    files: [${globs.map((glob) => `"${glob}"`).join(", ")}]`,
      "globs relative to this file; default: files whose sample bears the name",
    ),
    line(
      `    density_kg_m3: ${compound.density_kg_m3}`,
      "of the compound, kg/m³, for the network; default: unknown",
    ),
    line(`    hardness_ShoreA: ${compound.hardness_ShoreA}`, "Shore A, shown only; default: not shown"),
  ];
  if (filler && annotated) {
    lines.push(
      line("    filler:", "what the rubber is filled with; default: nothing"),
      line(`      name: ${filler.name}`, "any text"),
      line(`      phr: ${filler.phr}`, 'mass per 100 of rubber; or "volumeFraction: 0.20" in its place'),
      line(`      density_kg_m3: ${filler.density_kg_m3}`, "of the filler, kg/m³"),
      line(`      rubberDensity_kg_m3: ${filler.rubberDensity_kg_m3}`, "of the rubber without filler, kg/m³"),
      ...(filler.particleSize_nm === null
        ? []
        : [
            line(
              `      particleSize_nm: ${filler.particleSize_nm}`,
              "diameter of its particles, nm, for bound rubber in a filler series; default: unknown",
            ),
          ]),
    );
  } else if (filler) {
    const { name, phr, density_kg_m3, rubberDensity_kg_m3, particleSize_nm } = filler;
    const size = particleSize_nm === null ? "" : `, particleSize_nm: ${particleSize_nm}`;
    lines.push(
      `    filler: { name: ${name}, phr: ${phr}, density_kg_m3: ${density_kg_m3}, rubberDensity_kg_m3: ${rubberDensity_kg_m3}${size} }`,
    );
  }
  if (annotated) {
    lines.push(
      line("    reference: true", "grip and rebound are also given relative to this one; default: none"),
    );
  }
  lines.push(
    line(
      `    deformation: ${compound.deformation}`,
      "shear, tension, bending or compression: where the file does not say",
    ),
  );
  if (compound === alderNSecondBatch) {
    lines.push(
      `${`    batchOf: ${alderN.name}`.padEnd(46)} # compared with that compound, against the limits below`,
    );
  }
  return lines.join("\n");
}
