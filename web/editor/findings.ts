// Findings as a list to read: grouped by cause, worst first, the first few in
// sight and the rest one press away.

import type { Finding, Rank } from "./design";
import { newIDs } from "./edit";
import { type Change, ids, type Plan, putMany, type Ref, same } from "./model";

/** Findings of one cause. */
export interface Cause {
  key: string;
  code: string;
  rank: Rank;
  title: string;
  list: Finding[];
}

export const ranks: readonly Rank[] = ["stop", "mend", "note"];

export const rankNames: Record<Rank, string> = { stop: "Stop", mend: "Mend", note: "Note" };
export const rankSays: Record<Rank, string> = {
  stop: "wrong to build: fix it",
  mend: "worth fixing before you buy",
  note: "good to know",
};

/** The open findings by cause, worst first, and those accepted apart. */
export function group(all: readonly Finding[]): { open: Cause[]; accepted: Finding[] } {
  const open = new Map<string, Cause>();
  for (const f of all) {
    if (f.accepted) continue;
    const key = `${f.rank} ${f.code} ${f.title}`;
    const cause = open.get(key);
    if (cause) cause.list.push(f);
    else open.set(key, { key, code: f.code, rank: f.rank, title: f.title, list: [f] });
  }
  const sorted = [...open.values()].sort((a, b) => ranks.indexOf(a.rank) - ranks.indexOf(b.rank));
  return { open: sorted, accepted: all.filter((f) => f.accepted) };
}

/** How many causes are in sight at first. */
export const FIRST_CAUSES = 6;

/** How many of them stand open at first: only what is wrong to build, and of few cases. */
const FIRST_OPEN = 2;
const FEW_CASES = 2;

/** The causes that stand open at first. */
export const openAtFirst = (open: readonly Cause[]): Cause[] =>
  open.slice(0, FIRST_OPEN).filter((c) => c.rank === "stop" && c.list.length <= FEW_CASES);

/** The causes in sight, and those that wait: all of one rank when one is chosen. */
export function inSight(
  open: readonly Cause[],
  only: Rank | null,
  rest: boolean,
): { shown: Cause[]; waiting: Cause[] } {
  if (only) return { shown: open.filter((c) => c.rank === only), waiting: [] };
  // One more line costs no more than the line that says one more waits.
  if (rest || open.length <= FIRST_CAUSES + 1) return { shown: [...open], waiting: [] };
  return { shown: open.slice(0, FIRST_CAUSES), waiting: open.slice(FIRST_CAUSES) };
}

/** Counts findings by rank in words: "2 stop, 5 note". */
export function byRank(causes: readonly Cause[]): string {
  const words = ranks.flatMap((r) => {
    const n = causes.filter((c) => c.rank === r).reduce((sum, c) => sum + c.list.length, 0);
    return n > 0 ? [`${n} ${r}`] : [];
  });
  return words.join(", ");
}

/** The things of the plan that a finding is about, and that can be selected. */
export const thingsOf = (f: Finding): Ref[] => (f.about ?? []).filter((r) => r.includes("/"));

/** Whether a finding is about the plan's settings and not about a place. */
export const inSettings = (f: Finding): boolean => {
  const about = f.about as readonly string[] | undefined;
  return about !== undefined && about.length > 0 && about.every((r) => r === "supply" || r === "site");
};

/** The field of the settings or of the Supply page in which such a finding is mended, by its label. */
const settings: Readonly<Record<string, string>> = {
  "supply-rough": "Pressure left at it",
  "meter-overdrawn": "Meter",
  "pressure-high": "This system gets a regulator of its own, besides any the house has",
  "no-backflow": "Backflow device",
  "backflow-doubtful": "Backflow device",
  "backflow-unfit": "Backflow device",
  "taps-after-device": "Water for drinking or hoses is taken off after it",
  "breaker-low": "Stands above its own ground",
  "no-isolation": "Isolation valve",
  "freeze-unready": "Kept from freezing by",
  "locate-missing": "Marks asked for on",
};

export const settingOf = (f: Finding): string => settings[f.code] ?? "Flow to plan on";

/** What can be sought for a finding: mends, layouts, a grouping, the program, or the rule that it goes by. */
export type Cure = "head.improve" | "head.arrange" | "zone.group" | "plan.water" | "plan.rules";

const cures: Readonly<Record<Cure, readonly string[]>> = {
  "head.improve": [
    "dry-patch",
    "rates-mixed",
    "rotor-nozzle-by-arc",
    "spacing-wide",
    "neighbour-faces-away",
    "corner-bare",
    "throw-on-paving",
    "throw-on-ground",
    "throw-undrawn",
    "spray-on-wall",
    "turned-down-far",
  ],
  "head.arrange": ["nothing-assigned"],
  "zone.group": [
    "plantings-mixed",
    "exposure-mixed",
    "zone-over-flow",
    "low-valve-flow",
    "head-without-zone",
  ],
  "plan.water": ["cycles-short", "window-short"],
  "plan.rules": ["set-back-local", "head-close-to-paving", "narrow-strip", "band-wetted"],
};

/** What its button is called. */
export const cureNames: Readonly<Record<Cure, string>> = {
  "head.improve": "Improve…",
  "head.arrange": "Arrange heads…",
  "zone.group": "Group the heads…",
  "plan.water": "Watering program…",
  "plan.rules": "Local rules…",
};

/** What can be sought for a finding; null when it is for the hand. */
export const cureOf = (code: string): Cure | null =>
  (Object.keys(cures) as Cure[]).find((c) => cures[c].includes(code)) ?? null;

/** Whether there is anything to show for a finding: a thing, a place or a setting. */
export const hasPlace = (f: Finding): boolean =>
  f.at !== undefined || thingsOf(f).length > 0 || inSettings(f);

/** A plan in which findings are accepted, with one reason and the civil date; by is left out when empty. */
export function accept(p: Plan, list: readonly Finding[], reason: string, on: string, by = ""): Plan {
  const name = newIDs();
  const made = list.map((f, n): Change => {
    const about = [...(f.about ?? [])].sort();
    const thing = {
      code: f.code,
      ...(about.length > 0 ? { about } : {}),
      rank: f.rank,
      reason,
      ...(by ? { by } : {}),
      on,
    };
    return { in: "accepted", id: name(p, "accepted", n), thing };
  });
  return putMany(p, made);
}

/** Who accepted last, to be offered again. */
export function lastBy(p: Plan): string {
  const all = Object.values(p.accepted ?? {}).filter((a) => a.by);
  return all.sort((a, b) => (a.on < b.on ? -1 : 1)).at(-1)?.by ?? "";
}

/** A plan in which a finding is open again. */
export function reopen(p: Plan, f: Finding): Plan {
  const left = { ...(p.accepted ?? {}) };
  for (const id of ids(p, "accepted")) if (same(left[id], f.accepted)) delete left[id];
  return { ...p, accepted: left };
}

/** A date as the plan writes it, in the user's own calendar. */
export function civilDate(d: Date): string {
  const two = (n: number): string => String(n).padStart(2, "0");
  return `${d.getFullYear()}-${two(d.getMonth() + 1)}-${two(d.getDate())}`;
}
