// Making and updating elements without markup strings: text only ever becomes
// a text node, so no name typed by a user can become an element.

export type Child = Node | string | null | undefined | false;
type Listener = (e: never) => void;
type Value = string | number | boolean | null | undefined | Listener;

/**
 * Makes an element. `class`, `for` and any attribute are given by name; true
 * sets an empty attribute, false or null none; `onclick` and the like listen;
 * `value` sets the property.
 */
export function h<K extends keyof HTMLElementTagNameMap>(
  tag: K,
  props: Record<string, Value> = {},
  ...children: Child[]
): HTMLElementTagNameMap[K] {
  const el = document.createElement(tag);
  for (const [name, v] of Object.entries(props)) {
    if (v === null || v === undefined || v === false) continue;
    if (typeof v === "function") el.addEventListener(name.slice(2), v as EventListener);
    else if (name === "value") (el as unknown as { value: string }).value = String(v);
    else el.setAttribute(name, v === true ? "" : String(v));
  }
  el.append(...children.filter((c): c is Node | string => c !== null && c !== undefined && c !== false));
  return el;
}

/** A button that does something; cls: its class, "" for none. */
export function button(label: string, cls: string, run: () => void): HTMLButtonElement {
  return h("button", { type: "button", class: cls || null, onclick: run }, label);
}

/** The focus fell to the page, because what had it is gone. */
export function focusLost(): boolean {
  const el = document.activeElement;
  return el === null || el === document.body || !el.checkVisibility();
}

/** The element with this id, which the page's template promises. */
export function byID<T extends HTMLElement = HTMLElement>(id: string): T {
  const el = document.getElementById(id);
  if (!el) throw new Error(`the page has no #${id}`);
  return el as T;
}

/** Sets text only when it differs, so that screen readers and selections are left alone. */
export function setText(el: Element, text: string): void {
  if (el.textContent !== text) el.textContent = text;
}

export function setAttr(el: Element, name: string, v: string | boolean | null): void {
  if (v === null || v === false) {
    if (el.hasAttribute(name)) el.removeAttribute(name);
    return;
  }
  const want = v === true ? "" : v;
  if (el.getAttribute(name) !== want) el.setAttribute(name, want);
}

/** A row kept in step with its item. */
export interface Row<T> {
  el: Element;
  update(item: T): void;
}

/**
 * Keeps the children of parent in step with items, by key: rows that stay keep
 * their element, and with it focus and what is being typed.
 */
export class Rows<T> {
  #rows = new Map<string, Row<T>>();

  constructor(
    readonly parent: Element,
    readonly key: (item: T, index: number) => string,
    readonly make: (item: T) => Row<T>,
  ) {}

  get(key: string): Row<T> | undefined {
    return this.#rows.get(key);
  }

  show(items: readonly T[]): void {
    const next = new Map<string, Row<T>>();
    items.forEach((item, i) => {
      const k = this.key(item, i);
      const row = this.#rows.get(k) ?? this.make(item);
      row.update(item);
      next.set(k, row);
    });
    for (const [k, row] of this.#rows) if (next.get(k) !== row) row.el.remove();
    let at: Element | null = this.parent.firstElementChild;
    for (const row of next.values()) {
      if (row.el === at) at = at.nextElementSibling;
      else this.parent.insertBefore(row.el, at);
    }
    this.#rows = next;
  }
}

let owed = 0;

/** How much of the page was asked to be drawn anew and waits for its frame or its time. */
export const stillOwed = (): number => owed;

/** Runs fn at most once a frame however often it is asked for. */
export function eachFrame(fn: () => void): () => void {
  let asked = false;
  return () => {
    if (asked) return;
    asked = true;
    owed++;
    requestAnimationFrame(() => {
      asked = false;
      owed--;
      fn();
    });
  };
}

/** Runs fn at once, then at most every ms milliseconds, and once more at the end. */
export function atMostEvery(ms: number, fn: () => void): () => void {
  let last = Number.NEGATIVE_INFINITY;
  let timer: ReturnType<typeof setTimeout> | null = null;
  const run = (): void => {
    timer = null;
    owed--;
    last = performance.now();
    fn();
  };
  return () => {
    if (timer !== null) return;
    const wait = last + ms - performance.now();
    owed++;
    timer = setTimeout(run, Math.max(0, wait));
  };
}

/** Opens a dialog and resolves with the value of the button that closed it; "" when it was escaped. */
export function ask(dialog: HTMLDialogElement): Promise<string> {
  document.body.append(dialog);
  dialog.returnValue = "";
  dialog.showModal();
  return new Promise((done) => {
    dialog.addEventListener("close", () => {
      dialog.remove();
      done(dialog.returnValue);
    });
  });
}
