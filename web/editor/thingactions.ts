// Commands that choose among things, and those on corners, arcs and throws.

import { allHeads, sameKind } from "./choosing";
import type { Action, CommandID } from "./commands";
import { FEET_A_METRE } from "./conversions";
import { copies, free, selected } from "./copyactions";
import type { Drawing } from "./drawing";
import { addCorner, setBulge } from "./edit";
import { lengthText } from "./format";
import { gripsOf } from "./grips";
import { isTaken } from "./layers";
import { changeMany, find, type Head, type Nozzle, type Plan, parts, type Ref } from "./model";
import { capital, nameOf, namesOf, sortKey } from "./names";
import { setThrow, tableThrow, throwOf, turnHead, widenHead } from "./pattern";
import { bulgeOf } from "./shape";
import { allThings, drawn, isUnbowed, ringsOf } from "./things";
import { brokenRing } from "./tools/grasp";

/** The thing that has the keyboard's focus. */
export function chosen(d: Drawing): Ref | null {
  const el = document.activeElement;
  const at = el instanceof SVGElement && d.dom.svg.contains(el) ? el.dataset.ref : undefined;
  return (at as Ref | undefined) ?? null;
}

export function actionsOnThings(d: Drawing) {
  return { ...copies(d), ...choices(d), ...handles(d), ...heads(d) };
}

function choices(d: Drawing) {
  const go = (by: 1 | -1) => () => step(d, by);
  const some = () => (allThings(d.board.plan).length > 0 ? true : "There is nothing drawn yet.");
  return {
    "edit.all": {
      enabled: some,
      run: () => {
        take(
          d,
          allThings(d.board.plan).filter((r) => isTaken(d.board.plan, r, d.board.layers)),
        );
      },
    },
    "edit.allheads": {
      enabled: () =>
        allHeads(d.board.plan, d.board.layers).length > 0
          ? true
          : "There is no head in view that is not locked.",
      run: () => take(d, allHeads(d.board.plan, d.board.layers)),
    },
    "edit.samekind": {
      enabled: () => (selected(d).length > 0 ? true : "Select one of the kind first."),
      run: () => take(d, sameKind(d.board.plan, selected(d), d.board.layers)),
    },
    "edit.next": { enabled: some, run: go(1) },
    "edit.previous": { enabled: some, run: go(-1) },
  } satisfies Partial<Record<CommandID, Action>>;
}

function take(d: Drawing, refs: readonly Ref[]): void {
  if (d.toolName !== "select") d.takeUp("select");
  d.board.select(refs);
  d.board.announce(`${capital(namesOf(d.board.plan, refs))} selected.`);
}

/** All things in the order a list of them would have: grounds first, heads by tag last. */
function inOrder(p: Plan): Ref[] {
  const rank = (r: Ref) => (drawn as readonly string[]).indexOf(parts(r)[0]);
  const keyed = allThings(p).map((r) => ({ r, rank: rank(r), key: sortKey(nameOf(p, r)) }));
  keyed.sort((a, b) => a.rank - b.rank || (a.key < b.key ? -1 : a.key > b.key ? 1 : 0));
  return keyed.map(({ r }) => r);
}

/** Moves focus and selection to the next thing. */
function step(d: Drawing, by: 1 | -1): void {
  const all = inOrder(d.board.plan).filter((r) => !d.board.layers.hides(r));
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
    "edit.bow": { enabled: () => bowReason(d), run: () => bow(d) },
  } satisfies Partial<Record<CommandID, Action>>;
}

const edgeReason = (d: Drawing): true | string => {
  const kind = d.inHand?.kind;
  return kind === "middle" || kind === "corner"
    ? true
    : "Take an edge in hand first: select a shape, then E.";
};

const bowReason = (d: Drawing): true | string =>
  d.inHand && isUnbowed(parts(d.inHand.ref)[0])
    ? "A pipe or wire runs straight from corner to corner. Add corners to lead it round a bend."
    : edgeReason(d);

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
      const base = d.board.committed;
      const refs = free(d).filter((r) => parts(r)[0] === "heads");
      const own = refs.map((r) => parts(r)[1]);
      const next = changeMany(base, "heads", own, (h, id) => change(h, find(base, "nozzles", h.nozzle), id));
      d.commit(`${label} ${namesOf(next, refs)}`, next, {
        merge: `${key} ${refs.join(" ")}`,
        say: headSay(d, next, refs),
      });
    },
  });
  const foot = () => (d.board.plan.show === "metric" ? 0.5 * FEET_A_METRE : 1);
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
  return `Arc ${Math.round(h.sweep_deg ?? 360)} degrees from ${Math.round(h.start_deg ?? 0)}, throw ${lengthText(feet, plan.show)}.`;
}
