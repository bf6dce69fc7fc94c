// A photograph: made smaller on the phone, hashed, and on the disk together with the entry that names it.
import { hex } from "./bytes.js";

const LONG_PX = 1600, ENOUGH = 700000, FINE = 0.82;
export const PART = 200000, LARGEST = 8000000;

// What is small enough goes as it is; the rest is drawn again, the right way up.
export const shrunk = async (file) => {
  const picture = await createImageBitmap(file, { imageOrientation: "from-image" });
  const by = Math.min(1, LONG_PX / Math.max(picture.width, picture.height));
  if (by === 1 && file.size <= ENOUGH && /^image\/(jpeg|png)$/.test(file.type)) return file;
  const canvas = document.createElement("canvas");
  canvas.width = Math.max(1, Math.round(picture.width * by));
  canvas.height = Math.max(1, Math.round(picture.height * by));
  canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
  picture.close();
  return new Promise((done, failed) => canvas.toBlob((blob) => (blob ? done(blob) : failed(new TypeError("no picture"))), "image/jpeg", FINE));
};

export const keepPhoto = async (file, joint, write) => {
  const bytes = new Uint8Array(await (await shrunk(file)).arrayBuffer());
  if (bytes.length > LARGEST) throw new TypeError("too large");
  const digest = hex(new Uint8Array(await crypto.subtle.digest("SHA-256", bytes)));
  // The picture and the entry that names it: both, or neither.
  await write("note", { joint, text: "photo", photos: [digest] }, { also: (tx) => tx.objectStore("photos").put({ digest, bytes, joint }) });
};
