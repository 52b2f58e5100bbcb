// All photographs of a plan: what each shows, a few words, and taking one away.

import { pictureURL } from "../api";
import { button, h } from "../dom";
import { has, type Ref } from "../model";
import { capital, nameOf } from "../names";
import type { Photo } from "../proof";
import { photoButton } from "./photobutton";
import type { PhotoPost } from "./photopost";
import { photosOf, setPhoto } from "./records";
import type { Part as SectionPart } from "./sections";
import type { Yard } from "./session";
import { column, line, type Part, remade, type Screen, words } from "./ui";

/** The most photographs a plan takes (internal/plan, MaxPhotos). */
const MOST = 500;

export class Photos implements SectionPart {
  readonly id = "photos";
  readonly title = "Photos";

  constructor(
    readonly yard: Yard,
    readonly post: PhotoPost,
  ) {}

  left(): string {
    const n = photosOf(this.yard.plan).length;
    const waits = this.post.waiting.length;
    return waits > 0 ? `${waits} waiting` : n > 0 ? String(n) : "";
  }

  at(item: string): string {
    return item !== "" && this.yard.plan.photos?.[item] ? item : "list";
  }

  made(): string {
    return "";
  }

  #go(item: string): void {
    this.yard.go({ section: "photos", item });
  }

  open(item: string): Screen {
    return item === "list" ? this.#list() : this.#one(item);
  }

  #list(): Screen {
    const { yard } = this;
    const part = column(
      "yard-one",
      line("yard-title", () => "Photographs", "h2"),
      line("yard-how", () => {
        const n = photosOf(yard.plan).length;
        if (n >= MOST) return `The plan has ${n} photographs, the most it takes. Take some away first.`;
        return n === 0
          ? "Photographs taken here or of a head, a valve or the controller stay with the plan, and go with it to the next person."
          : "";
      }),
      photoButton(yard, "", () => "the yard"),
      photoButton(yard, "", () => "the yard", true),
      remade(
        "yard-album",
        () => photosOf(yard.plan),
        () =>
          photosOf(yard.plan).map(([id, f]) => {
            const b = button("", "yard-photo-row", () => this.#go(id));
            b.append(
              h("img", { src: pictureURL(f.sha256), alt: "", loading: "lazy" }),
              h(
                "span",
                {},
                h("b", {}, aboutText(yard, f)),
                ` ${[f.caption, f.on].filter(Boolean).join(", ")}`,
              ),
            );
            return b;
          }),
      ),
    );
    return { ...part, acts: () => ({}) };
  }

  #one(id: string): Screen {
    const { yard } = this;
    const photo = () => yard.plan.photos?.[id];
    const shown: Part = remade(
      "yard-photo-whole",
      () => photo()?.sha256,
      () => {
        const f = photo();
        return f ? [h("img", { src: pictureURL(f.sha256), alt: f.caption || aboutText(yard, f) })] : [];
      },
    );
    const part = column(
      "yard-one",
      line("yard-title", () => (photo() ? aboutText(yard, photo()!) : "A photograph no longer here"), "h2"),
      line("yard-says", () => photo()?.on ?? ""),
      shown,
      words(yard, {
        key: `photo/${id}/caption`,
        label: "What it shows",
        what: "words of a photograph",
        get: () => photo()?.caption,
        set: (caption) => yard.step("Words of a photograph", setPhoto(yard.plan, id, { caption })),
      }),
      button("Take it away", "grave yard-big", () => {
        yard.step("Take a photograph away", setPhoto(yard.plan, id, null));
        this.#go("list");
      }),
    );
    return {
      ...part,
      acts: () => {
        const all = photosOf(yard.plan).map(([k]) => k);
        const at = all.indexOf(id);
        const next = all[at + 1];
        return {
          back: { label: "Photos", run: () => this.#go("list") },
          next: next === undefined ? null : { label: "Next", run: () => this.#go(next) },
        };
      },
    };
  }
}

/** What a photograph shows, in words. */
function aboutText(yard: Yard, f: Photo): string {
  if (!f.about) return "The yard";
  const r = f.about as Ref;
  if (r.startsWith("controller/")) return "The controller";
  return has(yard.plan, r) ? capital(nameOf(yard.plan, r)) : "Something no longer on the plan";
}
