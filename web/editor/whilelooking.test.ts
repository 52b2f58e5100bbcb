import assert from "node:assert/strict";
import { test } from "node:test";
import { type Action, type CommandID, table } from "./commands";
import { lookingBack, shutWhileLooking, worksWhileLooking } from "./whilelooking";

const all = Object.keys(table) as CommandID[];

test("row A31: while an earlier state is looked at the view moves, and what changes the plan says why not", () => {
  let looking = false;
  const yes: Action = { enabled: () => true, run: () => {} };
  const actions = shutWhileLooking(
    () => looking,
    Object.fromEntries(all.map((id) => [id, yes])) as Record<CommandID, Action>,
  );
  for (const id of all) assert.equal(actions[id].enabled(), true, id);
  looking = true;
  for (const id of ["view.in", "view.out", "view.fit", "view.layers", "aid.grid", "plan.find"] as const)
    assert.equal(actions[id].enabled(), true, id);
  for (const id of ["edit.undo", "edit.redo", "edit.delete", "tool.head", "edit.lock"] as const)
    assert.equal(actions[id].enabled(), lookingBack, id);
  // A command written later is off until somebody says that it only looks.
  for (const id of all) if (table[id].group === "Heads") assert.equal(worksWhileLooking(id), false, id);
});
