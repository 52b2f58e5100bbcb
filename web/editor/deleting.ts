// What is deleted of a choice, what of it stays, and how that is said.

import { deleteThings } from "./edit";
import { isFree, type Sight } from "./layers";
import { whyLocked } from "./lockwords";
import { has, type Plan, parts, type Ref } from "./model";
import { capital, count, namesOf } from "./names";
import { whyNeeded } from "./pipesgone";

export interface Deletion {
  readonly plan: Plan;
  readonly label: string;
  readonly says: string;
}

/** The plan without things, or why none of them goes: they are locked, or pipes need them. */
export function deletion(p: Plan, refs: readonly Ref[], sight: Sight): Deletion | { readonly why: string } {
  const free = refs.filter((r) => isFree(p, r, sight));
  if (free.length === 0) return { why: whyLocked(p, refs, sight) };
  const plan = deleteThings(p, free);
  const gone = free.filter((r) => !has(plan, r));
  const needed = free.find((r) => has(plan, r));
  if (gone.length === 0 && needed) return { why: whyNeeded(p, parts(needed)[1]) ?? "Pipes need this joint." };
  const names = namesOf(p, gone);
  const [locked, left] = [refs.length - free.length, free.length - gone.length];
  const notes = [
    locked > 0 ? ` ${count(locked, "locked thing")} left alone.` : "",
    left > 0 ? ` ${count(left, "joint")} left where more pipes meet.` : "",
  ];
  return {
    plan,
    label: `Delete ${names}`,
    says: `${capital(names)} deleted. Undo brings it back.${notes.join("")}`,
  };
}
