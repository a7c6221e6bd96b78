import { stringify } from "yaml";
import type { PageState } from "../page-state.js";
import { isContactOfStudy, type Setting } from "../what-if/predictions.js";

/** The study with what was changed on the page, as the text of a study.yaml. */
export function settingsText(state: PageState, setting: Setting | null): string {
  const settings = structuredClone(state.data.settings);
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
  return stringify(settings, { lineWidth: 100 });
}
