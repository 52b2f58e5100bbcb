// A short form in a dialog, which stays as it was typed until all of it can be read.

import { ask, h } from "../dom";
import type { Choice } from "../fields";
import type { Read } from "../length";
import { Control } from "./control";
import { cancel } from "./findings";

/** One field of a form, and what it says when its words cannot be read. */
export interface Asked {
  key: string;
  label: string;
  as: "text" | "long" | "choice";
  hint?: string;
  value?: string;
  choices?: readonly Choice[];
  check?(typed: string): Read<unknown>;
}

export type Answers = Record<string, string>;

/**
 * Shows a form until every field can be read, and all of them together: else the
 * field of that key says why. Null when it was left.
 */
export async function fillIn(
  title: string,
  done: string,
  asked: readonly Asked[],
  together?: (a: Answers) => { readonly key: string; readonly why: string } | null,
): Promise<Answers | null> {
  const fields = asked.map((a) => ({ a, control: new Control(a.label, a.as, a.hint ?? "", () => null) }));
  for (const { a, control } of fields) {
    control.show({ value: a.value ?? "", mixed: false, choices: a.choices ?? [] });
  }
  const form = h("form", { method: "dialog", class: "form", novalidate: true });
  const save = h("button", { value: "done", class: "main" }, done);
  form.append(h("h2", { id: "ask-title" }, title), ...fields.map((f) => f.control.el));
  form.append(h("p", { class: "acts" }, save, cancel()));
  const answers = (): Answers => Object.fromEntries(fields.map(({ a, control }) => [a.key, control.text]));
  form.addEventListener("submit", (e) => {
    if ((e as SubmitEvent).submitter?.getAttribute("value") === "") return;
    const wrong = fields.filter(({ a, control }) => {
      const v = a.check?.(control.text);
      control.complain(v && !v.ok ? v.sentence : null);
      return v && !v.ok;
    });
    const all = wrong.length === 0 ? together?.(answers()) : null;
    for (const f of fields) {
      if (f.a.key !== all?.key) continue;
      f.control.complain(all.why);
      wrong.push(f);
    }
    if (wrong.length === 0) return;
    e.preventDefault();
    wrong[0]?.control.input.focus();
  });
  const answer = await ask(h("dialog", { "aria-labelledby": "ask-title" }, form));
  return answer === "done" ? answers() : null;
}
