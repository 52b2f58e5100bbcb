// The page of the papers: what is chosen of them, how far the making is, and the
// preview of each page. What it shows is told by the server; here it is laid out.

import { type Outcome, stopped } from "../api";
import { byID, h, setAttr, setText } from "../dom";
import { civilDate } from "../findings";
import { takesText } from "../keys";
import { Live, type Socket } from "../live";
import { askLong, LongWork } from "../longwork";
import { type Choice, chosenIn, type Pack, type PackView, Papers, packURL, pageURL } from "../papers";

/** Points of paper in pixels of the page, at its real size. */
const PX_PER_PT = 96 / 72;

interface Fields {
  paper: HTMLSelectElement;
  scale: HTMLSelectElement;
  date: HTMLInputElement;
  packs: HTMLInputElement[];
}

/** Brings the page to life. */
export function showPapers(main: HTMLElement): void {
  const id = main.dataset.papers ?? "";
  const fields: Fields = {
    paper: byID("paper"),
    scale: byID("scale"),
    date: byID("date"),
    packs: Array.from(document.querySelectorAll<HTMLInputElement>("input[name=pack]")),
  };
  const today = civilDate(new Date());
  const choice = begun(fields, today);
  const work = new LongWork();
  const ask = askLong<PackView>;
  const papers = new Papers(id, Number(main.dataset.rev), choice, work, ask, () => show());
  const shown = new Shown(papers);
  const show = (): void => {
    showForm(papers, fields);
    showWork(papers, work);
    showStale(papers);
    shown.show();
  };
  work.subscribe(() => showWork(papers, work));
  listen(papers, fields, today);
  follow(papers);
  void papers.make();
}

/** The choice the page begins with: its address's, else the paper chosen last, else the usual one. */
function begun(f: Fields, today: string): Choice {
  const values = (s: HTMLSelectElement): string[] => Array.from(s.options, (o) => o.value);
  const kept = localStorage.getItem(paperKey(f));
  const usual: Choice = { pack: "crew", paper: kept ?? f.paper.value, scale: 0, date: today };
  const can = { papers: values(f.paper), scales: values(f.scale).map(Number) };
  const c = chosenIn(
    location.search,
    can.papers.includes(usual.paper) ? usual : { ...usual, paper: f.paper.value },
    can,
  );
  f.paper.value = c.paper;
  f.scale.value = String(c.scale);
  f.date.value = c.date;
  for (const p of f.packs) p.checked = p.value === c.pack;
  return c;
}

/** Where the paper chosen last is kept: one of its own for those to whom another is usual. */
function paperKey(f: Fields): string {
  const usual = Array.from(f.paper.options).find((o) => o.defaultSelected)?.value ?? "";
  return `evenfall-paper-${usual}`;
}

function listen(papers: Papers, f: Fields, today: string): void {
  const choose = (c: Partial<Choice>): void => {
    void papers.choose(c);
    const { pack, paper, scale, date } = papers.choice;
    const q = new URLSearchParams({ pack, paper, scale: String(scale) });
    if (date !== today) q.set("date", date);
    history.replaceState(null, "", `?${q}`);
  };
  for (const p of f.packs) p.addEventListener("change", () => choose({ pack: p.value as Pack }));
  f.paper.addEventListener("change", () => {
    localStorage.setItem(paperKey(f), f.paper.value);
    choose({ paper: f.paper.value });
  });
  f.scale.addEventListener("change", () => choose({ scale: Number(f.scale.value) }));
  f.date.addEventListener("change", () => {
    if (f.date.validity.valid) choose({ date: f.date.value }); // not each year on the way to one
  });
  byID("papers-form").addEventListener("submit", (e) => e.preventDefault());
  byID("papers-make").addEventListener("click", () => void papers.make());
  byID("papers-stop").addEventListener("click", () => papers.stop());
  const save = byID<HTMLAnchorElement>("papers-save");
  save.addEventListener("click", (e) => {
    if (papers.made && !papers.stale && !papers.underway) {
      sayWhere(papers.made.file); // the browser saves it
      return;
    }
    e.preventDefault();
    void papers.make().then((done) => {
      if (done) save.click();
    });
  });
  document.addEventListener("keydown", (e) => {
    if (e.key !== "Escape" || e.defaultPrevented || !papers.underway || takesText(document.activeElement))
      return;
    papers.stop();
    e.preventDefault();
  });
}

/** Says where the file is found, and how it is printed. */
function sayWhere(file: string): void {
  const el = byID("papers-saved");
  el.hidden = false;
  setText(
    el,
    `Your browser saves ${file} among its downloads. Open it there, and print it at 100 % (actual size), not fitted to the page; then measure the line on a plan.`,
  );
}

/** Hears of every revision that is stored. */
function follow(papers: Papers): void {
  const url = `${location.origin.replace(/^http/, "ws")}/api/plans/${encodeURIComponent(papers.id)}/live`;
  const nothing = (): void => {};
  new Live(() => new WebSocket(url) as Socket, {
    frame: nothing,
    pushed: (rev) => papers.pushed(rev),
    refused: nothing,
    opened: nothing,
    closed: nothing,
  }).open();
}

function showForm(papers: Papers, f: Fields): void {
  const { made, choice, underway, why } = papers;
  setText(byID("papers-says"), made ? [made.says, ...made.notes].join(" ") : "");
  const save = byID<HTMLAnchorElement>("papers-save");
  const name =
    f.packs
      .find((p) => p.value === choice.pack)
      ?.closest("label")
      ?.querySelector("b")?.textContent ?? "";
  setText(save, `Save ${name.toLowerCase()} as PDF`);
  if (made) save.href = packURL(papers.id, choice, made.rev);
  else byID("papers-saved").hidden = true;
  byID("papers-make").hidden = why === "" || underway;
  const error = byID("papers-error");
  error.hidden = why === "";
  setText(error, why);
  for (const o of f.scale.options) {
    const name = o.dataset.name ?? o.text;
    o.dataset.name = name;
    const fit = made?.fits.find((s) => String(s.scale) === o.value);
    o.text = fit ? `${name}: ${fit.says}` : name;
  }
}

function showWork(papers: Papers, work: LongWork): void {
  const box = byID("papers-work");
  const [now] = work.works;
  box.hidden = !papers.underway || !now || now.shows === "quiet";
  document.documentElement.dataset.made = papers.underway ? "soon" : papers.made ? "yes" : "no";
  setAttr(box.querySelector("progress") as Element, "value", String(papers.told.share));
  setText(box.querySelector(".share") as Element, `${Math.round(100 * papers.told.share)} %`);
  setText(box.querySelector(".hint") as Element, papers.told.step);
}

/** Says that the plan has changed, with the way to the papers of it. */
function showStale(papers: Papers): void {
  const el = byID("notice");
  const stale = papers.stale && !papers.underway;
  if (el.hidden === !stale) return;
  el.hidden = !stale;
  if (!stale) return;
  el.dataset.kind = "problem";
  const anew = h("button", { type: "button", onclick: () => void papers.make() }, "Make them anew");
  el.replaceChildren(h("p", {}, "The plan has changed since these papers were made."), anew);
}

/** The preview: the list of sheets, one page, and its words. */
class Shown {
  #of: PackView | null = null;
  #at = "";
  #buttons: HTMLButtonElement[] = [];
  readonly #room = byID("paper-room");
  readonly #sheets = byID("papers-list");
  readonly #page = byID("paper-page");
  readonly #words = byID<HTMLDetailsElement>("page-words");
  readonly #size = byID<HTMLSelectElement>("page-size");

  constructor(readonly papers: Papers) {
    byID("page-before").addEventListener("click", () => papers.turnTo(papers.page - 1));
    byID("page-after").addEventListener("click", () => papers.turnTo(papers.page + 1));
    this.#size.addEventListener("change", () => setAttr(this.#page, "data-size", this.#size.value));
    this.#words.addEventListener("toggle", () => void this.#read());
    this.#page.addEventListener("keydown", (e) => {
      const last = papers.made?.pages.length ?? 0;
      const to = { PageDown: papers.page + 1, PageUp: papers.page - 1, Home: 1, End: last }[e.key];
      if (to === undefined || e.ctrlKey || e.altKey || e.metaKey) return;
      e.preventDefault();
      papers.turnTo(to);
    });
  }

  show(): void {
    const { papers } = this;
    const { made } = papers;
    // While others are made those of before stay where they are.
    const nothing = made === null && (!papers.underway || this.#of === null);
    this.#room.hidden = this.#sheets.hidden = nothing;
    setAttr(this.#room, "aria-busy", made === null ? "true" : null);
    if (nothing) this.#of = null;
    if (!made) return;
    if (this.#of !== made) this.#list(made);
    const at = pageURL(papers.id, papers.choice, made.rev, papers.page, "svg");
    if (at === this.#at) return;
    this.#at = at;
    const page = made.pages[papers.page - 1];
    if (!page) return;
    const place = `${page.name}: page ${papers.page} of ${made.pages.length}`;
    setText(byID("page-at"), place);
    setAttr(this.#page, "aria-label", place);
    setAttr(byID("page-before"), "aria-disabled", papers.page === 1 ? "true" : null);
    setAttr(byID("page-after"), "aria-disabled", papers.page === made.pages.length ? "true" : null);
    const width = Math.round(page.wide_pt * PX_PER_PT);
    const height = Math.round(page.high_pt * PX_PER_PT);
    const image = h("img", { src: at, width, height, alt: `${place}. Its words can be read below.` });
    image.style.setProperty("--real", `${width}px`);
    image.addEventListener("error", () => void this.#notDrawn(at));
    this.#page.replaceChildren(image);
    this.#page.scrollTo(0, 0);
    for (const b of this.#buttons)
      setAttr(b, "aria-current", b.dataset.code === papers.sheet?.code ? "true" : null);
    void this.#read();
  }

  #list(made: PackView): void {
    this.#of = made;
    this.#at = "";
    this.#buttons = made.sheets.map((s) => {
      const pages = s.pages === 1 ? "" : `, ${s.pages} pages`;
      const about = h("span", { class: "hint" }, `${s.holds}${s.scale ? ` ${s.scale}.` : ""}`);
      const b = h(
        "button",
        { type: "button", "data-code": s.code },
        h("b", {}, `${s.code} ${s.title}${pages}`),
        about,
      );
      b.addEventListener("click", () => {
        this.papers.turnTo(s.first);
        this.#intoView();
      });
      return b;
    });
    byID("paper-sheets").replaceChildren(...this.#buttons.map((b) => h("li", {}, b)));
  }

  /** Brings the page to where it is seen, if little of it is. */
  #intoView(): void {
    const { top, bottom, height } = this.#page.getBoundingClientRect();
    const seen = Math.min(bottom, innerHeight) - Math.max(top, 0);
    if (seen < 0.6 * Math.min(height, innerHeight)) this.#room.scrollIntoView({ block: "start" });
  }

  /** Reads the words of the page shown, where they are wanted. */
  async #read(): Promise<void> {
    const { papers } = this;
    const pre = this.#words.querySelector("pre") as HTMLElement;
    if (!this.#words.open || !papers.made) return;
    const at = this.#at;
    const words = await text(pageURL(papers.id, papers.choice, papers.made.rev, papers.page, "txt"));
    if (at === this.#at) setText(pre, words.ok ? words.value : words.error);
  }

  async #notDrawn(at: string): Promise<void> {
    if (at !== this.#at) return;
    const said = await text(at.replace(".svg?", ".txt?"));
    if (at !== this.#at) return;
    const why = said.ok ? "This page could not be drawn." : said.error;
    this.#page.replaceChildren(h("p", { class: "error", role: "alert" }, `${why} Make the papers anew.`));
    byID("papers-make").hidden = false;
  }
}

async function text(url: string): Promise<Outcome<string>> {
  const failed = (error: string): Outcome<string> => ({ ok: false, status: 0, error, problems: [] });
  try {
    const answer = await fetch(url, { cache: "no-store" });
    return answer.ok
      ? { ok: true, value: await answer.text() }
      : failed("These papers are not kept any more.");
  } catch {
    return failed(`${stopped}.`);
  }
}
