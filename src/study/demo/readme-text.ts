import { type DemoCompound, demoCompounds } from "./compounds.js";

/** README.txt of the demo folder: what it is, that it is invented, and the truth its files were made from. */
export function readmeText(): string {
  return `THE DEMO FOLDER

Everything in this folder is invented: the town, the bikes, the laboratory, the compounds, their names and
every number. No real product, trade name, laboratory or test is behind it. It shows what the program does
with a folder as a laboratory keeps it. Do not choose a material by it.

The scenario
A workshop in a northern winter town builds delivery bikes. It has to choose a tread compound that grips on a
wet corner at +5 °C, is still rubber at −20 °C and better at −30 °C, and does not cost too much energy on
cobbles. The compounds carry names of trees.

The compounds, with the constants their files were computed from (C1 and C2 at Tg, the static glass transition)

${demoCompounds.map(compoundLines).join("\n")}

How the numbers were made
Each phase has a continuous relaxation spectrum: a transition (Havriliak-Negami shape), slow losses of filler
and chain ends, fast motions in the glass, and a rubber network; see compounds.ts in src/study/demo. Shift
factors follow Williams, Landel and Ferry above Tg and an Arrhenius tangent below. Each modulus got 1 % of
seeded scatter, each temperature the true value of the moment. Rebound values come from a simulated pendulum
impact through the same spectrum, with three conditioning impacts that read low, and 0.3 points of scatter.

The routine properties are made up one by one after what the trade knows: more filler wears less and rebounds
less; a butadiene-rich rubber wears little and grips less in the wet.

The files
Layouts differ on purpose: decimal commas and points, tabs, semicolons and aligned blanks, four encodings,
headers in several languages, MPa, kPa, Pa and psi, Hz and rad/s, °C, K and °F, logarithms, workbooks.
"Maple Duo export abgebrochen.csv" broke off after its header, and "Linden PU Kopie.xlsx" was cut short by a
full disk: both must be refused with a reason, and the rest still be assessed.

The choice
study.yaml asks five things of the tread. At first glance no compound meets them all; on a second look, at the repeats of
the abrasion test, one does. The comments in study.yaml tell how.

How to read what comes out
Every result is a screening prediction from dynamic tests. Grip leaves out adhesion, water, wear, snow and ice:
it ranks compounds and is no friction value of a tread. Slip and impact safety need the tests and limits that
local codes and the product's standard ask for, and a qualified person's judgement.

study.yaml says which file belongs to which compound, and what the uses are. Every line has its comment.
`;
}

function compoundLines(compound: DemoCompound): string {
  const phases = compound.phases.map(
    ({ glassTransition_C, c1, c2_K }) => `Tg ${glassTransition_C} °C, C1 ${c1}, C2 ${c2_K} K`,
  );
  return `  ${compound.name.padEnd(16)} ${compound.resembles}\n${"".padEnd(19)}${phases.join("; ")}`;
}
