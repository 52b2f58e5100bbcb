// A small picture of the ground, to find a head or a can by: outlines, heads and what
// one is at. Only lines and dots; beside it stands the same in words.

import { ownThrow } from "../catalog";
import { type Bounds, boundsOf, growBounds, type Point } from "../geometry";
import { find, items, type Plan } from "../model";
import { headAt, patternOf } from "../pattern";
import { patternPath, ringsPath, s } from "../scene/svg";
import { place, ringHolds, ringOf } from "../shape";

/** A dot with a word on the picture. */
export interface Dot {
  readonly at: Point;
  readonly text?: string;
  readonly cls: string;
  /** A figure within it: such dots are as large as leaves each its own ground. */
  readonly inside?: string;
  /** The colour it is filled with, and of what is written in it; by its class where left out. */
  readonly fill?: string;
  readonly ink?: string;
}

export interface Shown {
  /** In words, for who does not see it. */
  readonly title: string;
  readonly dots: readonly Dot[];
  /** Whose arc is drawn. */
  readonly head?: string;
  /** What must be in sight; all there is where left out. */
  readonly around?: readonly Point[];
  /** How much ground beyond that, in feet. */
  readonly margin?: number;
}

function outlines(p: Plan): SVGGElement {
  const g = s("g", { transform: "scale(1 -1)" });
  const order = (kind: string): number => (kind === "building" ? 2 : kind === "paving" ? 1 : 0);
  const areas = Object.values(items(p, "areas")).filter((a) => a.status !== "remove");
  for (const a of areas.sort((x, y) => order(x.kind) - order(y.kind)))
    g.append(
      s("path", { d: ringsPath([a.outline, ...(a.holes ?? [])]), class: `yard-ground yard-${a.kind}` }),
    );
  return g;
}

/** The names of what one sees from afar, where they have room. */
function areaNames(p: Plan, b: Bounds, size: number): SVGTextElement[] {
  return Object.values(items(p, "areas")).flatMap((a) => {
    if ((a.kind !== "building" && a.kind !== "paving") || a.status === "remove") return [];
    const ring = ringOf(a.outline, 1);
    const own = boundsOf(ring);
    if (!own) return [];
    const [x0, x1] = [Math.max(own.minX, b.minX), Math.min(own.maxX, b.maxX)];
    const [y0, y1] = [Math.max(own.minY, b.minY), Math.min(own.maxY, b.maxY)];
    const at: Point = [(x0 + x1) / 2, (y0 + y1) / 2];
    const font = size / 34;
    const fits = x1 - x0 > font * 0.6 * a.name.length && y1 - y0 > font * 1.4;
    if (!fits || !ringHolds(ring, at)) return [];
    return [s("text", { x: at[0], y: -at[1], "font-size": font, class: "yard-tag yard-area-name" }, a.name)];
  });
}

/** All the corners and heads of a plan. */
function everything(p: Plan): Point[] {
  const corners = Object.values(items(p, "areas")).flatMap((a) => a.outline.map(place));
  return [...corners, ...Object.values(items(p, "heads")).map(headAt)];
}

const least = 8; // feet: nothing is drawn closer than so much ground across

function frame(p: Plan, shown: Shown): Bounds | null {
  const b = boundsOf(shown.around && shown.around.length > 0 ? shown.around : everything(p));
  if (!b) return null;
  const grown = growBounds(b, shown.margin ?? 2);
  const short = Math.max(0, least - Math.max(grown.maxX - grown.minX, grown.maxY - grown.minY));
  return growBounds(grown, short / 2);
}

/** The picture; null where nothing is drawn. */
export function picture(p: Plan, shown: Shown): SVGSVGElement | null {
  const b = frame(p, shown);
  if (!b) return null;
  const [w, hgt] = [b.maxX - b.minX, b.maxY - b.minY];
  const size = Math.max(w, hgt);
  const el = s("svg", {
    class: "yard-map",
    role: "img",
    "aria-label": shown.title,
    viewBox: `${b.minX} ${-b.maxY} ${w} ${hgt}`,
  });
  el.style.setProperty("--unit", `${size / 100}px`);
  el.append(outlines(p), ...areaNames(p, b, size));
  const head = shown.head === undefined ? undefined : find(p, "heads", shown.head);
  if (head) {
    const nozzle = find(p, "nozzles", head.nozzle);
    const throwFt = head.throw_ft ?? (nozzle ? ownThrow(nozzle) : 10);
    const d = patternPath(patternOf(head, nozzle, throwFt), headAt(head));
    el.append(s("g", { transform: "scale(1 -1)" }, s("path", { d, class: "yard-arc" })));
  }
  const r = size / 75;
  const wide = Math.min(size / 28, 0.47 * apart(shown.dots.filter((d) => d.inside).map((d) => d.at)));
  for (const dot of shown.dots) {
    const circle = s("circle", {
      cx: dot.at[0],
      cy: -dot.at[1],
      r: dot.inside ? wide : dot.cls.includes("here") ? r * 1.6 : r,
      class: dot.cls,
    });
    if (dot.fill) circle.style.fill = dot.fill;
    el.append(circle);
    if (!dot.inside) continue;
    const at = { x: dot.at[0], y: -dot.at[1], "font-size": wide * 0.95, class: "yard-within" };
    const text = s("text", at, dot.inside);
    if (dot.ink) text.style.fill = dot.ink;
    el.append(text);
  }
  for (const dot of shown.dots)
    if (dot.text)
      el.append(
        s(
          "text",
          {
            x: dot.at[0],
            y: -dot.at[1] - r * (dot.cls.includes("here") ? 2.4 : 1.9),
            "font-size": size / (dot.cls.includes("here") ? 20 : 30),
            class: "yard-tag",
          },
          dot.text,
        ),
      );
  return el;
}

/** The least distance between two of some points, in feet. */
function apart(all: readonly Point[]): number {
  let least = Infinity;
  all.forEach((a, i) => {
    for (const b of all.slice(i + 1)) least = Math.min(least, Math.hypot(a[0] - b[0], a[1] - b[1]));
  });
  return least;
}

/** The heads of a plan as dots, one of them where one is. */
export function headDots(p: Plan, here: string, done: (id: string) => boolean): Dot[] {
  const all = Object.entries(items(p, "heads")).filter(([, x]) => x.status !== "remove");
  return all
    .sort(([a], [b]) => Number(a === here) - Number(b === here))
    .map(([id, x]) => ({
      at: headAt(x),
      text: id === here ? (x.tag ?? "") : undefined,
      cls: `yard-head${id === here ? " here" : done(id) ? " done" : ""}`,
    }));
}
