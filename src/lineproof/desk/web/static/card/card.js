// The joint card: what is kept on this phone, what is shown of it, and one tap at a time.
import { BOOT, momentText, mono, wrongBy } from "./clock.js";
import { codesPanel, showCodes } from "./carry.js";
import { Outbox, asFile, fetchJob } from "./outbox.js";
import { jointPanel, startPanel, tick } from "./panels.js";
import { open } from "./shelf.js";
import { keepPhoto } from "./photo.js";
import * as signals from "./signals.js";
import { choose, language, load, t } from "./words.js";
import { Writer } from "./writer.js";

const REST_MS = 400; // a double tap of a glove must not tell the next step too
const BEAT_MS = 5000, SEND_MS = 15000, FULL = 0.8, ROOM = 20e6;
const NO_PHOTO = 0.9, PHOTO_ROOM = 10e6; // photographs are refused first, entries never
const main = document.getElementById("card");

export const app = {
  job: null, shelf: null, writer: null, outbox: null, joint: null, issue: "", entries: [], draft: null, beats: {},
  waiting: 0, ask: null, ui: {}, busy: false, failed: false, kept: false, safe: true, full: false, crammed: false, photos: [], carried: 0, codes: null, rest: 0, update: null, closed: false,
};

export const el = (tag, told = {}, ...inside) => {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(told)) {
    if (name === "tap") made.addEventListener("click", value);
    else if (name === "change") made.addEventListener("change", value);
    else if (value === true) made.setAttribute(name, "");
    else if (value !== false && value != null) made.setAttribute(name, value);
  }
  made.append(...inside.flat().filter((one) => one !== null && one !== undefined && one !== ""));
  return made;
};

const remember = (key, value) => { try { localStorage.setItem(key, value); } catch { /* it holds for this page */ } };
const remembered = (key) => { try { return localStorage.getItem(key); } catch { return null; } };

// ---------------------------------------------------------------- the job and its store

const use = async (uuid) => {
  app.shelf?.close();
  app.shelf = await open(`lineproof-${uuid}`);
  remember("lineproof-job", uuid);
  app.job = (await app.shelf.get("about", "job")) ?? null;
  app.beats = (await app.shelf.get("about", "beats")) ?? {};
  app.writer = await new Writer(app.shelf, uuid, app.job?.zone ?? "UTC").begin();
  app.outbox = new Outbox(app.shelf, app.writer);
};

const refreshJob = async () => {
  try {
    const told = await fetchJob();
    if (app.shelf === null || app.job?.job !== told.job) await use(told.job);
    app.job = told;
    app.writer.zone = told.zone;
    // A paired phone is somebody's: that person writes, unless another is chosen here.
    if (told.me && !app.writer.who) { app.writer.who = told.me.uuid; await app.shelf.put("about", told.me.uuid, "who"); }
    await app.shelf.put("about", told, "job");
  } catch { /* the one kept here goes on being used */ }
};

export const reload = async () => {
  if (app.shelf === null) return;
  app.waiting = await app.outbox.waiting();
  app.photos = await app.shelf.keys("photos");
  app.carried = (await app.shelf.keys("carried")).length;
  if (app.joint) {
    app.entries = await app.shelf.all("entries", "joint", app.joint);
    app.draft = (await app.shelf.get("drafts", app.joint)) ?? null;
  }
};

const storage = async () => {
  try {
    app.safe = (await navigator.storage?.persisted?.()) === true;
    const { usage = 0, quota = 0 } = (await navigator.storage?.estimate?.()) ?? {};
    app.full = quota > 0 && (usage / quota > FULL || quota - usage < ROOM);
    app.crammed = quota > 0 && (usage / quota > NO_PHOTO || quota - usage < PHOTO_ROOM);
  } catch { app.safe = false; }
};

// ---------------------------------------------------------------- one tap at a time

// Nothing shows as done before it is on the disk; a second tap while the first is being kept does nothing.
export const act = async (work, { rest = REST_MS } = {}) => {
  // A choice from a list is never a double tap: it waits for its turn.
  while (app.busy && rest === 0) await new Promise((done) => setTimeout(done, 5));
  if (app.busy) return;
  app.busy = true;
  app.rest = performance.now() + rest;
  for (const one of main.querySelectorAll("button")) one.disabled = true;
  signals.ready();
  try {
    await work();
    app.failed = false;
  } catch (error) {
    app.failed = true;
    console.info(`not kept: ${error}`);
  }
  await reload().catch(() => { app.failed = true; });
  app.busy = false;
  render();
  if (!app.safe) navigator.storage?.persist?.().then(storage).then(render, () => {});
  send();
};

export const insist = (sentences, go) => { app.ask = { sentences, go }; render(); scrollTo(0, 0); };

export const write = async (kind, body, options) => {
  // What the job would not take from this phone is not begun: it would hold up all that follows.
  if (app.job?.me && !app.job.me.kinds.includes(kind)) throw new Error(`${kind} is not for this phone`);
  const entry = await app.writer.write(kind, body, options);
  app.kept = true;
  return entry;
};
export const now = () => momentText(Date.now());

export const keepDraft = (change) => {
  const draft = { joint: app.joint, steps: [], roles: {}, cement: "", primer: "", measured: {}, insisted: [], ...app.draft };
  return app.shelf.put("drafts", { ...draft, ...(typeof change === "function" ? change(draft) : change) });
};

export const send = async () => {
  if (app.outbox === null) return;
  const before = app.outbox.cleared;
  await app.outbox.send();
  await reload().catch(() => {});
  if (app.outbox.cleared !== before) await refreshJob();
  if (!app.busy && !typing() && !document.getElementById("camera") && !app.codes) render();
};
const typing = () => /^(INPUT|TEXTAREA|SELECT)$/.test(document.activeElement?.tagName ?? "");

// ---------------------------------------------------------------- what is shown

export const go = async (path) => { history.pushState(null, "", path); await route(); };
const route = async () => {
  const [, , line, number] = location.pathname.split("/").map(decodeURIComponent);
  Object.assign(app, { joint: line && number ? `${line}/${number}` : null, ask: null, ui: {}, entries: [], draft: null, kept: false, said: "", codes: null, read: "", rest: 0 });
  app.issue = new URLSearchParams(location.search).get("issue") ?? "";
  await reload();
  render();
  scrollTo(0, 0);
};

// A photograph is on the disk before it shows; where it cannot be, what is owed is noted instead.
export const takePhoto = (file) => act(async () => {
  await storage();
  app.said = "";
  if (!app.crammed) {
    try { await keepPhoto(file, app.joint, write); return; } catch (error) {
      if (error?.name !== "QuotaExceededError") { app.said = t("no_picture"); return; }
    }
  }
  app.said = t("no_room_photo");
  await write("note", { joint: app.joint, text: "photo owed" });
});

const top = () => el("div", { class: "top" },
  el("button", { id: "send", "aria-live": "polite", tap: () => act(async () => {}) },
    app.waiting ? `○ ${t("waiting", { n: app.waiting })}` : `● ${t("all_sent")}`),
  el("button", { id: "language", lang: language === "en" ? "es" : "en", tap: () => { choose(language === "en" ? "es" : "en"); render(); } }, language === "en" ? "Español" : "English"),
  el("button", { id: "light", tap: () => { light(!document.documentElement.classList.contains("dark")); render(); } },
    t(document.documentElement.classList.contains("dark") ? "light" : "dark")));

const light = (dark) => { document.documentElement.classList.toggle("dark", dark); remember("light", dark ? "dark" : "light"); };

const hours = (seconds) => {
  const m = Math.round(Math.abs(seconds) / 60);
  return m < 120 ? `${m} min` : m < 2880 ? `${Math.round(m / 60)} h` : `${(m / 1440).toFixed(1)} d`;
};

const banners = () => {
  const said = [], say = (kind, text) => said.push(el("p", { class: `note ${kind}`, role: kind === "stop" ? "alert" : "status" }, text));
  if (app.failed) say("stop", t("not_kept"));
  if (app.closed) say("stop", t("closed"));
  if (wrongBy()) say("stop", t("clock_wrong", { by: hours(wrongBy()) }));
  for (const note of app.outbox?.notes ?? []) say("stop", note);
  if (!app.safe) say("tell", t("not_safe"));
  if (app.full) say("stop", t("nearly_full"));
  if (app.said) say("stop", app.said);
  if (app.carried) say("tell", t("carried", { sentence: app.outbox.carried }));
  if (app.photos.length && !app.waiting) say("", t("photos_wait", { n: app.photos.length }));
  const state = app.outbox?.state;
  if ((app.waiting || app.photos.length) && ["offline", "portal", "strange", "refused"].includes(state)) say(state === "offline" ? "" : "tell", t(state, { sentence: app.outbox.sentence }));
  if (app.update) said.push(el("button", { id: "update", class: "wide", tap: () => app.update.postMessage("take over") }, t("update")));
  return said;
};

const whoPanel = () => [
  el("h1", {}, t("who_writes")),
  ...app.job.people.map((p) => el("button", { class: "tap", tap: () => act(async () => {
    await app.shelf.put("about", p.uuid, "who");
    app.writer.who = p.uuid;
  }) }, `${p.name} · ${p.id}`)),
];

const askPanel = () => [
  el("h1", {}, t("joint"), ` ${app.joint}`),
  ...app.ask.sentences.map((s) => el("p", { class: "note stop", role: "alert" }, s)),
  el("button", { class: "big", id: "back", tap: () => { app.ask = null; render(); } }, t("go_back")),
  el("button", { id: "anyway", tap: () => act(async () => { const { go: then, sentences } = app.ask; app.ask = null; await then(sentences.join(" ")); }) }, t("keep_anyway")),
];

const foot = () => [
  el("p", { class: "small" }, t("caution")),
  app.writer?.who && app.job ? el("button", { id: "who", tap: () => { app.writer.who = ""; render(); } }, t("writes", { name: app.job.people.find((p) => p.uuid === app.writer.who)?.name ?? "?" })) : "",
  app.shelf ? el("button", { id: "file", tap: saveFile }, t("as_file")) : "",
  app.shelf && app.job && !app.codes ? el("button", { id: "codes", tap: showCodes }, t("as_codes")) : "",
  app.joint ? el("a", { class: "tap", href: "/card/", tap: (e) => { e.preventDefault(); go("/card/"); } }, t("all_joints")) : el("a", { class: "tap", href: "/" }, t("list_page")),
];

const saveFile = async () => {
  const link = el("a", { href: URL.createObjectURL(await asFile(app.shelf)), download: `lineproof-${app.job?.id ?? "job"}-${app.writer.id.slice(0, 8)}.jsonl` });
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10000);
};

export const render = () => {
  document.title = app.joint ?? t("joints");
  const inside = [top(), ...banners()];
  if (app.job === null) inside.push(el("h1", {}, t("joints")), el("p", { class: "note tell" }, t("no_job_yet")));
  else if (!app.writer.who) inside.push(...whoPanel());
  else if (app.codes) inside.push(...codesPanel());
  else if (app.ask) inside.push(...askPanel());
  else inside.push(...(app.joint ? jointPanel() : startPanel()));
  const open = new Set([...main.querySelectorAll("details[open]")].map((d) => d.id));
  main.replaceChildren(...inside, ...foot());
  for (const one of main.querySelectorAll("details")) if (open.has(one.id)) one.open = true;
  const rest = app.rest - performance.now();
  if (rest > 0) {
    const buttons = [...main.querySelectorAll("button")];
    for (const one of buttons) one.disabled = true;
    setTimeout(() => { for (const one of buttons) one.disabled = false; }, rest);
  }
  tick();
};

// ---------------------------------------------------------------- start

const beat = () => {
  if (app.shelf === null || app.closed) return;
  app.beats = Object.fromEntries([...Object.entries(app.beats).filter(([boot]) => boot !== BOOT).slice(-40), [BOOT, mono()]]);
  app.shelf.put("about", app.beats, "beats").catch(() => {});
};

const workers = async () => {
  if (!navigator.serviceWorker) return;
  let mine = Boolean(navigator.serviceWorker.controller);
  navigator.serviceWorker.addEventListener("controllerchange", () => { if (mine) location.reload(); mine = true; });
  const told = await navigator.serviceWorker.register("/card/worker.js", { scope: "/card/", updateViaCache: "none" });
  const ready = () => { if (told.waiting && navigator.serviceWorker.controller) { app.update = told.waiting; render(); } };
  told.addEventListener("updatefound", () => told.installing?.addEventListener("statechange", ready));
  ready();
  addEventListener("online", () => told.update().catch(() => {}));
};

const start = async () => {
  let dark = remembered("light") === "dark";
  light(dark);
  await load();
  const last = remembered("lineproof-job");
  if (last) await use(last);
  if (app.job === null) await refreshJob();
  await storage();
  await route();
  workers().catch(() => {}); // without one the card still keeps records; it does not open without a signal
  addEventListener("popstate", route);
  addEventListener("shelf-closed", () => { app.closed = true; render(); });
  addEventListener("online", send);
  document.addEventListener("visibilitychange", () => { if (document.visibilityState === "visible") send(); else beat(); });
  addEventListener("pagehide", beat);
  setInterval(tick, 500);
  setInterval(beat, BEAT_MS);
  setInterval(() => { if (app.waiting || app.photos.length || app.carried) send(); }, SEND_MS);
  if (last) refreshJob().then(() => { if (!app.busy && !typing()) render(); });
  send();
  document.documentElement.dataset.ready = "yes";
};
start();
