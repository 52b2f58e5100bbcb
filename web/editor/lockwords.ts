// Why what is selected cannot be moved or deleted: it is locked, or lies on a
// layer that is.

import type { Sight } from "./layers";
import { type Plan, parts, type Ref } from "./model";
import { capital, namesOf } from "./names";
import { isLockable, isLocked } from "./things";

/** The locked layer all of some things lie on; null when there is none, or not one. */
function layerOfAll(refs: readonly Ref[], sight: Sight): string | null {
  const titles = new Set(refs.map((r) => sight.lockedIn(r)));
  const [title] = titles;
  return titles.size === 1 ? (title ?? null) : null;
}

/** Of things none of which is free: why, and how to free them. */
export function whyLocked(p: Plan, refs: readonly Ref[], sight: Sight): string {
  const names = capital(namesOf(p, refs));
  const [lies, is, it] = refs.length === 1 ? ["lies", "is", "it"] : ["lie", "are", "them"];
  const title = layerOfAll(refs, sight);
  if (title) return `${names} ${lies} on the layer ${title}, which is locked. Unlock it under Layers.`;
  if (refs.some((r) => sight.lockedIn(r) !== null)) {
    return `${names} ${is} locked, or on a locked layer. Unlock ${it}, and the layer under Layers.`;
  }
  return `${names} ${is} locked. Unlock ${it} first.`;
}

/** Whether locking or unlocking some things makes a difference; else why not. */
export function canLock(p: Plan, refs: readonly Ref[], sight: Sight): true | string {
  const own = refs.filter((r) => isLockable(parts(r)[0]));
  if (own.length === 0) {
    return "Select something that can be locked: an area, wall, tree, head or keep-dry point.";
  }
  const held = own.every((r) => sight.lockedIn(r) !== null && !isLocked(p, r));
  return held ? whyLocked(p, own, sight) : true;
}
