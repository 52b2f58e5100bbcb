// What was built, thing by thing: where it was drawn, or moved to where it was found,
// by so much this way or by two tapes from fixed corners.

import { button, h } from "../dom";
import { lengthText } from "../format";
import { distance, type Point } from "../geometry";
import { find, ids, items, type Spot } from "../model";
import { count } from "../names";
import { place } from "../shape";
import { goTo } from "./goto";
import { type Dot, picture } from "./map";
import { measures } from "./measures";
import { moveBy, tapes } from "./moving";
import { photoButton } from "./photobutton";
import { builtOf, dropBuilt, type Placed, setBuilt, spotOf } from "./records";
import { type Part as SectionPart, stepIn } from "./sections";
import type { Yard } from "./session";
import { column, figure, line, remade, type Screen, words } from "./ui";

const kinds: readonly { readonly c: Placed; readonly name: string; readonly says: string }[] = [
  { c: "zones", name: "Valve", says: "valves" },
  { c: "boxes", name: "Splice box", says: "splice boxes" },
  { c: "sleeves", name: "Sleeve", says: "sleeves" },
  { c: "heads", name: "Head", says: "heads" },
];

interface Thing {
  readonly c: Placed;
  readonly id: string;
}

export class AsBuilt implements SectionPart {
  readonly id = "built";
  readonly title = "As built";

  constructor(readonly yard: Yard) {}

  /** Things that were built and whose place can be noted: valves first, for they are looked for the most. */
  #things(): Thing[] {
    const { plan } = this.yard;
    return kinds.flatMap(({ c }) =>
      ids(plan, c)
        .filter((id) => spotOf(plan, c, id) !== undefined && find(plan, c, id)?.status !== "remove")
        .map((id) => ({ c, id })),
    );
  }

  #keys(): string[] {
    return this.#things().map((t) => `${t.c}/${t.id}`);
  }

  left(): string {
    const all = this.#things();
    if (all.length === 0) return "";
    const left = all.filter((t) => !builtOf(this.yard.plan, t.c, t.id)).length;
    return left === 0 ? "done" : `${left} left`;
  }

  at(item: string): string {
    const all = this.#things();
    if (this.#keys().includes(item)) return item;
    const next = all.find((t) => !builtOf(this.yard.plan, t.c, t.id)) ?? all[0];
    return next ? `${next.c}/${next.id}` : "";
  }

  made(): string {
    return "";
  }

  #name({ c, id }: Thing): string {
    const { plan } = this.yard;
    if (c === "zones") {
      const z = find(plan, "zones", id);
      return `Valve of zone ${[z?.station, z?.name].filter(Boolean).join(", ")}`;
    }
    if (c === "heads") return `Head ${find(plan, "heads", id)?.tag ?? "without a tag"}`;
    if (c === "boxes") return find(plan, "boxes", id)?.name || "Splice box";
    return `Sleeve ${ids(plan, "sleeves").indexOf(id) + 1}`;
  }

  open(item: string): Screen {
    const { yard } = this;
    const [c, id = ""] = item.split("/") as [Placed, string];
    if (id === "")
      return {
        ...line(
          "yard-lead",
          () => "Nothing of this plan stands in the ground yet: it has no heads, valves, boxes or sleeves.",
        ),
        acts: () => ({}),
      };
    const thing = { c, id };
    const name = () => this.#name(thing);
    const built = () => builtOf(yard.plan, c, id);
    const go = (to: string | null): void => {
      if (to !== null) yard.go({ section: "built", item: to });
    };
    const put = (at?: Spot, to?: Spot): void => {
      const label = at || to ? `Where ${lower(name())} was found` : `${name()} stands as drawn`;
      yard.step(label, setBuilt(yard.plan, c, id, { on: yard.today }, at, to));
    };
    const note = (what: string, change: { depth_in?: number; note?: string }): void =>
      yard.step(
        `${what} of ${lower(name())}`,
        setBuilt(yard.plan, c, id, { on: built()?.on ?? yard.today, ...change }),
      );
    // Of a sleeve each end is told by itself.
    const views = () => (yard.view?.built ?? []).filter((b) => b.ref === refOf(thing));
    const spot = () => spotOf(yard.plan, c, id);
    const part = column(
      "yard-one",
      line("yard-says", () => this.#counted()),
      line("yard-title", name, "h2"),
      remade(
        "",
        () => [views(), built()],
        () => {
          const b = built();
          if (!b) return [h("p", {}, "Not measured yet.")];
          const all = views();
          const moved = all.map((v) => v.moved).filter(Boolean);
          return [
            h(
              "p",
              { class: "yard-was-done" },
              `Found on ${b.on}. ${moved.length > 0 ? `It is ${moved.join("; the other end ")}.` : "It stands as drawn."}`,
            ),
            ...all.filter((v) => v.dims).map((v) => h("p", {}, `${v.what}: ${v.dims}`)),
            button("Take this back: as drawn, not measured", "yard-big", () =>
              yard.step(`Take back where ${lower(name())} was found`, dropBuilt(yard.plan, c, id)),
            ),
          ];
        },
      ),
      remade(
        "yard-picture",
        () => [spot(), yard.plan.areas, built()],
        () => this.#map(thing),
      ),
      c === "sleeves"
        ? column(
            "",
            moveBy(yard, `built/${item}/from`, "One end was moved", spot, (at) => put(at)),
            moveBy(
              yard,
              `built/${item}/to`,
              "The other end was moved",
              () => find(yard.plan, "sleeves", id)?.to,
              (to) => put(undefined, to),
            ),
          )
        : column(
            "",
            moveBy(yard, `built/${item}`, "It was moved", spot, (at) => put(at)),
            tapes(
              yard,
              `built/${item}`,
              () => built()?.was ?? spot(),
              spot,
              (at) => put(at),
            ),
          ),
      column(
        "yard-fields",
        figure(yard, measures.under, {
          key: `built/${item}/depth`,
          label: "Its top lies under the ground by",
          what: `depth of ${lower(name())}`,
          get: () => built()?.depth_in,
          set: (depth_in) => note("Depth", { depth_in }),
        }),
        words(yard, {
          key: `built/${item}/note`,
          label: "Note",
          what: `note on ${lower(name())}`,
          get: () => built()?.note,
          set: (text) => note("Note", { note: text }),
        }),
      ),
      photoButton(yard, refOf(thing), name),
      goTo(
        "All things",
        () => this.#rows(),
        () => item,
        go,
      ),
    );
    return {
      ...part,
      acts: () => {
        const all = this.#keys();
        const [back, next] = [stepIn(all, item, -1), stepIn(all, item, 1)];
        const stands = (): void => {
          put();
          go(next);
        };
        return {
          main: built() ? null : { label: "It stands as drawn", run: stands },
          back: back === null ? null : { label: "Back", run: () => go(back) },
          next: next === null ? null : { label: "Next", run: () => go(next) },
        };
      },
    };
  }

  #counted(): string {
    const all = this.#things();
    const left = all.filter((t) => !builtOf(this.yard.plan, t.c, t.id)).length;
    return left === 0 ? "All are measured." : `${count(left, "thing")} of ${all.length} not measured yet`;
  }

  #rows() {
    return this.#things().map((t) => {
      const b = builtOf(this.yard.plan, t.c, t.id);
      const v = (this.yard.view?.built ?? []).find((x) => x.ref === refOf(t));
      return {
        item: `${t.c}/${t.id}`,
        title: this.#name(t),
        says: b ? v?.moved || (b.was || b.was_to ? "moved" : "as drawn") : "",
        done: b !== undefined,
      };
    });
  }

  #map(t: Thing): Node[] {
    const { plan } = this.yard;
    const s = spotOf(plan, t.c, t.id);
    if (!s) return [];
    const at: Point = [s.x_ft, s.y_ft];
    const was = builtOf(plan, t.c, t.id)?.was;
    const other = t.c === "sleeves" ? find(plan, "sleeves", t.id)?.to : undefined;
    const near = corners(this.yard, was ? [was.x_ft, was.y_ft] : at);
    const dots: Dot[] = [
      ...near.map((k): Dot => ({ at: k.at, text: k.name, cls: "yard-corner" })),
      ...(was ? [{ at: [was.x_ft, was.y_ft] as Point, text: "drawn", cls: "yard-was" }] : []),
      ...(other ? [{ at: [other.x_ft, other.y_ft] as Point, text: "other end", cls: "yard-head here" }] : []),
      { at, text: "here", cls: "yard-head here" },
    ];
    const svg = picture(plan, {
      title: `Where ${lower(this.#name(t))} is, with the corners next to it: ${near.map((k) => `${k.name} ${lengthText(distance(k.at, at), plan.show)} away`).join(", ")}`,
      dots,
      around: dots.map((d) => d.at),
      margin: 6,
    });
    return svg ? [svg as unknown as Node] : [];
  }
}

const lower = (name: string): string => name.charAt(0).toLowerCase() + name.slice(1);

/** The thing as photographs and the server name it. */
const refOf = ({ c, id }: Thing): string => `${c}/${id}`;

/** A corner that a tape can be hooked to. */
export interface Corner {
  readonly name: string;
  readonly at: Point;
}

/** How many corners are offered: few enough to be lettered on the picture (chosen). */
const MOST_CORNERS = 4;

/** The corners of buildings and paving next to a place, lettered by how near they are. */
export function corners(yard: Yard, at: Point): Corner[] {
  const fixed = Object.values(items(yard.plan, "areas")).filter(
    (a) => (a.kind === "building" || a.kind === "paving") && a.status !== "remove",
  );
  const all = fixed.flatMap((a) => a.outline.map(place));
  return all
    .sort((a, b) => distance(a, at) - distance(b, at))
    .filter((p, i, list) => list.findIndex((q) => distance(p, q) < 0.5) === i)
    .slice(0, MOST_CORNERS)
    .map((p, i) => ({ name: String.fromCharCode(65 + i), at: p }));
}
