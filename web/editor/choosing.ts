// Which things belong together: all heads, and those of the same kind as what
// is selected. What is locked is left alone, as by Select all.

import { isTaken, type Sight } from "./layers";
import { find, ids, type Plan, parts, type Ref, ref } from "./model";
import { allThings } from "./things";

/** All heads that are seen and not locked. */
export const allHeads = (p: Plan, sight?: Sight): Ref[] =>
  ids(p, "heads")
    .map((id) => ref("heads", id))
    .filter((r) => isTaken(p, r, sight));

/** What makes two things alike: the collection and the kind, of heads the nozzle. */
function kindKey(p: Plan, r: Ref): string {
  const [c, id] = parts(r);
  if (c === "heads") return `heads ${find(p, "heads", id)?.nozzle}`;
  if (c === "areas") return `areas ${find(p, "areas", id)?.kind}`;
  if (c === "barriers") return `barriers ${find(p, "barriers", id)?.kind ?? "fence"}`;
  if (c === "sensors") return `sensors ${find(p, "sensors", id)?.kind}`;
  if (c === "sleeves") return `sleeves ${find(p, "sleeves", id)?.carries ?? ""}`;
  if (c === "wires") return `wires ${find(p, "wires", id)?.lay ?? "trench"}`;
  if (c === "pipes") return `pipes ${find(p, "pipes", id)?.zone ?? ""}`;
  return c;
}

/** The things like any of those given, and those themselves. */
export function sameKind(p: Plan, refs: readonly Ref[], sight?: Sight): Ref[] {
  const given = new Set(refs);
  const wanted = new Set(refs.map((r) => kindKey(p, r)));
  return allThings(p).filter((r) => given.has(r) || (wanted.has(kindKey(p, r)) && isTaken(p, r, sight)));
}
