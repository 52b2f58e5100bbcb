// The tools by name.

import type { CommandID } from "../commands";
import { builtTool } from "./built";
import { canTool } from "./cans";
import { copiesTool } from "./copies";
import { headTool } from "./head";
import { heightTool } from "./height";
import { measureTool } from "./measure";
import { mirrorTool } from "./mirror";
import { offerTool } from "./offer";
import { barrierTool, outlineTool, pipeTool, sleeveTool, wireTool } from "./path";
import { pictureTool } from "./picture";
import { rectangleTool } from "./rectangle";
import { roundTool } from "./round";
import { selectTool } from "./select";
import { shareOutTool } from "./shareout";
import { splitTool } from "./split";
import { fixtureTool, keepDryTool, noteTool, treeTool } from "./spot";
import { tapeTool } from "./tape";
import { type Running, run } from "./tool";
import { turnTool } from "./turn";

const starters = {
  select: () => run(selectTool),
  outline: () => run(outlineTool),
  rectangle: () => run(rectangleTool),
  round: () => run(roundTool),
  barrier: () => run(barrierTool),
  tree: () => run(treeTool),
  keepdry: () => run(keepDryTool),
  note: () => run(noteTool),
  head: () => run(headTool),
  tape: () => run(tapeTool),
  height: () => run(heightTool),
  fixture: () => run(fixtureTool),
  pipe: () => run(pipeTool),
  sleeve: () => run(sleeveTool),
  wire: () => run(wireTool),
  shareout: () => run(shareOutTool),
  measure: () => run(measureTool),
  picture: () => run(pictureTool),
  split: () => run(splitTool),
  mirror: () => run(mirrorTool),
  turn: () => run(turnTool),
  copies: () => run(copiesTool),
  cans: () => run(canTool),
  built: () => run(builtTool),
  offer: () => run(offerTool),
} as const satisfies Record<string, () => Running>;

export type ToolName = keyof typeof starters;

export const isTool = (name: string): name is ToolName => Object.hasOwn(starters, name);

/** The command that takes a tool up. */
export const commandOf = (name: ToolName): CommandID => {
  if (name === "offer") return "head.arrange";
  if (name === "cans" || name === "built") return `proof.${name}`;
  return name === "mirror" || name === "turn" || name === "copies" ? `edit.${name}` : `tool.${name}`;
};

export const takeUp = (name: ToolName): Running => starters[name]();
