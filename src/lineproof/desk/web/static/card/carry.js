// The second way out: this phone's entries shown as codes, and another phone's read from its screen.
import { act, app, el, render, send } from "./card.js";
import { draw, look, readPicture } from "./codes.js";
import { Gathered, framesOf } from "./frames.js";
import { asBytes } from "./outbox.js";
import { awake } from "./signals.js";
import { t } from "./words.js";

const BEAT_MS = [1000, 400, 200];

export const showCodes = () => act(async () => {
  const bytes = await asBytes(app.shelf);
  app.codes = bytes.length ? { frames: await framesOf(bytes), at: 0, pace: 1, runs: true } : null;
  if (app.codes) turn(app.codes);
}, { rest: 0 });

const turn = async (codes) => {
  if (app.codes !== codes) { awake(false); return; }
  awake(true);
  const canvas = document.getElementById("code");
  if (canvas) {
    await draw(canvas, codes.frames[codes.at]);
    canvas.dataset.frame = String(codes.at + 1);
    document.getElementById("frame").textContent = t("frame_of", { n: codes.at + 1, of: codes.frames.length });
    if (codes.runs) codes.at = (codes.at + 1) % codes.frames.length;
  }
  setTimeout(() => turn(codes), BEAT_MS[codes.pace]);
};

export const codesPanel = () => {
  const codes = app.codes, step = (by) => () => { codes.runs = false; codes.at = (codes.at + by + codes.frames.length) % codes.frames.length; };
  return [
    el("h1", {}, t("as_codes")), el("p", {}, t("codes_how")),
    el("canvas", { id: "code", role: "img", "aria-label": t("as_codes") }), el("p", { id: "frame", class: "num" }),
    el("div", { class: "pair" }, el("button", { id: "frame-back", tap: step(-1) }, "−1"), el("button", { id: "frame-next", tap: step(1) }, "+1")),
    el("div", { class: "pair" }, el("button", { id: "pace", tap: () => { codes.pace = (codes.pace + 1) % BEAT_MS.length; codes.runs = true; } }, t("pace")),
      el("button", { id: "codes-done", tap: () => { app.codes = null; render(); } }, t("go_back"))),
  ];
};

const took = async (text) => {
  const got = app.gathered ??= new Gathered();
  if (!got.add(text)) return false;
  told();
  if (!got.full) return false;
  app.gathered = null;
  try {
    const { hash, bytes } = await got.whole();
    await app.shelf.put("carried", { hash, bytes });
    app.read = t("read_all", { n: got.total });
  } catch { app.read = t("read_bad"); }
  await send();
  render();
  return true;
};
const told = () => {
  const got = app.gathered, place = document.getElementById("gathered");
  if (place && got?.total) place.textContent = t("read_so_far", { n: got.parts.size, of: got.total, missing: got.missing || "—" });
};

const pictures = async (files) => {
  for (const file of files) {
    const text = await readPicture(file).catch(() => "");
    if (text && await took(text)) return;
  }
  told();
};

export const readPanel = () => el("details", { id: "read" }, el("summary", {}, t("read_codes")),
  el("p", { id: "gathered", role: "status" }, app.read ?? ""),
  el("div", { id: "eye" }),
  navigator.mediaDevices ? el("button", { class: "wide", id: "read-camera", tap: () => look(document.getElementById("eye"), took).catch(() => {}) }, t("read_camera")) : "",
  el("label", { class: "tap over" }, t("read_pictures"), el("input", { id: "read-pictures", type: "file", accept: "image/*", multiple: true, "aria-label": t("read_pictures"), change: (e) => pictures([...e.target.files]) })),
  el("label", {}, t("read_text"), el("textarea", { id: "read-text", change: async (e) => { for (const line of e.target.value.split("\n")) if (await took(line)) return; } })));
