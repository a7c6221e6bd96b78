import { exp10 } from "../../../numeric/elementary/exponential.js";
import { log10 } from "../../../numeric/elementary/logarithm.js";
import type { Use } from "../../../predict/use.js";
import { composedUses } from "../../html/answer/composed-use.js";
import { html } from "../../html/html.js";
import { statedTemperature, withMinusSign } from "../../html/numbers.js";
import type { PageState } from "../page-state.js";
import { isOfStudy, type Setting, settingOf } from "./predictions.js";
import { limitsOf, temperatureRange } from "./ranges.js";
import { texturesOf } from "./textures-of.js";
import { placeOfUse } from "./view.js";

function useLabel(use: Use, from: string[]): string {
  const temperature = withMinusSign(statedTemperature(use.temperature_C));
  const name = from.join(", ");
  return name.replace(/[−–]/g, "-").includes(String(use.temperature_C)) ? name : `${temperature}, ${name}`;
}

const speedRange = [-3, 1.3010299956639813];

/** A number's field: what it may be, in the field's own unit. */
interface Field {
  input: HTMLInputElement;
  error: HTMLElement;
  range: readonly [number, number];
  unit: string;
}

/**
 * The fields for use, temperature, speed, pressure and texture. `changed` is called with each valid setting; an
 * impossible entry is refused beside its field, with the range, and changes nothing.
 */
export function controls(
  form: HTMLFormElement,
  state: PageState,
  first: Setting,
  changed: (setting: Setting) => void,
): void {
  const uses = composedUses(state.data.uses).reverse();
  const surfaces = texturesOf(state.data);
  const slides = state.data.uses.some(({ sliding }) => sliding !== null);
  const numberField = (name: string, label: string, unit: string) =>
    html`<span class="with-unit"><input name="${name}" type="text" inputmode="decimal" autocomplete="off" aria-label="${label} in ${unit}" aria-describedby="error-${name}"> ${unit}</span>`;
  const error = (name: string) => html`<span class="field-error" id="error-${name}" role="alert"></span>`;
  form.innerHTML = html`
<label>Use<select name="use"><option value="own" hidden>as set here</option>${uses.map(
    ({ use, from }, k) => html`<option value="${k}">${useLabel(use, from)}</option>`,
  )}</select></label>
<div class="pair"><label>Temperature<input name="slide" type="range" min="-60" max="60" step="1"></label>${numberField("temperature", "Temperature", "°C")}${error("temperature")}</div>
${
  slides &&
  html`<details class="contact-controls"${innerWidth > 620 && html` open`}><summary>Sliding contact</summary><div class="contact-fields"><div class="pair"><label>Sliding speed<input name="speedSlide" type="range" min="${speedRange[0]}" max="${speedRange[1]}" step="0.01"></label>${numberField("speed", "Sliding speed", "m/s")}${error("speed")}</div>
<div><label>Pressure ${numberField("pressure", "Pressure", "MPa")}</label>${error("pressure")}</div>
<label>Texture<select name="texture">${surfaces.map((texture, k) => html`<option value="${k}">${texture.name}</option>`)}</select></label></div></details>`
}
<span class="control-buttons"><button type="button" name="back" disabled>Back to the study</button></span>`.markup;

  const find = <T extends HTMLElement>(name: string) => form.elements.namedItem(name) as T | null;
  const field = (name: string, range: readonly [number, number], unit: string): Field | null => {
    const input = find<HTMLInputElement>(name);
    return input && { input, error: document.getElementById(`error-${name}`)!, range, unit };
  };
  const temperature = field("temperature", temperatureRange, "°C")!;
  const speed = field("speed", limitsOf.speed_m_s, "m/s");
  const pressure = field("pressure", [limitsOf.pressure_Pa[0] / 1e6, limitsOf.pressure_Pa[1] / 1e6], "MPa");
  const slide = find<HTMLInputElement>("slide")!;
  const speedSlide = find<HTMLInputElement>("speedSlide");
  const texture = find<HTMLSelectElement>("texture");
  const use = find<HTMLSelectElement>("use")!;
  const back = find<HTMLButtonElement>("back")!;
  let now = first;

  /** Writes the setting into all fields but the one that is being written in. */
  const show = (except: HTMLElement | null = null) => {
    const put = (input: HTMLInputElement | null | undefined, value: string) => {
      if (input && input !== except) input.value = value;
    };
    put(temperature.input, withMinusSign(String(now.temperature_C)));
    put(slide, String(now.temperature_C));
    put(speed?.input, now.speed_m_s === null ? "" : String(now.speed_m_s));
    put(speedSlide, now.speed_m_s === null ? "0" : String(log10(now.speed_m_s)));
    put(
      pressure?.input,
      now.pressure_Pa === null ? "" : String(Number((now.pressure_Pa / 1e6).toPrecision(12))),
    );
    const isSliding = now.base.sliding !== null;
    for (const input of [speed?.input, speedSlide, pressure?.input, texture])
      if (input) input.disabled = !isSliding;
    if (texture && now.texture !== null)
      texture.value = String(surfaces.findIndex((surface) => surface.name === now.texture?.name));
    const place = placeOfUse(state.data, now);
    use.value = place < 0 ? "own" : String(uses.length - 1 - place);
    back.disabled = isOfStudy(now);
    for (const one of [temperature, speed, pressure]) if (one && one.input !== except) say(one, null);
  };
  const say = ({ input, error: place, range, unit }: Field, problem: string | null) => {
    input.setAttribute("aria-invalid", String(problem !== null));
    const [low, high] = range.map((end) =>
      withMinusSign(end < 1e-4 && end > 0 ? end.toFixed(6).replace(/0+$/, "") : String(end)),
    );
    place.textContent = problem === null ? "" : `${problem}: from ${low} to ${high} ${unit}`;
  };
  const take = (change: Partial<Setting>, except: HTMLElement | null) => {
    now = { ...now, ...change };
    show(except);
    changed(now);
  };
  /** The number in a field, a decimal comma and a true minus sign as well; null where it is refused. */
  const read = (one: Field): number | null => {
    const text = one.input.value.trim().replace("−", "-").replace(",", ".");
    const value = text === "" ? Number.NaN : Number(text);
    const [low, high] = one.range;
    const fits = value >= low && value <= high;
    say(one, fits ? null : Number.isNaN(value) ? "a number is needed" : "out of range");
    return fits ? value : null;
  };
  // The study's own numbers are kept to the last bit, which a field's decimal text might not.
  const same = (value: number, own: number | undefined) =>
    own !== undefined && Math.abs(value / own - 1) < 1e-12 ? own : value;

  slide.addEventListener("input", () => take({ temperature_C: Number(slide.value) }, slide));
  temperature.input.addEventListener("input", () => {
    const value = read(temperature);
    if (value !== null) take({ temperature_C: value }, temperature.input);
  });
  speedSlide?.addEventListener("input", () =>
    take({ speed_m_s: Number(exp10(Number(speedSlide.value)).toPrecision(2)) }, speedSlide),
  );
  speed?.input.addEventListener("input", () => {
    const value = read(speed);
    if (value !== null) take({ speed_m_s: same(value, now.base.sliding?.speed_m_s) }, speed.input);
  });
  pressure?.input.addEventListener("input", () => {
    const value = read(pressure);
    if (value !== null)
      take({ pressure_Pa: same(value * 1e6, now.base.sliding?.pressure_Pa) }, pressure.input);
  });
  texture?.addEventListener("input", () =>
    take({ texture: surfaces[Number(texture.value)] ?? null }, texture),
  );
  use.addEventListener("input", () => {
    const chosen = uses[Number(use.value)];
    if (chosen !== undefined) take(settingOf(chosen.use), use);
  });
  back.addEventListener("click", () => take(settingOf(now.base), back));
  form.addEventListener("submit", (event) => event.preventDefault());
  show();
  form.hidden = false;
}
