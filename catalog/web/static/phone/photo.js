// A photo as it is sent: drawn on a canvas and written anew as JPEG, so that place, time and all else beside the pixels
// stay behind, at most so many pixels long.
import { Trouble } from "./database.js";
import { words } from "./report_words.js";

export const LONGEST = 1600;
const MOST_BYTES = 40e6;
const QUALITY = 0.8;

// {canvas, bytes}; rejects in words with a cure.
export const shrunk = async (file) => {
  if (file.size > MOST_BYTES) throw new Trouble(...words.photoLarge);
  let picture;
  try {
    picture = await createImageBitmap(file, { imageOrientation: "from-image" });
  } catch {
    throw new Trouble(...words.photoUnread);
  }
  const scale = Math.min(1, LONGEST / Math.max(picture.width, picture.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.max(1, Math.round(picture.width * scale));
  canvas.height = Math.max(1, Math.round(picture.height * scale));
  const pen = canvas.getContext("2d");
  pen.fillStyle = "white";
  pen.fillRect(0, 0, canvas.width, canvas.height);
  pen.drawImage(picture, 0, 0, canvas.width, canvas.height);
  picture.close();
  const blob = await new Promise((resolve) => canvas.toBlob(resolve, "image/jpeg", QUALITY));
  if (!blob) throw new Trouble(...words.photoUnread);
  return { canvas, bytes: new Uint8Array(await blob.arrayBuffer()) };
};
