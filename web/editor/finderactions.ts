// Commands that open the list of commands and Find, and go on finding.

import type { Action, CommandID } from "./commands";
import type { Drawing } from "./drawing";
import { showCommands } from "./panels/commandlist";
import { Find } from "./panels/find";

export function actionsOfFinding(d: Drawing) {
  const find = new Find(d);
  const again = (): true | string => (find.again ? true : "Find something first, with Ctrl+F.");
  return {
    "plan.commands": { enabled: () => true, run: () => showCommands(d) },
    "plan.find": { enabled: () => true, run: () => find.open() },
    "plan.findnext": { enabled: again, run: () => find.step(1) },
    "plan.findback": { enabled: again, run: () => find.step(-1) },
  } satisfies Partial<Record<CommandID, Action>>;
}
