import type { Requirement } from "../../../predict/decision/requirement.js";
import type { Texture } from "../../../predict/use.js";
import { composedUses } from "../../html/answer/composed-use.js";
import { compoundIds } from "../../html/compound-ids.js";
import type { PageData } from "../../page-data.js";
import { askables, requirementFor } from "./askable.js";
import { isOfStudy, type Setting, settingOf } from "./predictions.js";
import { limitsOf, mostPinned, temperatureRange } from "./ranges.js";
import { texturesOf } from "./textures-of.js";

/** A requirement as the reader has set it. */
export interface Asked {
  requirement: Requirement;
  isOn: boolean;
}

/** All that the reader can set: everything on the page follows from it, and a link carries it. */
export interface View {
  /** Null where nothing is predicted in any use. */
  setting: Setting | null;
  asked: Asked[];
  axes: { x: string | null; y: string | null };
  /** Indices of the compounds side by side. */
  pinned: number[];
}

/** What the page opens with. */
export function viewOfStudy({ start, uses, requirements }: PageData): View {
  const use = start?.use ?? uses.find(({ sliding }) => sliding !== null) ?? uses[0];
  return {
    setting: use === undefined ? null : settingOf(use),
    asked: requirements.map((requirement) => ({ requirement, isOn: true })),
    axes: { x: null, y: null },
    pinned: [],
  };
}

/** Whether the limits are not the study's own any more. */
export function areLimitsMoved({ requirements }: PageData, { asked }: Pick<View, "asked">): boolean {
  return (
    asked.length !== requirements.length ||
    asked.some(({ requirement, isOn }, k) => !isOn || limitText(requirement) !== limitText(requirements[k]))
  );
}

const limitText = ({ atLeast, atMost, verdict }: Requirement) =>
  [atLeast ?? "", atMost ?? "", verdict ?? ""].join("~");

/** What differs from the page as it opens, as the part of an address behind the "#"; empty where nothing does. */
export function viewText(data: PageData, view: View): string {
  const first = viewOfStudy(data);
  const part = new URLSearchParams();
  const { setting, asked, axes, pinned } = view;
  if (setting !== null && first.setting !== null) {
    if (setting.base.name !== first.setting.base.name) part.set("use", setting.base.name);
    if (setting.temperature_C !== setting.base.temperature_C) part.set("at", String(setting.temperature_C));
    const own = settingOf(setting.base);
    if (setting.speed_m_s !== own.speed_m_s) part.set("speed", String(setting.speed_m_s));
    if (setting.pressure_Pa !== own.pressure_Pa) part.set("pressure", String(setting.pressure_Pa));
    if (setting.texture?.name !== own.texture?.name) part.set("texture", setting.texture!.name);
  }
  for (const [k, { requirement, isOn }] of asked.entries()) {
    const place = k + 1 - data.requirements.length;
    if (place > 0) part.set(`ask${place}`, askedText(requirement, isOn));
    else if (!isOn) part.set(`limit${k + 1}`, "off");
    else if (limitText(requirement) !== limitText(data.requirements[k]))
      part.set(`limit${k + 1}`, limitText(requirement));
  }
  if (axes.x !== null) part.set("x", axes.x);
  if (axes.y !== null) part.set("y", axes.y);
  const ids = compoundIds(data.compounds.map(({ name }) => name));
  if (pinned.length > 0) part.set("pin", pinned.map((index) => ids[index]).join(","));
  return part.toString();
}

/** The view of a link; what does not fit this report is left as the page opens, and named. */
export function viewOfText(data: PageData, text: string): { view: View; refused: string[] } {
  const view = viewOfStudy(data);
  const refused: string[] = [];
  const part = new URLSearchParams(text);
  const take = (key: string, use: (value: string) => boolean) => {
    const value = part.get(key);
    if (value !== null && !use(value)) refused.push(`${key}=${value}`);
  };
  const setting = view.setting;
  if (setting !== null) {
    take("use", (name) => {
      const known = composedUses(data.uses).find(({ use }) => use.name === name);
      if (known !== undefined) Object.assign(setting, settingOf(known.use));
      return known !== undefined;
    });
    const number =
      (key: "temperature_C" | "speed_m_s" | "pressure_Pa", [low, high]: readonly [number, number]) =>
      (value: string) => {
        const read = Number(value);
        const fits = value.trim() !== "" && read >= low && read <= high && setting[key] !== null;
        if (fits) setting[key] = read;
        return fits;
      };
    take("at", number("temperature_C", temperatureRange));
    take("speed", number("speed_m_s", limitsOf.speed_m_s));
    take("pressure", number("pressure_Pa", limitsOf.pressure_Pa));
    take("texture", (name) => {
      const known: Texture | undefined = texturesOf(data).find((texture) => texture.name === name);
      if (known !== undefined && setting.texture !== null) setting.texture = known;
      return known !== undefined;
    });
  }
  for (const [k, one] of view.asked.entries()) take(`limit${k + 1}`, (value) => takeLimit(one, value));
  for (let k = 1; part.has(`ask${k}`); k++)
    take(`ask${k}`, (text) => {
      const added = askedOf(data, text);
      if (added !== null) view.asked.push(added);
      return added !== null;
    });
  for (const axis of ["x", "y"] as const) {
    take(axis, (value) => {
      view.axes[axis] = value;
      return true;
    });
  }
  take("pin", (value) => {
    const ids = compoundIds(data.compounds.map(({ name }) => name));
    const found = value.split(",").map((id) => ids.indexOf(id));
    view.pinned = [...new Set(found.filter((index) => index >= 0))].slice(0, mostPinned);
    return !found.includes(-1);
  });
  return { view, refused };
}

/** A requirement that was added on the page: "peak force~~400~~cobbles", with "off~" before one that is switched off. */
const askedText = (requirement: Requirement, isOn: boolean) =>
  `${isOn ? "" : "off~"}${requirement.quantity}~${limitText(requirement)}~${requirement.use ?? ""}`;

function askedOf(data: PageData, text: string): Asked | null {
  const isOn = !text.startsWith("off~");
  const [quantity, least, most, verdict, ...use] = text.slice(isOn ? 0 : 4).split("~");
  const askable = askables(data).find((one) => one.quantity === quantity);
  const name = use.join("~");
  if (askable === undefined || (askable.uses === null ? name !== "" : !askable.uses.includes(name)))
    return null;
  const one = { requirement: requirementFor(askable, name === "" ? null : name, {}), isOn };
  if (!takeLimit(one, [least, most, verdict].join("~"))) return null;
  const { atLeast, atMost, verdict: state } = one.requirement;
  const limits = {
    ...(atLeast !== undefined && { atLeast }),
    ...(atMost !== undefined && { atMost }),
    ...(state !== undefined && { verdict: state }),
  };
  return { requirement: requirementFor(askable, one.requirement.use, limits), isOn };
}

function takeLimit(one: Asked, value: string): boolean {
  if (value === "off") {
    one.isOn = false;
    return true;
  }
  const [least = "", most = "", verdict = ""] = value.split("~");
  const { atLeast: _, atMost: __, verdict: ___, ...rest } = one.requirement;
  const words = ["rubbery", "leathery", "glassy"] as const;
  const word = words.find((known) => known === verdict);
  const numbers = [least, most].filter((text) => text !== "");
  const isVerdict = rest.quantity === "verdict";
  if (isVerdict ? word === undefined : numbers.length === 0 || !numbers.map(Number).every(Number.isFinite))
    return false;
  one.requirement = {
    ...rest,
    ...(!isVerdict && least !== "" && { atLeast: Number(least) }),
    ...(!isVerdict && most !== "" && { atMost: Number(most) }),
    ...(isVerdict && { verdict: word }),
  };
  return true;
}

/** The use of the study that is set, by its place among the composed uses; −1 where something was changed by hand. */
export function placeOfUse(data: PageData, setting: Setting): number {
  return composedUses(data.uses).findIndex(({ use }) => use.name === setting.base.name && isOfStudy(setting));
}
