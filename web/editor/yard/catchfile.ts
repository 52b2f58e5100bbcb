// Bringing in the catches of an audit from a file: the server reads it, and they become
// one step, which Undo takes back, or none.

import { ask, planURL } from "../api";
import { isOf, notStored, stale, whenStored } from "../asking";
import { h } from "../dom";
import { apply, type Patch } from "../merge";
import type { Yard } from "./session";
import type { Part } from "./ui";

/** The value of POST /api/plans/{id}/catches?audit=ID: CatchesRead of web/catches.go. */
export interface CatchesRead {
  rev: number;
  says: string;
  /** While there are any, there is no patch. */
  errors: { line: number; sentence: string }[] | null;
  notes: string[] | null;
  patch?: Patch;
  label: string;
}

/** What the server takes, in bytes. */
const LARGEST = 1 << 20;

/** How many mistakes of a file are listed; the rest are counted. */
const MOST_LISTED = 8;

export function catchFile(yard: Yard, audit: string): Part {
  const id = `yard-catches-${audit}`;
  const found = h("div", { role: "status" });
  const tell = (...lines: Node[]): void => found.replaceChildren(...lines);
  const input = h("input", {
    id,
    type: "file",
    accept: ".csv,.txt,text/csv",
    class: "unseen yard-photo-input",
    onchange: async () => {
      const [file] = Array.from(input.files ?? []);
      input.value = "";
      if (!file) return;
      tell(h("p", {}, `Reading ${file.name}…`));
      tell(...(await bring(yard, audit, file)));
    },
  });
  return {
    el: h(
      "div",
      { class: "yard-photo" },
      h("div", {}, input, h("label", { for: id, class: "button yard-big" }, "Read catches from a file")),
      h("p", { class: "hint" }, "CSV: the number of each can and what it caught."),
      found,
    ),
    update: () => {},
  };
}

/** Reads the file and takes its catches; what came of it. */
async function bring(yard: Yard, audit: string, file: File): Promise<Node[]> {
  const { board } = yard;
  const error = (says: string): Node[] => [h("p", { class: "error" }, says)];
  if (file.size > LARGEST)
    return error(`${file.name} is larger than 1 MB. Keep the cans of one audit in it.`);
  if (!(await whenStored(board))) return error(notStored(board, "A file of catches is read"));
  const { rev } = board;
  const to = `${planURL(board.id)}/catches?audit=${encodeURIComponent(audit)}&rev=${rev}`;
  const answer = await ask<CatchesRead>("POST", to, { headers: { "Content-Type": "text/csv" }, body: file });
  if (!answer.ok) return error(answer.error);
  if (!isOf(rev, board)) return error(stale);
  const v = answer.value;
  if (v.patch) yard.step(v.label, apply(yard.plan, v.patch));
  return outcome(v);
}

/** What came of a file, in lines. */
export function outcome(v: CatchesRead): Node[] {
  const errors = v.errors ?? [];
  const lines = errors
    .slice(0, MOST_LISTED)
    .map((e) => h("li", {}, e.line > 0 ? `Line ${e.line}: ${e.sentence}` : e.sentence));
  if (errors.length > MOST_LISTED) lines.push(h("li", {}, `And ${errors.length - MOST_LISTED} more.`));
  return [
    h("p", errors.length > 0 ? { class: "error" } : {}, v.says),
    ...(lines.length > 0 ? [h("ul", {}, ...lines)] : []),
    ...(v.notes ?? []).map((note) => h("p", { class: "hint" }, note)),
  ];
}
