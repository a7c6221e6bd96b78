import { type Requirement, requirementName } from "../../../predict/decision/requirement.js";
import { html } from "../../html/html.js";
import type { PageState } from "../page-state.js";
import { copyButton } from "../tools/copy-button.js";
import { requirementsText } from "../tools/settings-text.js";
import { askables, requirementFor } from "./askable.js";
import { areLimitsMoved, type View } from "./view.js";

type Bound = "atLeast" | "atMost";

const boundWords = { atLeast: "at least", atMost: "at most" };

/** The requirement with another limit; a name that was made of its limit follows it. */
function withLimit(one: Requirement, change: Partial<Requirement>): Requirement {
  const moved = { ...one, ...change };
  const ofUse = (name: string) => `${name} (${one.use})`;
  const [old, made] = [requirementName(one), requirementName(moved)];
  if (one.name === old) return { ...moved, name: made };
  return one.name === ofUse(old) ? { ...moved, name: ofUse(made) } : moved;
}

/** What a limit is shown in: a rebound in per cent, all else in the quantity's own unit. */
const scaleOf = ({ quantity }: Pick<Requirement, "quantity">) => (quantity === "rebound" ? 100 : 1);
const unitOf = ({ quantity, unit }: Pick<Requirement, "quantity" | "unit">) =>
  quantity === "rebound" ? "%" : unit === "1" ? "" : unit;
const shownLimit = (requirement: Requirement, bound: Bound) =>
  String(Number((scaleOf(requirement) * requirement[bound]!).toPrecision(12)));

/** Why a limit is refused; null where it is taken. */
function refusal({ quantity, unit }: Pick<Requirement, "quantity" | "unit">, value: number): string | null {
  if (!Number.isFinite(value)) {
    const shown = unitOf({ quantity, unit });
    return `a number is needed${shown && `, in ${shown}`}`;
  }
  const isPercent = quantity === "rebound" || quantity === "measured rebound";
  return isPercent && (value < 0 || value > 100) ? "out of range: from 0 to 100 %" : null;
}

/** The number in a field, a decimal comma and a true minus sign as well; NaN where there is none. */
function numberIn({ value }: HTMLInputElement): number {
  const text = value.trim().replace("−", "-").replace(",", ".");
  return text === "" ? Number.NaN : Number(text);
}

const verdictOptions = (["rubbery", "leathery"] as const).map(
  (word) => html`<option value="${word}">${word === "rubbery" ? word : `${word} or warmer`}</option>`,
);

const limitFields = (requirement: Requirement, k: number) =>
  requirement.verdict !== undefined
    ? html`<select name="verdict${k}" aria-label="State asked by ${requirement.name}">${verdictOptions}</select>`
    : html`${(["atLeast", "atMost"] as const).map(
        (bound) =>
          requirement[bound] !== undefined &&
          html`<span class="with-unit">${boundWords[bound]} <input name="${bound}${k}" type="text" inputmode="decimal" autocomplete="off" aria-label="${requirement.name}: ${boundWords[bound]}" aria-describedby="error-limit${k}"> ${unitOf(requirement)}</span>`,
      )}`;

/** One requirement: on or off, its limits, and of one that was added here a button that takes it away. */
const limitItem = (requirement: Requirement, k: number, isAdded: boolean) =>
  html`<li><label><input type="checkbox" name="on${k}" checked> <b class="limit-name">${requirement.name}</b></label> <span class="small">${requirement.quantity}${requirement.use !== null && html`, ${requirement.use}`}</span> ${limitFields(requirement, k)}${isAdded && html` <button type="button" name="remove${k}" aria-label="Remove ${requirement.name}">Remove</button>`}<span class="field-error" id="error-limit${k}" role="alert"></span></li>`;

/**
 * The fields in which limits are moved, requirements switched off and added; what follows is judged at once, or as soon
 * as it is predicted.
 */
export function limitsForm(state: PageState, view: View, changed: () => void): void {
  const form = document.querySelector<HTMLFormElement>("#limits");
  const { requirements } = state.data;
  if (form === null) return;
  form.innerHTML =
    html`<p class="small">${requirements.length > 0 ? "Limits can be moved here, requirements switched off and others added" : "Requirements can be added here"}; all that follows is judged at once.</p>
<ul class="plain limit-list"></ul>
<div class="limit-add"></div>
<p class="control-buttons"><button type="button" name="back">Put back the study’s ${requirements.length > 0 ? "limits" : "own state"}</button> </p>`.markup;
  const find = <T extends HTMLElement>(name: string) => form.elements.namedItem(name) as T | null;
  const back = find<HTMLButtonElement>("back")!;
  const say = (k: number, input: HTMLInputElement | null, problem: string) => {
    input?.setAttribute("aria-invalid", String(problem !== ""));
    document.getElementById(`error-limit${k}`)!.textContent = problem;
  };
  const list = form.querySelector(".limit-list")!;
  let listed = -1;
  const show = (except: EventTarget | null = null) => {
    if (listed !== view.asked.length) {
      listed = view.asked.length;
      list.innerHTML =
        html`${view.asked.map(({ requirement }, k) => limitItem(requirement, k, k >= requirements.length))}`.markup;
    }
    for (const [k, { requirement, isOn }] of view.asked.entries()) {
      find<HTMLInputElement>(`on${k}`)!.checked = isOn;
      for (const bound of ["atLeast", "atMost"] as const) {
        const input = find<HTMLInputElement>(`${bound}${k}`);
        if (input === null || input === except) continue;
        input.value = shownLimit(requirement, bound);
        say(k, input, "");
      }
      const verdict = find<HTMLSelectElement>(`verdict${k}`);
      if (verdict !== null) verdict.value = requirement.verdict!;
      form.querySelectorAll(".limit-name")[k].textContent = requirement.name;
    }
    back.disabled = !areLimitsMoved(state.data, view);
    const followed = document.getElementById("levers-limits");
    if (followed !== null) followed.hidden = back.disabled;
  };
  const update = (except: EventTarget | null = null) => {
    show(except);
    changed();
  };
  const set = (k: number, one: View["asked"][number], except: EventTarget | null) => {
    view.asked[k] = one;
    update(except);
  };
  form.addEventListener("input", ({ target }) => {
    if (!(target instanceof HTMLInputElement || target instanceof HTMLSelectElement)) return;
    const [, what, place] = /^(on|atLeast|atMost|verdict)(\d+)$/.exec(target.name) ?? [];
    const k = Number(place);
    const one = view.asked[k];
    if (one === undefined) return;
    const { requirement } = one;
    if (what === "on") {
      set(k, { ...one, isOn: (target as HTMLInputElement).checked }, target);
    } else if (what === "verdict") {
      const verdict = target.value as NonNullable<Requirement["verdict"]>;
      set(k, { ...one, requirement: withLimit(requirement, { verdict }) }, target);
    } else {
      const input = target as HTMLInputElement;
      const value = numberIn(input);
      const refused = refusal(requirement, value);
      say(k, input, refused ?? "");
      if (refused !== null) return;
      const own = requirements[k];
      // The study's own limit is kept to the last bit.
      const isOwn = own !== undefined && value === Number(shownLimit(own, what as Bound));
      const limit = isOwn ? own[what as Bound]! : value / scaleOf(requirement);
      set(k, { ...one, requirement: withLimit(requirement, { [what]: limit }) }, target);
    }
  });
  form.addEventListener("click", ({ target }) => {
    const [, place] = /^remove(\d+)$/.exec(target instanceof HTMLButtonElement ? target.name : "") ?? [];
    if (place === undefined) return;
    view.asked.splice(Number(place), 1);
    update();
    find("newQuantity")?.focus();
  });
  form.addEventListener("submit", (event) => event.preventDefault());
  back.addEventListener("click", () => {
    view.asked = requirements.map((requirement) => ({ requirement, isOn: true }));
    update();
  });
  form
    .querySelector(".control-buttons")!
    .append(copyButton("Copy as requirements of a study.yaml", () => requirementsText(view)));
  addFields(form.querySelector(".limit-add")!, state, view, update);
  show();
  form.hidden = false;
}

/** The fields in which a requirement is added: what is asked, in which use, and its limit. */
function addFields(place: Element, state: PageState, view: View, added: () => void): void {
  const known = askables(state.data);
  if (known.length === 0) return;
  place.innerHTML = html`<label>Ask for <select name="newQuantity">${known.map(
    ({ quantity, unit }) =>
      html`<option value="${quantity}">${quantity}${unitOf({ quantity, unit }) !== "" && `, ${unitOf({ quantity, unit })}`}</option>`,
  )}</select></label> <label class="new-use">in <select name="newUse"></select></label> <select name="newVerdict" aria-label="State to ask for">${verdictOptions}</select><span class="with-unit new-limit"><select name="newBound" aria-label="Kind of limit"><option value="atLeast">at least</option><option value="atMost">at most</option></select> <input name="newLimit" type="text" inputmode="decimal" autocomplete="off" aria-label="Limit of the new requirement" aria-describedby="error-add"> <span class="new-unit"></span></span> <button type="button" name="add">Add the requirement</button><span class="field-error" id="error-add" role="alert"></span>`.markup;
  const find = <T extends HTMLElement>(name: string) => place.querySelector<T>(`[name=${name}]`)!;
  const quantity = find<HTMLSelectElement>("newQuantity");
  const use = find<HTMLSelectElement>("newUse");
  const bound = find<HTMLSelectElement>("newBound");
  const limit = find<HTMLInputElement>("newLimit");
  const verdict = find<HTMLSelectElement>("newVerdict");
  const say = (problem: string) => {
    limit.setAttribute("aria-invalid", String(problem !== "" && quantity.value !== "verdict"));
    place.querySelector("#error-add")!.textContent = problem;
  };
  const askable = () => known[quantity.selectedIndex];
  const offer = () => {
    const { uses } = askable();
    const before = use.value;
    use.replaceChildren(...(uses ?? []).map((name) => new Option(name, name)));
    if (uses?.includes(before)) use.value = before;
    else if (view.setting !== null && uses?.includes(view.setting.base.name))
      use.value = view.setting.base.name;
    const isVerdict = quantity.value === "verdict";
    place.querySelector<HTMLElement>(".new-use")!.hidden = uses === null;
    place.querySelector<HTMLElement>(".new-limit")!.hidden = isVerdict;
    verdict.hidden = !isVerdict;
    place.querySelector(".new-unit")!.textContent = unitOf(askable());
    say("");
  };
  quantity.addEventListener("input", offer);
  find("add").addEventListener("click", () => {
    const one = askable();
    const isVerdict = one.quantity === "verdict";
    const value = numberIn(limit);
    const refused = isVerdict ? null : refusal(one, value);
    if (refused !== null) {
      say(refused);
      limit.focus();
      return;
    }
    const limits = isVerdict
      ? { verdict: verdict.value as "rubbery" | "leathery" }
      : { [bound.value]: value / scaleOf(one) };
    const requirement = requirementFor(one, one.uses === null ? null : use.value, limits);
    if (view.asked.some((asked) => asked.requirement.name === requirement.name)) {
      say("this is asked already");
      return;
    }
    say("");
    limit.value = "";
    view.asked.push({ requirement, isOn: true });
    added();
  });
  limit.addEventListener("keydown", ({ key }) => {
    if (key === "Enter") find("add").click();
  });
  offer();
}
