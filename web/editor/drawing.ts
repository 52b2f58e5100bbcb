// The drawing: holds the view and the tool in hand, turns what is pointed at and
// typed into steps of the board, and keeps the scene in step.

import { actions } from "./actions";
import type { Aids, Shelf } from "./aids";
import { type Keys, sameAim } from "./aim";
import { Commands } from "./commands";
import type { Notice } from "./desk";
import { eachFrame, h, setText } from "./dom";
import type { Entry } from "./entry";
import { placeText } from "./format";
import type { Bounds, Point } from "./geometry";
import { type Grid, gridAt } from "./grid";
import { type Grip, gripKey } from "./grips";
import type { Anchor } from "./holds";
import { usualKit, withFirstNozzle, withFittingBody, withSuitingNozzle } from "./kit";
import { Listening } from "./listening";
import { Looking } from "./looking";
import { has, type Plan, parts, type Ref } from "./model";
import { zoneChosen } from "./pipelook";
import { Pointing } from "./pointing";
import { ProblemBar } from "./problembar";
import { type Picture, Scene } from "./scene/scene";
import { snapNames } from "./snap";
import type { Board } from "./state";
import { noteOf, type Status } from "./statusbar";
import { planBounds, thingAt } from "./things";
import { commandOf, isTool, type ToolName, takeUp } from "./tools/all";
import { gripsShown } from "./tools/grasp";
import type { Aim, Around, Fix, Kit, Result, Running, Sketch, ToolEvent } from "./tools/tool";
import { Typing } from "./typing";
import { fit, keepWhole, resize, sees, type View, withinReach } from "./view";

export interface DrawingDOM {
  readonly board: HTMLElement;
  readonly svg: SVGSVGElement;
  readonly entry: HTMLElement;
  readonly status?: HTMLElement;
}

export class Drawing {
  readonly commands: Commands;
  readonly looking: Looking;
  readonly pointing: Pointing;
  readonly typing: Typing;
  kit: Kit = usualKit;
  view: View;
  zooming = false;
  /** The view is on the move by wheel or hand. */
  moving = false;
  /** A pointer is down: the view may not change its scale under it. */
  pressed = false;
  /** Where the pointer or the crosshair is, in feet and in words. */
  pointer: { readonly at: Point; readonly text: string } | null = null;

  #tool: Running = takeUp("select");
  /** A tool put down with a draft keeps it until it is taken up again. */
  readonly #aside = new Map<ToolName, Running>();
  /** What says that a draft is put aside, as long as it stands. */
  #saidAside: { readonly of: ToolName; readonly notice: Notice } | null = null;
  #busy = false;
  #inHand: string | null = null;
  #stop: Ref | null = null;
  #sketch: Sketch = {};
  readonly #scene: Scene;
  readonly #problems: ProblemBar;
  /** The grid step and the snap, in the corner of the board. */
  readonly #note = h("p", { class: "board-note" });
  /** Shown when nothing drawn is in view. */
  readonly #home: HTMLButtonElement;
  #stale = false;
  #paper = false;
  #shrunk: { readonly from: View; readonly to: View } | null = null;
  readonly #nextFrame = eachFrame(() => this.draw());

  constructor(
    readonly board: Board,
    readonly dom: DrawingDOM,
    shelf: Shelf | null = localStorage,
  ) {
    this.view = fit({ scale: 1, left: 0, top: 0, ...this.#size() }, this.content() ?? firstGround);
    this.pointing = new Pointing(this, shelf);
    this.commands = new Commands(actions(this));
    this.#scene = new Scene(dom.svg);
    this.typing = new Typing(this, dom.entry);
    this.#problems = new ProblemBar(dom.board, {
      fix: (f) => this.#fix(f),
      run: (id) => this.commands.run(id, (why) => board.announce(why)),
    });
    this.#home = h("button", { type: "button", class: "board-home", hidden: true }, "Back to the plan");
    this.#home.addEventListener("click", () => this.looking.fitPlan());
    dom.board.append(this.#note, this.#home);
    this.looking = new Looking(this);
    new Listening(this);
    this.#follow();
    this.redraw();
  }

  #follow(): void {
    const { board } = this;
    for (const topic of ["plan", "design", "hover", "whatif", "away", "pipelook", "audit", "layers"] as const)
      board.subscribe(topic, () => this.redraw());
    board.subscribe("selection", () => {
      const grip = this.inHand;
      if (!grip || !board.selection.has(grip.ref)) this.#inHand = null;
      this.redraw();
    });
    board.subscribe("tool", () => this.#takeTool());
    board.subscribe("earlier", () => {
      if (board.earlier) board.setTool("select"); // a draft is put aside, not dropped by a step that is refused
      this.redraw();
    });
    board.subscribe("catalog", () => this.setKit(withFirstNozzle(this.kit, board.plan, board.catalog)));
    const size = new ResizeObserver(() => {
      if (this.#paper) return;
      this.#fitted(this.#size());
      this.draw(); // in this same frame, or drawing and map would part for one
    });
    size.observe(this.dom.board);
  }

  /** The board has a new size. What was made smaller only to stay whole grows back with the room. */
  #fitted({ width, height }: { width: number; height: number }): void {
    const shrunk = this.#shrunk;
    this.#shrunk = null;
    if (shrunk && this.view === shrunk.to && width === shrunk.from.width && height === shrunk.from.height) {
      this.setView(shrunk.from);
      return;
    }
    const from = this.view;
    const same = resize(from, width, height);
    this.setView(this.pressed ? same : keepWhole(from, same, this.content()));
    if (this.view.scale !== from.scale) this.#shrunk = { from, to: this.view };
  }

  #size(): { width: number; height: number } {
    const { clientWidth, clientHeight } = this.dom.board;
    return { width: Math.max(1, clientWidth), height: Math.max(1, clientHeight) };
  }

  /** What a tool may look at: the document without the gesture in progress. */
  get around(): Around {
    const { selection, catalog, design, layers } = this.board;
    return { plan: this.#still, selection, kit: this.kit, catalog, design, sight: layers };
  }

  /** What is on the board without the gesture in progress. */
  get #still(): Plan {
    return this.board.earlier?.doc ?? this.board.committed;
  }

  get tool(): Running {
    return this.#tool;
  }

  get toolName(): ToolName {
    return this.#tool.name as ToolName;
  }

  get aids(): Aids {
    return this.pointing.aids;
  }

  /** The plan on show: a draft the server would refuse, the gesture's, or the document. */
  get shownPlan(): Plan {
    return this.#sketch.plan ?? this.board.plan;
  }

  get stop(): Ref | null {
    return this.#stop && has(this.board.plan, this.#stop) ? this.#stop : null;
  }

  /** The thing Tab stops at inside the scene. */
  set stop(r: Ref | null) {
    this.#stop = r;
    this.redraw();
  }

  get problem(): { sentence: string; fixes: { title: string; run(): void }[] } | null {
    const sentence = this.#sketch.problem;
    if (!sentence) return null;
    const fixes = this.#tool.fixes(this.around);
    return { sentence, fixes: fixes.map((f) => ({ title: f.title, run: () => this.#fix(f) })) };
  }

  get grid(): Grid {
    return gridAt(this.view.scale, this.board.plan.show);
  }

  get status(): Status {
    const { aids } = this;
    const snap = this.pointing.sign;
    return {
      snap: !aids.snap ? "Snap off" : snap && snap.kind !== "grid" ? snapNames[snap.kind] : "Snap on",
      grid: aids.grid ? `Grid ${this.grid.text}` : "Grid off",
      ortho: aids.ortho ? "Square on" : "Square off",
      hint: this.#tool.hint(this.around),
    };
  }

  /** The bounds of all that is drawn. */
  content(): Bounds | null {
    return planBounds(this.#still);
  }

  /** The thing meant by a place, of those that are not hidden. */
  thingAt(at: Point, reach: number): Ref | null {
    return thingAt(this.board.plan, at, reach, (r) => !this.board.layers.hides(r));
  }

  setView(v: View): void {
    const next = withinReach(v, this.content());
    if (next === this.view) return;
    this.view = next;
    this.board.emit("view");
    this.refresh();
  }

  setAids(part: Partial<Aids>): void {
    this.pointing.setAids(part);
    this.board.emit("view");
    this.refresh();
  }

  setKit(part: Partial<Kit>): void {
    const kit = { ...this.kit, ...part };
    const { plan, catalog } = this.board;
    this.kit = part.nozzle === undefined ? kit : withFittingBody(kit, plan, catalog);
    this.board.emit("tool");
    this.redraw();
  }

  // Tools

  /** Takes a tool up. */
  takeUp(name: ToolName): void {
    if (name !== "select" && this.board.shut()) return;
    const before = this.#tool;
    this.board.setTool(name);
    const put = before !== this.#tool && before.drawing;
    if (name === this.#saidAside?.of) this.#dropSaidAside();
    const title = this.commands.get(commandOf(name)).title;
    this.board.announce(`${title}. ${this.#tool.hint(this.around)}`);
    if (!put) return;
    const was = this.commands.get(commandOf(before.name as ToolName)).title;
    const sentence = `What you began with ${was} is put aside. Take ${was} up again to go on with it.`;
    const notice: Notice = { kind: "hint", sentence };
    this.#saidAside = { of: before.name as ToolName, notice };
    this.board.show(notice);
  }

  /** The draft is in hand again, or something else was drawn meanwhile: enough was said. */
  #dropSaidAside(): void {
    if (this.#saidAside && this.board.notice === this.#saidAside.notice) this.board.show(null);
    this.#saidAside = null;
  }

  #takeTool(): void {
    const name = this.board.tool.replace(/^tool\./, "");
    this.redraw();
    if (!isTool(name) || name === this.#tool.name) return;
    this.tell({ type: "abort" });
    this.typing.close();
    if (this.#tool.busy) this.#aside.set(this.toolName, this.#tool);
    this.#tool = this.#aside.get(name) ?? takeUp(name);
    this.#aside.delete(name);
    this.pointing.forgetCycle();
    if (name === "select") this.pointing.setCrosshair(null);
    if (name === "head") {
      const { plan, catalog, selection } = this.board;
      this.setKit(withSuitingNozzle(this.kit, plan, catalog, selection));
    }
    this.refresh();
  }

  /** Tells the tool what happened and does what it answers; true when it meant something. */
  tell(e: ToolEvent): boolean {
    const told = this.#tool.step(e, this.around);
    this.#apply(told);
    return !told.unused;
  }

  /** Tells the tool what was typed; the sentence when it cannot be used. */
  typed(entry: Entry, aim: Aim): string | null {
    const told = this.#tool.step({ type: "typed", entry, aim }, this.around);
    this.#apply(told);
    return told.refused ?? null;
  }

  #apply(t: Omit<Result<unknown>, "state">): void {
    const { board } = this;
    if (t.select) board.select(t.select.refs, t.select.how);
    if (t.hold) this.#inHand = gripKey(t.hold);
    if (t.kit) this.setKit(t.kit);
    if (t.preview) board.preview(t.preview);
    else if (t.preview === null) board.cancel();
    if (t.commit) {
      this.#dropSaidAside();
      void board.commit(t.commit.label, t.commit.plan);
      if (t.commit.select) board.select(t.commit.select);
      if (t.commit.kit) this.setKit(t.commit.kit);
      this.pointing.forgetCycle();
    }
    if (t.say) board.announce(t.say);
    if (t.leave) board.setTool("select");
    this.typing.openIfAwaited();
    // Undo speaks to the draft while there is one.
    if (this.#busy !== this.#tool.busy) {
      this.#busy = this.#tool.busy;
      board.emit("steps");
    }
    this.redraw();
  }

  #fix(f: Fix): void {
    this.#apply(this.#tool.fix(f, this.around));
    this.focus();
  }

  /** Commits a change made by a command or a key; several of one kind in quick succession are one step. */
  commit(
    label: string,
    plan: Plan,
    more: { select?: readonly Ref[]; merge?: string; say?: string } = {},
  ): void {
    void this.board.commit(label, plan, more.merge);
    if (more.select) this.board.select(more.select);
    if (more.say) this.board.announce(more.say);
    this.redraw();
  }

  // Handles in hand

  get grips(): readonly Grip[] {
    if (this.toolName !== "select" && this.toolName !== "head") return [];
    const all = gripsShown(this.shownPlan, this.around);
    return this.toolName === "select" ? all : all.filter((g) => parts(g.ref)[0] === "heads");
  }

  get inHand(): Grip | null {
    return this.grips.find((g) => gripKey(g) === this.#inHand) ?? null;
  }

  hold(g: Grip | null): void {
    this.#inHand = g ? gripKey(g) : null;
    if (g) this.board.announce(`${g.name}, at ${placeText(g.at, this.board.plan.show)}.`);
    this.redraw();
  }

  // Pointing

  setKeys(keys: Keys): void {
    const was = this.pointing.keys;
    if (was.shift === keys.shift && was.alt === keys.alt && was.ctrl === keys.ctrl) return;
    this.pointing.keys = keys;
    this.refresh();
  }

  setCrosshair(p: Point): void {
    this.pointing.setCrosshair(p);
    this.look("hover");
  }

  /** Goes to the next place the pointer may mean; false when there is no other. */
  cycle(by: number): boolean {
    if (!this.pointing.cycle(by)) return false;
    this.look("hover");
    const { snap, at } = this.pointing.aim ?? {};
    if (snap && at) this.board.announce(`${snapNames[snap.kind]}, ${placeText(at, this.board.plan.show)}.`);
    return true;
  }

  /** Works out what is aimed at and tells the tool. */
  look(type: "hover" | "press" | "drag"): Aim | null {
    const was = this.pointing.aim;
    const aim = this.pointing.look();
    this.pointer = aim ? { at: aim.at, text: placeText(aim.at, this.board.plan.show) } : null;
    this.board.emit("hover");
    this.typing.follow();
    const idle = type === "hover" && this.toolName === "select" && sameAim(was, aim);
    if (aim && !idle) this.tell({ type, aim });
    this.redraw();
    return aim;
  }

  /** Works the aim out again after a key, the view or an aid changed it. */
  refresh(): void {
    if (this.pointing.present) this.look(this.pointing.stroke ? "drag" : "hover");
    this.redraw();
  }

  /** Gives the board the focus, so that its keys work. */
  focus(): void {
    this.dom.svg.focus({ preventScroll: true });
  }

  // Drawing

  /** Draws for a sheet of paper, with nothing selected; the returned function puts the board back. */
  drawForPaper(view: View): () => void {
    const kept = this.view;
    const put = (v: View, paper: boolean): void => {
      this.view = v;
      this.#paper = paper;
      this.moving = false;
      this.zooming = false;
      this.board.emit("view");
      this.#stale = true;
      this.draw();
    };
    put(view, true);
    return () => put(kept, false);
  }

  /** Draws in the next frame. */
  redraw(): void {
    this.#stale = true;
    this.#nextFrame();
  }

  /** Draws now, if anything changed: for what is already told once a frame. */
  draw(): void {
    if (!this.#stale) return;
    this.#stale = false;
    this.#draw();
  }

  #draw(): void {
    const { board, around } = this;
    this.#sketch = this.#tool.sketch(around);
    if (board.earlier) this.#sketch = this.#sketch.box ? { box: this.#sketch.box } : {}; // a draft is of the plan
    const anchor = this.#tool.anchor(around);
    const hands = this.#paper ? handsOff : this.#hands(anchor);
    this.#scene.draw({
      plan: this.shownPlan,
      still: this.#still,
      design: board.whatIf?.pictured(board.design) ?? board.design,
      stop: this.stop,
      flows: { by: board.pipeLook.by, zone: zoneChosen(this.shownPlan, board.selection) },
      audit: { audit: board.layers.audit, view: board.audit },
      moving: this.moving,
      zooming: this.zooming,
      view: this.view,
      ...hands,
    });
    this.dom.board.dataset.tool = this.#tool.name;
    setText(this.#note, noteOf(this.status));
    const content = this.content();
    this.#home.hidden = !content || sees(this.view, content);
    const fixes = board.earlier ? [] : this.#tool.fixes(around);
    this.#problems.show({
      problem: this.#sketch.problem ?? "",
      news: this.#sketch.news ?? "",
      figures: this.#tool.text(around) !== null,
      fixes,
      steps: this.#stepsShown(fixes.length),
    });
  }

  /** What is drawn only for those at work: what is selected, held and pointed at. */
  #hands(anchor: Anchor | null): Hands {
    const { board, pointing } = this;
    const held = pointing.aim?.held ?? null;
    return {
      selection: board.selection,
      hover: board.hover,
      grid: this.aids.grid ? this.grid : null,
      sketch: this.#sketch,
      grips: this.#sketch.box ? [] : this.grips,
      inHand: this.inHand,
      snap: pointing.sign,
      ray: held && anchor ? { from: anchor.at, held } : null,
      crosshair: pointing.crosshair,
      under: {
        finger: this.#tool.aims() ? pointing.finger : null,
        at: pointing.aim?.at ?? [0, 0],
        snapped: pointing.aim?.snap != null,
      },
    };
  }

  /** Which buttons the bar over the board shows. */
  #stepsShown(fixes: number): "" | "draft" | "points" | "change" {
    if (!this.#tool.busy) return "";
    if (this.#tool.name === "picture") return "points";
    if ((this.#sketch.dots?.length ?? 0) > 0 || this.#tool.name === "tape") return "draft";
    return fixes > 0 ? "change" : "";
  }
}

type Hands = Pick<
  Picture,
  "selection" | "hover" | "grid" | "sketch" | "grips" | "inHand" | "snap" | "ray" | "crosshair" | "under"
>;

const handsOff: Hands = {
  selection: new Set(),
  hover: null,
  grid: null,
  sketch: {},
  grips: [],
  inHand: null,
  snap: null,
  ray: null,
  crosshair: null,
  under: { finger: null, at: [0, 0], snapped: false },
};

/** What an empty plan shows at first: a usual lot. */
const firstGround: Bounds = { minX: -10, minY: -10, maxX: 110, maxY: 90 };
