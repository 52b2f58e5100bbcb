import assert from "node:assert/strict";
import { test } from "node:test";
import type { HistoryStep } from "../api";
import { theirWords } from "./notice";
import { type Channel, meetOtherTabs, otherTabSentence } from "./othertab";

/** Channels of one browser: what one says the others of its name hear. */
function browser(): (name: string) => Channel {
  const all: { name: string; hear: (e: { data: "opened" | "here" }) => void; channel: Channel }[] = [];
  return (name) => {
    const channel: Channel = {
      postMessage: (data) => {
        for (const c of all) if (c.name === name && c.channel !== channel) c.hear({ data });
      },
      addEventListener: (_, hear) => {
        all.push({ name, hear, channel });
      },
    };
    return channel;
  };
}

test("rowB22: both tabs of a plan are told once, and a tab of another plan is not", () => {
  const open = browser();
  const said: Record<string, string[]> = {};
  const tab = (name: string, plan: string): void => {
    const mine: string[] = [];
    said[name] = mine;
    meetOtherTabs(plan, (s) => mine.push(s), open);
  };
  tab("first", "a");
  tab("elsewhere", "b");
  assert.deepEqual(said, { first: [], elsewhere: [] });
  tab("second", "a");
  assert.deepEqual(said, { first: [otherTabSentence], elsewhere: [], second: [otherTabSentence] });
  tab("third", "a");
  assert.deepEqual(said, {
    first: [otherTabSentence],
    elsewhere: [],
    second: [otherTabSentence],
    third: [otherTabSentence],
  });
});

test("rowB22: a conflict compares the steps of either side", () => {
  const step = (rev: number, label: string): HistoryStep => ({ rev, label, at: "", undone: false });
  const steps = [step(1, "Plan made"), step(2, "Mine"), step(3, "Move head 2-8"), step(4, "Name zone 1")];
  assert.equal(theirWords(steps, 2), "Theirs: 2 steps since revision 2, the last “Name zone 1”.");
  assert.equal(theirWords(steps, 3), "Theirs: 1 step since revision 3, “Name zone 1”.");
  assert.equal(theirWords(steps, 4), "Theirs: steps taken back or made again since revision 4.");
});
