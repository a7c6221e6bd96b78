import { exp10 } from "../../../numeric/elementary/exponential.js";
import { log10 } from "../../../numeric/elementary/logarithm.js";
import { textures as builtInTextures } from "../../../predict/contact/textures.js";
import type { Texture, Use } from "../../../predict/use.js";
import { composedUses } from "../../html/answer/composed-use.js";
import { html } from "../../html/html.js";
import { statedTemperature, withMinusSign } from "../../html/numbers.js";
import type { PageState } from "../page-state.js";
import { type Setting, settingOf } from "./predictions.js";

/** Every texture that can be chosen: those of the study first. */
function choices(state: PageState): Texture[] {
  const all = [...state.data.uses.flatMap((use) => use.sliding?.texture ?? []), ...builtInTextures];
  return [...new Map(all.map((texture) => [texture.name, texture])).values()];
}

function useLabel(use: Use, from: string[]): string {
  const temperature = withMinusSign(statedTemperature(use.temperature_C));
  const name = from.join(", ");
  return name.replace(/[−–]/g, "-").includes(String(use.temperature_C)) ? name : `${temperature}, ${name}`;
}

const speedRange = [-3, 1.3010299956639813];

/**
 * The fields for temperature, speed, pressure and texture. `changed` is called with the new setting on each
 * valid input; an invalid one is marked and changes nothing.
 */
export function controls(
  form: HTMLFormElement,
  state: PageState,
  start: Setting,
  changed: (setting: Setting) => void,
): void {
  const uses = composedUses(state.data.uses).reverse();
  const surfaces = choices(state);
  const sliding = start.base.sliding !== null;
  const startUse = uses.findIndex(({ use }) => use.temperature_C === start.temperature_C);
  form.innerHTML = html`
<label>Use of the study<select name="use">${uses.map(
    ({ use, from }, k) =>
      html`<option value="${k}"${k === startUse && html` selected`}>${useLabel(use, from)}</option>`,
  )}</select></label>
<div class="pair"><label>Temperature<input name="slide" type="range" min="-60" max="60" step="1"></label><span class="with-unit"><input name="temperature" type="number" min="-120" max="150" step="any" aria-label="Temperature in °C"> °C</span></div>
${
  sliding &&
  html`<div class="pair"><label>Sliding speed<input name="speedSlide" type="range" min="${speedRange[0]}" max="${speedRange[1]}" step="0.01"></label><span class="with-unit"><input name="speed" type="number" min="0" step="any" aria-label="Sliding speed in m/s"> m/s</span></div>
<label>Pressure<span class="with-unit"><input name="pressure" type="number" min="0" step="any" aria-label="Pressure in MPa"> MPa</span></label>
<label>Texture<select name="texture">${surfaces.map((texture, k) => html`<option value="${k}">${texture.name}</option>`)}</select></label>`
}
<span class="control-buttons"><button type="button" name="back" disabled>Back to the study</button></span>`.markup;

  const field = <T extends HTMLElement>(name: string) => form.elements.namedItem(name) as T | null;
  const temperature = field<HTMLInputElement>("temperature")!;
  const slide = field<HTMLInputElement>("slide")!;
  const speed = field<HTMLInputElement>("speed");
  const speedSlide = field<HTMLInputElement>("speedSlide");
  const pressure = field<HTMLInputElement>("pressure");
  const texture = field<HTMLSelectElement>("texture");
  const use = field<HTMLSelectElement>("use")!;
  const back = field<HTMLButtonElement>("back")!;
  let base = start.base;

  const show = (setting: Setting) => {
    temperature.value = String(setting.temperature_C);
    slide.value = String(setting.temperature_C);
    if (speed && speedSlide && setting.speed_m_s !== null) {
      speed.value = String(setting.speed_m_s);
      speedSlide.value = String(log10(setting.speed_m_s));
    }
    if (pressure && setting.pressure_Pa !== null) pressure.value = String(setting.pressure_Pa / 1e6);
    if (texture && setting.texture !== null) {
      texture.value = String(surfaces.findIndex((surface) => surface.name === setting.texture?.name));
    }
  };
  const read = () => {
    const number = (input: HTMLInputElement | null, valid: (value: number) => boolean) => {
      if (input === null) return null;
      const value = input.value.trim() === "" ? Number.NaN : Number(input.value);
      const good = Number.isFinite(value) && valid(value);
      input.setAttribute("aria-invalid", String(!good));
      return good ? value : Number.NaN;
    };
    const T = number(temperature, (value) => value >= -120 && value <= 150);
    const v = number(speed, (value) => value > 0 && value <= 200);
    const p = number(pressure, (value) => value > 0 && value <= 100);
    if ([T, v, p].some((value) => Number.isNaN(value))) return;
    // The study's own numbers are kept to the last bit, which a field's decimal text might not.
    const same = (value: number | null, own: number | undefined) =>
      value !== null && own !== undefined && Math.abs(value / own - 1) < 1e-12 ? own : value;
    const setting: Setting = {
      base,
      temperature_C: T ?? base.temperature_C,
      speed_m_s: same(v, base.sliding?.speed_m_s),
      pressure_Pa: same(p === null ? null : p * 1e6, base.sliding?.pressure_Pa),
      texture: texture === null ? null : (surfaces[Number(texture.value)] ?? null),
    };
    const own = settingOf(base);
    back.disabled =
      own.temperature_C === setting.temperature_C &&
      own.speed_m_s === setting.speed_m_s &&
      own.pressure_Pa === setting.pressure_Pa &&
      own.texture?.name === setting.texture?.name;
    changed(setting);
  };
  slide.addEventListener("input", () => {
    temperature.value = slide.value;
    read();
  });
  speedSlide?.addEventListener("input", () => {
    speed!.value = String(Number(exp10(Number(speedSlide.value)).toPrecision(2)));
    read();
  });
  temperature.addEventListener("input", () => {
    slide.value = temperature.value;
    read();
  });
  speed?.addEventListener("input", () => {
    if (Number(speed.value) > 0) speedSlide!.value = String(log10(Number(speed.value)));
    read();
  });
  pressure?.addEventListener("input", read);
  texture?.addEventListener("input", read);
  use.addEventListener("input", () => {
    base = uses[Number(use.value)].use;
    show(settingOf(base));
    read();
  });
  back.addEventListener("click", () => {
    show(settingOf(base));
    read();
  });
  form.addEventListener("submit", (event) => event.preventDefault());
  show(start);
  form.hidden = false;
}
