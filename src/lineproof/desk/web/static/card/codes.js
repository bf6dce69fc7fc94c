// Codes drawn on the screen and read by the camera or from pictures; the phone's own reader where it has one.
const packed = () => import("/static/vendor/qr.js");

export const draw = async (canvas, text) => {
  const { encodeQR } = await packed();
  const rows = encodeQR(text, "raw", { ecc: "medium", border: 4 });
  const scale = Math.max(2, Math.floor((Math.min(innerWidth, innerHeight, 560) * (devicePixelRatio || 1)) / rows.length));
  canvas.width = canvas.height = rows.length * scale;
  const pen = canvas.getContext("2d");
  pen.fillStyle = "#fff"; // a code is dark on light, whatever the page is
  pen.fillRect(0, 0, canvas.width, canvas.height);
  pen.fillStyle = "#000";
  rows.forEach((row, y) => row.forEach((dark, x) => { if (dark) pen.fillRect(x * scale, y * scale, scale, scale); }));
};

const pixels = (source, width, height, most = 1600) => {
  const by = Math.min(1, most / Math.max(width, height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(width * by);
  canvas.height = Math.round(height * by);
  const pen = canvas.getContext("2d", { willReadFrequently: true });
  pen.drawImage(source, 0, 0, canvas.width, canvas.height);
  return pen.getImageData(0, 0, canvas.width, canvas.height);
};

let own; // the phone's own reader, or null
const detector = async () => {
  if (own === undefined) {
    const kinds = (await globalThis.BarcodeDetector?.getSupportedFormats?.().catch(() => [])) ?? [];
    own = kinds.includes("qr_code") ? new BarcodeDetector({ formats: ["qr_code"] }) : null;
  }
  return own;
};
const readOne = async (source, width, height, patience) => {
  const mine = await detector();
  const found = mine ? await mine.detect(source).catch(() => []) : [];
  if (found.length) return found[0].rawValue;
  const { decodeQR } = await packed();
  try { return decodeQR(pixels(source, width, height), { timeLimit: patience }); } catch { return ""; }
};

export const readPicture = async (file) => {
  const picture = await createImageBitmap(file);
  return readOne(picture, picture.width, picture.height, 10000);
};

// Looks through the camera until `found` says that it has enough, or the picture is taken off the page.
export const look = async (place, found) => {
  const camera = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" } });
  const video = document.createElement("video");
  Object.assign(video, { playsInline: true, muted: true, id: "camera", srcObject: camera });
  place.replaceChildren(video);
  await video.play();
  const once = async () => {
    const text = video.videoWidth ? await readOne(video, video.videoWidth, video.videoHeight, 400) : "";
    const enough = text ? await found(text) : false;
    if (enough || !video.isConnected) {
      camera.getTracks().forEach((track) => track.stop());
      video.remove();
    } else { setTimeout(once, 60); }
  };
  once();
};
