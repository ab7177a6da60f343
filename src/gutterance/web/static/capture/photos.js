// Photos of the wall, kept as taken. One that is larger than the office takes is made smaller, and says so.

import { sha256Calmly } from "./sha256.js";

export const LARGEST_PHOTO = 15_000_000;
const SIDES = [4000, 3000, 2000];
const TYPES = /^image\/(jpeg|png|webp|heic|heif)$/;

/** `{bytes, type, sha256, smaller}` of a file the camera gave; refused in words where it is no photo. */
export async function photoFrom(file) {
  let taken = file;
  if (file.size > LARGEST_PHOTO || !TYPES.test(file.type)) taken = await smaller(file);
  const bytes = await taken.arrayBuffer();
  const sha256 = await sha256Calmly(new Uint8Array(bytes));
  return { bytes, type: taken.type, sha256, smaller: taken !== file };
}

async function smaller(file) {
  let picture;
  try {
    picture = await createImageBitmap(file);
  } catch {
    throw new Error("This is not a photo the phone can read.");
  }
  for (const side of SIDES) {
    const scale = Math.min(1, side / Math.max(picture.width, picture.height));
    const canvas = document.createElement("canvas");
    canvas.width = Math.round(picture.width * scale);
    canvas.height = Math.round(picture.height * scale);
    canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
    const made = await new Promise((give) => canvas.toBlob(give, "image/jpeg", 0.85));
    if (made !== null && made.size <= LARGEST_PHOTO) return made;
  }
  throw new Error("This photo is too large for the office.");
}
