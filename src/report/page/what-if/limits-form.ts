import { type Requirement, requirementName } from "../../../predict/decision/requirement.js";
import { html } from "../../html/html.js";
import type { PageState } from "../page-state.js";
import { copyButton } from "../tools/copy-button.js";
import { requirementsText } from "../tools/settings-text.js";
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
const scaleOf = ({ quantity }: Requirement) => (quantity === "rebound" ? 100 : 1);
const unitOf = ({ quantity, unit }: Requirement) => (quantity === "rebound" ? "%" : unit === "1" ? "" : unit);
const shownLimit = (requirement: Requirement, bound: Bound) =>
  String(Number((scaleOf(requirement) * requirement[bound]!).toPrecision(12)));

/** The fields in which limits are moved, and requirements switched off; what follows is judged at once. */
export function limitsForm(state: PageState, view: View, changed: () => void): void {
  const form = document.querySelector<HTMLFormElement>("#limits");
  const { requirements } = state.data;
  if (form === null || requirements.length === 0) return;
  const fields = (requirement: Requirement, k: number) =>
    requirement.verdict !== undefined
      ? html`<select name="verdict${k}" aria-label="State asked by ${requirement.name}">${(["rubbery", "leathery"] as const).map((word) => html`<option value="${word}">${word === "rubbery" ? word : `${word} or warmer`}</option>`)}</select>`
      : html`${(["atLeast", "atMost"] as const).map(
          (bound) =>
            requirement[bound] !== undefined &&
            html`<span class="with-unit">${boundWords[bound]} <input name="${bound}${k}" type="text" inputmode="decimal" autocomplete="off" aria-label="${requirement.name}: ${boundWords[bound]}" aria-describedby="error-limit${k}"> ${unitOf(requirement)}</span>`,
        )}`;
  form.innerHTML =
    html`<p class="small">Limits can be moved here, and requirements switched off; all that follows is judged at once.</p>
<ul class="plain limit-list">${requirements.map(
      (requirement, k) =>
        html`<li><label><input type="checkbox" name="on${k}" checked> <b class="limit-name">${requirement.name}</b></label> <span class="small">${requirement.quantity}${requirement.use !== null && html`, ${requirement.use}`}</span> ${fields(requirement, k)}<span class="field-error" id="error-limit${k}" role="alert"></span></li>`,
    )}</ul>
<p class="control-buttons"><button type="button" name="back">Put back the study’s limits</button> </p>`.markup;
  const find = <T extends HTMLElement>(name: string) => form.elements.namedItem(name) as T | null;
  const back = find<HTMLButtonElement>("back")!;
  const say = (k: number, input: HTMLInputElement | null, problem: string) => {
    input?.setAttribute("aria-invalid", String(problem !== ""));
    document.getElementById(`error-limit${k}`)!.textContent = problem;
  };
  const show = (except: EventTarget | null = null) => {
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
  };
  const set = (k: number, one: View["asked"][number], except: EventTarget | null) => {
    view.asked[k] = one;
    show(except);
    changed();
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
      const text = target.value.trim().replace("−", "-").replace(",", ".");
      const value = text === "" ? Number.NaN : Number(text);
      if (!Number.isFinite(value)) {
        say(
          k,
          target as HTMLInputElement,
          `a number is needed${unitOf(requirement) && `, in ${unitOf(requirement)}`}`,
        );
        return;
      }
      say(k, target as HTMLInputElement, "");
      const own = requirements[k][what as Bound]!;
      // The study's own limit is kept to the last bit.
      const limit = text === shownLimit(requirements[k], what as Bound) ? own : value / scaleOf(requirement);
      set(k, { ...one, requirement: withLimit(requirement, { [what]: limit }) }, target);
    }
  });
  form.addEventListener("submit", (event) => event.preventDefault());
  back.addEventListener("click", () => {
    view.asked = requirements.map((requirement) => ({ requirement, isOn: true }));
    show();
    changed();
  });
  form
    .querySelector(".control-buttons")!
    .append(copyButton("Copy as requirements of a study.yaml", () => requirementsText(view)));
  show();
  form.hidden = false;
}
