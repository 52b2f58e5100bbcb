// What is entered in the yard, as changes of the plan. Every function returns a new
// plan; the given one is unchanged. Nothing is reckoned here: the server does.

import { auditOf, auditsOf, withAudit, withCan } from "../audits";
import { find, type Plan, put, type Spot } from "../model";
import type {
  Audit,
  Built,
  CatchCan,
  FoundWire,
  HeadFault,
  HeadState,
  OhmReading,
  Photo,
  PressureTest,
  Proof,
  StepDone,
  Touch,
  ZoneRun,
} from "../proof";

/** The members of the proof that hold records by id, with what each holds. */
interface Records {
  checks: StepDone;
  pressure_tests: PressureTest;
  wires: FoundWire;
  touches: Touch;
  resistances: OhmReading;
}

const alphabet = "0123456789abcdefghjkmnpqrstvwxyz";

/** An id for a new record: its letter and eight random characters, so that no counter has to be shared. */
export function recordID(letter: string): string {
  const bytes = crypto.getRandomValues(new Uint8Array(8));
  return letter + Array.from(bytes, (b) => alphabet[b & 31]).join("");
}

/** The same without members that say nothing. */
function lean<T extends object>(thing: T): T {
  const said = Object.entries(thing).filter(([, v]) => v !== undefined && v !== "" && v !== false);
  return Object.fromEntries(said) as T;
}

function withProof(p: Plan, change: (v: Proof) => Proof): Plan {
  return { ...p, proof: change(p.proof ?? {}) };
}

/** A plan with a record of the proof changed, or put in where it had none. */
export function setRecord<K extends keyof Records>(
  p: Plan,
  kind: K,
  id: string,
  change: Partial<Records[K]>,
): Plan {
  return withProof(p, (v) => {
    const all = (v[kind] ?? {}) as Record<string, Records[K]>;
    return { ...v, [kind]: { ...all, [id]: lean({ ...all[id], ...change } as Records[K]) } };
  });
}

/** A plan without a record of the proof. */
export function dropRecord(p: Plan, kind: keyof Records, id: string): Plan {
  return withProof(p, (v) => {
    const { [id]: _gone, ...rest } = (v[kind] ?? {}) as Record<string, unknown>;
    return { ...v, [kind]: rest };
  });
}

/** The records of one kind with their ids, those without an order by id, the others as they were noted. */
export function recordsOf<K extends keyof Records>(p: Plan, kind: K): [string, Records[K]][] {
  const all = Object.entries((p.proof?.[kind] ?? {}) as Record<string, Records[K]>);
  const order = (r: Records[K]): number => ("order" in r ? (r.order ?? 0) : 0);
  return all.sort(([a, x], [b, y]) => order(x) - order(y) || (a < b ? -1 : 1));
}

/** The number in order for the next record of a kind. */
export const nextOrder = (p: Plan, kind: "wires" | "touches" | "resistances"): number =>
  1 + Math.max(0, ...recordsOf(p, kind).map(([, r]) => r.order ?? 0));

/** A plan without a wire, and without what was found of it. */
export function dropWire(p: Plan, id: string): Plan {
  let next = dropRecord(p, "wires", id);
  for (const [touch, t] of recordsOf(p, "touches"))
    if (t.wire === id) next = dropRecord(next, "touches", touch);
  for (const [reading, r] of recordsOf(p, "resistances"))
    if (r.from === id || r.to === id) next = dropRecord(next, "resistances", reading);
  return next;
}

/** By their day, and those of one day by id. */
const byDay = ([a, x]: [string, { on?: string }], [b, y]: [string, { on?: string }]): number =>
  `${x.on ?? ""} ${a}` < `${y.on ?? ""} ${b}` ? -1 : 1;

/** The runs of a zone for one purpose, the newest last. */
export function runsOf(p: Plan, zone: string, when: NonNullable<ZoneRun["when"]>): [string, ZoneRun][] {
  const runs = find(p, "zones", zone)?.runs ?? {};
  return Object.entries(runs)
    .filter(([, r]) => (r.when ?? "start_up") === when)
    .sort(byDay);
}

/** A plan with a run of a zone changed or put in; what the zone is gone from stays as it is. */
export function setRun(p: Plan, zone: string, id: string, change: Partial<ZoneRun>): Plan {
  const z = find(p, "zones", zone);
  if (!z) return p;
  const run = lean({ ...z.runs?.[id], ...change });
  return put(p, "zones", zone, { ...z, runs: { ...z.runs, [id]: run } });
}

export function dropRun(p: Plan, zone: string, id: string): Plan {
  const z = find(p, "zones", zone);
  if (!z) return p;
  const { [id]: _gone, ...rest } = z.runs ?? {};
  return put(p, "zones", zone, { ...z, runs: rest });
}

export const stateOf = (p: Plan, head: string): HeadState => find(p, "heads", head)?.state ?? {};

/** A plan with a head's state changed; a state that says nothing is none. */
export function setState(p: Plan, head: string, change: Partial<HeadState>): Plan {
  const at = find(p, "heads", head);
  if (!at) return p;
  const state = lean({ ...at.state, ...change });
  const { state: _was, ...rest } = at;
  return put(p, "heads", head, Object.keys(state).length > 0 ? { ...rest, state } : rest);
}

/** A plan with a fault of a head noted, or taken back: then the date and what was told of it go too. */
export function toggleFault(p: Plan, head: string, fault: HeadFault, today: string): Plan {
  const now = stateOf(p, head).faults ?? [];
  const faults = now.includes(fault) ? now.filter((f) => f !== fault) : [...now, fault];
  const gone: Partial<HeadState> = {};
  if (!faults.includes("tilted")) {
    gone.tilt_deg = undefined;
    gone.tilt_toward_deg = undefined;
  }
  if (!faults.includes("wrong_nozzle")) gone.nozzle = undefined;
  const noted = faults.length > 0 ? { faults, seen_on: today } : { faults: undefined, seen_on: undefined };
  return setState(p, head, { ...noted, ...gone });
}

/** A plan with a can of an audit changed; a catch of nothing is a catch, and undefined none. */
export function setCan(p: Plan, audit: string, can: string, change: Partial<CatchCan>): Plan {
  const now = auditOf(p, audit)?.cans?.[can];
  return now ? withCan(p, `${audit}.${can}`, lean({ ...now, ...change })) : p;
}

/** A plan with an audit changed. */
export function setAudit(p: Plan, audit: string, change: Partial<Audit>): Plan {
  return withAudit(p, audit, lean({ ...auditOf(p, audit), ...change }));
}

/** A plan with a new audit on the cans of another, none of them read; its id with it. */
export function auditAgain(p: Plan, audit: string, on: string): { plan: Plan; id: string } {
  const { note: _n, wind_mph: _w, wind_from_deg: _f, ...was } = auditOf(p, audit) ?? {};
  const cans = Object.entries(was.cans ?? {}).map(([id, { x_ft, y_ft }]) => [id, { x_ft, y_ft }]);
  const most = Object.keys(auditsOf(p)).reduce((m, id) => Math.max(m, Number(/\d+$/.exec(id)?.[0] ?? 0)), 0);
  const id = `a${most + 1}`;
  const again = was.name && (was.name.endsWith(", again") ? was.name : `${was.name}, again`);
  return {
    plan: withAudit(p, id, lean({ ...was, name: again, on, cans: Object.fromEntries(cans) })),
    id,
  };
}

/** A plan with the minutes a zone ran in an audit; undefined: it did not run. */
export function setMinutes(p: Plan, audit: string, zone: string, minutes: number | undefined): Plan {
  const { [zone]: _was, ...rest } = auditOf(p, audit)?.runs ?? {};
  return setAudit(p, audit, { runs: minutes === undefined ? rest : { ...rest, [zone]: minutes } });
}

/** Things whose built place is noted. */
export type Placed = "heads" | "boxes" | "zones" | "sleeves";

export const builtOf = (p: Plan, c: Placed, id: string): Built | undefined => find(p, c, id)?.built;

/** Where a thing stands in the plan; of a zone its valve. Of a sleeve, one end. */
export function spotOf(p: Plan, c: Placed, id: string): Spot | undefined {
  if (c === "zones") return find(p, "zones", id)?.valve_at;
  if (c === "sleeves") return find(p, "sleeves", id)?.from;
  const thing = find(p, c, id);
  return thing && { x_ft: thing.x_ft, y_ft: thing.y_ft };
}

/**
 * A plan with a thing where it was found, on a date: its place is the built one, and
 * where it was drawn first is kept however often it is measured again. to is a sleeve's
 * other end. Without a place it is where it stands in the plan.
 */
export function setBuilt(
  p: Plan,
  c: Placed,
  id: string,
  note: { on: string; depth_in?: number; note?: string },
  at?: Spot,
  to?: Spot,
): Plan {
  const thing = find(p, c, id);
  const spot = spotOf(p, c, id);
  if (!thing || !spot) return p;
  const before = builtOf(p, c, id);
  const far = (a: Spot, b: Spot): boolean => Math.hypot(a.x_ft - b.x_ft, a.y_ft - b.y_ft) > 1e-6;
  const was = before?.was ?? (at && far(at, spot) ? spot : undefined);
  const other = c === "sleeves" ? find(p, "sleeves", id)?.to : undefined;
  const was_to = before?.was_to ?? (to && other && far(to, other) ? other : undefined);
  const built = lean<Built>({ ...before, ...note, was, was_to });
  const moved =
    c === "zones"
      ? { ...thing, ...(at ? { valve_at: at } : {}) }
      : c === "sleeves"
        ? { ...thing, ...(at ? { from: at } : {}), ...(to ? { to } : {}) }
        : { ...thing, ...at };
  return put(p, c, id, { ...moved, built } as never);
}

/** A plan in which a thing is as drawn again, and not measured. */
export function dropBuilt(p: Plan, c: Placed, id: string): Plan {
  const now = find(p, c, id);
  if (!now) return p;
  const { built, ...thing } = now;
  if (!built) return p;
  const { was, was_to } = built;
  const back =
    c === "zones"
      ? { ...thing, ...(was ? { valve_at: was } : {}) }
      : c === "sleeves"
        ? { ...thing, ...(was ? { from: was } : {}), ...(was_to ? { to: was_to } : {}) }
        : { ...thing, ...was };
  return put(p, c, id, back as never);
}

/** The photographs of a plan, the newest first; about: of one thing only. */
export function photosOf(p: Plan, about?: string): [string, Photo][] {
  return Object.entries(p.photos ?? {})
    .filter(([, f]) => about === undefined || f.about === about)
    .sort(byDay)
    .reverse();
}

/** A plan with a photograph changed or put in; null takes it away. */
export function setPhoto(p: Plan, id: string, change: Partial<Photo> | null): Plan {
  const { [id]: now, ...rest } = p.photos ?? {};
  return { ...p, photos: change === null ? rest : { ...rest, [id]: lean({ ...now, ...change } as Photo) } };
}
