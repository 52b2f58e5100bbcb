// What a pipe can be begun from and ended at when it is chosen by name.

import type { Choice } from "./fields";
import { placeText } from "./format";
import { ids, type Plan, parts, type Ref, ref } from "./model";
import { capital, nameOf, sortKey } from "./names";
import { standsApart } from "./pipenet";
import { spotOf } from "./things";

/** The supply, valves, heads and joints, each by its name. */
export function joinChoices(p: Plan): Choice[] {
  return (["supply", "valves", "heads", "nodes"] as const).flatMap((c) => {
    const all = ids(p, c).filter((id) => c !== "nodes" || standsApart(p, id));
    const named = all.map((id) => ({ value: ref(c, id), label: labelOf(p, ref(c, id)) }));
    return named.sort((a, b) => (sortKey(a.label) < sortKey(b.label) ? -1 : 1));
  });
}

function labelOf(p: Plan, r: Ref): string {
  const name = capital(nameOf(p, r));
  const at = parts(r)[0] === "nodes" ? spotOf(p, r) : null;
  return at ? `${name} at ${placeText(at, p.show)}` : name;
}
