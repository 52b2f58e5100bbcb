// Commands that copy what is selected, take it out, lock it, or make a hole of
// it.

import { beside } from "./beside";
import { Clipboard, clipFor, type Held } from "./clipboard";
import type { Action, CommandID } from "./commands";
import { deletion } from "./deleting";
import type { Drawing } from "./drawing";
import {
  addHole,
  type Clip,
  copyThings,
  dropHole,
  isChosen,
  pasteThings,
  removeCorner,
  setLocked,
} from "./edit";
import { times } from "./geometry";
import type { Grip } from "./grips";
import { isFree } from "./layers";
import { canLock, whyLocked } from "./lockwords";
import { drop, parts, type Ref, takesMore } from "./model";
import { nameOf, namesOf } from "./names";
import { type Pasted, pasteWay } from "./pasting";
import { whyNeeded } from "./pipesgone";
import { areaAround, isDrawn, isLockable, isLocked, ringsOf } from "./things";
import { brokenRing } from "./tools/grasp";

const clipboard = new Clipboard(typeof localStorage === "undefined" ? null : localStorage);
/** What was copied in another plan, as this one takes it. */
let brought: { readonly held: Held; readonly clip: Clip } | null = null;
let pasted: Pasted | null = null;

/** What a paste would put down. */
function clipHere(d: Drawing): Clip | null {
  const { held } = clipboard;
  if (!held || held.from === d.board.id) return held?.clip ?? null;
  if (brought?.held !== held) brought = { held, clip: clipFor(d.board.committed, held.clip) };
  return brought.clip;
}

export const selected = (d: Drawing): Ref[] => [...d.board.selection].filter((r) => isDrawn(parts(r)[0]));
export const free = (d: Drawing): Ref[] => selected(d).filter((r) => isFree(d.board.plan, r, d.board.layers));

const needsMany = (d: Drawing): true | string => {
  if (selected(d).length === 0) return "Select something first.";
  const some = selected(d).some((r) => takesMore(parts(r)[0]) && isChosen(r));
  if (!some && selected(d).some((r) => !isChosen(r)))
    return "A joint is copied with its pipes: select those.";
  return some ? true : "There is only one of this on a plan.";
};
/** Whether anything of the selection would go, else why not. */
const canDelete = (d: Drawing): true | string => {
  if (selected(d).length === 0) return "Select something first.";
  const [only, more] = selected(d);
  if (free(d).length === 0) return whyLocked(d.board.plan, selected(d), d.board.layers);
  const [c, id] = only ? parts(only) : [];
  return (c === "nodes" && id && !more ? whyNeeded(d.board.plan, id) : null) ?? true;
};

/** Puts what a tool found on the clipboard; where the browser refuses, it is shown to be copied by hand. */
async function copyText(d: Drawing, text: string): Promise<void> {
  const flat = text.replace(/\n/g, ". ");
  try {
    await navigator.clipboard.writeText(text);
    d.board.announce(`Copied as text: ${flat}.`);
  } catch {
    d.board.show({
      kind: "hint",
      sentence: `This browser keeps the clipboard shut. Copy it from here: ${flat}.`,
    });
  }
}

export function copies(d: Drawing) {
  return {
    "edit.copy": {
      enabled: () => (d.tool.text(d.around) === null ? needsMany(d) : true),
      run: () => {
        const text = d.tool.text(d.around);
        if (text !== null) {
          void copyText(d, text);
          return;
        }
        const refs = selected(d).filter((r) => takesMore(parts(r)[0]));
        clipboard.put(d.board.id, copyThings(d.board.plan, refs));
        d.board.announce(`Copied ${namesOf(d.board.plan, refs)}.`);
      },
    },
    "edit.paste": {
      enabled: () => (clipboard.held ? true : "Copy something first, in this plan or another."),
      run: () => paste(d),
    },
    "edit.duplicate": {
      enabled: () => needsMany(d),
      run: () => {
        const base = d.board.committed;
        const refs = selected(d).filter((r) => takesMore(parts(r)[0]));
        const [plan, made] = pasteThings(base, copyThings(base, refs), beside(base, refs, d.grid.step));
        const label = `Duplicate ${namesOf(base, refs)}`;
        d.commit(label, plan, { select: made, say: `${label}: done.` });
      },
    },
    "edit.delete": {
      enabled: () => (d.inHand?.kind === "corner" ? true : canDelete(d)),
      run: () => remove(d),
    },
    "edit.makehole": {
      enabled: () => holeReason(d),
      run: () => makeHole(d),
    },
    "edit.lock": {
      enabled: () => canLock(d.board.plan, selected(d), d.board.layers),
      on: () => selected(d).length > 0 && selected(d).every((r) => isLocked(d.board.plan, r)),
      run: () => {
        const refs = selected(d).filter((r) => isLockable(parts(r)[0]));
        const lock = refs.some((r) => !isLocked(d.board.committed, r));
        const label = `${lock ? "Lock" : "Unlock"} ${namesOf(d.board.committed, refs)}`;
        d.commit(label, setLocked(d.board.committed, refs, lock), { say: `${label}: done.` });
      },
    },
  } satisfies Partial<Record<CommandID, Action>>;
}

function paste(d: Drawing): void {
  const clip = clipHere(d);
  if (!clip) return;
  const base = d.board.committed;
  const { aim, aids, keys } = d.pointing;
  const way = pasteWay(base, {
    clip,
    pointer: aim ? { raw: aim.raw, reach: aim.reach } : null,
    snap: aids.snap && !keys.alt,
    gridSnap: aids.gridSnap && !keys.alt,
    step: d.grid.snap,
    last: pasted,
  });
  const [plan, made] = pasteThings(base, clip, times(way.by, way.times));
  pasted = { clip, made, ...way };
  const label = `Paste ${namesOf(plan, made)}`;
  d.commit(label, plan, { select: made, say: `${label}: done.` });
}

/** Deletes the corner in hand, else what is selected. */
function remove(d: Drawing): void {
  const grip = d.inHand;
  if (grip?.kind === "corner") removeGrip(d, grip);
  else removeChosen(d);
}

function removeChosen(d: Drawing): void {
  const made = deletion(d.board.committed, selected(d), d.board.layers);
  if ("why" in made) d.board.show({ kind: "hint", sentence: made.why });
  else d.commit(made.label, made.plan, { select: [], say: made.says });
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
      : parts(g.ref)[0] === "pipes"
        ? "The end of a pipe is where it is joined."
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
