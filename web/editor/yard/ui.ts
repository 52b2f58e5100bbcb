// What the page in the yard is made of: fields that keep every key, choices as large as
// a thumb, notes and verdicts. Each shows what is stored when it is told to look again.

import { button, h, setAttr, setText } from "../dom";
import type { Plan } from "../model";
import { Control } from "../panels/control";
import type { Measure } from "./measures";
import { placeText, type Yard } from "./session";

/** Something on the page that shows what is stored. */
export interface Part {
  readonly el: HTMLElement;
  update(): void;
}

/** Something to be done, as the bar at the bottom offers it. */
export interface Act {
  readonly label: string;
  run(): void;
  /** It cannot be done now. */
  readonly off?: boolean;
}

/** What stands in a section: one thing at a time. */
export interface Screen extends Part {
  /** What gets the focus when it opens; the screen itself where left out. */
  readonly first?: HTMLElement | null;
  acts(): { main?: Act | null; back?: Act | null; next?: Act | null };
}

/** A field of the page. */
interface Asked<V> {
  /** By which what is half typed is kept. */
  key: string;
  label: string;
  /** In a sentence: "static pressure of zone 3". */
  what: string;
  hint?: string;
  get(): V | undefined;
  set(v: V | undefined): void;
  /** What is typed waits, kept, for something else to be pressed. */
  waits?(): boolean;
  /** What Enter does once it is taken; left out: it goes to the next field. */
  enter?(): void;
}

type Taker = (typed: string) => string | null;

function field(yard: Yard, as: "text" | "long", a: Asked<unknown>, text: () => string, take: Taker): Part {
  const { scraps } = yard;
  const control = new Control(a.label, as, a.hint ?? "", (typed) => {
    if (a.waits?.()) return null;
    const trouble = take(typed);
    if (trouble === null) scraps.drop(a.key);
    return trouble;
  });
  const { input } = control;
  input.addEventListener("input", () =>
    scraps.keep(a.key, { text: input.value, what: a.what, where: placeText(yard.place) }),
  );
  input.addEventListener("keydown", (e) => {
    const { key } = e as KeyboardEvent;
    if (key === "Escape") scraps.drop(a.key);
    if (key !== "Enter" || as !== "text" || input.hasAttribute("aria-invalid")) return;
    if (a.enter) a.enter();
    else toNextField(input);
  });
  // What was brought back is taken when it is left, as what was typed is.
  input.addEventListener("blur", () => {
    if (scraps.of(a.key) !== null) input.dispatchEvent(new Event("change"));
  });
  const update = (): void => {
    const left = scraps.of(a.key);
    if (left === null) control.show({ value: text(), mixed: false, choices: [] });
    else if (document.activeElement !== input && input.value !== left) input.value = left;
  };
  update();
  return { el: control.el, update };
}

/** The field after this one, so that Enter on a keypad goes on. */
function toNextField(from: HTMLElement): void {
  const all = Array.from(document.querySelectorAll<HTMLElement>("#yard-screen input[type=text]"));
  const next = all[all.indexOf(from) + 1];
  if (next) next.focus();
  else from.blur();
}

/** A figure with its unit, on a keypad. */
export function figure(yard: Yard, m: Measure, a: Asked<number>): Part {
  const show = (): Plan["show"] => yard.plan.show;
  const part = field(
    yard,
    "text",
    { ...a, hint: a.hint ?? m.unit(show()) },
    () => m.text(a.get(), show()),
    (typed) => {
      const v = m.read(typed, show());
      if (!v.ok) return v.sentence;
      a.set(v.value);
      return null;
    },
  );
  const input = part.el.querySelector("input");
  if (input) {
    input.inputMode = "decimal";
    input.enterKeyHint = "next";
    // A figure that stands is typed over; what was half typed is gone on with.
    // It waits for the finger to have set the caret; a key pressed before that stands, and a
    // field that was left is not gone back to, as selecting in it would.
    input.addEventListener("focus", () => {
      requestAnimationFrame(() => {
        if (document.activeElement === input && yard.scraps.of(a.key) === null) input.select();
      });
    });
  }
  return part;
}

const MOST_TEXT = 2000;

/** A few words. */
export function words(yard: Yard, a: Asked<string>, long = false): Part {
  const part = field(
    yard,
    long ? "long" : "text",
    a,
    () => a.get() ?? "",
    (typed) => {
      const t = typed.trim();
      if (t.length > MOST_TEXT)
        return `${a.label} has ${t.length} characters. Shorten it to ${MOST_TEXT.toLocaleString("en-US")}.`;
      a.set(t === "" ? undefined : t);
      return null;
    },
  );
  const area = part.el.querySelector("textarea");
  if (area) area.rows = 2;
  return part;
}

export interface Option {
  readonly value: string;
  readonly label: string;
  /** Its name where the label is a sign. */
  readonly name?: string;
}

function choices(options: readonly Option[], press: (v: string) => void) {
  return options.map((o) => {
    const el = button(o.label, "yard-choice", () => press(o.value));
    setAttr(el, "aria-label", o.name ?? null);
    return { o, el };
  });
}

/** A date, chosen from a calendar. */
export function day(label: string, get: () => string | undefined, set: (on: string) => void): Part {
  const id = `yard-day-${++made}`;
  const input = h("input", {
    id,
    type: "date",
    onchange: () => {
      if (input.value !== "") set(input.value);
      else update(); // a date is needed: the one before stays
    },
  });
  const update = (): void => {
    if (document.activeElement !== input) input.value = get() ?? "";
  };
  update();
  return { el: h("div", { class: "field text" }, h("label", { for: id }, label), input), update };
}

/** One of a few, each as large as a thumb. */
export function choose(
  label: string,
  options: readonly Option[],
  get: () => string,
  set: (v: string) => void,
): Part {
  const buttons = choices(options, set);
  const id = `yard-choose-${++made}`;
  const el = h(
    "div",
    { class: "yard-choose", role: "group", "aria-labelledby": id },
    h("p", { id, class: "yard-label" }, label),
    h("div", { class: "yard-choices" }, ...buttons.map((b) => b.el)),
  );
  const update = (): void => {
    for (const { o, el } of buttons) setAttr(el, "aria-pressed", String(get() === o.value));
  };
  update();
  return { el, update };
}

/** Any of a few. */
export function several(
  label: string,
  options: readonly Option[],
  get: () => readonly string[],
  toggle: (v: string) => void,
): Part {
  const buttons = choices(options, toggle);
  const id = `yard-choose-${++made}`;
  const el = h(
    "div",
    { class: "yard-choose", role: "group", "aria-labelledby": id },
    h("p", { id, class: "yard-label" }, label),
    h("div", { class: "yard-choices" }, ...buttons.map((b) => b.el)),
  );
  const update = (): void => {
    for (const { o, el } of buttons) setAttr(el, "aria-pressed", String(get().includes(o.value)));
  };
  update();
  return { el, update };
}

/** One of many, in a list. */
export function pick(
  label: string,
  options: () => readonly Option[],
  get: () => string,
  set: (v: string) => void,
): Part {
  const control = new Control(label, "choice", "", (v) => {
    set(v);
    return null;
  });
  const update = (): void => {
    const choices = options();
    control.show({ value: get(), mixed: false, choices });
  };
  update();
  return { el: control.el, update };
}

let made = 0;

/** Words that change: nothing of it stands while there are none. */
export function line(cls: string, text: () => string, tag: "p" | "h2" | "h3" = "p"): Part {
  const el = h(tag, { class: cls || null });
  const update = (): void => {
    const t = text();
    setText(el, t);
    el.hidden = t === "";
  };
  update();
  return { el, update };
}

/** Something made anew whenever what it is made of has changed. */
export function remade(cls: string, of: () => unknown, make: () => (Node | string)[]): Part {
  const el = h("div", { class: cls || null });
  let was: string | null = null;
  const update = (): void => {
    const now = JSON.stringify(of() ?? null);
    if (now === was) return;
    was = now;
    const kids = make();
    el.replaceChildren(...kids);
    el.hidden = kids.length === 0;
  };
  update();
  return { el, update };
}

/** Parts one under the other. */
export function column(cls: string, ...parts: (Part | HTMLElement | null)[]): Part {
  const kept = parts.filter((p): p is Part | HTMLElement => p !== null);
  const el = h("div", { class: cls || null }, ...kept.map((p) => ("el" in p ? p.el : p)));
  return {
    el,
    update: () => {
      for (const p of kept) if ("update" in p) p.update();
    },
  };
}

/** Where somebody could be hurt; folds: it can be put away once it was read, where it stands over the same work for long. */
export const caution = (text: () => string, folds = false): Part => {
  const words = h("p");
  const el = folds
    ? h("details", { class: "yard-danger", open: true }, h("summary", {}, "Caution"), words)
    : h("div", { class: "yard-danger", role: "note" }, h("b", {}, "Caution"), words);
  const update = (): void => {
    const t = text();
    setText(words, t);
    el.hidden = t === "";
  };
  update();
  return { el, update };
};
