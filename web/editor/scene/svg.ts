// SVG elements and path data. Geometry is in feet, north up: the world group's
// transform turns it over.

import { arcOf } from "../arcs";
import { type Point, polar } from "../geometry";
import type { Pattern } from "../pattern";
import { bulgeOf, type Corner, place } from "../shape";

const NS = "http://www.w3.org/2000/svg";

type Attrs = Readonly<Record<string, string | number | null | undefined>>;

/** Makes an SVG element. Names never become markup: they are only ever attributes and text nodes. */
export function s<K extends keyof SVGElementTagNameMap>(
  tag: K,
  attrs: Attrs = {},
  ...children: (Node | string)[]
): SVGElementTagNameMap[K] {
  const el = document.createElementNS(NS, tag);
  attr(el, attrs);
  el.append(...children);
  return el;
}

/** Sets attributes that differ; null takes one away. */
export function attr(el: Element, attrs: Attrs): void {
  for (const [name, v] of Object.entries(attrs)) {
    if (v === undefined) continue;
    if (v === null) {
      if (el.hasAttribute(name)) el.removeAttribute(name);
    } else if (el.getAttribute(name) !== String(v)) el.setAttribute(name, String(v));
  }
}

/** Four decimals of a foot are a thousandth of an inch. */
const n = (x: number): string => String(Math.round(x * 1e4) / 1e4);
const at = (p: Point): string => `${n(p[0])} ${n(p[1])}`;

/** Path data of an outline or a line, arcs as arcs. */
export function outlinePath(corners: readonly Corner[], closed: boolean): string {
  const first = corners[0];
  if (!first) return "";
  let d = `M${at(place(first))}`;
  const count = closed ? corners.length : corners.length - 1;
  for (let i = 0; i < count; i++) {
    const a = corners[i] as Corner;
    const b = corners[(i + 1) % corners.length] as Corner;
    d += edgePath(place(a), place(b), bulgeOf(a));
  }
  return closed ? `${d}Z` : d;
}

function edgePath(a: Point, b: Point, bulge: number): string {
  const arc = arcOf(a, b, bulge);
  if (!arc) return `L${at(b)}`;
  // In feet, y up, the sweep flag 1 means anticlockwise.
  const large = Math.abs(arc.sweepDeg) > 180 ? 1 : 0;
  return `A${n(arc.radius)} ${n(arc.radius)} 0 ${large} ${arc.sweepDeg > 0 ? 1 : 0} ${at(b)}`;
}

export function ringsPath(rings: readonly (readonly Corner[])[]): string {
  return rings.map((r) => outlinePath(r, true)).join("");
}

export function pointsPath(points: readonly Point[], closed: boolean): string {
  if (points.length === 0) return "";
  return `M${points.map(at).join("L")}${closed ? "Z" : ""}`;
}

export function circlePath(c: Point, r: number): string {
  return `M${at([c[0] + r, c[1]])}A${n(r)} ${n(r)} 0 1 1 ${at([c[0] - r, c[1]])}A${n(r)} ${n(r)} 0 1 1 ${at([c[0] + r, c[1]])}Z`;
}

/** The outline of what a head wets. */
export function patternPath(p: Pattern, centre: Point): string {
  if (p.shape === "strip") return pointsPath(p.corners, true);
  if (p.sweepDeg >= 360) return circlePath(centre, p.throwFt);
  const from = polar(centre, p.startDeg, p.throwFt);
  const to = polar(centre, p.startDeg + p.sweepDeg, p.throwFt);
  const large = p.sweepDeg > 180 ? 1 : 0;
  return `M${at(centre)}L${at(from)}A${n(p.throwFt)} ${n(p.throwFt)} 0 ${large} 1 ${at(to)}Z`;
}

/** Something of constant size on the screen, put at a place in feet. */
export const translate = (p: Point): string => `translate(${n(p[0])} ${n(p[1])})`;
