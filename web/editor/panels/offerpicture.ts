// Small pictures of what is offered: the areas, the water where it is given, and
// the heads with what they wet.

import type { AnswerView, MapView, StandView } from "../arranging";
import type { Bounds, Point } from "../geometry";
import { count } from "../names";
import { patternOfStand, pictureBounds, standAt } from "../offershape";
import { hatched, type Pixels, pixels } from "../palette";
import { patternPath, pointsPath, s } from "../scene/svg";
import { theme } from "../theme";
import { bytes } from "../whatif";

export interface Pictured {
  readonly rings: readonly (readonly Point[])[];
  readonly heads: readonly StandView[];
  /** Heads as they were, drawn faintly. */
  readonly was?: readonly StandView[];
  /** Where other heads stand. */
  readonly others?: readonly Point[];
  readonly map?: MapView;
}

/** Draws areas and heads as large as fits; what it shows is said by its label. */
export function offerPicture(of: readonly Pictured[], label: string, within?: Bounds): SVGSVGElement {
  const rings = of.flatMap((p) => p.rings);
  const heads = of.flatMap((p) => p.heads);
  const b = within ?? pictureBounds(rings, heads);
  const [w, h] = [b.maxX - b.minX, b.maxY - b.minY];
  const dot = Math.max(w, h) / (heads.length > 60 ? 90 : 55);
  // North is up: the group is turned over, so that everything in it is in feet.
  const world = s("g", { transform: "scale(1 -1)" });
  for (const p of of) {
    if (p.map) world.append(mapImage(p.map));
    world.append(
      s("path", {
        class: p.map ? "offer-edge" : "offer-ground",
        d: p.rings.map((r) => pointsPath(r, true)).join(""),
      }),
    );
  }
  for (const p of of) {
    for (const [cx, cy] of p.others ?? [])
      world.append(s("circle", { class: "offer-other", cx, cy, r: (0.6 * dot).toFixed(3) }));
    for (const was of p.was ?? []) world.append(wedge(was, "offer-was"), spot(was, dot, "offer-was-head"));
    if (heads.length <= MOST_WEDGES) for (const head of p.heads) world.append(wedge(head, "offer-wet"));
    for (const head of p.heads)
      world.append(spot(head, dot, head.stays ? "offer-head offer-stays" : "offer-head"));
  }
  return s(
    "svg",
    {
      class: "offer-picture",
      role: "img",
      "aria-label": label,
      viewBox: [b.minX, -b.maxY, w, h].map((x) => x.toFixed(2)).join(" "),
      preserveAspectRatio: "xMidYMid meet",
    },
    world,
  );
}

const wedge = (h: StandView, cls: string): SVGElement =>
  s("path", { class: cls, d: patternPath(patternOfStand(h), standAt(h)) });

const spot = (h: StandView, r: number, cls: string): SVGElement =>
  s("circle", { class: cls, cx: h.x_ft, cy: h.y_ft, r: r.toFixed(3) });

/** With more heads than this what each wets would cover the picture. */
const MOST_WEDGES = 120;

/** With more areas than this a small picture has no room for their water. */
const MOST_MAPS = 8;

/** The picture of an offer with one layout for each of its areas. */
export function picksPicture(picks: readonly { answer: AnswerView; layout: number }[]): SVGSVGElement {
  const of = picks.map(({ answer, layout }): Pictured => {
    const l = answer.layouts[layout];
    const map = picks.length <= MOST_MAPS ? l?.map : undefined;
    return { rings: answer.rings, heads: l?.heads ?? [], map };
  });
  const says = picks.map(
    ({ answer, layout }) => `${count(answer.layouts[layout]?.heads.length ?? 0, "head")} on ${answer.name}`,
  );
  return offerPicture(of, `Plan of it: ${says.join(", ")}`);
}

const looks = new Map<string, Pixels>();
/** Maps as drawn, by what is in them: of the layouts that come while one is sought most come again. */
const drawn = new Map<string, string>();
const MOST_DRAWN = 200;

function drawMap(m: MapView): string {
  const t = theme();
  const key = `${t} ${m.nx} ${m.ny} ${m.cells}`;
  const known = drawn.get(key);
  if (known) return known;
  const look = looks.get(t) ?? pixels(t);
  looks.set(t, look);
  const canvas = document.createElement("canvas");
  canvas.width = Math.max(1, m.nx);
  canvas.height = Math.max(1, m.ny);
  const pen = canvas.getContext("2d");
  const cells = bytes(m.cells);
  if (pen && cells.length === m.nx * m.ny) {
    const image = new ImageData(m.nx, m.ny);
    const out = new Uint32Array(image.data.buffer);
    cells.forEach((b, i) => {
      const [x, y] = [i % m.nx, Math.floor(i / m.nx)];
      out[i] = (b > 200 && hatched(x, y) ? look.hatch[b] : look.plain[b]) as number;
    });
    pen.putImageData(image, 0, 0); // its first row is the southernmost: turned over, that lies at the foot
  }
  if (drawn.size >= MOST_DRAWN) drawn.clear();
  const url = canvas.toDataURL();
  drawn.set(key, url);
  return url;
}

/** The map as a picture of one pixel a cell, turned over as all else in the group. */
function mapImage(m: MapView): SVGElement {
  return s("image", {
    class: "offer-map",
    href: drawMap(m),
    x: m.x_ft,
    y: m.y_ft,
    width: m.nx * m.cell_ft,
    height: m.ny * m.cell_ft,
    preserveAspectRatio: "none",
  });
}
