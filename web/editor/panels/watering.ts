// The watering program on the bench: what it is asked for, above what was worked out.
// It is worked out by itself whenever the plan is stored.

import { ask as get, planURL } from "../api";
import { atMostEvery, button, focusLost, h, setAttr } from "../dom";
import type { Drawing } from "../drawing";
import { TurningOff } from "../turningoff";
import { type WaterOptions, WaterPlan } from "../watering";
import { Bench, Seeking } from "./bench";
import { TurnOffPart } from "./turningoff";
import { WaterAnswer } from "./wateringanswer";
import { WaterAsked } from "./wateringasked";

let form: WaterForm | null = null;

/** Opens the form. */
export function showWatering(): void {
  form?.open();
}

export class WaterForm {
  readonly #bench: Bench;
  readonly #w: WaterPlan;
  readonly #t: TurningOff;
  readonly #asked: WaterAsked;
  readonly #answer: WaterAnswer;
  readonly #turn: TurnOffPart;
  readonly #seeking = new Seeking("Working out the program");
  readonly #first = h("p", { class: "hint" }, "The program is being worked out.");
  readonly #stop = button("Stop", "", () => this.#w.search.stop());
  readonly #again = button("Work it out", "main", () => void this.#w.workOut());
  readonly #close = button("Close", "", () => this.#bench.leave());

  constructor(readonly d: Drawing) {
    form = this;
    const { board } = d;
    const soon = atMostEvery(50, () => this.#render());
    this.#w = new WaterPlan(board, soon, () =>
      get<WaterOptions>("GET", `${planURL(board.id)}/water/options`),
    );
    this.#t = new TurningOff(board, soon);
    const [water, turning] = [this.#w, this.#t];
    this.#bench = new Bench(d, "water", "Watering program", {
      get search() {
        return turning.search.underway ? turning.search : water.search;
      },
      get stale() {
        return water.stale || turning.stale;
      },
      look: () => this.#look(),
      leave: () => {
        turning.drop();
        water.leave();
      },
    });
    this.#asked = new WaterAsked(board);
    this.#turn = new TurnOffPart(turning, () => this.#bench);
    this.#answer = new WaterAnswer(board, water, (a) => {
      this.#answer.cardOf(a.id)?.append(this.#turn.el);
      void this.#turn.seek(a.id);
    });
    this.#bench.body.append(
      this.#seeking.el,
      this.#first,
      this.#answer.verdict,
      this.#answer.notFit,
      this.#asked.el,
      this.#answer.el,
    );
    this.#bench.acts.append(this.#again, this.#stop, this.#close);
    board.subscribe("plan", soon);
    board.longWork.subscribe(soon);
  }

  open(): void {
    if (this.#bench.isOpen) {
      this.#bench.title.focus();
      return;
    }
    this.#asked.afresh();
    this.#bench.open();
    this.#w.open();
    this.#render();
  }

  #look(): void {
    this.#w.look();
    const shown = this.#t.shown;
    this.#t.look();
    if (shown && !this.#t.shown) this.#bench.release();
  }

  #render(): void {
    if (!this.#bench.isOpen) return;
    const w = this.#w;
    const within = this.#bench.el.contains(document.activeElement);
    this.#asked.show(w.options);
    this.#answer.show();
    this.#turn.show();
    const work = this.d.board.longWork.works.find((x) => x.title === w.search.title);
    const long = w.search.underway && work?.shows === "bar";
    this.#seeking.show(w.search.told, long);
    this.#first.hidden = w.view !== null || w.stopped || long;
    this.#stop.hidden = !long;
    this.#again.hidden = !w.stopped;
    setAttr(this.#bench.el, "data-working", w.search.underway ? "yes" : null);
    this.#bench.tell(w.trouble);
    if (within && focusLost()) (w.stopped ? this.#again : this.#bench.title).focus();
  }
}
