// What was copied, kept where every plan of this browser finds it. The text is
// ours alone: anything else found there is left where it is and not pasted.

import type { Shelf } from "./aids";
import type { Clip } from "./edit";
import { type Head, type Json, type Pipe, type Plan, same, takesMore } from "./model";
import { type Drawn, isDrawn } from "./things";

const PLACE = "evenfall-clip";
const TYPE = "evenfall-clip/1";

/** Things copied, and the plan they were copied from. */
export interface Held {
  readonly from: string;
  readonly clip: Clip;
}

/** The clipboard of the plans of one browser. Without a shelf, or with a full one, it lives as long as the page. */
export class Clipboard {
  #held: Held | null = null;
  #text: string | null = null;

  constructor(readonly shelf: Shelf | null) {}

  put(from: string, clip: Clip): void {
    this.#held = { from, clip };
    this.#text = clipText(this.#held);
    try {
      this.shelf?.setItem(PLACE, this.#text);
    } catch {
      this.#text = this.#stored(); // no room there: this page alone has it
    }
  }

  /** What was copied last, here or in another plan; the same object until something else is copied. */
  get held(): Held | null {
    const text = this.#stored();
    if (text !== null && text !== this.#text) {
      this.#text = text;
      this.#held = clipRead(text) ?? this.#held;
    }
    return this.#held;
  }

  #stored(): string | null {
    try {
      return this.shelf?.getItem(PLACE) ?? null;
    } catch {
      return null; // the browser keeps its shelf shut
    }
  }
}

/** A clip as a text, with only the catalogue rows its heads use. */
export function clipText({ from, clip }: Held): string {
  const heads = headsOf(clip);
  const only = <T>(rows: Readonly<Record<string, T>> | undefined, used: readonly string[]) =>
    Object.fromEntries(Object.entries(rows ?? {}).filter(([id]) => used.includes(id)));
  const nozzles = only(clip.nozzles, [...new Set(heads.map((h) => h.nozzle))]);
  const bodies = only(clip.bodies, [...new Set(heads.map((h) => h.body))]);
  const pipes = clip.things.flatMap((t) => (t.in === "pipes" ? [t.thing as Pipe] : []));
  const classes = only(clip.classes, [...new Set(pipes.map((q) => q.class ?? ""))]);
  return JSON.stringify({ type: TYPE, from, things: clip.things, nozzles, bodies, classes });
}

const headsOf = (clip: Clip): Head[] =>
  clip.things.flatMap((t) => (t.in === "heads" ? [t.thing as Head] : []));

/**
 * A clip as another plan can take it: heads and pipes leave their zone behind, which is
 * the other plan's, and a catalogue row that plan has otherwise gets a name of
 * its own, so that a head throws as it did.
 */
export function clipFor(p: Plan, clip: Clip): Clip {
  const nozzles = renamed(p.nozzles, clip.nozzles);
  const bodies = renamed(p.bodies, clip.bodies);
  const classes = renamed(p.pipe_classes, clip.classes);
  const things = clip.things.map((t) => {
    if (t.in === "pipes" || t.in === "nodes") {
      const { zone: _zone, ...rest } = t.thing as Pipe;
      const named = rest.class === undefined ? {} : { class: classes.ids.get(rest.class) ?? rest.class };
      return { ...t, thing: { ...rest, ...named } };
    }
    if (t.in !== "heads") return t;
    const { zone: _zone, ...head } = t.thing as Head;
    const thing: Head = {
      ...head,
      nozzle: nozzles.ids.get(head.nozzle) ?? head.nozzle,
      body: bodies.ids.get(head.body) ?? head.body,
    };
    return { ...t, thing };
  });
  return { things, nozzles: nozzles.rows, bodies: bodies.rows, classes: classes.rows };
}

/** Rows under ids that mean the same, or nothing, in a plan. */
function renamed<T>(
  own: Readonly<Record<string, T>> | undefined,
  rows: Readonly<Record<string, T>> | undefined,
): { ids: ReadonlyMap<string, string>; rows: Record<string, T> } {
  const ids = new Map<string, string>();
  const out: Record<string, T> = {};
  for (const [id, row] of Object.entries(rows ?? {})) {
    const free = (name: string): boolean => own?.[name] === undefined || same(own[name] as Json, row as Json);
    let name = id;
    for (let n = 2; !free(name); n++) name = `${id}-${n}`;
    ids.set(id, name);
    out[name] = row;
  }
  return { ids, rows: out };
}

/** A clip read from a text; null when the text is none of ours. */
export function clipRead(text: string): Held | null {
  let v: unknown;
  try {
    v = JSON.parse(text);
  } catch {
    return null; // somebody else's text
  }
  if (!isRecord(v) || v.type !== TYPE || typeof v.from !== "string" || !Array.isArray(v.things)) return null;
  const things = v.things.filter(isThing) as unknown as Clip["things"];
  if (things.length === 0 || things.length < v.things.length) return null;
  const rows = (x: unknown) => (isRecord(x) && Object.values(x).every(isRecord) ? x : {});
  return {
    from: v.from,
    clip: {
      things,
      nozzles: rows(v.nozzles) as Clip["nozzles"],
      bodies: rows(v.bodies) as Clip["bodies"],
      classes: rows(v.classes) as Clip["classes"],
    },
  };
}

const isRecord = (v: unknown): v is Record<string, unknown> =>
  typeof v === "object" && v !== null && !Array.isArray(v);

const isThing = (v: unknown): boolean =>
  isRecord(v) &&
  typeof v.in === "string" &&
  isDrawn(v.in as Drawn) &&
  takesMore(v.in as Drawn) &&
  isRecord(v.thing) &&
  isWhole(v.in as Drawn, v.thing);

/** Whether a thing has what drawing it needs; the rest is for the reading of the plan to judge. */
function isWhole(c: Drawn, thing: Record<string, unknown>): boolean {
  const num = (x: unknown): boolean => typeof x === "number" && Number.isFinite(x);
  const line = (x: unknown): boolean =>
    Array.isArray(x) && x.every((p) => Array.isArray(p) && p.length > 1 && p.every(num));
  const spot = (x: unknown): boolean => isRecord(x) && num(x.x_ft) && num(x.y_ft);
  switch (c) {
    case "areas":
      return (
        line(thing.outline) &&
        (thing.holes === undefined || (Array.isArray(thing.holes) && thing.holes.every(line)))
      );
    case "barriers":
    case "wires":
      return line(thing.line);
    case "pipes":
      return (
        [thing.from, thing.to].every((x) => typeof x === "string") &&
        (thing.via === undefined || line(thing.via))
      );
    case "ties":
    case "sleeves":
      return spot(thing.from) && spot(thing.to);
    default:
      return spot(thing);
  }
}
