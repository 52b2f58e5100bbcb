// The drawing: holds the view, the tool in hand and the aids, turns what the
// pointer and keyboard do into steps of the board, and keeps the scene in step.

import { actions } from "./actions";
import { type Aids, keepAids, loadAids, type Shelf } from "./aids";
import { type AimAsk, aimFor, candidates, type Keys, MOUSE_PX, sameAim, TOUCH_PX } from "./aim";
import { fitting } from "./catalog";
import { Commands } from "./commands";
import { eachFrame } from "./dom";
import type { Entry } from "./entry";
import { EntryBox } from "./entrybox";
import { angleText, lengthText, placeText } from "./format";
import { type Bounds, directionDeg, distance, type Point } from "./geometry";
import { type Grid, gridAt } from "./grid";
import { type Grip, gripKey } from "./grips";
import { Listening } from "./listening";
import { Looking } from "./looking";
import { has, type Plan, parts, type Ref } from "./model";
import { ProblemBar } from "./problembar";
import { Scene } from "./scene/scene";
import { faultSentence } from "./shape";
import { type Snap, snapNames } from "./snap";
import { indexOf } from "./snapindex";
import type { Board } from "./state";
import { planBounds } from "./things";
import { isTool, type ToolName, takeUp } from "./tools/all";
import { brokenRing, gripFields, gripLabel, gripsShown, typedGrip } from "./tools/grasp";
import type { Aim, Around, Fix, Kit, Result, Running, Sketch, ToolEvent } from "./tools/tool";
import { fit, type Pixel, pixel, resize, toFeet, toPixel, type View, withinReach } from "./view";

export interface DrawingDOM {
  readonly board: HTMLElement;
  readonly svg: SVGSVGElement;
  readonly entry: HTMLElement;
  readonly status?: HTMLElement;
}

/** The words of the status bar. */
export interface Status {
  readonly snap: string;
  readonly grid: string;
  readonly ortho: string;
  readonly hint: string;
}

const usualKit: Kit = {
  areaKind: "planting",
  asHole: false,
  nozzle: "",
  body: "",
  zone: "",
  barrierKind: "fence",
  barrierHeightFt: 6,
  trunkIn: 10,
  rootZoneFt: 8,
  keepDryFt: 1.5,
};

const noKeys: Keys = { shift: false, alt: false, ctrl: false };

type Told = Omit<Result<unknown>, "state">;

export class Drawing {
  readonly commands: Commands;
  readonly looking: Looking;
  kit: Kit = usualKit;
  aids: Aids;
  view: View;
  zooming = false;
  /** The view is on the move by wheel or hand. */
  moving = false;
  /** Where the pointer or the crosshair is, in feet and in words. */
  pointer: { readonly at: Point; readonly text: string } | null = null;

  #tool: Running = takeUp("select");
  /** A tool put down with a draft keeps it until it is taken up again. */
  readonly #aside = new Map<ToolName, Running>();
  #at: Pixel | null = null;
  #coarse = false;
  #crosshair: Point | null = null;
  /** The last place that was typed: the crosshair starts there. */
  #placed: Point | null = null;
  #keys: Keys = noKeys;
  #cycle = 0;
  #aim: Aim | null = null;
  #inHand: string | null = null;
  #stop: Ref | null = null;
  #sketch: Sketch = {};
  readonly #scene: Scene;
  readonly #entry: EntryBox;
  readonly #problems: ProblemBar;
  readonly #shelf: Shelf | null;
  readonly redraw = eachFrame(() => this.#draw());

  constructor(
    readonly board: Board,
    readonly dom: DrawingDOM,
    shelf: Shelf | null = localStorage,
  ) {
    this.#shelf = shelf;
    this.aids = loadAids(shelf);
    this.view = fit({ scale: 1, left: 0, top: 0, ...this.#size() }, this.content() ?? firstGround);
    this.commands = new Commands(actions(this));
    this.#scene = new Scene(dom.svg);
    this.#entry = new EntryBox(dom.entry, {
      typed: (entry) => this.#typed(entry),
      words: (text) => this.tell({ type: "text", text }),
      closed: (escaped) => this.#entryClosed(escaped),
    });
    this.#problems = new ProblemBar(dom.board, {
      fix: (f) => this.#fix(f),
      run: (id) => this.commands.run(id, (why) => board.announce(why)),
    });
    this.looking = new Looking(this);
    new Listening(this);
    this.#follow();
    this.redraw();
  }

  #follow(): void {
    const { board } = this;
    for (const topic of ["plan", "design", "hover"] as const) board.subscribe(topic, () => this.redraw());
    board.subscribe("selection", () => {
      const grip = this.inHand;
      if (!grip || !board.selection.has(grip.ref)) this.#inHand = null;
      this.redraw();
    });
    board.subscribe("tool", () => this.#takeTool());
    board.subscribe("catalog", () => this.#fillKit());
    new ResizeObserver(() => this.setView(resize(this.view, this.#size().width, this.#size().height))).observe(this.dom.board);
    this.#fillKit();
  }

  #size(): { width: number; height: number } {
    return { width: Math.max(1, this.dom.board.clientWidth), height: Math.max(1, this.dom.board.clientHeight) };
  }

  /** What a tool may look at: the document without the gesture in progress. */
  get around(): Around {
    const { committed, selection, catalog, design } = this.board;
    return { plan: committed, selection, kit: this.kit, catalog, design };
  }

  get tool(): Running {
    return this.#tool;
  }

  get toolName(): ToolName {
    return this.#tool.name as ToolName;
  }

  /** The plan on show: a draft the server would refuse, the gesture's, or the document. */
  get shownPlan(): Plan {
    return this.#sketch.plan ?? this.board.plan;
  }

  get aim(): Aim | null {
    return this.#aim;
  }

  get crosshair(): Point | null {
    return this.#crosshair;
  }

  /** Where the crosshair starts: at the pointer, else at what was typed last. */
  get crosshairStart(): Point | null {
    return this.#crosshair ?? (this.#at ? (this.#aim?.at ?? null) : this.#placed);
  }

  get entryOpen(): boolean {
    return this.#entry.open;
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
    const snap = this.#aim?.snap;
    return {
      snap: !this.aids.snap ? "Snap off" : snap && snap.kind !== "grid" ? snapNames[snap.kind] : "Snap on",
      grid: this.aids.grid ? `Grid ${this.grid.text}` : "Grid off",
      ortho: this.aids.ortho ? "Square on" : "Square off",
      hint: this.#tool.hint(this.around),
    };
  }

  /** The bounds of all that is drawn. */
  content(): Bounds | null {
    return planBounds(this.board.committed);
  }

  setView(v: View): void {
    const next = withinReach(v, this.content());
    if (next === this.view) return;
    this.view = next;
    this.board.emit("view");
    this.refresh();
  }

  setAids(part: Partial<Aids>): void {
    this.aids = { ...this.aids, ...part };
    keepAids(this.#shelf, this.aids);
    this.board.emit("view");
    this.refresh();
  }

  setKit(part: Partial<Kit>): void {
    this.kit = { ...this.kit, ...part };
    if (part.nozzle !== undefined) this.#fitBody();
    this.board.emit("tool");
    this.redraw();
  }

  /** The first nozzle and body of a new page: what the plan uses most, else a stream nozzle of the catalogue. */
  #fillKit(): void {
    if (this.kit.nozzle) return;
    const { plan, catalog } = this.board;
    const used = Object.values(plan.heads ?? {}).at(-1);
    const first = catalog.nozzles.find((n) => n.family === "stream") ?? catalog.nozzles[0];
    const nozzle = used?.nozzle ?? first?.id;
    if (nozzle) this.setKit({ nozzle, body: used?.body ?? "" });
  }

  /** A body the nozzle does not screw into is changed for one it does. */
  #fitBody(): void {
    const { plan, catalog } = this.board;
    const n = plan.nozzles?.[this.kit.nozzle] ?? catalog.nozzles.find((e) => e.id === this.kit.nozzle);
    if (!n) return;
    const fit = fitting(plan, catalog, n);
    if (!fit.some((b) => b.id === this.kit.body)) this.kit = { ...this.kit, body: fit[0]?.id ?? "" };
  }

  // Tools

  /** Takes a tool up. */
  takeUp(name: ToolName): void {
    const before = this.#tool;
    this.board.setTool(name);
    const aside = before !== this.#tool && before.busy ? " What you began is put aside; take its tool up to go on." : "";
    this.board.announce(`${this.commands.get(`tool.${name}`).title}. ${this.#tool.hint(this.around)}${aside}`);
  }

  #takeTool(): void {
    const name = this.board.tool.replace(/^tool\./, "");
    if (!isTool(name) || name === this.#tool.name) return this.redraw();
    this.tell({ type: "abort" });
    this.#entry.close(false);
    if (this.#tool.busy) this.#aside.set(this.toolName, this.#tool);
    this.#tool = this.#aside.get(name) ?? takeUp(name);
    this.#aside.delete(name);
    this.#cycle = 0;
    if (name === "select") this.#crosshair = null;
    this.refresh();
  }

  /** Tells the tool what happened and does what it answers; true when it meant something. */
  tell(e: ToolEvent): boolean {
    const told = this.#tool.step(e, this.around);
    this.#apply(told);
    return !told.unused;
  }

  #apply(t: Told): void {
    const { board } = this;
    if (t.select) board.select(t.select.refs, t.select.how);
    if (t.hold) this.#inHand = gripKey(t.hold);
    if (t.preview) board.preview(t.preview);
    else if (t.preview === null) board.cancel();
    if (t.commit) {
      void board.commit(t.commit.label, t.commit.plan);
      if (t.commit.select) board.select(t.commit.select);
      this.#cycle = 0;
    }
    if (t.say) board.announce(t.say);
    if (t.leave) board.setTool("select");
    // A note asks for its words at once.
    if (!this.#entry.open && this.#tool.fields(this.around)[0] === "text") this.openEntry("");
    this.redraw();
  }

  #fix(f: Fix): void {
    this.#apply(this.#tool.fix(f, this.around));
    this.focus();
  }

  /** Commits a change made by a command or a key; several of one kind in quick succession are one step. */
  commit(label: string, plan: Plan, more: { select?: readonly Ref[]; merge?: string; say?: string } = {}): void {
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

  /** The pointer is at a pixel; null when it left the board. */
  point(at: Pixel | null, coarse: boolean): void {
    this.#at = at;
    this.#coarse = coarse;
    this.#crosshair = null;
    this.#cycle = 0;
  }

  /** The crosshair is moved by the keyboard to a place. */
  setCrosshair(p: Point): void {
    this.#crosshair = p;
    this.#cycle = 0;
    this.look("hover");
  }

  setKeys(keys: Keys): void {
    const was = this.#keys;
    if (was.shift === keys.shift && was.alt === keys.alt && was.ctrl === keys.ctrl) return;
    this.#keys = keys;
    this.refresh();
  }

  /** The next place the pointer may mean. */
  cycle(by: number): boolean {
    const q = this.#ask();
    if (!q) return false;
    const { found } = candidates(q);
    if (found.length < (q.steady ? 1 : 2)) return false;
    this.#cycle += by;
    this.look("hover");
    const { snap, at } = this.#aim ?? {};
    if (snap && at) this.board.announce(`${snapNames[snap.kind]}, ${placeText(at, this.board.plan.show)}.`);
    return true;
  }

  #ask(): AimAsk | null {
    const raw = this.#crosshair ?? (this.#at ? toFeet(this.view, this.#at) : null);
    if (!raw) return null;
    const { around } = this;
    return {
      raw,
      lead: this.#crosshair ? null : this.#tool.lead(),
      anchor: this.#tool.anchor(around),
      own: this.#tool.own(),
      skip: this.#tool.skip(),
      index: indexOf(around.plan),
      aids: this.aids,
      gridStep: this.grid.snap,
      reach: (this.#coarse ? TOUCH_PX : MOUSE_PX) / this.view.scale,
      keys: this.#keys,
      cycle: this.#cycle,
      snaps: this.#tool.aims(),
      steady: this.#crosshair !== null,
    };
  }

  /** Works out what is aimed at and tells the tool. */
  look(type: "hover" | "press" | "drag"): Aim | null {
    const q = this.#ask();
    const was = this.#aim;
    this.#aim = q ? aimFor(q) : null;
    this.#showPointer();
    if (this.#aim && !(type === "hover" && sameAim(was, this.#aim) && this.#tool.name === "select")) {
      this.tell({ type, aim: this.#aim });
    }
    this.redraw();
    return this.#aim;
  }

  /** Works the aim out again after a key, the view or an aid changed it. */
  refresh(): void {
    if (this.#stroke) this.look("drag");
    else if (this.#at || this.#crosshair) this.look("hover");
    this.redraw();
  }

  /** A button or finger is down, so that moves are drags. */
  #stroke = false;

  stroke(on: boolean): void {
    this.#stroke = on;
  }

  #showPointer(): void {
    const at = this.#aim?.at ?? null;
    this.pointer = at ? { at, text: placeText(at, this.board.plan.show) } : null;
    this.board.emit("hover");
    if (this.#entry.open && at) this.#hintEntry(at);
  }

  // Typing at the pointer

  /** What a typed number would mean now. */
  get fields(): ReturnType<Running["fields"]> {
    const grip = this.#tool.busy ? null : this.inHand;
    return grip ? gripFields(grip) : this.#tool.fields(this.around);
  }

  openEntry(first: string): boolean {
    const { fields } = this;
    if (fields.length === 0) return false;
    const asked = { fields, system: this.board.plan.show, placeFirst: this.#tool.placeFirst() };
    this.#entry.show(asked, first, this.#pixelOfAim());
    if (this.#aim) this.#hintEntry(this.#aim.at);
    return true;
  }

  closeEntry(): void {
    this.#entry.close(true);
  }

  #pixelOfAim(): Pixel {
    const grip = this.#tool.busy ? null : this.inHand;
    const at = grip?.at ?? this.#aim?.at;
    return at ? toPixel(this.view, at) : pixel(this.view.width / 2, this.view.height / 2);
  }

  #hintEntry(at: Point): void {
    const from = this.#tool.anchor(this.around)?.at;
    if (!from) return;
    const show = this.board.plan.show;
    this.#entry.hint([lengthText(distance(from, at), show), angleText(directionDeg(from, at))]);
  }

  #typed(entry: Entry): string | null {
    const aim = this.#aim ?? this.#aimFromMiddle();
    const grip = this.#tool.busy ? null : this.inHand;
    if (grip) {
      const done = typedGrip(this.board.committed, grip, entry, aim.at, this.around);
      if ("why" in done) return done.why;
      const broken = brokenRing(done.plan, grip.ref, grip.ring);
      if (broken) return faultSentence(broken.fault, placeText(broken.fault.at, done.plan.show));
      this.commit(gripLabel(done.plan, grip), done.plan);
      return null;
    }
    this.#apply(this.#tool.step({ type: "typed", entry, aim }, this.around));
    this.#placed = entry.place ?? this.#tool.anchor(this.around)?.at ?? this.#placed;
    if (this.#crosshair && this.#placed) this.#crosshair = this.#placed;
    return null;
  }

  #aimFromMiddle(): Aim {
    const at = toFeet(this.view, pixel(this.view.width / 2, this.view.height / 2));
    return { at, raw: at, snap: null, held: null, reach: MOUSE_PX / this.view.scale, ...this.#keys };
  }

  #entryClosed(escaped: boolean): void {
    if (escaped && this.#tool.fields(this.around)[0] === "text") this.tell({ type: "escape" });
    this.focus();
    this.refresh();
  }

  /** Gives the board the focus, so that its keys work. */
  focus(): void {
    this.dom.svg.focus({ preventScroll: true });
  }

  // Drawing

  /** The snap to show a sign for. What is being moved covers the sign of the grid. */
  #shownSnap(): Snap | null {
    const snap = this.#tool.aims() ? (this.#aim?.snap ?? null) : null;
    return snap?.kind === "grid" && this.#tool.lead() ? null : snap;
  }

  #draw(): void {
    const { board } = this;
    const { around } = this;
    this.#sketch = this.#tool.sketch(around);
    const anchor = this.#tool.anchor(around);
    const held = this.#aim?.held ?? null;
    const busy = this.#tool.busy;
    this.#scene.draw({
      plan: this.shownPlan,
      design: board.design,
      selection: board.selection,
      hover: board.hover,
      stop: this.stop,
      grid: this.aids.grid ? this.grid : null,
      still: board.committed,
      moving: this.moving,
      zooming: this.zooming,
      view: this.view,
      sketch: this.#sketch,
      grips: this.#sketch.box ? [] : this.grips,
      inHand: this.inHand,
      snap: this.#shownSnap(),
      ray: held && anchor ? { from: anchor.at, held } : null,
      crosshair: this.#crosshair,
    });
    this.dom.board.dataset.tool = this.#tool.name;
    this.#problems.show({
      problem: this.#sketch.problem ?? "",
      fixes: this.#tool.fixes(around),
      steps: !busy ? "" : (this.#sketch.dots?.length ?? 0) > 0 ? "draft" : this.#tool.fixes(around).length > 0 ? "change" : "",
    });
  }
}

/** What an empty plan shows at first: a usual lot. */
const firstGround: Bounds = { minX: -10, minY: -10, maxX: 110, maxY: 90 };
