// Photographs on their way: made smaller here, kept in the browser until the server has
// them, sent one by one, and attached to their thing as a step.

import { server } from "../api";
import { count } from "../names";
import { recordID, setPhoto } from "./records";
import type { Yard } from "./session";
import type { Keeper, Waiting } from "./typed";

/** The longer side a photograph is kept at, in pixels (chosen: a nozzle's print can be read on it). */
export const LONGEST_PX = 2000;

/** How good its JPEG is, 0 to 1 (chosen). */
const QUALITY = 0.85;

/** How long until it is tried again with the server away, in ms (chosen). */
const RETRY_MS = 4000;

/** The size a picture is kept at: never larger than it is. */
export function keptSize(width: number, height: number): { width: number; height: number } {
  const k = Math.min(1, LONGEST_PX / Math.max(width, height, 1));
  return { width: Math.max(1, Math.round(width * k)), height: Math.max(1, Math.round(height * k)) };
}

/** The picture of a file as JPEG, turned as the camera noted; null when it is none that can be shown. */
export async function smaller(file: Blob): Promise<{ picture: Blob; width: number; height: number } | null> {
  try {
    const whole = await createImageBitmap(file, { imageOrientation: "from-image" });
    const { width, height } = keptSize(whole.width, whole.height);
    const canvas = document.createElement("canvas");
    Object.assign(canvas, { width, height });
    canvas.getContext("2d")?.drawImage(whole, 0, 0, width, height);
    whole.close();
    const picture = await new Promise<Blob | null>((done) => canvas.toBlob(done, "image/jpeg", QUALITY));
    return picture && { picture, width, height };
  } catch {
    return null;
  }
}

/** Sends photographs; what waits is known to the page and kept by the browser. */
export class PhotoPost {
  #waiting: Waiting[] = [];
  #busy = false;

  constructor(
    readonly yard: Yard,
    readonly keeper: Keeper,
    readonly send = (id: string, picture: Blob) => server.putPicture(id, picture),
    readonly later: (fn: () => void, ms: number) => unknown = (fn, ms) => setTimeout(fn, ms),
  ) {}

  /** Those the server does not have yet. */
  get waiting(): readonly Waiting[] {
    return this.#waiting;
  }

  /** Takes up what a page before this left. */
  async bringBack(): Promise<void> {
    try {
      this.#waiting = [...(await this.keeper.waiting()), ...this.#waiting];
    } catch {
      return; // the browser's database is damaged: there is nothing to bring back
    }
    if (this.#waiting.length > 0)
      this.yard.board.announce(`${count(this.#waiting.length, "photograph")} from last time on the way.`);
    void this.#run();
  }

  /** Takes photographs of a thing; the sentence when one cannot be used. */
  async take(files: readonly Blob[], about: string): Promise<string | null> {
    let bad = 0;
    for (const file of files) {
      const made = await smaller(file);
      if (!made) {
        bad++;
        continue;
      }
      const { picture, width: width_px, height: height_px } = made;
      await this.add({ id: recordID("f"), picture, about, on: this.yard.today, width_px, height_px });
    }
    return bad === 0
      ? null
      : `${count(bad, "file")} could not be read as a picture. Take it again, or choose a PNG or JPEG.`;
  }

  async add(w: Waiting): Promise<void> {
    this.#waiting.push(w);
    this.yard.changed();
    await this.keeper.keepPhoto(w.id, w).catch(() => {}); // it is still sent
    void this.#run();
  }

  async #run(): Promise<void> {
    if (this.#busy) return;
    this.#busy = true;
    for (let w = this.#waiting[0]; w; w = this.#waiting[0]) {
      const answer = await this.send(this.yard.board.id, w.picture);
      if (!answer.ok && (answer.status === 0 || answer.status >= 500)) {
        this.later(() => void this.#run(), RETRY_MS);
        break;
      }
      this.#waiting.shift();
      if (answer.ok) {
        const { id, about, on, width_px, height_px } = w;
        const photo = { sha256: answer.value.sha256, about: about || undefined, on, width_px, height_px };
        const { board } = this.yard;
        board.announce("A photograph is kept.");
        // Only once the plan has it, or keeps it unsent, may the browser forget the picture.
        void board.commit("Add a photograph", setPhoto(board.committed, id, photo)).then((v) => {
          if (v.saved) void this.keeper.keepPhoto(id, null).catch(() => {});
        });
      } else {
        void this.keeper.keepPhoto(w.id, null).catch(() => {});
        this.yard.board.show({ kind: "problem", sentence: `A photograph was not kept. ${answer.error}` });
      }
      this.yard.changed();
    }
    this.#busy = false;
  }
}
