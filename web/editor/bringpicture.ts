// Bringing a picture under the plan: a file that was chosen, dropped on the
// board or pasted is sent to be kept, measured as the browser shows it (turned
// as the camera noted), and laid down as one step.

import { pictureURL, server } from "./api";
import type { Bounds } from "./geometry";
import type { Underlay } from "./model";
import { laidIn, replaced } from "./picture";
import type { Board } from "./state";

/** What a picture may weigh (internal to the server too, which has the last word). */
const MOST_BYTES = 20 << 20;

const tooLarge =
  "This picture is larger than the 20 MiB a picture may have. Save it smaller, or as JPEG: 4,000 pixels across are plenty to trace over.";
const notShown =
  "This picture cannot be shown: part of it is damaged. Open it in another program, save it again as PNG or JPEG and choose the copy.";

/** Brings a file under the plan; the sentence when it cannot be. ground is what the board shows. */
export async function bringPicture(board: Board, file: File, ground: Bounds): Promise<string | null> {
  if (file.size > MOST_BYTES) return tooLarge;
  const sent = await server.putPicture(board.id, file);
  if (!sent.ok) return sent.error;
  const { sha256 } = sent.value;
  const size = await sizeShown(sha256);
  if (!size) return notShown;
  const picture = { sha256, ...size };
  const now = board.committed.underlay;
  const underlay: Underlay = now ? replaced(now, picture) : laidIn(picture, ground);
  const label = now ? "Change the picture under the plan" : "Lay a picture under the plan";
  void board.commit(label, { ...board.committed, underlay });
  return null;
}

/** The size of a picture as the browser shows it; null when it cannot. */
async function sizeShown(sha: string): Promise<{ width_px: number; height_px: number } | null> {
  const image = new Image();
  image.src = pictureURL(sha);
  try {
    await image.decode();
  } catch {
    return null;
  }
  const { naturalWidth: width_px, naturalHeight: height_px } = image;
  return width_px > 0 && height_px > 0 ? { width_px, height_px } : null;
}

/** The picture among some files: the first there is, whatever its kind, so that it can be told what is wrong with it. */
const fileIn = (files: FileList | undefined): File | null =>
  Array.from(files ?? []).find((f) => f.type.startsWith("image/")) ?? files?.[0] ?? null;

/** Takes files dropped on an element, and pictures pasted anywhere but into a text. */
export function listenForPictures(el: HTMLElement, take: (file: File) => void): void {
  const holds = (e: DragEvent): boolean => e.dataTransfer?.types.includes("Files") ?? false;
  el.addEventListener("dragover", (e) => {
    if (!holds(e)) return;
    e.preventDefault(); // else the browser would leave the page for the file
    el.dataset.dropping = "";
  });
  el.addEventListener("dragleave", () => delete el.dataset.dropping);
  el.addEventListener("drop", (e) => {
    delete el.dataset.dropping;
    if (!holds(e)) return;
    e.preventDefault();
    const file = fileIn(e.dataTransfer?.files);
    if (file) take(file);
  });
  document.addEventListener("paste", (e) => {
    const file = Array.from(e.clipboardData?.files ?? []).find((f) => f.type.startsWith("image/"));
    if (!file || e.defaultPrevented) return;
    e.preventDefault();
    take(file);
  });
}
