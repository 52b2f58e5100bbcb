// The picture under the drawing: choosing it, scaling and checking it, how
// strongly it shows. What is pointed out on the board can all be typed here too.

import { bringPicture, listenForPictures } from "../bringpicture";
import { atMostEvery, byID, h, setAttr, setText } from "../dom";
import type { Drawing } from "../drawing";
import { parseNumber } from "../fields";
import { FAINTEST_PERCENT, withStrength } from "../fields_picture";
import { angleText, lengthText } from "../format";
import { parseAngle, parseLength, type Read, read, refuse } from "../length";
import { type KnownLength, type PicturePoint, type Plan, type System, same, type Underlay } from "../model";
import type { Photo } from "../photo";
import { checkOf, checkText, grain, pixelsOf, sizeOf, smallText, swapped, turnedTo } from "../picture";
import type { Board } from "../state";
import { PICTURE } from "../things";
import { knownStep } from "../tools/picture";
import type { PictureDo } from "../tools/tool";
import { shown } from "../view";
import { Control } from "./control";

type What = "scale" | "check";

/** Shows the tab of the layers and goes to the picture. */
export function showPicture(): void {
  byID("tab-layers").click();
  byID("picture-choose").focus();
}

export class PicturePanel {
  readonly #status = h("p", { id: "picture-status" });
  readonly #check = h("p", { class: "picture-check", role: "status", hidden: true });
  readonly #error = h("p", { class: "error", role: "alert", hidden: true });
  readonly #file = h("input", {
    type: "file",
    id: "picture-file",
    accept: "image/png,image/jpeg",
    hidden: true,
    "aria-label": "A picture to lay under the plan",
  });
  readonly #choose = h("button", { type: "button", id: "picture-choose" });
  /** Where the chooser is while there is nothing to show, and beside Remove when there is. */
  readonly #first = h("p", { class: "acts" });
  readonly #last = h("p", { class: "acts" });
  readonly #with = h("div", { class: "form", hidden: true });
  readonly #do: { what: PictureDo; button: HTMLButtonElement }[];
  readonly #longer = h("button", { type: "button", class: "small" }, "Scale by the longer one");
  readonly #strength = h("input", {
    type: "range",
    id: "picture-strength",
    min: String(FAINTEST_PERCENT),
    max: "100",
    step: "5",
  });
  readonly #figure = h("output", { for: "picture-strength" });
  readonly #turn: Control;
  readonly #locked: Control;
  readonly #numbers: Record<What, Numbers>;
  #sending = false;

  constructor(
    readonly board: Board,
    readonly drawing: Drawing,
    readonly photo: Photo,
  ) {
    this.#do = (["scale", "check", "level"] as const).map((what) => ({
      what,
      button: h("button", { type: "button", class: "small", onclick: () => this.#point(what) }, names[what]),
    }));
    this.#turn = new Control("Turned by", "text", "°, anticlockwise", (typed) => this.#turned(typed));
    this.#locked = new Control("Locked in place", "yes", "", (typed) => this.#lock(typed === "yes"));
    this.#numbers = { scale: new Numbers("scale", this.#take), check: new Numbers("check", this.#take) };
    this.#build();
    this.#listen();
    photo.changed = () => this.#show();
    const soon = atMostEvery(100, () => this.#show());
    for (const topic of ["plan", "tool"] as const) board.subscribe(topic, soon);
    this.#show();
  }

  #build(): void {
    const strength = h(
      "div",
      { class: "picture-fade" },
      h("label", { for: "picture-strength" }, "Strength"),
      this.#strength,
      this.#figure,
    );
    this.#with.append(
      this.#check,
      h("p", { class: "acts" }, ...this.#do.map((d) => d.button), this.#longer),
      strength,
      h("div", { class: "pairs" }, this.#turn.el, this.#locked.el),
      h(
        "details",
        {},
        h("summary", {}, "Places and distances by numbers"),
        this.#numbers.scale.el,
        this.#numbers.check.el,
      ),
      this.#last,
    );
    const title = h("h2", { id: "picture-title" }, "Picture");
    const el = h("section", { id: "picture", class: "picture-panel", "aria-labelledby": "picture-title" });
    el.append(title, this.#status, this.#first, this.#error, this.#with, this.#file);
    byID("layers").prepend(el);
  }

  #listen(): void {
    this.#choose.addEventListener("click", () => this.#file.click());
    this.#last.append(
      h("button", { type: "button", class: "small grave", onclick: () => this.#remove() }, "Remove"),
    );
    this.#file.addEventListener("change", () => {
      const [file] = this.#file.files ?? [];
      this.#file.value = ""; // so that the same file can be chosen again
      if (file) void this.bring(file);
    });
    this.#longer.addEventListener("click", () => this.#swap());
    this.#strength.addEventListener("input", () => this.#fade(Number(this.#strength.value)));
    listenForPictures(this.drawing.dom.board, (file) => void this.bring(file));
  }

  /** Opens the chooser of files. */
  choose(): void {
    this.#file.click();
  }

  /** Sends a file and lays it under the plan; then its scale is asked for. */
  async bring(file: File): Promise<void> {
    if (this.#sending || this.board.shut()) return;
    this.#sending = true;
    this.#say(null);
    this.#show();
    const wrong = await bringPicture(this.board, file, shown(this.drawing.view));
    this.#sending = false;
    this.photo.again();
    this.#show();
    if (wrong) {
      this.#say(wrong);
      this.board.show({ kind: "problem", sentence: wrong });
      return;
    }
    this.board.show(null);
    byID("tab-layers").click();
    if (this.board.committed.underlay?.scaled_by) {
      this.board.announce("The picture is under the plan again.");
      return;
    }
    this.#point("scale");
  }

  #say(sentence: string | null): void {
    setText(this.#error, sentence ?? "");
    this.#error.hidden = sentence === null;
  }

  #point(what: PictureDo): void {
    if (this.board.shut()) return;
    this.drawing.setKit({ pictureDo: what });
    this.drawing.takeUp("picture");
    this.drawing.focus();
  }

  /** Makes a step of a changed picture. */
  #commit(label: string, underlay: Underlay, merge?: string): void {
    void this.board.commit(label, { ...this.board.committed, underlay }, merge);
  }

  #fade(percent: number): void {
    const u = this.board.committed.underlay;
    if (u) this.#commit("Fade the picture", withStrength(u, percent), "fade the picture");
  }

  #lock(locked: boolean): null {
    const u = this.board.committed.underlay;
    if (!u) return null;
    const { locked: _was, ...rest } = u;
    this.#commit(locked ? "Lock the picture" : "Unlock the picture", locked ? { ...rest, locked } : rest);
    if (!locked) {
      // Free, it is moved by hand or by the arrows: so it is taken in hand.
      this.drawing.takeUp("select");
      this.board.select([PICTURE]);
      this.board.announce("The picture can be moved: drag it, or use the arrow keys on the board.");
    }
    return null;
  }

  #turned(typed: string): string | null {
    const u = this.board.committed.underlay;
    const angle = parseAngle(typed);
    if (!angle.ok) return angle.sentence;
    const next = u && turnedTo(u, angle.value);
    if (!next) return null;
    if (!next.ok) return next.sentence;
    this.#commit("Turn the picture", next.value);
    return null;
  }

  #swap(): void {
    const u = this.board.committed.underlay;
    const next = u && swapped(u, this.board.plan.show);
    if (!next) return;
    if (!next.ok) {
      this.#say(next.sentence);
      return;
    }
    this.#commit("Scale the picture by the longer distance", next.value);
    this.board.announce(checkText(next.value, this.board.plan.show));
  }

  #take = (what: What, k: KnownLength): string | null => {
    const done = knownStep(this.board.committed, what, k);
    if (!done.ok) return done.sentence;
    void this.board.commit(done.value.label, done.value.plan);
    this.board.announce(done.value.say);
    return null;
  };

  #remove(): void {
    const { underlay: _gone, ...rest } = this.board.committed;
    void this.board.commit("Remove the picture", rest as Plan);
    this.board.announce("Removed the picture. Undo brings it back.");
    this.#show();
    this.#choose.focus();
  }

  #show(): void {
    const { plan } = this.board;
    const u = plan.underlay;
    this.#with.hidden = !u;
    setText(
      this.#choose,
      u ? (this.photo.state === "missing" ? "Choose it again…" : "Choose another…") : "Choose a picture…",
    );
    this.#choose.disabled = this.#sending;
    const bare = !u || this.photo.state === "missing";
    setAttr(this.#choose, "class", bare ? "main" : "small");
    const place = bare ? this.#first : this.#last;
    if (this.#choose.parentElement !== place) place.prepend(this.#choose);
    this.#first.hidden = !bare;
    setText(this.#status, this.#sending ? "The picture is being sent…" : this.#says(u));
    setAttr(this.#status, "class", u && this.photo.state !== "missing" ? null : "hint");
    if (!u) return;
    const { board } = this;
    const check = checkOf(u);
    setText(this.#check, checkText(u, plan.show));
    setAttr(this.#check, "data-rank", check?.rank ?? null);
    this.#check.hidden = !check;
    this.#longer.hidden = !(check?.better && check.rank !== "good");
    for (const { what, button } of this.#do) {
      setText(button, what === "scale" && u.scaled_by ? "Scale again" : names[what]);
      setAttr(button, "class", what === "scale" && !u.scaled_by ? "small main" : "small");
      button.disabled = what === "check" && !u.scaled_by;
      setAttr(
        button,
        "aria-pressed",
        String(this.drawing.toolName === "picture" && this.drawing.kit.pictureDo === what),
      );
    }
    const percent = Math.round((u.opacity ?? 1) * 100);
    if (Number(this.#strength.value) !== percent) this.#strength.value = String(percent);
    setAttr(this.#strength, "aria-valuetext", `${percent} %`);
    setText(this.#figure, `${percent} %`);
    this.#turn.show({ value: angleText(u.rotate_deg ?? 0), mixed: false, choices: [] });
    this.#locked.show({ value: u.locked ? "yes" : "", mixed: false, choices: [] });
    this.#numbers.scale.show(board, u.scaled_by);
    this.#numbers.check.show(board, u.checked_by);
  }

  /** What there is to say of the picture as a whole. */
  #says(u: Underlay | undefined): string {
    const { show } = this.board.plan;
    if (!u) {
      return "A photograph from above or a site plan to trace over, as PNG or JPEG of up to 20 MiB. Choose it, drop it on the board, or paste it.";
    }
    if (this.photo.state === "missing") {
      return "The picture under this plan is not on this machine: choose it again. The drawing is whole without it.";
    }
    const size = sizeOf(u);
    const across = size ? `${lengthText(size[0], show)} × ${lengthText(size[1], show)}` : "";
    const by = u.scaled_by;
    if (!by) return "Not scaled yet: lengths traced from it mean nothing until one distance on it is known.";
    const fine = grain(by);
    const rough =
      fine > 0.01
        ? ` A hand two pixels off makes ${(100 * fine).toFixed(1)} % here: scale by a longer distance.`
        : "";
    return `Scaled by ${smallText(by.distance_ft, show)} over ${Math.round(pixelsOf(by))} pixels: ${smallText(u.ft_per_px, show)} a pixel, ${across} in all.${rough}`;
  }
}

const names: Readonly<Record<PictureDo, string>> = { scale: "Scale", check: "Check", level: "Level a line" };

const words: Readonly<Record<What, { title: string; act: string }>> = {
  scale: { title: "Scale by", act: "Scale by these" },
  check: { title: "Check by", act: "Check by these" },
};

/** The two places of a known distance in pixels, and the distance, to be read and typed. */
class Numbers {
  readonly el: HTMLElement;
  readonly #from: Control;
  readonly #to: Control;
  readonly #distance: Control;
  #shown: KnownLength | undefined;
  #system: System = "us";

  constructor(
    readonly what: What,
    readonly take: (what: What, k: KnownLength) => string | null,
  ) {
    const field = (label: string, hint: string): Control => new Control(label, "text", hint, () => null);
    this.#from = field("From", "x, y in pixels from the upper left");
    this.#to = field("To", "x, y");
    this.#distance = field("Distance", "as known");
    const { title, act } = words[what];
    const button = h("button", { type: "button", class: "small" }, act);
    this.el = h(
      "fieldset",
      { "data-known": what },
      h("legend", {}, title),
      h("div", { class: "pairs" }, this.#from.el, this.#to.el, this.#distance.el),
      h("p", { class: "acts" }, button),
    );
    button.addEventListener("click", () => this.#press());
  }

  #press(): void {
    const from = this.#read(this.#from, parsePixels);
    const to = this.#read(this.#to, parsePixels);
    const distance_ft = this.#read(this.#distance, (t) => this.#length(t));
    if (!from || !to || distance_ft === null) return;
    const wrong = this.take(this.what, { from, to, distance_ft });
    this.#distance.complain(wrong);
    if (wrong) this.#distance.input.focus();
  }

  /** The distance typed; one left as it is shown is what is stored, to the last digit. */
  #length(typed: string): Read<number> {
    const k = this.#shown;
    return k && typed === lengthText(k.distance_ft, this.#system)
      ? read(k.distance_ft)
      : parseLength(typed, this.#system);
  }

  #read<T>(c: Control, reader: (text: string) => Read<T>): T | null {
    const v = reader(c.text);
    c.complain(v.ok ? null : v.sentence);
    return v.ok ? v.value : null;
  }

  /** Shows what is stored, unless it is shown already: what is being typed stays. */
  show(board: Board, k: KnownLength | undefined): void {
    if (same(k, this.#shown) && board.plan.show === this.#system) return;
    this.#shown = k;
    this.#system = board.plan.show;
    const put = (c: Control, value: string): void => c.show({ value, mixed: false, choices: [] });
    put(this.#from, k ? pixelsText(k.from) : "");
    put(this.#to, k ? pixelsText(k.to) : "");
    put(this.#distance, k ? lengthText(k.distance_ft, board.plan.show) : "");
  }
}

const pixelsText = (p: PicturePoint): string => `${p.x_px}, ${p.y_px}`;

/** A place on a picture: two numbers of pixels. */
export function parsePixels(typed: string): Read<PicturePoint> {
  const both = typed.split(typed.includes(";") ? ";" : ",");
  if (both.length !== 2)
    return refuse("Type two numbers, such as 300, 700: pixels from the left, pixels from the top.");
  const [x, y] = both.map((t) => parseNumber(t, "pixels", 0, 12_000));
  if (!x?.ok) return x ?? refuse("");
  if (!y?.ok) return y ?? refuse("");
  return read({ x_px: x.value, y_px: y.value });
}
