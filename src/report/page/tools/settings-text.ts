import { stringify } from "yaml";
import { requirementName } from "../../../predict/decision/requirement.js";
import type { StudySettings } from "../../results/study-file-schema.js";
import type { PageState } from "../page-state.js";
import { isContactOfStudy } from "../what-if/predictions.js";
import { areLimitsMoved, type View } from "../what-if/view.js";

type Stated = NonNullable<StudySettings["requirements"]>[number];

const yaml = (value: unknown) => stringify(value, { lineWidth: 100 });

/** What is asked as a study file states it, one entry a use. */
function requirementsOf({ asked }: View): Stated[] {
  return asked
    .filter(({ isOn }) => isOn)
    .map(({ requirement: { name, quantity, use, atLeast, atMost, verdict } }) => {
      const limits = { atLeast, atMost, verdict };
      // A name that a study file would make by itself is not stated, so that it follows a limit moved there.
      const made = requirementName({ quantity, ...limits });
      const isMade = name === made || name === `${made} (${use})`;
      return JSON.parse(
        JSON.stringify({ name: isMade ? undefined : name, quantity, use: use ?? undefined, ...limits }),
      ) as Stated;
    });
}

/** What is asked on the page, as the block of a study.yaml. */
export function requirementsText(view: View): string {
  return `# In place of "requirements", and of reboundMinimum and frictionMinimum under "limits", which are their short form.\n${yaml({ requirements: requirementsOf(view) })}`;
}

/** The study with what was changed on the page, as the text of a study.yaml. */
export function settingsText(state: PageState, view: View): string {
  const settings = structuredClone(state.data.settings);
  const { setting } = view;
  const uses = settings.uses;
  if (setting !== null && uses !== undefined) {
    const changed = {
      speed_m_s: setting.speed_m_s,
      pressure_MPa: (setting.pressure_Pa ?? 0) / 1e6,
      texture: setting.texture?.name,
    };
    if (!isContactOfStudy(setting)) {
      for (const use of uses) if (use.sliding) Object.assign(use.sliding, changed);
    }
    if (setting.temperature_C !== setting.base.temperature_C) {
      const model = uses.find((use) => use.name === setting.base.name);
      uses.push({
        ...structuredClone(model),
        name: "as set on the page",
        temperature_C: setting.temperature_C,
      });
    }
  }
  if (areLimitsMoved(state.data, view)) {
    settings.requirements = requirementsOf(view);
    const { reboundMinimum: _, frictionMinimum: __, ...limits } = settings.limits ?? {};
    settings.limits = limits;
  }
  return yaml(settings);
}
