// New, existing or to be removed: of every thing on the board, wherever the
// document keeps it, and in words.

import {
  type Change,
  type Collection,
  find,
  type Kind,
  type Plan,
  parts,
  putMany,
  type Ref,
  type Status,
} from "./model";
import { OUTLET } from "./places";

type Stated = { readonly status?: Status };

/** What the document gives no status: a boundary and a picture are not built, cans are taken up again, the supply's points go with the supply; nor has the outlet any. */
export const unstated: ReadonlySet<Collection> = new Set<Collection>(["site", "supply", "underlay", "cans"]);

/** What lies there before the sprinklers come. Nothing is bought for an area either way. */
const before: ReadonlySet<Kind> = new Set<Kind>(["building", "paving", "right_of_way", "no_dig", "water"]);

/** The status an area of a kind has when it is drawn. */
export const usualStatus = (kind: Kind): Status => (before.has(kind) ? "existing" : "new");

/** The status of a thing; null for what has none. */
export function statusOf(p: Plan, r: Ref): Status | null {
  const [c, id] = parts(r);
  if (unstated.has(c) || r === OUTLET || find(p, c, id) === undefined) return null;
  if (c === "valves") return find(p, "zones", id)?.status ?? "new"; // a valve comes and goes with its zone
  if (c === "controller") return p.controller?.status ?? "new";
  return (find(p, c, id) as Stated).status ?? "new";
}

/** A plan in which things have another status. What has none stays as it is. */
export function setStatus(p: Plan, refs: Iterable<Ref>, status: Status): Plan {
  const stated = [...refs].filter((r) => statusOf(p, r) !== null);
  const changes = stated.flatMap((r): Change[] => {
    const [c, id] = parts(r);
    if (c === "controller") return [];
    const home = c === "valves" ? "zones" : c;
    return [{ in: home, id, thing: { ...find(p, home, id), status } as Change["thing"] }];
  });
  const next = putMany(p, changes);
  const controls = stated.some((r) => parts(r)[0] === "controller");
  return controls ? { ...next, controller: { ...next.controller, status } } : next;
}

/** What is said of a status in names and labels; nothing of the usual one. */
export function statusWords(c: Collection, status: Status | null): string {
  if (c === "elevations") {
    return { new: "finished grade", existing: "ground as it lies", remove: "to be removed" }[status ?? "new"];
  }
  if (c === "ties") return status === "remove" ? "to be removed" : "";
  return { new: "", existing: "existing", remove: "to be removed" }[status ?? "new"];
}
