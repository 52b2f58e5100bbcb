// The picture under the drawing: where its pixels lie on the plan, and how a
// distance known on it gives its scale, checks it, or levels it. Pure plane
// geometry of one similarity: pixels run right and down from the upper left
// corner of the picture as it is shown, feet run east and north.

import { METRES_A_FOOT } from "./conversions";
import { lengthText } from "./format";
import { distance, middle, type Point, rotateAbout } from "./geometry";
import { FARTHEST_FT, type Read, read, refuse } from "./length";
import type { KnownLength, PicturePoint, System, Underlay } from "./model";

/** A picture of a property is no smaller and no larger than this across, in feet (chosen). */
const LEAST_ACROSS_FT = 1;
const MOST_ACROSS_FT = 20_000;

/** The most the document takes, in feet to a pixel (internal/plan, pictureRes). */
const MOST_FT_A_PX = 1_000;

/** Places nearer than this are one place: no hand points at two so close, in pixels. */
const LEAST_PX = 3;

type Sized = Underlay & { width_px: number; height_px: number };

/** Whether the size of the picture is known: without it, it lies nowhere. */
export const isSized = (u: Underlay): u is Sized => !!u.width_px && !!u.height_px;

/** The place on the plan of a place on the picture. */
export function onPlan(u: Sized, p: PicturePoint): Point {
  const k = u.ft_per_px;
  const level: Point = [u.x_ft + p.x_px * k, u.y_ft + (u.height_px - p.y_px) * k];
  return rotateAbout(level, [u.x_ft, u.y_ft], u.rotate_deg ?? 0);
}

/** The place on the picture of a place on the plan, to a hundredth of a pixel. */
export function onPicture(u: Sized, at: Point): PicturePoint {
  const [x, y] = rotateAbout(at, [u.x_ft, u.y_ft], -(u.rotate_deg ?? 0));
  const k = u.ft_per_px;
  return { x_px: hundredth((x - u.x_ft) / k), y_px: hundredth(u.height_px - (y - u.y_ft) / k) };
}

const hundredth = (n: number): number => Math.round(n * 100) / 100 + 0;
const tidy = (n: number): number => Math.round(n * 1e6) / 1e6 + 0;

/** The corners on the plan: lower left, lower right, upper right, upper left. */
export function frameOf(u: Underlay): [Point, Point, Point, Point] | null {
  if (!isSized(u)) return null;
  const [w, h] = [u.width_px, u.height_px];
  return [
    onPlan(u, { x_px: 0, y_px: h }),
    onPlan(u, { x_px: w, y_px: h }),
    onPlan(u, { x_px: w, y_px: 0 }),
    onPlan(u, { x_px: 0, y_px: 0 }),
  ];
}

/** Whether a place on the plan lies on the picture. */
export const frameHolds = (u: Underlay, at: Point): boolean => isSized(u) && isOn(u, onPicture(u, at));

const isOn = (u: Sized, p: PicturePoint): boolean =>
  p.x_px >= 0 && p.y_px >= 0 && p.x_px <= u.width_px && p.y_px <= u.height_px;

const middleOf = (u: Sized): PicturePoint => ({ x_px: u.width_px / 2, y_px: u.height_px / 2 });

/** The distance between two places on the picture, in pixels. */
export const pixelsOf = (k: Pick<KnownLength, "from" | "to">): number =>
  Math.hypot(k.to.x_px - k.from.x_px, k.to.y_px - k.from.y_px);

/** What a distance on the picture measures by its scale, in feet. */
export const measured = (u: Underlay, k: Pick<KnownLength, "from" | "to">): number =>
  pixelsOf(k) * u.ft_per_px;

/** The picture moved so that one of its places lies at a place of the plan. */
function pinned(u: Sized, p: PicturePoint, at: Point): Sized {
  const now = onPlan(u, p);
  return { ...u, x_ft: tidy(u.x_ft + at[0] - now[0]), y_ft: tidy(u.y_ft + at[1] - now[1]) };
}

const unsized = "The picture has not been shown yet, so its size is not known. Wait until it is.";
const samePlace = "Both places are the same. Point at two that are far apart: the longer, the truer.";

/** Two places on the picture and a distance that can be between them; the sentence when not. */
function checkKnown(u: Sized, k: KnownLength): string | null {
  if (![k.from.x_px, k.from.y_px, k.to.x_px, k.to.y_px].every(Number.isFinite))
    return "A place on the picture needs two numbers: pixels from the left, pixels from the top.";
  if (!isOn(u, k.from) || !isOn(u, k.to))
    return `A place lies beside the picture, which has ${u.width_px} × ${u.height_px} pixels. Point at two places on it.`;
  if (pixelsOf(k) < LEAST_PX) return samePlace;
  if (!Number.isFinite(k.distance_ft) || k.distance_ft <= 0)
    return "The distance must be more than zero. Type what was measured, such as 32 ft or 10 m.";
  return null;
}

/**
 * The picture scaled so that a known distance is as long as it is. The place it
 * is taken from stays where it is on the plan; the picture is then locked, so
 * that drawing over it does not shift it. A scale no property has is refused.
 */
export function scaled(u: Underlay, k: KnownLength, show: System): Read<Underlay> {
  if (!isSized(u)) return refuse(unsized);
  const wrong = checkKnown(u, k);
  if (wrong) return refuse(wrong);
  const ft_per_px = k.distance_ft / pixelsOf(k);
  const across = Math.max(u.width_px, u.height_px) * ft_per_px;
  if (across < LEAST_ACROSS_FT || across > MOST_ACROSS_FT || ft_per_px > MOST_FT_A_PX) {
    return refuse(
      `With ${smallText(k.distance_ft, show)} between these places the whole picture would be ${smallText(across, show)} across. Check the number and its unit.`,
    );
  }
  const next = pinned({ ...u, ft_per_px }, k.from, onPlan(u, k.from));
  if (Math.max(Math.abs(next.x_ft), Math.abs(next.y_ft)) > FARTHEST_FT)
    return refuse(
      "Scaled like this the picture would lie farther than 10 km off. Check the number and its unit.",
    );
  return read({ ...next, scaled_by: k, locked: true });
}

/** The picture with a second known distance to check it by. Nothing moves. */
export function checked(u: Underlay, k: KnownLength): Read<Underlay> {
  if (!isSized(u)) return refuse(unsized);
  if (!u.scaled_by) return refuse("Scale the picture first: there is nothing to check yet.");
  const wrong = checkKnown(u, k);
  return wrong ? refuse(wrong) : read({ ...u, checked_by: k });
}

/** Scaled by what checked it, and checked by what it was scaled by. */
export function swapped(u: Underlay, show: System): Read<Underlay> {
  if (!u.scaled_by || !u.checked_by) return refuse("There is no second distance to scale the picture by.");
  const next = scaled(u, u.checked_by, show);
  return next.ok ? read({ ...next.value, checked_by: u.scaled_by }) : next;
}

/** An angle between -180 (left out) and 180, without the dust of sums. */
function halfTurn(deg: number): number {
  const d = tidy(((deg % 360) + 360) % 360);
  return d > 180 ? d - 360 : d;
}

/** The picture turned to an angle, anticlockwise from upright, about one of its places (its middle). */
export function turnedTo(u: Underlay, deg: number, about?: PicturePoint): Read<Underlay> {
  if (!isSized(u)) return refuse(unsized);
  const at = about ?? middleOf(u);
  const { rotate_deg: _old, ...rest } = u;
  const angle = halfTurn(deg);
  const turned: Sized = angle === 0 ? rest : { ...rest, rotate_deg: angle };
  return read(pinned(turned, at, onPlan(u, at)));
}

/** The picture turned the least so that a line on it lies level, or upright when it is nearer to that. */
export function levelled(u: Underlay, from: PicturePoint, to: PicturePoint): Read<Underlay> {
  if (!isSized(u)) return refuse(unsized);
  if (pixelsOf({ from, to }) < LEAST_PX) return refuse(samePlace);
  // On the picture y runs down; anticlockwise is then the other way round.
  const slope = (Math.atan2(from.y_px - to.y_px, to.x_px - from.x_px) * 180) / Math.PI + (u.rotate_deg ?? 0);
  const square = Math.round(slope / 90) * 90;
  return turnedTo(u, (u.rotate_deg ?? 0) + square - slope, {
    x_px: (from.x_px + to.x_px) / 2,
    y_px: (from.y_px + to.y_px) / 2,
  });
}

/** A picture laid level in the middle of a piece of ground, not scaled yet and free to be moved. */
export function laidIn(
  picture: { sha256: string; width_px: number; height_px: number },
  ground: { minX: number; minY: number; maxX: number; maxY: number },
): Underlay {
  const share = 0.8; // of the ground on show, so that its edges are seen
  const [w, h] = [ground.maxX - ground.minX, ground.maxY - ground.minY];
  const ft_per_px = tidy(share * Math.min(w / picture.width_px, h / picture.height_px)) || 1e-6;
  const [x, y] = middle([ground.minX, ground.minY], [ground.maxX, ground.maxY]);
  const corner = [x - (picture.width_px * ft_per_px) / 2, y - (picture.height_px * ft_per_px) / 2] as const;
  return { ...picture, ft_per_px, x_ft: tidy(corner[0]), y_ft: tidy(corner[1]) };
}

/** Another file in the place of a picture. Of the same size, it keeps place and scale; else only its middle and width. */
export function replaced(u: Underlay, by: { sha256: string; width_px: number; height_px: number }): Underlay {
  if (u.width_px === by.width_px && u.height_px === by.height_px) return { ...u, sha256: by.sha256 };
  if (!isSized(u)) return { ...u, ...by };
  const { scaled_by: _by, checked_by: _check, locked: _lock, ...rest } = u;
  const next: Sized = { ...rest, ...by, ft_per_px: (u.ft_per_px * u.width_px) / by.width_px };
  return pinned(next, middleOf(next), onPlan(u, middleOf(u)));
}

/** How well a second distance agrees. */
export interface Check {
  /** What the picture says less what is known, in feet, and as a share of what is known. */
  readonly offFt: number;
  readonly share: number;
  readonly rank: "good" | "fair" | "poor";
  /** The judgement, in a sentence or two. */
  readonly says: string;
  /** The check is the longer of the two and would make the better scale. */
  readonly better: boolean;
}

/** A hand points to within this many pixels of the picture. */
const HAND_PX = 2;

/** Shares of error below which a check agrees, and below which it will do (chosen; half a percent is 6 in on 100 ft). */
const AGREES = 0.005;
const WILL_DO = 0.02;

/** What the second known distance says of the first; null without both. */
export function checkOf(u: Underlay): Check | null {
  const { scaled_by: by, checked_by: k } = u;
  if (!by || !k) return null;
  const offFt = measured(u, k) - k.distance_ft;
  const share = offFt / k.distance_ft;
  const off = Math.abs(share);
  const hand = Math.min(0.01, HAND_PX / pixelsOf(by) + HAND_PX / pixelsOf(k));
  const better = pixelsOf(k) > 1.2 * pixelsOf(by);
  if (off <= Math.max(AGREES, hand)) return { offFt, share, rank: "good", says: "The two agree.", better };
  if (off <= WILL_DO) {
    const says = "Near enough to lay heads out by. Measure on the ground what must fit.";
    return { offFt, share, rank: "fair", says, better };
  }
  const says = better
    ? "The picture leans, or a distance is wrong. Scale by the longer one, and measure on the ground what must fit."
    : "The picture leans, or a distance is wrong. Measure both again; a photograph taken at a slant is true only near the line it is scaled by.";
  return { offFt, share, rank: "poor", says, better };
}

/** A check in words: "3.1 % too long (7.4 in on 20' 0\"). …" */
export function checkText(u: Underlay, show: System): string {
  const c = checkOf(u);
  if (!c || !u.checked_by) return "";
  const percent = `${Math.abs(100 * c.share).toFixed(1)} %`;
  const inches = smallText(Math.abs(c.offFt), show);
  const way = c.offFt < 0 ? "too short" : "too long";
  const off =
    Math.abs(c.share) < 0.0005
      ? `0.0 % off`
      : `${percent} ${way} (${inches} on ${smallText(u.checked_by.distance_ft, show)})`;
  return `On the picture the check is ${off}. ${c.says}`;
}

/** How far one pixel off at each end would put the scale wrong, as a share. */
export const grain = (k: KnownLength): number => HAND_PX / pixelsOf(k);

/** A length as fine as the eye can use it: inches or centimetres where it is short. */
export function smallText(feet: number, show: System): string {
  if (Math.abs(feet) >= 2) return lengthText(feet, show);
  const [n, unit] = show === "metric" ? [feet * METRES_A_FOOT * 100, "cm"] : [feet * 12, "in"];
  return `${Math.abs(n) < 1 ? Number(n.toPrecision(2)) : Number(n.toFixed(1))} ${unit}`;
}

/** The size of the whole picture on the ground, in feet. */
export function sizeOf(u: Underlay): Point | null {
  const f = frameOf(u);
  return f ? [distance(f[0], f[1]), distance(f[0], f[3])] : null;
}
