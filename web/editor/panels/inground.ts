// Of the one thing that is selected: where it was drawn and the ways to record where it
// went, and the photographs there are of it.

import { pictureURL, server } from "../api";
import { button, h, type Row, Rows, setText } from "../dom";
import { drawnAt, keeperOf } from "../fields_found";
import { civilDate } from "../findings";
import { freshID, type Plan, parts, type Ref } from "../model";
import { nameOf } from "../names";
import type { Photo } from "../proof";
import type { Board } from "../state";
import { canBeBuilt } from "../tools/built";
import { smaller } from "../yard/photopost";
import { builtOf, photosOf, setPhoto } from "../yard/records";
import { Control } from "./control";

/** The most photographs a plan takes (internal/plan, MaxPhotos). */
const MOST_PHOTOS = 500;

/** What a photograph of a thing is about: of a valve its zone, which the plan knows it by. */
export function aboutOf(r: Ref): string {
  const [c, id] = parts(r);
  return c === "valves" ? `zones/${id}` : r;
}

/** The plan with a photograph of a thing, which the server has under its checksum. */
export function withPhoto(p: Plan, about: string, photo: Photo): Plan {
  return setPhoto(p, freshID("f", p.photos), { about, ...photo });
}

interface Item {
  readonly id: string;
  readonly photo: Photo;
}

export class InGround {
  readonly el = h("div", { class: "form in-ground", hidden: true });
  readonly #drawn = h("p", { class: "hint" });
  readonly #acts: HTMLElement;
  readonly #album = h("ul", { class: "photo-album" });
  readonly #rows: Rows<Item>;
  readonly #summary = h("summary", {});
  readonly #photos: HTMLElement;
  readonly #error = h("p", { class: "error", role: "alert", hidden: true });
  readonly #file = h("input", { type: "file", id: "thing-photo-file", accept: "image/*", hidden: true });
  #of: Ref | null = null;

  constructor(
    readonly board: Board,
    byTape: () => void,
  ) {
    this.#rows = new Rows(
      this.#album,
      (i) => i.id,
      (i) => this.#row(i.id),
    );
    this.#acts = h(
      "p",
      { class: "acts" },
      button("Record where it went…", "", () => this.#record()),
      button("By tape…", "", byTape),
    );
    const add = button("Add a photograph…", "small", () => this.#file.click());
    this.#file.addEventListener("change", () => void this.#add());
    this.#photos = h(
      "details",
      { class: "photos-fold" },
      this.#summary,
      h("div", { class: "form" }, this.#album, this.#error, h("p", { class: "acts" }, add, this.#file)),
    );
    this.el.append(this.#drawn, this.#acts, this.#photos);
  }

  /** Shows what belongs to the one thing that is selected; null: none, or several. */
  show(r: Ref | null): void {
    const { plan } = this.board;
    const of = r !== null && parts(r)[0] !== "cans" && parts(r)[0] !== "underlay" ? r : null;
    this.el.hidden = of === null;
    if (of !== this.#of) this.#error.hidden = true;
    this.#of = of;
    if (of === null) return;
    const [c, id] = parts(of);
    const keeper = keeperOf(c);
    this.#acts.hidden = !canBeBuilt(c) || this.board.earlier !== null;
    const was = keeper ? drawnAt(plan, keeper, id) : "";
    const built = keeper ? builtOf(plan, keeper, id) : undefined;
    const says = was ? `Drawn at ${was}.` : built ? "It went where it was drawn." : "";
    setText(this.#drawn, says);
    this.#drawn.hidden = says === "";
    const photos = photosOf(plan, aboutOf(of)).map(([id, photo]) => ({ id, photo }));
    setText(this.#summary, photos.length > 0 ? `Photographs ${photos.length}` : "Photographs");
    this.#rows.show(photos);
  }

  #record(): void {
    this.board.setTool("built");
  }

  /** Keeps what was chosen, made smaller, and notes it in the plan as one step. */
  async #add(): Promise<void> {
    const of = this.#of;
    const [file] = this.#file.files ?? [];
    this.#file.value = "";
    if (!file || of === null) return;
    const { board } = this;
    const said = await this.#take(of, file);
    if (said === null) board.announce(`A photograph of ${nameOf(board.plan, of)} is kept.`);
    setText(this.#error, said ?? "");
    this.#error.hidden = said === null;
  }

  async #take(of: Ref, file: Blob): Promise<string | null> {
    const { board } = this;
    const there = Object.keys(board.committed.photos ?? {}).length;
    if (there >= MOST_PHOTOS)
      return `The plan has ${there} photographs, the most it takes. Take some away first.`;
    const made = await smaller(file);
    if (!made) return "This file could not be read as a picture. Choose a PNG or JPEG.";
    const kept = await server.putPicture(board.id, made.picture);
    if (!kept.ok) return kept.error;
    const photo = {
      sha256: kept.value.sha256,
      width_px: made.width,
      height_px: made.height,
      on: civilDate(new Date()),
    };
    const plan = withPhoto(board.committed, aboutOf(of), photo);
    void board.commit(`Add a photograph of ${nameOf(plan, of)}`, plan);
    return null;
  }

  #row(id: string): Row<Item> {
    const { board } = this;
    const image = h("img", { loading: "lazy" });
    const link = h("a", { target: "_blank", rel: "noopener" }, image);
    const words = new Control("What it shows", "text", "", (typed) => {
      if (typed.trim().length > 2000) return "Shorten this to 2,000 characters.";
      const next = setPhoto(board.committed, id, { caption: typed.trim() });
      void board.commit("Set the words of a photograph", next);
      return null;
    });
    const away = button("Take away", "small grave", () => {
      void board.commit("Take away a photograph", setPhoto(board.committed, id, null));
      board.announce("The photograph is taken away. Undo brings it back.");
    });
    return {
      el: h("li", {}, link, h("div", {}, words.el, away)),
      update: ({ photo }) => {
        const url = pictureURL(photo.sha256);
        const name = photo.caption || "Photograph";
        const alt = photo.on ? `${name}, ${photo.on}` : name;
        if (image.getAttribute("src") !== url) image.setAttribute("src", url);
        image.alt = alt;
        link.href = url;
        link.title = "Shows it whole, in a tab of its own";
        words.show({ value: photo.caption ?? "", mixed: false, choices: [] });
      },
    };
  }
}
