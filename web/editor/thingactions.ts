// Commands on what is selected: copy, delete, corners, arcs and throws.

import type { Action, CommandID } from "./commands";
import type { Drawing } from "./drawing";
import {
  addCorner,
  addHole,
  type Clip,
  copyThings,
  deleteThings,
  dropHole,
  pasteThings,
  removeCorner,
  setBulge,
  setLocked,
} from "./edit";
import { shortLength } from "./format";
import { minus, type Point, times } from "./geometry";
import { type Grip, gripsOf } from "./grips";
import { drop, find, type Head, type Nozzle, type Plan, parts, put, type Ref } from "./model";
import { nameOf, namesOf } from "./names";
import { setThrow, tableThrow, throwOf, turnHead, widenHead } from "./pattern";
import { bulgeOf } from "./shape";
import { allThings, areaAround, boundsOfAll, drawn, isDrawn, isLocked, ringsOf } from "./things";
import { brokenRing } from "./tools/grasp";

let clip: Clip | null = null;

/** The thing that has the keyboard's focus. */
export function chosen(d: Drawing): Ref | null {
  const el = document.activeElement;
  const at = el instanceof SVGElement && d.dom.svg.contains(el) ? el.dataset.ref : undefined;
  return (at as Ref | undefined) ?? null;
}

const selected = (d: Drawing): Ref[] => [...d.board.selection].filter((r) => isDrawn(parts(r)[0]));
const free = (d: Drawing): Ref[] => selected(d).filter((r) => !isLocked(d.board.plan, r));

const needsSelection = (d: Drawing): true | string =>
  selected(d).length > 0 ? true : "Select something first.";
const needsFree = (d: Drawing): true | string =>
  selected(d).length === 0
    ? "Select something first."
    : free(d).length > 0
      ? true
      : "What is selected is locked. Unlock it first.";

export function actionsOnThings(d: Drawing) {
  return { ...copies(d), ...choices(d), ...handles(d), ...heads(d) };
}

function copies(d: Drawing) {
  return {
    "edit.copy": {
      enabled: () => needsSelection(d),
      run: () => {
        clip = copyThings(d.board.plan, selected(d));
        d.board.announce(`Copied ${namesOf(d.board.plan, selected(d))}.`);
      },
    },
    "edit.paste": {
      enabled: () => (clip ? true : "Copy something first."),
      run: () => paste(d),
    },
    "edit.duplicate": {
      enabled: () => needsSelection(d),
      run: () => {
        const refs = selected(d);
        const step = Math.max(d.grid.snap, 2);
        const [plan, made] = pasteThings(d.board.committed, copyThings(d.board.committed, refs), [
          step,
          -step,
        ]);
        const label = `Duplicate ${namesOf(d.board.committed, refs)}`;
        d.commit(label, plan, { select: made, say: `${label}: done.` });
      },
    },
    "edit.delete": {
      enabled: () => (d.inHand?.kind === "corner" ? true : needsFree(d)),
      run: () => remove(d),
    },
    "edit.makehole": {
      enabled: () => holeReason(d),
      run: () => makeHole(d),
    },
    "edit.lock": {
      enabled: () => {
        const can = selected(d).some((r) => ["areas", "heads"].includes(parts(r)[0]));
        return can ? true : "Select an area or a head first.";
      },
      on: () => selected(d).length > 0 && free(d).length === 0,
      run: () => {
        const refs = selected(d);
        const lock = free(d).length > 0;
        const label = `${lock ? "Lock" : "Unlock"} ${namesOf(d.board.committed, refs)}`;
        d.commit(label, setLocked(d.board.committed, refs, lock), { say: `${label}: done.` });
      },
    },
  } satisfies Partial<Record<CommandID, Action>>;
}

/** The middle of the copies comes to the pointer, on the grid if there is one; else a step beside the originals. */
function paste(d: Drawing): void {
  if (!clip) return;
  const base = d.board.committed;
  const [trial, there] = pasteThings(base, clip, [0, 0]);
  const b = boundsOfAll(trial, there);
  const step = d.grid.snap;
  const at = d.pointing.aim?.at;
  const to: Point | null = b && at ? minus(at, [(b.minX + b.maxX) / 2, (b.minY + b.maxY) / 2]) : null;
  const by: Point = to
    ? times([Math.round(to[0] / step), Math.round(to[1] / step)], step)
    : [2 * step, -2 * step];
  const [plan, made] = pasteThings(base, clip, by);
  const label = `Paste ${namesOf(plan, made)}`;
  d.commit(label, plan, { select: made, say: `${label}: done.` });
}

/** Deletes the corner in hand, else what is selected. */
function remove(d: Drawing): void {
  const grip = d.inHand;
  if (grip?.kind === "corner") removeGrip(d, grip);
  else removeThings(d);
}

function removeThings(d: Drawing): void {
  const base = d.board.committed;
  const refs = free(d);
  const locked = selected(d).length - refs.length;
  const label = `Delete ${namesOf(base, refs)}`;
  const left = locked > 0 ? ` ${locked} locked left alone.` : "";
  d.commit(label, deleteThings(base, refs), { select: [], say: `${label}: done.${left}` });
}

function removeGrip(d: Drawing, g: Grip): void {
  const base = d.board.committed;
  const next = removeCorner(base, g.ref, g.ring, g.index);
  if (next && !brokenRing(next, g.ref, g.ring)) {
    d.commit(`Take out a corner of ${nameOf(base, g.ref)}`, next, { say: "Corner taken out." });
  } else if (!next && g.ring > 0) {
    d.commit(`Close a hole of ${nameOf(base, g.ref)}`, dropHole(base, parts(g.ref)[1], g.ring - 1), {
      say: "Hole closed.",
    });
  } else {
    const why = next
      ? "Without this corner the outline would cross itself."
      : "An outline needs its last three corners; a line its last two.";
    d.board.show({ kind: "hint", sentence: `${why} Delete the whole thing instead, or move the corner.` });
  }
  d.hold(null);
}

function holeReason(d: Drawing): true | string {
  const [only, more] = selected(d);
  if (!only || more || parts(only)[0] !== "areas") return "Select one area that lies inside another.";
  const around = areaAround(d.board.plan, ringsOf(d.board.plan, only)[0] ?? [], only);
  return around ? true : "This area does not lie wholly inside another.";
}

function makeHole(d: Drawing): void {
  const base = d.board.committed;
  const [inner] = selected(d);
  const outline = inner ? (ringsOf(base, inner)[0] ?? []) : [];
  const around = inner ? areaAround(base, outline, inner) : null;
  if (!inner || !around) return;
  const plan = addHole(drop(base, "areas", parts(inner)[1]), parts(around)[1], outline);
  d.commit(`Make ${nameOf(base, inner)} a hole of ${nameOf(base, around)}`, plan, {
    select: [around],
    say: "Hole made.",
  });
}

function choices(d: Drawing) {
  const go = (by: 1 | -1) => () => step(d, by);
  const some = () => (allThings(d.board.plan).length > 0 ? true : "There is nothing drawn yet.");
  return {
    "edit.all": {
      enabled: some,
      run: () => {
        const refs = allThings(d.board.plan).filter((r) => !isLocked(d.board.plan, r));
        d.board.select(refs);
        d.board.announce(`${namesOf(d.board.plan, refs)} selected.`);
        if (d.toolName !== "select") d.takeUp("select");
      },
    },
    "edit.next": { enabled: some, run: go(1) },
    "edit.previous": { enabled: some, run: go(-1) },
  } satisfies Partial<Record<CommandID, Action>>;
}

const natural = new Intl.Collator("en", { numeric: true });

/** All things in the order a list of them would have: grounds first, heads by tag last. */
function inOrder(p: Plan): Ref[] {
  const rank = (r: Ref) => (drawn as readonly string[]).indexOf(parts(r)[0]);
  return allThings(p).sort((a, b) => rank(a) - rank(b) || natural.compare(nameOf(p, a), nameOf(p, b)));
}

/** Moves focus and selection to the next thing. */
function step(d: Drawing, by: 1 | -1): void {
  const all = inOrder(d.board.plan);
  const now = chosen(d) ?? selected(d)[0] ?? null;
  const at = now ? all.indexOf(now) : by === 1 ? -1 : all.length;
  const next = all[(at + by + all.length) % all.length];
  if (!next) return;
  d.stop = next;
  d.board.select([next]);
  d.board.lookAt({ about: [next], gentle: true });
  d.dom.svg.querySelector<SVGElement>(`[data-ref="${CSS.escape(next)}"]`)?.focus({ preventScroll: true });
}

function handles(d: Drawing) {
  const has = (): true | string => (d.grips.length > 0 ? true : "Select one thing that is not locked.");
  const go = (by: 1 | -1) => () => {
    const all = d.grips;
    const now = d.inHand;
    const at = now ? all.findIndex((g) => g.name === now.name && g.ring === now.ring) : by === 1 ? -1 : 0;
    d.hold(all[(at + by + all.length) % all.length] ?? null);
  };
  return {
    "edit.grip": { enabled: has, run: go(1) },
    "edit.gripback": { enabled: has, run: go(-1) },
    "edit.corner": { enabled: () => edgeReason(d), run: () => insert(d) },
    "edit.bow": { enabled: () => edgeReason(d), run: () => bow(d) },
  } satisfies Partial<Record<CommandID, Action>>;
}

const edgeReason = (d: Drawing): true | string => {
  const kind = d.inHand?.kind;
  return kind === "middle" || kind === "corner"
    ? true
    : "Take an edge in hand first: select a shape, then E.";
};

function insert(d: Drawing): void {
  const g = d.inHand;
  if (!g) return;
  const base = d.board.committed;
  const next = addCorner(base, g.ref, g.ring, g.index);
  d.commit(`Add a corner to ${nameOf(base, g.ref)}`, next, { say: "Corner added." });
  const made = gripsOf(next, g.ref, d.board.design).find(
    (k) => k.kind === "corner" && k.ring === g.ring && k.index === g.index + 1,
  );
  d.hold(made ?? null);
}

/** The bulge an edge first gets: an arc of about 60 degrees. */
const FIRST_BULGE = 0.25;

function bow(d: Drawing): void {
  const g = d.inHand;
  if (!g) return;
  const base = d.board.committed;
  const corner = ringsOf(base, g.ref)[g.ring]?.[g.index];
  const straight = !corner || bulgeOf(corner) === 0;
  const next = setBulge(base, g.ref, g.ring, g.index, straight ? FIRST_BULGE : 0);
  if (brokenRing(next, g.ref, g.ring)) {
    d.board.show({
      kind: "hint",
      sentence: "Bowed, this edge would cross another. Make room first, or pull its middle the other way.",
    });
    return;
  }
  d.commit(`${straight ? "Bow" : "Straighten"} an edge of ${nameOf(base, g.ref)}`, next, {
    say: straight ? "Bowed. Type a radius, or pull its middle." : "Straight.",
  });
}

/** How far the head commands turn and how much they lengthen. */
const TURN_DEG = 15;

function heads(d: Drawing) {
  const some = (): true | string => {
    const own = free(d).filter((r) => parts(r)[0] === "heads");
    return own.length > 0 ? true : "Select a head that is not locked.";
  };
  const each = (
    label: string,
    key: string,
    change: (h: Head, n: Nozzle | undefined, id: string) => Head,
  ): Action => ({
    enabled: some,
    run: () => {
      let next: Plan = d.board.committed;
      const refs = free(d).filter((r) => parts(r)[0] === "heads");
      for (const r of refs) {
        const [, id] = parts(r);
        const h = find(next, "heads", id);
        if (h) next = put(next, "heads", id, change(h, find(next, "nozzles", h.nozzle), id));
      }
      d.commit(`${label} ${namesOf(next, refs)}`, next, {
        merge: `${key} ${refs.join(" ")}`,
        say: headSay(d, next, refs),
      });
    },
  });
  const foot = () => (d.board.plan.show === "metric" ? 0.5 / 0.3048 : 1);
  const longer = (by: 1 | -1) => (h: Head, n: Nozzle | undefined, id: string) => {
    const table = tableThrow(n, d.board.design, id);
    return setThrow(h, n, table, throwOf(h, n, d.board.design, id) + by * foot());
  };
  return {
    "head.left": each("Turn", "turn", (h) => turnHead(h, TURN_DEG)),
    "head.right": each("Turn", "turn", (h) => turnHead(h, -TURN_DEG)),
    "head.narrower": each("Narrow the arc of", "widen", (h, n) => widenHead(h, n, -TURN_DEG)),
    "head.wider": each("Widen the arc of", "widen", (h, n) => widenHead(h, n, TURN_DEG)),
    "head.shorter": each("Shorten the throw of", "throw", longer(-1)),
    "head.longer": each("Lengthen the throw of", "throw", longer(1)),
  } satisfies Partial<Record<CommandID, Action>>;
}

function headSay(d: Drawing, plan: Plan, refs: readonly Ref[]): string {
  const [first] = refs;
  const h = first ? find(plan, "heads", parts(first)[1]) : undefined;
  if (!first || !h) return "";
  const feet = throwOf(h, find(plan, "nozzles", h.nozzle), d.board.design, parts(first)[1]);
  return `Arc ${Math.round(h.sweep_deg ?? 360)} degrees from ${Math.round(h.start_deg ?? 0)}, throw ${shortLength(feet, plan.show)}.`;
}
