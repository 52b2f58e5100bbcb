// What pipes and their joints are called, and how their sizes are written.

import { placeText } from "./format";
import type { Point } from "./geometry";
import { type Collection, find, type PipeClass, type Plan, type Ref } from "./model";
import { networkAt, ownerOf, pipesAt, pointOf } from "./pipenet";

/** What a pipe can be joined to. */
export const joins: ReadonlySet<Collection> = new Set<Collection>([
  "heads",
  "valves",
  "supply",
  "nodes",
  "pipes",
]);

const fractions: Readonly<Record<string, string>> = { "0.25": "1/4", "0.5": "1/2", "0.75": "3/4" };

/** A nominal size as the trade writes it: 3/4 in, 1 1/4 in. It is a name, and no measure, in metric plans too. */
export function pipeSizeText(inches: number): string {
  const whole = Math.floor(inches);
  const part = fractions[String(inches - whole)];
  if (part) return `${whole > 0 ? `${whole} ` : ""}${part} in`;
  return `${Number(inches.toFixed(3))} in`;
}

/** A class by its row; one the plan has no row of, by its id. */
export const classText = (row: Pick<PipeClass, "name"> | undefined, id: string): string => row?.name ?? id;

/** The zone of a pipe as its number or name: "2". */
const zoneWord = (p: Plan, zone: string): string => {
  const z = find(p, "zones", zone);
  return String(z?.station || z?.name || zone);
};

/** What pipes there carry: "main pipe", "pipe of zone 2". */
export const waterName = (p: Plan, zone: string | undefined): string =>
  zone ? `pipe of zone ${zoneWord(p, zone)}` : "main pipe";

type NameOf = (p: Plan, r: Ref) => string;

/** The head, valve or supply point a node is at; null for a joint. */
function ownerName(p: Plan, node: string, name: NameOf): string | null {
  const n = find(p, "nodes", node);
  const owner = n ? ownerOf(p, n) : null;
  return owner ? name(p, owner) : null;
}

/** "pipe of zone 2 to head 2-3", or where neither end is at a thing, its first place. */
export function pipeName(p: Plan, id: string, name: NameOf): string {
  const q = find(p, "pipes", id);
  if (!q) return "a pipe no longer here";
  const [from, to] = [ownerName(p, q.from, name), ownerName(p, q.to, name)];
  const water = waterName(p, q.zone);
  if (to) return `${water} to ${to}`;
  if (from) return `${water} from ${from}`;
  const n = find(p, "nodes", q.from);
  return n ? `${water} at ${placeText(pointOf(n), p.show)}` : water;
}

/** "joint of 3 pipes", "drain", "manual valve". */
export function nodeName(p: Plan, id: string, name: NameOf): string {
  const n = find(p, "nodes", id);
  if (!n) return "a pipe joint no longer here";
  const owner = ownerName(p, id, name);
  if (owner) return `pipe joint of ${owner}`;
  if (n.kind === "drain") return "drain";
  if (n.kind === "valve") return "valve in the pipe";
  const meet = pipesAt(p, id).length;
  return meet === 1 ? "open end of a pipe" : `joint of ${meet} pipes`;
}

/** What a new pipe is joined to at a place, in words; "" for a bare place. */
export function joinSaid(p: Plan, at: Point, name: NameOf): string {
  const here = networkAt(p, at);
  if (!here) return "";
  if (here.is === "owner") return name(p, here.ref);
  return name(p, here.is === "node" ? `nodes/${here.id}` : `pipes/${here.id}`);
}

/** How the size and class of a pipe read in one line. */
export function sizeAndClass(p: Plan, id: string): string[] {
  const q = find(p, "pipes", id);
  if (!q) return [];
  return [
    q.nominal_in ? pipeSizeText(q.nominal_in) : "not sized",
    q.class ? classText(find(p, "pipe_classes", q.class), q.class) : (q.material ?? ""),
  ].filter(Boolean);
}

/** Where both ends of a pipe are joined: "from valve of zone 2 to head 2-3". */
export function endsText(p: Plan, id: string, name: NameOf): string {
  const q = find(p, "pipes", id);
  if (!q) return "";
  const end = (node: string): string => ownerName(p, node, name) ?? nodeName(p, node, name);
  return `from ${end(q.from)} to ${end(q.to)}`;
}
