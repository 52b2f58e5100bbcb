// What is told to By tape with a key or a button, and laying ties over the drawing.

import type { Action, CommandID } from "./commands";
import type { Drawing } from "./drawing";
import { movable } from "./tiefit";

export function tapeActions(d: Drawing) {
  const swap = (what: "side" | "end" | "base"): Action => ({
    enabled: () => (d.toolName === "tape" ? true : "Take up By tape first."),
    run: () => {
      d.tell({ type: "swap", what });
      d.focus();
    },
  });
  return {
    "draw.type": {
      enabled: () =>
        d.typing.possible ? true : "A number would mean nothing now. Take up a drawing tool first.",
      run: () => {
        d.typing.begin("");
      },
    },
    "draw.side": swap("side"),
    "draw.end": swap("end"),
    "draw.base": swap("base"),
    "tool.shareout": {
      enabled: () => {
        const can = movable(d.board.committed, d.board.selection);
        return "why" in can ? can.why : true;
      },
      on: () => d.toolName === "shareout",
      run: () => {
        d.takeUp("shareout");
        d.focus();
      },
    },
  } satisfies Partial<Record<CommandID, Action>>;
}
