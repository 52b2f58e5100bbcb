// Which commands work while an earlier state is on the board: those that only
// look. The others say why they do not.

import { type Action, type CommandID, table } from "./commands";

/** Why what changes the plan is off meanwhile. */
export const lookingBack = "You look at an earlier state. Return to the plan first.";

/** What an earlier state may be asked besides to be viewed: to be selected in, copied from, found in. */
const onlyLooks: ReadonlySet<CommandID> = new Set([
  "tool.select",
  "edit.copy",
  "edit.all",
  "edit.allheads",
  "edit.samekind",
  "edit.next",
  "edit.previous",
  "plan.enter",
  "plan.stop",
  "plan.back",
  "plan.commands",
  "plan.find",
  "plan.findnext",
  "plan.findback",
  "plan.help",
]);

/** Whether a command works while an earlier state is looked at. */
export const worksWhileLooking = (id: CommandID): boolean =>
  table[id].group === "View" || table[id].group === "Aids" || onlyLooks.has(id);

/** The actions, of which those that change the plan are off as long as an earlier state is looked at. */
export function shutWhileLooking(
  looking: () => boolean,
  all: Readonly<Record<CommandID, Action>>,
): Record<CommandID, Action> {
  const each = Object.entries(all).map(([id, a]): [string, Action] => {
    if (worksWhileLooking(id as CommandID)) return [id, a];
    return [id, { ...a, enabled: () => (looking() ? lookingBack : a.enabled()) }];
  });
  return Object.fromEntries(each) as Record<CommandID, Action>;
}
