// The menu of the board: what can be done with what is under the pointer, for a
// right click, a long press, the menu key and Shift+F10. It holds no command
// that is nowhere else: the bars and keys have them all.

import type { CommandID } from "../commands";
import { h } from "../dom";
import type { Drawing } from "../drawing";
import { type Collection, parts, type Ref } from "../model";
import { capital, namesOf } from "../names";
import { chosen } from "../thingactions";
import { middleOf } from "../things";
import { type Pixel, pixel, toFeet, toPixel } from "../view";
import { icon } from "./icons";

const ofDraft: readonly CommandID[] = ["plan.finish", "edit.undo", "plan.back"];
const ofGround: readonly CommandID[] = [
  "edit.paste",
  "edit.all",
  "edit.allheads",
  "head.arrange",
  "head.improve",
  "zone.group",
  "pipe.route",
  "plan.water",
  "view.fit",
  "view.layers",
  "edit.undo",
];
const ofThing: readonly CommandID[] = [
  "edit.copy",
  "edit.duplicate",
  "edit.mirror",
  "edit.turn",
  "edit.copies",
  "edit.samekind",
  "view.selection",
  "edit.lock",
  "edit.delete",
];
/** What besides can be done with things of one collection. */
const ofOne: Readonly<Partial<Record<Collection, readonly CommandID[]>>> = {
  heads: [
    "head.left",
    "head.right",
    "head.narrower",
    "head.wider",
    "head.shorter",
    "head.longer",
    "proof.built",
  ],
  valves: ["proof.built"],
  boxes: ["proof.built"],
  sleeves: ["proof.built"],
  cans: ["proof.audit"],
  areas: ["head.arrange", "head.improve", "tool.split", "edit.join", "edit.makehole"],
  barriers: ["draw.continue", "tool.split", "edit.join"],
};

/** How near counts as on, in pixels. */
const REACH_PX = 14;

let open: HTMLElement | null = null;

/** Whether the menu is open. */
export const menuIsOpen = (): boolean => open !== null;

/** The commands for what is selected now, or for the draft in hand. */
export function menuFor(d: Pick<Drawing, "tool" | "board" | "commands">): CommandID[] {
  const drafting = d.tool.busy && d.tool.own().length > 0;
  const refs = [...d.board.selection];
  const kinds = new Set(refs.map((r) => parts(r)[0]));
  const [kind] = kinds;
  const own = kind && kinds.size === 1 ? (ofOne[kind] ?? []) : [];
  const wanted = drafting ? ofDraft : refs.length > 0 ? [...own, ...ofThing] : ofGround;
  return wanted.filter((id) => d.commands.get(id).enabled() === true);
}

/**
 * Opens the menu at a pixel of the board; null: at what has the keyboard's
 * focus, or under a button. What is under the pointer is selected first, unless
 * it is already or something is being drawn.
 */
export function openMenu(d: Drawing, at: Pixel | null, button?: Element): void {
  closeMenu();
  if (!d.tool.busy) take(d, at);
  const ids = menuFor(d);
  if (ids.length === 0) {
    d.board.announce("Nothing can be done here.");
    return;
  }
  const refs = [...d.board.selection];
  const about = d.tool.busy
    ? "the drawing in hand"
    : refs.length > 0
      ? namesOf(d.board.plan, refs)
      : "the plan";
  const label = `What can be done with ${about}`;
  const el = h("div", { role: "menu", "aria-label": label });
  el.append(...ids.map((id) => item(d, id)));
  const can = refs.length > 0 && !d.tool.busy ? d.commands.get("edit.delete").enabled() : true;
  if (can !== true) el.append(item(d, "view.layers"));
  const why = can === true ? null : h("p", { class: "context-about" }, can);
  const title = h("p", { class: "context-about", "aria-hidden": "true" }, capital(about));
  open = h("section", { class: "context", "aria-label": label }, title, why, el);
  document.body.append(open);
  put(open, d, at ?? (button ? under(d, button) : placeOf(d, refs[0] ?? null)));
  el.addEventListener("keydown", (e) => keys(e, el, d));
  el.addEventListener("contextmenu", (e) => e.preventDefault());
  document.addEventListener("pointerdown", outside, true);
  window.addEventListener("blur", closeMenu);
  window.addEventListener("resize", closeMenu);
  el.querySelector<HTMLElement>("button")?.focus();
}

/** Selects what the menu is asked for. */
function take(d: Drawing, at: Pixel | null): void {
  const on = at ? d.thingAt(toFeet(d.view, at), REACH_PX / d.view.scale) : chosen(d);
  if (on && !d.board.selection.has(on)) d.board.select([on]);
  else if (!on && at) d.board.select([]);
}

function item(d: Drawing, id: CommandID): HTMLElement {
  const c = d.commands.get(id);
  const run = (): void => {
    closeMenu();
    d.focus();
    d.commands.run(id, (why) => d.board.announce(why));
  };
  const title = id === "edit.lock" && c.on?.() ? "Unlock" : c.title;
  const key = c.keys[0] ? h("kbd", {}, c.keys[0]) : null;
  const sign = icon(id) ?? h("span", { class: "icon" });
  const props = { type: "button", role: "menuitem", tabindex: "-1", title: c.says, onclick: run };
  return h("button", props, sign, h("span", { class: "context-title" }, title), key);
}

/** The menu lies beside its place and never beyond the window. */
function put(el: HTMLElement, d: Drawing, at: Pixel): void {
  const box = d.dom.board.getBoundingClientRect();
  const { offsetWidth: w, offsetHeight: tall } = el;
  const [x, y] = [box.left + at.px + 4, box.top + at.py + 4];
  const left = x + w > innerWidth ? x - w - 8 : x;
  const top = y + tall > innerHeight ? innerHeight - tall - 4 : y;
  el.style.left = `${Math.max(4, left)}px`;
  el.style.top = `${Math.max(4, top)}px`;
}

function under(d: Drawing, button: Element): Pixel {
  const [board, b] = [d.dom.board, button].map((e) => e.getBoundingClientRect());
  return pixel((b?.left ?? 0) - (board?.left ?? 0) - 4, (b?.bottom ?? 0) - (board?.top ?? 0));
}

function placeOf(d: Drawing, r: Ref | null): Pixel {
  const at = d.pointing.crosshair ?? (r ? middleOf(d.board.plan, r) : null);
  return at ? toPixel(d.view, at) : pixel(d.view.width / 2, d.view.height / 2);
}

function keys(e: KeyboardEvent, el: HTMLElement, d: Drawing): void {
  const all = [...el.querySelectorAll<HTMLElement>("button")];
  const at = all.indexOf(document.activeElement as HTMLElement);
  const n = all.length;
  const to = { ArrowDown: (at + 1) % n, ArrowUp: (at + n - 1) % n, Home: 0, End: n - 1 }[e.key];
  e.stopPropagation();
  if (to !== undefined) {
    e.preventDefault();
    all[to]?.focus();
  } else if (e.key === "Escape" || e.key === "Tab") {
    e.preventDefault();
    closeMenu();
    d.focus();
  }
}

function outside(e: Event): void {
  if (!(e.target instanceof Node) || !open?.contains(e.target)) closeMenu();
}

/** Puts the menu away. */
export function closeMenu(): void {
  open?.remove();
  open = null;
  document.removeEventListener("pointerdown", outside, true);
  window.removeEventListener("blur", closeMenu);
  window.removeEventListener("resize", closeMenu);
}
