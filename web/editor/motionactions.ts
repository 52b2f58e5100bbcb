// Commands that mirror, turn and copy what is selected. Each takes up its tool;
// an edge in hand is what it begins with.

import type { Action, CommandID } from "./commands";
import { anchorOf, linesNear } from "./copies";
import { free, selected } from "./copyactions";
import type { Drawing } from "./drawing";
import { find, parts } from "./model";
import { throwOf } from "./pattern";
import { edges, lineEdges } from "./shape";
import { isClosed, ringsOf } from "./things";

export function actionsOfMotion(d: Drawing) {
  const motion = (name: "mirror" | "turn", begun: () => void): Action => ({
    enabled: () => movable(d),
    on: () => d.toolName === name,
    run: () => {
      const edge = edgeInHand(d);
      d.takeUp(name);
      d.focus();
      if (edge && name === "mirror") d.tell({ type: "axis", axis: edge, now: false });
      begun();
    },
  });
  return {
    "edit.mirror": motion("mirror", () => {}),
    "edit.turn": motion("turn", () => d.setKit({ layAlong: false })),
    "edit.copies": {
      enabled: () => (selected(d).length > 0 ? true : "Select something first."),
      on: () => d.toolName === "copies",
      run: () => {
        wish(d);
        d.takeUp("copies");
      },
    },
  } satisfies Partial<Record<CommandID, Action>>;
}

function movable(d: Drawing): true | string {
  if (selected(d).length === 0) return "Select something first.";
  return free(d).length > 0 || d.kit.keep ? true : "What is selected is locked. Unlock it first.";
}

/** The straight line of the edge in hand, if one is. */
function edgeInHand(d: Drawing): { at: readonly [number, number]; deg: number } | null {
  const g = d.inHand;
  if (g?.kind !== "middle") return null;
  const ring = ringsOf(d.board.plan, g.ref)[g.ring] ?? [];
  const e = (isClosed(parts(g.ref)[0]) ? edges(ring) : lineEdges(ring))[g.index];
  if (!e) return null;
  return { at: e.a, deg: (Math.atan2(e.b[1] - e.a[1], e.b[0] - e.a[0]) * 180) / Math.PI };
}

/** What a new row of copies begins with: the edge in hand or the nearest one, and a head's own throw as spacing. */
function wish(d: Drawing): void {
  const { plan, design } = d.board;
  const refs = selected(d);
  const at = d.inHand?.kind === "middle" ? d.inHand.at : anchorOf(plan, refs);
  const line = at ? (linesNear(plan, at, 1)[0] ?? null) : null;
  const { copies } = d.kit;
  const [c, id] = parts(refs[0] ?? "heads/");
  const head = c === "heads" ? find(plan, "heads", id) : undefined;
  const spacing = head
    ? throwOf(head, find(plan, "nozzles", head.nozzle), design, id)
    : copies.edge.spacingFt;
  d.setKit({
    copies: {
      ...copies,
      edge: { ...copies.edge, line, spacingFt: spacing },
      grid: { ...copies.grid, acrossFt: spacing, upFt: spacing },
    },
  });
}
