// What a drawn line becomes as pipes: one from each thing it passes to the next,
// joined to what is there, with the water it carries read off what it joins.

import { placeText } from "./format";
import { distance } from "./geometry";
import { type Plan, type Ref, ref } from "./model";
import { withClass } from "./pipeclasses";
import { networkAt } from "./pipenet";
import { addPipes, type NewPipe } from "./piperuns";
import { watersOf } from "./pipewater";
import { type Corner, faultSentence, LATTICE, openFault, place } from "./shape";
import type { Made } from "./tools/made";
import type { Around, Kit } from "./tools/tool";

/** What a run of pipe is made with. */
export interface RunKit extends Pick<Around, "plan" | "catalog"> {
  readonly kit: Pick<Kit, "pipeFor" | "pipeClass" | "pipeSizeIn">;
}

/** A drawn line as pipes, or why it cannot be. */
export function pipeRun(a: RunKit, corners: readonly Corner[]): Made {
  const pieces = piecesOf(a.plan, corners);
  for (const piece of pieces) {
    const [first, last] = [piece[0] as Corner, piece.at(-1) as Corner];
    if (distance(place(first), place(last)) <= LATTICE) {
      return {
        why: "This pipe would end where it begins. Take its last corner back, or go on to another place.",
      };
    }
    const fault = openFault(piece);
    if (!fault) continue;
    const why = faultSentence(fault, placeText(fault.at, a.plan.show));
    return { why: why.replace("The outline", "The pipe") };
  }
  const waters = watersOf(a.plan, pieces, a.kit);
  const like = { class: a.kit.pipeClass, sizeIn: a.kit.pipeSizeIn };
  const wanted = pieces.map((line, i): NewPipe => ({ line, zone: waters[i] ?? "", ...like }));
  const [plan, made] = addPipes(withClass(a.plan, a.catalog, like.class), wanted);
  const label = made.length === 1 ? "Draw a pipe" : `Draw ${made.length} pipes`;
  return { step: { label, plan, select: made.map((id): Ref => ref("pipes", id)) } };
}

/** The line parted where it passes a node, a head, a valve, the supply or another pipe. */
function piecesOf(p: Plan, corners: readonly Corner[]): Corner[][] {
  const out: Corner[][] = [];
  let piece: Corner[] = [];
  for (const [i, c] of corners.entries()) {
    piece.push(c);
    if (i === 0 || i === corners.length - 1 || !networkAt(p, place(c))) continue;
    out.push(piece);
    piece = [c];
  }
  if (piece.length > 1) out.push(piece);
  return out;
}
