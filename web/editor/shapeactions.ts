// Commands that make one shape of two, two of one, or go on with a line.

import type { Action, CommandID } from "./commands";
import { free, selected } from "./copyactions";
import type { Drawing } from "./drawing";
import { distance, type Point } from "./geometry";
import { isFree } from "./layers";
import { find, parts, type Ref } from "./model";
import { capital, nameOf } from "./names";
import { place } from "./shape";
import { splittable } from "./tools/split";
import { join } from "./unite";

const isShape = (r: Ref): boolean => ["areas", "barriers"].includes(parts(r)[0]);

export function actionsOnShapes(d: Drawing) {
  return {
    "tool.split": {
      enabled: () => (splittable(d.around) ? true : "Select one area or wall that is not locked."),
      on: () => d.toolName === "split",
      run: () => {
        d.takeUp("split");
        d.focus();
      },
    },
    "edit.join": {
      enabled: () => {
        const two = free(d);
        const can = two.length === 2 && selected(d).length === 2 && two.every(isShape);
        return can ? true : "Select two areas that share an edge or overlap, or two walls whose ends meet.";
      },
      run: () => joinTwo(d),
    },
    "draw.continue": {
      enabled: () => (lineChosen(d) ? true : "Select one wall, fence or hedge that is not locked."),
      run: () => goOn(d),
    },
  } satisfies Partial<Record<CommandID, Action>>;
}

function joinTwo(d: Drawing): void {
  const [one, two] = free(d);
  if (!one || !two) return;
  const made = join(d.board.committed, one, two);
  if ("why" in made) d.board.show({ kind: "hint", sentence: made.why });
  else d.commit(made.label, made.plan, { select: made.select, say: `${made.label}: done.` });
}

function lineChosen(d: Drawing): string | null {
  const [only, more] = selected(d);
  if (!only || more || !isFree(d.board.plan, only, d.board.layers)) return null;
  const [c, id] = parts(only);
  return c === "barriers" ? id : null;
}

/** Takes the tool up at the end of the line nearer to the pointer, else at its last. */
function goOn(d: Drawing): void {
  const id = lineChosen(d);
  const wall = id === null ? undefined : find(d.board.committed, "barriers", id);
  const [first, last] = [wall?.line[0], wall?.line.at(-1)];
  if (!wall || !first || !last) return;
  const at = d.pointing.aim?.raw;
  const off = (p: Point) => (at ? distance(p, at) : 0);
  const end = off(place(first)) < off(place(last)) ? place(first) : place(last);
  d.setKit({ barrierKind: wall.kind ?? "fence", barrierHeightFt: wall.height_ft });
  d.takeUp("barrier");
  d.focus();
  d.tell({ type: "begin", at: end });
  d.board.announce(
    `${capital(nameOf(d.board.plan, `barriers/${id}`))} goes on. Next corner, or Enter to end.`,
  );
}
