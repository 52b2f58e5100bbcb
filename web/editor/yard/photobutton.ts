// Taking a photograph of the thing at hand, and the ones there are of it.

import { pictureURL } from "../api";
import { h } from "../dom";
import type { PhotoPost } from "./photopost";
import { photosOf } from "./records";
import type { Yard } from "./session";
import { column, type Part, remade } from "./ui";

let post: PhotoPost | null = null;

/** Who sends what is taken on this page. */
export function photosBy(p: PhotoPost): void {
  post = p;
}

let made = 0;

/** about: the thing, as "heads/h7"; "" for none. stored: several that were taken before may be chosen. */
export function photoButton(yard: Yard, about: string, name: () => string, stored = false): Part {
  const id = `yard-photo-${++made}`;
  const error = h("p", { class: "error", role: "alert", hidden: true });
  const input = h("input", {
    id,
    type: "file",
    accept: "image/*",
    capture: stored ? null : "environment",
    multiple: stored,
    class: "unseen yard-photo-input",
    onchange: async () => {
      const files = Array.from(input.files ?? []);
      input.value = "";
      if (files.length === 0 || !post) return;
      const trouble = await post.take(files, about);
      error.textContent = trouble ?? "";
      error.hidden = trouble === null;
    },
  });
  const label = h(
    "label",
    { for: id, class: "button yard-big yard-photo-take" },
    stored ? "Choose photographs" : "Take a photograph",
  );
  const strip = remade(
    "yard-strip",
    () => [photosOf(yard.plan, about), waiting(about)],
    () => {
      const there = (about === "" ? [] : photosOf(yard.plan, about)).map(([, f]) =>
        h("img", {
          src: pictureURL(f.sha256),
          alt: f.caption || `Photograph of ${name()}${f.on ? `, ${f.on}` : ""}`,
          loading: "lazy",
        }),
      );
      const n = stored ? 0 : waiting(about);
      return n > 0 ? [...there, h("p", {}, `${n} on the way`)] : there;
    },
  );
  return column("yard-photo", h("div", {}, input, label), error, strip);
}

const waiting = (about: string): number => (post?.waiting ?? []).filter((w) => w.about === about).length;
