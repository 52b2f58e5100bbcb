// Grouping heads by hand: zones, stations and tags. Every function returns a
// new plan and leaves the given one as it was.

import { changeMany, find, type Head, ids, newID, type Plan, put, type Zone } from "./model";

const natural = new Intl.Collator("en", { numeric: true });

/** The ids of a zone's heads, by tag and then by place from west to east. */
export function headsOf(p: Plan, zone: string): string[] {
  return ids(p, "heads")
    .filter((id) => (find(p, "heads", id)?.zone ?? "") === zone)
    .sort((a, b) => byTag(find(p, "heads", a)!, find(p, "heads", b)!) || (a < b ? -1 : 1));
}

/** How many heads each zone has ("" those in none), counted in one go: a large plan has hundreds of zones. */
export function headCounts(p: Plan): ReadonlyMap<string, number> {
  const n = new Map<string, number>();
  for (const { zone = "" } of Object.values(p.heads ?? {})) n.set(zone, (n.get(zone) ?? 0) + 1);
  return n;
}

function byTag(a: Head, b: Head): number {
  if (a.tag && b.tag) return natural.compare(a.tag, b.tag);
  if (a.tag || b.tag) return a.tag ? -1 : 1;
  return a.x_ft - b.x_ft || a.y_ft - b.y_ft;
}

/** The ids of the zones in the order of their stations; those without one last. */
export function zonesInOrder(p: Plan): string[] {
  const station = (id: string): number => find(p, "zones", id)?.station || Number.POSITIVE_INFINITY;
  const name = (id: string): string => find(p, "zones", id)?.name ?? "";
  return ids(p, "zones").sort((a, b) =>
    station(a) === station(b) ? natural.compare(name(a), name(b)) : station(a) - station(b),
  );
}

/** The lowest station no zone has. */
export function freeStation(p: Plan): number {
  const taken = new Set(ids(p, "zones").map((id) => find(p, "zones", id)?.station));
  let n = 1;
  while (taken.has(n)) n++;
  return n;
}

/** A plan with one more zone, at the lowest free station, and the zone's id. */
export function addZone(p: Plan, name = ""): [Plan, string] {
  const id = newID(p, "zones");
  const station = freeStation(p);
  return [put(p, "zones", id, { name: name.trim() || `Zone ${station}`, station, status: "new" }), id];
}

/** The number tags of a zone begin with: its station, or its place in the list. */
function prefix(p: Plan, zone: string): string {
  const z = find(p, "zones", zone);
  return String(z?.station || zonesInOrder(p).indexOf(zone) + 1);
}

/**
 * Heads in the order somebody walks them: from the most south-westerly always
 * to the nearest not yet walked to, so that flags and lists count along the ground.
 */
export function walkingOrder(p: Plan, heads: readonly string[]): string[] {
  const left = heads.flatMap((id) => {
    const head = find(p, "heads", id);
    return head ? [{ id, head }] : [];
  });
  const order: string[] = [];
  let from: Head | null = null;
  while (left.length > 0) {
    const far = ({ head: h }: { head: Head }): number =>
      from ? Math.hypot(h.x_ft - from.x_ft, h.y_ft - from.y_ft) : h.x_ft + h.y_ft;
    const next = left.reduce((a, b) => (far(b) < far(a) ? b : a));
    left.splice(left.indexOf(next), 1);
    order.push(next.id);
    from = next.head;
  }
  return order;
}

/** Puts heads into a zone ("" takes them out); those that change zone get the next tags of it. */
export function putInZone(p: Plan, heads: readonly string[], zone: string): Plan {
  const joining = walkingOrder(p, heads).filter((id) => (find(p, "heads", id)?.zone ?? "") !== zone);
  const front = zone ? `${prefix(p, zone)}-` : "";
  let n = zone ? highestTag(p, zone) : 0;
  return changeMany(p, "heads", joining, ({ zone: _zone, tag: _tag, ...rest }) =>
    zone ? { ...rest, zone, tag: `${front}${++n}` } : rest,
  );
}

/** The tag after the highest one of a zone: "2-9". */
export const nextTag = (p: Plan, zone: string): string => `${prefix(p, zone)}-${highestTag(p, zone) + 1}`;

function highestTag(p: Plan, zone: string): number {
  const front = `${prefix(p, zone)}-`;
  let most = 0;
  for (const id of headsOf(p, zone)) {
    const tag = find(p, "heads", id)?.tag ?? "";
    const n = tag.startsWith(front) ? Number(tag.slice(front.length)) : 0;
    if (Number.isInteger(n)) most = Math.max(most, n);
  }
  return most;
}

/** Tags a zone's heads 1, 2, 3 … in walking order, behind its station. */
export function renumber(p: Plan, zone: string): Plan {
  const front = prefix(p, zone);
  let n = 0;
  return changeMany(p, "heads", walkingOrder(p, headsOf(p, zone)), (head) => ({
    ...head,
    tag: `${front}-${++n}`,
  }));
}

/** Gives a zone another station; tags that began with the old one follow. Station 0: none. */
export function setStation(p: Plan, zone: string, station: number): Plan {
  const z = find(p, "zones", zone);
  if (!z) return p;
  const old = `${prefix(p, zone)}-`;
  const { station: _old, ...rest } = z;
  const next = put(p, "zones", zone, (station > 0 ? { ...rest, station } : rest) as Zone);
  const now = `${prefix(next, zone)}-`;
  return changeMany(next, "heads", headsOf(p, zone), (head) =>
    head.tag?.startsWith(old) ? { ...head, tag: now + head.tag.slice(old.length) } : head,
  );
}

/** Takes a zone away; its heads stay, in no zone and without a tag. */
export function removeZone(p: Plan, zone: string): Plan {
  const freed = putInZone(p, headsOf(p, zone), "");
  const { [zone]: _gone, ...rest } = freed.zones ?? {};
  return { ...freed, zones: rest };
}
