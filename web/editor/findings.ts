// Findings as a list to read: grouped by cause, worst first.

import type { Finding, Rank } from "./design";
import { ids, newID, type Plan, put, same } from "./model";

/** Findings of one cause. */
export interface Cause {
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
  const open: Cause[] = [];
  for (const f of all.filter((f) => !f.accepted)) {
    const last = open.find((c) => c.code === f.code && c.rank === f.rank);
    if (last) last.list.push(f);
    else open.push({ code: f.code, rank: f.rank, title: f.title, list: [f] });
  }
  open.sort((a, b) => ranks.indexOf(a.rank) - ranks.indexOf(b.rank));
  return { open, accepted: all.filter((f) => f.accepted) };
}

/** A plan in which a finding is accepted, with the reason and the civil date. */
export function accept(p: Plan, f: Finding, reason: string, on: string): Plan {
  const about = [...(f.about ?? [])].sort();
  return put(p, "accepted", newID(p, "accepted"), {
    code: f.code,
    ...(about.length > 0 ? { about } : {}),
    reason,
    on,
  });
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
