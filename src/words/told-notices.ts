import { factText, meaningOf } from "./codes/codes.js";
import type { Notice, Severity } from "./notice.js";

/** A notice as a result carries it: each fact once, with the states in which it holds. */
export interface ToldNotice {
  severity: Severity;
  code: string;
  message: string;
  path?: string;
  /** The states that the message lists. */
  states?: string[];
  /** Codes that were raised too and say no more than this notice does. */
  covers?: string[];
}

/** What is told once for the study, with the compounds it holds for. */
export interface StudyNotice extends ToldNotice {
  compounds?: { name: string; states: string[] }[];
}

/** What a method cannot do, whatever the compound; or an ordinary step of reading and fitting. */
export interface Told {
  code: string;
  message: string;
  path?: string;
}

/** All that was raised, each fact once at the level where it holds. */
export interface ToldNotices {
  /** Once for the study. */
  study: StudyNotice[];
  /** The standing limits of the methods used. */
  cautions: Told[];
  /** Of each compound, in their order. */
  compounds: { notices: ToldNotice[]; steps: Told[] }[];
}

interface OfCompound {
  name: string;
  notices: Notice[];
}

/**
 * Tells each fact once: several states of one fact are one notice with the list of them; a code that another covers
 * is not told again; what the table says is told for the study moves there, with the compounds it holds for.
 */
export function toldNotices(compounds: OfCompound[]): ToldNotices {
  const merged = compounds.map(({ name, notices }) => ({ name, notices: merge(withoutCovered(notices)) }));
  const at = (told: string | undefined) =>
    merged.map(({ name, notices }) => ({
      name,
      notices: notices.filter(({ code }) => meaningOf(code)?.told === told),
    }));
  const steps = at("step");
  return {
    study: forTheStudy(at("for the study")),
    cautions: once(at("standing").flatMap(({ notices }) => notices.map(withoutStates))).map(bare),
    compounds: at(undefined).map(({ notices }, i) => ({
      notices: notices.map(toldNotice),
      steps: steps[i].notices.map(bare),
    })),
  };
}

interface Merged {
  severity: Severity;
  code: string;
  path?: string;
  parts: { sentence: string; states: string[]; remedy: string; isPlain: boolean }[];
  covers: string[];
}

function withoutCovered(notices: Notice[]): (Notice & { covers: string[] })[] {
  const raised = new Set(notices.map(({ code }) => code));
  const coveredBy = (code: string) => (meaningOf(code)?.covers ?? []).filter((other) => raised.has(other));
  const covered = new Set([...raised].flatMap(coveredBy));
  return notices
    .filter(({ code }) => !covered.has(code))
    .map((notice) => ({ ...notice, covers: coveredBy(notice.code) }));
}

/** One entry a code and input, with a part for each fact that differs in more than its states. */
function merge(notices: (Notice & { covers: string[] })[]): Merged[] {
  const merged = new Map<string, Merged>();
  for (const { severity, code, message, path, fact, covers } of notices) {
    const key = `${code}\n${path ?? ""}`;
    const entry = merged.get(key) ?? { severity, code, path, parts: [], covers };
    merged.set(key, entry);
    const { sentence, states, remedy } = fact ?? { sentence: message, states: [], remedy: "" };
    const same = entry.parts.find((part) => part.sentence === sentence && part.remedy === remedy);
    if (same === undefined)
      entry.parts.push({ sentence, states: [...states], remedy, isPlain: fact === undefined });
    else same.states.push(...states.filter((state) => !same.states.includes(state)));
  }
  return [...merged.values()];
}

const messageOf = ({ parts }: Merged) =>
  parts
    .map(({ sentence, states, remedy, isPlain }) =>
      isPlain ? sentence : factText(sentence, states.join("; "), remedy),
    )
    .join(" ");

const bare = (merged: Merged): Told => ({
  code: merged.code,
  message: messageOf(merged),
  ...(merged.path === undefined ? {} : { path: merged.path }),
});

function toldNotice(merged: Merged): ToldNotice {
  const states = merged.parts.flatMap((part) => part.states);
  return {
    severity: merged.severity,
    ...bare(merged),
    ...(states.length === 0 ? {} : { states }),
    ...(merged.covers.length === 0 ? {} : { covers: merged.covers }),
  };
}

/** What a method cannot do holds whatever the state. */
const withoutStates = (merged: Merged): Merged => ({
  ...merged,
  parts: merged.parts.map((part) => ({ ...part, states: [] })),
});

function once(notices: Merged[]): Merged[] {
  const seen = new Map(notices.map((notice) => [`${notice.code}\n${messageOf(notice)}`, notice]));
  return [...seen.values()];
}

/** One notice a fact, with the compounds it holds for and the states of each. */
function forTheStudy(compounds: { name: string; notices: Merged[] }[]): StudyNotice[] {
  const facts = new Map<
    string,
    Pick<Merged, "severity" | "code"> &
      Merged["parts"][number] & { compounds: { name: string; states: string[] }[] }
  >();
  for (const { name, notices } of compounds) {
    for (const { severity, code, parts } of notices) {
      for (const part of parts) {
        const key = [code, part.sentence, part.remedy].join("\n");
        const fact = facts.get(key) ?? { severity, code, ...part, compounds: [] };
        facts.set(key, fact);
        fact.compounds.push({ name, states: part.states });
      }
    }
  }
  return [...facts.values()].map(({ severity, code, sentence, remedy, isPlain, compounds: holdsFor }) => {
    const list = holdsFor
      .map(({ name, states }) => (states.length === 0 ? name : `${name} (${states.join("; ")})`))
      .join(", ");
    return {
      severity,
      code,
      message: isPlain ? `${sentence} Holds for ${list}.` : factText(sentence, list, remedy),
      compounds: holdsFor,
    };
  });
}
