// The ears of the board: pointer, wheel and keyboard events turned into what
// the drawing understands.

import { eachFrame } from "./dom";
import type { Drawing } from "./drawing";
import { add, type Point, times } from "./geometry";
import { crosshairSteps } from "./grid";
import { arrow, commandFor, takesText } from "./keys";
import { LongPress } from "./longpress";
import type { Ref } from "./model";
import { nudge } from "./nudge";
import { menuIsOpen, openMenu } from "./panels/context";
import { type Meant, type PointerIn, type PointerState, pointed, resting } from "./pointers";
import { centre, type Pixel, pixel } from "./view";

/** How much of a wheel's turn zooms: about 16 % a notch. */
const WHEEL = 0.0015;
/** A pinch on a pad comes as a wheel with Ctrl, in smaller numbers. */
const PINCH = 0.01;
/** Pixels of a line, for wheels that count lines. */
const LINE_PX = 16;
/** What the arrows move the view by, in pixels. */
const PAN_PX = 60;
/** How long the board's place on the page is taken as known, in ms. */
const BOX_MS = 200;
/** How long the crosshair rests before its place is read out, in ms. */
const READ_OUT_MS = 300;

export class Listening {
  #pointers: PointerState = resting;
  #space = false;
  #pasted: ClipboardEvent | null = null;
  #panned = false;
  #moved: Meant | null = null;
  #box: DOMRect | null = null;
  #boxAt = 0;
  #read: ReturnType<typeof setTimeout> | null = null;
  #pressed: PointerEvent | null = null;
  readonly #long = new LongPress((e) => this.#pointer("hold", e));
  readonly #frame = eachFrame(() => this.#flush());

  constructor(readonly d: Drawing) {
    const { svg, board } = d.dom;
    svg.addEventListener("pointerdown", (e) => this.#down(e));
    svg.addEventListener("pointermove", (e) => this.#move(e));
    for (const type of ["up", "cancel"] as const) {
      svg.addEventListener(`pointer${type}`, (e) => {
        this.#long.drop();
        this.#pointer(type, e);
      });
    }
    svg.addEventListener("pointerleave", () => this.#leave());
    svg.addEventListener("contextmenu", (e) => this.#asked(e));
    board.addEventListener("wheel", (e) => this.#wheel(e), { passive: false });
    svg.addEventListener("focusin", (e) => this.#focused(e));
    board.addEventListener("keydown", (e) => this.#key(e));
    board.addEventListener("keyup", (e) => this.#keyUp(e));
    document.addEventListener("keydown", (e) => this.#pageKey(e));
    document.addEventListener("paste", (e) => {
      this.#pasted = e;
    });
    for (const type of ["keydown", "keyup"] as const) document.addEventListener(type, (e) => this.#held(e));
    window.addEventListener("blur", () => {
      this.#space = false;
      d.setKeys({ shift: false, alt: false, ctrl: false });
    });
  }

  #pixel(e: { clientX: number; clientY: number; timeStamp: number }): Pixel {
    // Asking for the box makes the browser lay the page out, so it is not done
    // for every move. It is the board's box, not the scene's: a transform
    // carries the scene about while the view moves.
    if (!this.#box || (this.#pointers.mode === "idle" && e.timeStamp - this.#boxAt > BOX_MS)) {
      this.#box = this.d.dom.board.getBoundingClientRect();
      this.#boxAt = e.timeStamp;
    }
    return pixel(e.clientX - this.#box.left, e.clientY - this.#box.top);
  }

  // Pointers

  #down(e: PointerEvent): void {
    const { svg } = this.d.dom;
    svg.setPointerCapture(e.pointerId);
    this.#pressed = e;
    this.#long.down(e);
    if (this.#pointers.mode === "idle") this.#box = null;
    // The middle button moves the view and must not scroll the page; the others draw.
    if (e.button === 1) e.preventDefault();
    else this.d.typing.leave();
    if (!svg.contains(document.activeElement)) this.d.focus();
    this.#pointer("down", e);
  }

  /** The browser's wish for a menu: by the right button, or by its own reckoning of a long press. */
  #asked(e: MouseEvent): void {
    e.preventDefault();
    if (menuIsOpen() || this.#pointers.mode === "pinch" || this.#pointers.mode === "pan") return;
    const press = this.#pressed;
    if (press && press.pointerType !== "mouse") this.#pointer("hold", press);
    else openMenu(this.d, e.button === 2 ? this.#pixel(e) : null);
  }

  #move(e: PointerEvent): void {
    // A fast mouse reports several places a frame; only the last is drawn.
    this.#pointer("move", e);
  }

  #pointer(type: PointerIn["type"], e: PointerEvent): void {
    this.d.setKeys({ shift: e.shiftKey, alt: e.altKey, ctrl: e.ctrlKey || e.metaKey });
    const kind = e.pointerType === "touch" || e.pointerType === "pen" ? e.pointerType : "mouse";
    if (kind !== "mouse") document.documentElement.dataset.touched = "";
    const [next, meant] = pointed(this.#pointers, {
      type,
      id: e.pointerId,
      at: this.#pixel(e),
      kind,
      button: type === "down" ? e.button : 0,
      time: e.timeStamp,
      space: this.#space,
      fingersMove: this.d.aids.fingers === "move",
    });
    this.#pointers = next;
    this.d.pressed = next.mode !== "idle";
    this.d.dom.board.dataset.pointing = next.mode;
    for (const m of meant) this.#do(m);
    if (kind === "pen" && next.mode === "idle" && this.d.aids.fingers === "unsaid") this.#penCame();
  }

  /** The first pen on the board: from now on fingers move the view, until told otherwise. */
  #penCame(): void {
    this.d.setAids({ fingers: "move" });
    const sentence =
      "A pen: it draws, and fingers only move the view. “Fingers only move” in the bar below changes that.";
    this.d.board.show({ kind: "hint", sentence });
  }

  #do(m: Meant): void {
    switch (m.do) {
      case "menu":
        openMenu(this.d, m.at);
        return;
      case "hover":
      case "drag":
        this.#moved = m;
        this.#frame();
        return;
      case "pan":
        this.#panned = true;
        this.d.looking.slide(m.dx, m.dy);
        return;
      case "pinch":
        this.d.looking.slide(m.dx, m.dy);
        this.d.looking.zoom(m.at, m.factor);
        return;
      case "settle":
        this.d.looking.settle();
        return;
      default:
        this.#flush();
        this.#stroke(m);
    }
  }

  #stroke(m: Exclude<Meant, { do: "pan" | "pinch" | "settle" }>): void {
    const { d } = this;
    if (m.do === "abort") {
      d.pointing.stroke = false;
      d.tell({ type: "abort" });
      return;
    }
    d.pointing.to(m.at, m.coarse);
    if (m.do === "press") {
      d.look("press");
      d.pointing.stroke = true;
    } else if (m.do === "release") {
      // A click is no drag: a tool told of one would take hold of what was pressed.
      const aim = m.moved ? d.look("drag") : d.pointing.look();
      d.pointing.stroke = false;
      if (aim) d.tell({ type: "release", aim, moved: m.moved, clicks: m.clicks });
      if (m.coarse) this.#leave();
    }
  }

  /** The newest move, once a frame, drawn in that same frame. */
  #flush(): void {
    const m = this.#moved;
    this.#moved = null;
    if (!m || (m.do !== "hover" && m.do !== "drag")) return;
    const { d } = this;
    d.pointing.to(m.at, m.coarse);
    const aim = d.look(m.do);
    if (m.do === "hover") {
      d.board.setHover(aim && d.toolName === "select" ? d.thingAt(aim.raw, aim.reach) : null);
    }
    d.draw();
  }

  #leave(): void {
    if (this.#pointers.mode !== "idle") return;
    this.#moved = null;
    this.d.pointing.to(null, false);
    this.d.look("hover");
    this.d.board.setHover(null);
  }

  #wheel(e: WheelEvent): void {
    if (e.target instanceof Element && e.target.closest(".entry, .legend, .empty, .note")) return;
    e.preventDefault();
    const unit = e.deltaMode === WheelEvent.DOM_DELTA_LINE ? LINE_PX : 1;
    const [dx, dy] = [e.deltaX * unit, e.deltaY * unit];
    const pinch = e.ctrlKey || e.metaKey;
    if (pinch || this.d.aids.wheel === "zoom") {
      const k = pinch && Math.abs(dy) < 50 ? PINCH : WHEEL;
      this.d.looking.zoom(this.#pixel(e), Math.exp(-dy * k));
    } else if (e.shiftKey && dx === 0) this.d.looking.slide(-dy, 0);
    else this.d.looking.slide(-dx, -dy);
  }

  // Keys

  #focused(e: FocusEvent): void {
    const at = e.target instanceof SVGElement ? e.target.dataset.ref : undefined;
    if (at) this.d.stop = at as Ref;
  }

  /** Shift, Alt and Ctrl change what is aimed at while the pointer rests. */
  #held(e: KeyboardEvent): void {
    if (!["Shift", "Alt", "Control", "Meta"].includes(e.key)) return;
    if (e.key === "Alt" && this.d.dom.board.contains(document.activeElement)) e.preventDefault(); // not the browser's menu
    this.d.setKeys({ shift: e.shiftKey, alt: e.altKey, ctrl: e.ctrlKey || e.metaKey });
  }

  #key(e: KeyboardEvent): void {
    if (e.defaultPrevented || this.d.typing.open || !(e.target instanceof SVGElement)) return;
    const used = [
      this.#menuKey,
      this.#space_,
      this.#arrows,
      this.#tab,
      this.#digit,
      this.#takeBack,
      this.#command,
    ].some((take) => take.call(this, e, true));
    if (used) {
      e.preventDefault();
      e.stopPropagation();
    }
  }

  #pageKey(e: KeyboardEvent): void {
    if (e.defaultPrevented || takesText(document.activeElement)) return;
    // Copying text off the page stays the browser's.
    const text = document.getSelection();
    if (text && !text.isCollapsed && /^[cx]$/i.test(e.key)) return;
    if (this.#command(e, false)) e.preventDefault();
  }

  /** The menu key and Shift+F10: the menu of what has the focus. */
  #menuKey(e: KeyboardEvent): boolean {
    if (e.key !== "ContextMenu" && !(e.key === "F10" && e.shiftKey)) return false;
    openMenu(this.d, null);
    return true;
  }

  #command(e: KeyboardEvent, board: boolean): boolean {
    const id = commandFor(e, { board, typing: takesText(document.activeElement) });
    if (!id) return false;
    if (id === "edit.paste") return this.#paste(e);
    // A key that does nothing says why for the eyes, too; with undo the end of the steps is plain to see.
    const { board: desk } = this.d;
    const plain = id === "edit.undo" || id === "edit.redo";
    const say = (why: string): void =>
      plain ? desk.announce(why) : desk.show({ kind: "hint", sentence: why });
    this.d.commands.run(id, say);
    return true;
  }

  /** The browser's own paste comes first: what it has, such as a picture, may be taken by another. */
  #paste(e: KeyboardEvent): false {
    e.stopPropagation();
    this.#pasted = null;
    setTimeout(() => {
      if (!this.#pasted?.defaultPrevented)
        this.d.commands.run("edit.paste", (why) => this.d.board.announce(why));
    });
    return false;
  }

  /** Space held moves the view; a tap selects what has the focus. */
  #space_(e: KeyboardEvent): boolean {
    if (e.key !== " ") return false;
    if (!e.repeat) {
      this.#space = true;
      this.#panned = false;
      this.d.dom.board.dataset.space = "";
    }
    return true;
  }

  #keyUp(e: KeyboardEvent): void {
    if (e.key !== " " || !this.#space) return;
    this.#space = false;
    delete this.d.dom.board.dataset.space;
    const at = e.target instanceof SVGElement ? e.target.dataset.ref : undefined;
    if (!this.#panned && at) this.d.board.select([at as Ref], "toggle");
  }

  #arrows(e: KeyboardEvent): boolean {
    const way = arrow(e.key);
    if (!way || e.altKey || e.metaKey) return false;
    const { d } = this;
    if (d.toolName !== "select") return this.#crosshair(way, e);
    if (e.ctrlKey) return false;
    if (d.board.selection.size > 0) nudge(d, way, e.shiftKey);
    else d.looking.pan(-way[0] * PAN_PX, way[1] * PAN_PX);
    return true;
  }

  #crosshair(way: Point, e: KeyboardEvent): boolean {
    const { d } = this;
    const steps = crosshairSteps(d.aids.grid ? d.grid : null, d.board.plan.show);
    const by = e.shiftKey ? steps.large : e.ctrlKey ? steps.small : steps.usual;
    const from = d.pointing.start ?? this.#middle(steps.usual);
    const to = add(from, times(way, by));
    d.setKeys({ shift: false, alt: false, ctrl: false }); // here they are for the step, not for holds
    d.setCrosshair([tidy(to[0]), tidy(to[1])]);
    d.looking.keepInView(to);
    if (this.#read !== null) clearTimeout(this.#read);
    this.#read = setTimeout(() => d.board.announce(d.pointer?.text ?? ""), READ_OUT_MS);
    return true;
  }

  #middle(step: number): Point {
    const c = centre(this.d.view);
    return [Math.round(c[0] / step) * step, Math.round(c[1] / step) * step];
  }

  /** Backspace while drawing takes the last corner out; else it is a command like any other. */
  #takeBack(e: KeyboardEvent): boolean {
    return e.key === "Backspace" && this.d.tool.busy && this.d.tell({ type: "back" });
  }

  /** Tab goes through the snaps while drawing; with none to choose from it leaves the board as always. */
  #tab(e: KeyboardEvent): boolean {
    if (e.key !== "Tab" || this.d.toolName === "select") return false;
    return this.d.cycle(e.shiftKey ? -1 : 1);
  }

  #digit(e: KeyboardEvent): boolean {
    if (e.ctrlKey || e.metaKey || e.altKey) return false;
    const minus = e.key === "-" && this.d.toolName !== "select" && this.d.tool.placeFirst();
    if (!/^[0-9]$/.test(e.key) && !minus) return false;
    return this.d.typing.begin(e.key);
  }
}

/** The crosshair's place without the dust of many small steps. */
const tidy = (n: number): number => Math.round(n * 1e6) / 1e6;
