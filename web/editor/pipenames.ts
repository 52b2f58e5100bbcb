// What pipes and their joints are called, and how their sizes are written.

import { placeText } from "./format";
import type { Point } from "./geometry";
import { type Collection, find, type Plan, type Ref, type System } from "./model";
import { networkAt, ownerOf, pipesAt, pointOf } from "./pipenet";
import { rowName } from "./rownames";

/** What a pipe can be joined to. */
export const joins: ReadonlySet<Collection> = new Set<Collection>([
  "heads",
  "valves",
  "supply",
  "nodes",
  "pipes",
]);

/** The metric designations of the inch sizes (ISO 6708). */
const diameters: Readonly<Record<string, number>> = {
  "0.5": 15,
  "0.625": 16,
  "0.75": 20,
  "1": 25,
  "1.25": 32,
  "1.5": 40,
  "2": 50,
  "2.5": 65,
  "3": 80,
  "4": 100,
  "6": 150,
  "8": 200,
};

const MM_AN_INCH = 25.4;

/**
 * A nominal size as it is asked for: 1-1/4 in, DN 32. It is a name, and no measure.
 * Go: units.PipeSize; testdata/vectors/pipesize.json holds both.
 */
export function pipeSizeText(inches: number, show: System): string {
  if (show === "metric") {
    const dn = diameters[String(inches)];
    return dn ? `DN ${dn}` : `${Math.round(inches * MM_AN_INCH)} mm`;
  }
  const whole = Math.floor(inches);
  const parts = (inches - whole) * 16;
  if (parts === 0 || !Number.isInteger(parts)) return `${Number(inches.toFixed(3))} in`;
  let [top, bottom] = [parts, 16];
  for (; top % 2 === 0; bottom /= 2) top /= 2;
  return `${whole > 0 ? `${whole}-` : ""}${top}/${bottom} in`;
}

/** A class by its row; one the plan has no row of, by its id. */
const classText = (p: Plan, id: string): string => {
  const row = find(p, "pipe_classes", id);
  return row ? rowName(row, p.show) : id;
};

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
    q.nominal_in ? pipeSizeText(q.nominal_in, p.show) : "not sized",
    q.class ? classText(p, q.class) : (q.material ?? ""),
  ].filter(Boolean);
}

/** Where both ends of a pipe are joined: "from valve of zone 2 to head 2-3". */
export function endsText(p: Plan, id: string, name: NameOf): string {
  const q = find(p, "pipes", id);
  if (!q) return "";
  const end = (node: string): string => ownerName(p, node, name) ?? nodeName(p, node, name);
  return `from ${end(q.from)} to ${end(q.to)}`;
}
