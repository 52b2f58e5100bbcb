// Rigid motions of things: shifting, turning, mirroring. A motion says where a
// place goes and where a direction then points; everything a plan draws is laid
// down anew from those two.

import { add, minus, normDeg, type Point, rotateAbout, times, unit } from "./geometry";
import type {
  Area,
  Barrier,
  Collections,
  Head,
  Nozzle,
  Outline,
  Pipe,
  Sleeve,
  Spot,
  Tie,
  Underlay,
  WireRun,
} from "./model";
import { bulgeOf, type Corner, corner, place } from "./shape";
import type { Drawn } from "./things";

export interface Motion {
  /** Where a place (feet) goes. */
  place(p: Point): Point;
  /** Where a direction, in degrees anticlockwise from east, then points. */
  direction(deg: number): number;
  /** Whether left becomes right. */
  readonly mirrors: boolean;
}

/** Directions without the dust of sums: far finer than any arc is set, so that mirroring twice is no change. */
const tidyDeg = (deg: number): number => normDeg(Math.round(normDeg(deg) * 1e10) / 1e10);

/** Moves by dx, dy feet. */
export const shiftBy = (by: Point): Motion => ({
  place: (p) => add(p, by),
  direction: (deg) => deg,
  mirrors: false,
});

/** Turns anticlockwise about a place. Quarter turns are exact. */
export const turnAbout = (centre: Point, deg: number): Motion => ({
  place: (p) => rotateAbout(p, centre, deg),
  direction: (d) => tidyDeg(d + deg),
  mirrors: false,
});

/** Mirrors in the line through a place in a direction. Upright and level lines are exact. */
export const mirrorIn = (at: Point, deg: number): Motion => {
  const across = unit(deg + 90);
  return {
    place(p) {
      const off = minus(p, at);
      return minus(p, times(across, 2 * (off[0] * across[0] + off[1] * across[1])));
    },
    direction: (d) => tidyDeg(2 * deg - d),
    mirrors: true,
  };
};

/** First one motion, then another. */
export const after = (first: Motion, then: Motion): Motion => ({
  place: (p) => then.place(first.place(p)),
  direction: (d) => then.direction(first.direction(d)),
  mirrors: first.mirrors !== then.mirrors,
});

/** A ring or line laid down by a motion; its corners keep their order, and a mirrored arc bends the other way. */
export const laidRing = (ring: readonly Corner[], m: Motion): Outline =>
  ring.map((c) => corner(m.place(place(c)), m.mirrors ? -bulgeOf(c) : bulgeOf(c)) as Outline[number]);

const spot = <S extends Spot>(s: S, m: Motion): S => {
  const [x_ft, y_ft] = m.place([s.x_ft, s.y_ft]);
  return { ...s, x_ft, y_ft };
};

/** A member that points: written where there is one or it says more than nothing. */
const pointing = <T extends object>(thing: T, key: keyof T & string, deg: number): T =>
  deg === 0 && !Object.hasOwn(thing, key) ? thing : { ...thing, [key]: deg };

function laidArea(a: Area, m: Motion): Area {
  const outline = laidRing(a.outline, m);
  const laid: Area = a.holes
    ? { ...a, outline, holes: a.holes.map((h) => laidRing(h, m)) }
    : { ...a, outline };
  return a.slope || a.slope_toward_deg !== undefined
    ? pointing(laid, "slope_toward_deg", m.direction(a.slope_toward_deg ?? 0))
    : laid;
}

/**
 * A head laid down by a motion. Mirrored, its arc begins where it ended. A strip
 * that wets both ways mirrors into itself turned about; for one that wets one
 * way see mirroring.ts.
 */
function laidHead(h: Head, m: Motion, nozzle: Nozzle | undefined): Head {
  const strip = nozzle?.strip;
  const ends = (h.start_deg ?? 0) + (strip ? (strip.ahead && strip.back ? 180 : 0) : (h.sweep_deg ?? 0));
  return pointing(spot(h, m), "start_deg", m.direction(m.mirrors ? ends : (h.start_deg ?? 0)));
}

/** A thing laid down by a motion; of a head, its nozzle says how it mirrors. */
export function laid<C extends Drawn>(
  c: C,
  thing: Collections[C],
  m: Motion,
  nozzle?: Nozzle,
): Collections[C] {
  const make = (): unknown => {
    switch (c) {
      case "areas":
        return laidArea(thing as Area, m);
      case "site": {
        const lot = thing as Collections["site"];
        return { ...lot, outline: laidRing(lot.outline, m) };
      }
      case "barriers":
      case "wires": {
        const b = thing as Barrier | WireRun;
        return { ...b, line: laidRing(b.line, m) };
      }
      case "pipes": {
        const q = thing as Pipe;
        return q.via ? { ...q, via: laidRing(q.via, m) } : q;
      }
      case "ties":
      case "sleeves": {
        const t = thing as Tie | Sleeve;
        return { ...t, from: spot(t.from, m), to: spot(t.to, m) };
      }
      case "underlay": {
        const u = thing as Underlay; // there is no mirroring a photograph
        return m.mirrors ? u : pointing(spot(u, m), "rotate_deg", m.direction(u.rotate_deg ?? 0));
      }
      case "heads":
        return laidHead(thing as Head, m, nozzle);
      default:
        return spot(thing as Spot, m);
    }
  };
  return make() as Collections[C];
}
