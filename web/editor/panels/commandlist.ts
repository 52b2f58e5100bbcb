// The list of every command and of what the page offers, by typing.

import type { CommandID } from "../commands";
import { searchCommands, type Told, toldOf } from "../commandsearch";
import type { Drawing } from "../drawing";
import { recent, used } from "../recent";
import { openFinder, type Row } from "./finder";
import { icon } from "./icons";
import { type PageAction, pageActions } from "./pageactions";

const toldOfPage = (a: PageAction): Told => ({
  key: a.key,
  title: a.title,
  detail: a.detail,
  more: `${a.detail} page`,
  keys: [],
  state: a.on?.() ? a.onWord : "",
  off: null,
});

/** Opens the list. */
export function showCommands(d: Drawing): void {
  const named = new Set(d.commands.all.map((c) => c.title));
  const page = pageActions().filter((a) => !named.has(a.title));
  const all = [...d.commands.all.map(toldOf), ...page.map(toldOfPage)];
  openFinder({
    title: "Commands",
    placeholder: "Type what you want to do",
    one: "command",
    rows: (query) =>
      searchCommands(all, query, recent(localStorage)).map(({ told, marks }) => row(told, marks)),
    take(key) {
      used(localStorage, key);
      const action = page.find((a) => a.key === key);
      if (action) action.run();
      else d.commands.run(key as CommandID, (why) => d.board.show({ kind: "hint", sentence: why }));
    },
    none: (query) => `No command has “${query}” in it. Try another word.`,
  });
}

function row(t: Told, marks: readonly number[]): Row {
  const keys = t.keys.join(" or ");
  return {
    key: t.key,
    title: t.title,
    marks,
    detail: t.detail,
    aside: [t.state, keys].filter(Boolean).join(" · "),
    icon: icon(t.key),
    ...(t.off ? { off: t.off } : {}),
  };
}
