// The panels of a joint: line zero, the steps in order, the clocks that run, and what else is told of it.
import { act, app, el, go, insist, keepDraft, now, takePhoto, write } from "./card.js";
import { readPanel } from "./carry.js";
import { look } from "./codes.js";
import { momentText, passed, passedAtMost, read } from "./clock.js";
import { length, lengthText, metres, percent, stepsOf, temperature } from "./measure.js";
import { awake, call } from "./signals.js";
import { language, t } from "./words.js";

const WET = ["socket_primed", "pipe_primed", "pipe_cemented"];
const ROLES = ["pipe_end", "socket", "pulled", "called_time"];
const AFTER = ["hold_end", "pullers_off", "moved", "disturbed"];
const ROUND_MS = 300000;

// ---------------------------------------------------------------- words of times

const clockText = (ms) => new Intl.DateTimeFormat("en-GB", { hour: "2-digit", minute: "2-digit", timeZone: app.job.zone }).format(ms);
const dayText = (ms) => {
  const parts = new Intl.DateTimeFormat(language === "es" ? "es-MX" : "en-GB", { weekday: "short", day: "numeric", month: "short", timeZone: app.job.zone }).formatToParts(ms);
  return ["weekday", "day", "month"].map((type) => parts.find((p) => p.type === type).value).join(" ");
};
const left = (seconds) => {
  const s = Math.max(0, Math.ceil(seconds));
  const hours = Math.floor(s / 3600), rest = `${String(Math.floor((s % 3600) / 60)).padStart(hours ? 2 : 1, "0")}:${String(s % 60).padStart(2, "0")}`;
  return hours ? `${hours} h ${rest.slice(0, 2)}` : rest;
};
const notBefore = (seconds) => {
  const at = Math.ceil((Date.now() + seconds * 1000) / ROUND_MS) * ROUND_MS;
  const hour = clockText(at), today = dayText(at) === dayText(Date.now());
  const when = today ? (language === "es" ? `${hour.startsWith("01") ? "la" : "las"} ${hour}` : hour) : `${dayText(at)} ${hour}`;
  return t(today ? "not_before" : "not_before_day", { when });
};

// ---------------------------------------------------------------- what is known of the joint

const told = () => app.job.told[app.joint];
const own = (...kinds) => app.entries.filter((e) => kinds.includes(e.kind));
const line = () => app.joint.slice(0, app.joint.lastIndexOf("/"));

const facts = (joint = app.joint) => {
  const found = app.job.joints[joint];
  if (found) return app.job.facts[found.facts];
  const beside = (joint === app.joint ? own("field_joint")[0]?.body.beside : "") || app.job.told[joint]?.beside;
  if (!beside || beside === joint) return null;
  const near = facts(beside); // as far as a phone can tell it is like its neighbour, but for the ring or nut
  return near && { ...near, first: [] };
};
const known = () => app.joint in app.job.joints || app.job.field_joints.includes(app.joint) || own("field_joint").length > 0;
const done = (kind) => own(kind).length > 0;
const madeElsewhere = () => (told()?.writers ?? []).some((w) => w !== app.writer.id);

// In the order they are done: what stands before the draft, the draft's own steps, what comes after.
const stages = (f) => [
  ...f.first.map((z, n) => ({ id: `first${n}`, done: own("first_on", "note").filter((e) => e.kind === "first_on" || e.body.text.startsWith("first on the pipe")).length > n })),
  { id: "dry_fit", done: done("dry_fit") },
  ...f.steps.map((step) => ({ id: step, done: done("joint_made") || (app.draft?.steps ?? []).some((s) => s.step === step) })),
  ...(f.steps.length ? [{ id: "hold_end", done: done("hold_end") }] : []),
  ...(f.steps.length && f.pull_in !== false ? [{ id: "pullers_off", done: done("pullers_off") }] : []),
  ...(f.steps.length ? [{ id: "insertion", done: done("insertion") }] : []),
];
const stageWord = (id) => t({ hold_end: "hold_end", dry_fit: "first_dry_fit" }[id] ?? (id.startsWith("first") ? "first_on" : id === "insertion" ? "all_in" : id));

// ---------------------------------------------------------------- clocks

const heldFor = () => { const made = own("joint_made").at(-1); return made ? passed(made, app.beats) : null; };
const holdLeft = (f) => (f.hold_s === null || heldFor() === null ? null : Number(f.hold_s) - heldFor());
const pullersLeft = (f) => (f.pullers_s === null || heldFor() === null ? null : Number(f.pullers_s) - heldFor());
const handsOffLeft = (f) => {
  const from = own(...AFTER);
  if (f.hands_off_s === null || !from.length) return null;
  return Math.max(...from.map((e) => Number(f.hands_off_s) - passed(e, app.beats)));
};
const workingLeft = (f) => {
  const first = (app.draft?.steps ?? []).find((s) => s.step.endsWith("cemented"));
  if (!first) return undefined;
  return f.working_s === null ? null : Number(f.working_s) - passedAtMost({ wall: first.at, mono: first.mono, boot: first.boot }, app.beats);
};

// What runs now, the most pressing first: {id, word, left, over}.
const running = (f) => {
  const rows = [];
  const working = workingLeft(f);
  if (working !== undefined && !done("joint_made")) {
    rows.push({ id: "working", word: t("working_left"), left: working, over: t("working_over"), none: t("no_time") });
    return rows;
  }
  if (!done("joint_made")) return rows;
  if (!done("hold_end")) rows.push({ id: "hold", word: t("hold_left"), left: holdLeft(f), over: t("hold_over"), none: t("no_time") });
  else {
    const off = handsOffLeft(f);
    rows.push({ id: "handsoff", word: t("hands_off_left"), left: off, over: t("ask_again"), none: t("no_time"), wait: true });
  }
  if (f.pull_in !== false && !done("pullers_off")) rows.push({ id: "pullers", word: t("pullers_left"), left: pullersLeft(f), over: t("pullers_off"), none: t("no_time"), small: true });
  return rows;
};

// The times shown are those of the planned weather; what was measured may ask for other rows of the cement card.
const weather = (f, rows) => {
  if (!rows.length) return [];
  const made = own("joint_made").at(-1);
  if (!made) {
    const at = app.draft?.measured?.joint_temperature;
    return at != null && f.planned_K !== null && Number(temperature(at, app.job.units.temperature).si) > Number(f.planned_K) + 0.01 ? ["hotter"] : [];
  }
  const cold = made.body.joint_temperature, damp = made.body.humidity;
  const told = [cold && f.planned_K !== null && Number(cold.si) >= Number(f.planned_K) - 0.01, damp && f.planned_humidity !== null && Number(damp.si) <= Number(f.planned_humidity) + 1e-9];
  return told.every(Boolean) ? [] : ["colder"];
};

let called = new Set();
export const tick = () => {
  if (!app.joint || !app.job || !app.writer?.who || app.ask) return;
  const f = facts();
  const place = document.getElementById("clocks");
  if (!f || !place) return;
  const rows = running(f);
  awake(rows.some((r) => r.left !== null && (r.id === "working" || r.id === "hold")));
  const shown = rows.map((r) => {
    const over = r.left !== null && r.left <= 0;
    const key = `${app.joint} ${r.id}`;
    if (over && !called.has(key)) { called.add(key); call(); }
    if (!over) called.delete(key);
    const big = r.left === null ? r.none : over ? r.over : left(r.left);
    return el("div", { class: `clock${over ? " out" : ""}${r.small || r.left === null ? " small" : ""}`, id: `clock-${r.id}` },
      over ? "" : r.id === "handsoff" ? t("hands_off") : r.word, el("b", {}, big),
      r.wait && !over && r.left !== null ? el("span", {}, notBefore(r.left)) : "");
  });
  for (const key of weather(f, rows)) shown.push(el("p", { class: "note tell", id: key }, t(key)));
  if (rows.some((r) => r.wait)) shown.push(el("p", { class: "small" }, t("as_far")));
  place.replaceChildren(...shown);
};

// ---------------------------------------------------------------- tapping

const body = (more = {}, insisted = "") => ({ joint: app.joint, ...more, ...(insisted ? { insisted } : {}) });
const tapped = (odd, work) => { if (odd.length) insist(odd, work); else act(() => work("")); };
const unknown = () => (known() ? [] : [t("odd_unknown", { name: app.joint })]);

const person = (uuid) => app.job.people.find((p) => p.uuid === uuid)?.name ?? "?";
const canKey = (c) => `${c.can}|${c.lot}`;
const can = (key) => app.job.cans.find((c) => canKey(c) === key);

const lacking = (f) => {
  const d = app.draft ?? {}, r = d.roles ?? {}, m = d.measured ?? {};
  return [
    r.pipe_end ? "" : t("pipe_end"), r.socket ? "" : t("socket"), d.cement ? "" : t("cement"),
    f.method === "two-step" && !d.primer ? t("primer") : "", m.joint_temperature == null ? `${t("joint_temperature")} °` : "",
  ].filter(Boolean);
};

const oddStep = (f, step) => {
  const odd = [...unknown()];
  const next = stages(f).find((s) => !s.done);
  if (next && next.id !== step) odd.push(t("odd_order", { before: stageWord(next.id), step: t(step) }));
  if (step === f.steps[0] && (done("joint_made") || told()?.made)) odd.push(t("odd_again"));
  const first = f.steps.find((s) => WET.includes(s));
  if (step === first) {
    const out = [app.draft?.cement, app.draft?.primer].map(can).filter((c) => c?.expires && c.expires < new Date().toISOString().slice(0, 10));
    odd.push(...out.map((c) => t("odd_expired", { name: c.lot })));
    if (lacking(f).length) odd.push(t("odd_missing", { what: lacking(f).join(", ") }));
  }
  return odd;
};

const addStep = async (f, step, insisted) => {
  const at = read();
  const steps = [...(app.draft?.steps ?? []), { step, at: at.wall, mono: at.mono, boot: at.boot }];
  const said = [...(app.draft?.insisted ?? []), ...(insisted ? [insisted] : [])];
  if (step !== "home") { await keepDraft({ steps, insisted: said }); return; }
  // Home is one tap: the joint is told as made and the draft goes, both or neither.
  await write("joint_made", made(f, steps, said), { also: (tx) => tx.objectStore("drafts").delete(app.joint) });
};

const made = (f, steps, insisted) => {
  const d = app.draft ?? {}, units = app.job.units.temperature, m = d.measured ?? {};
  const dry = own("dry_fit").at(-1);
  const all = [...(dry ? [{ step: "dry_fitted", at: dry.wall }] : []), ...steps, { step: "hold_begun", at: steps.at(-1).at }];
  const roles = Object.fromEntries(Object.entries(d.roles ?? {}).filter(([, v]) => v).map(([k, v]) => [k, k === "pulled" ? [v] : v]));
  const cans = [can(d.cement), can(d.primer)].filter(Boolean);
  const named = cans.filter((c) => c.can).map((c) => c.can), lots = cans.filter((c) => !c.can).map((c) => [c.holds, c.lot]);
  const card = can(d.cement)?.card || f.card;
  const issue = Number.parseInt(app.job.issue, 10);
  return body({
    steps: all.map(({ step, at }) => ({ step, at: momentText(at) })),
    ...(Object.keys(roles).length ? { roles } : {}),
    ...(named.length ? { cans: named } : {}),
    ...(lots.length ? { lots: Object.fromEntries(lots) } : {}),
    ...(card ? { card } : {}),
    ...(issue > 0 ? { issue } : {}),
    ...(m.joint_temperature != null ? { joint_temperature: temperature(m.joint_temperature, units) } : {}),
    ...(m.air_temperature != null ? { air_temperature: temperature(m.air_temperature, units) } : {}),
    ...(m.humidity != null ? { humidity: percent(m.humidity) } : {}),
  }, insisted.join(" "));
};

// ---------------------------------------------------------------- pieces of the page

const stepper = (id, value, said, moves, change) => el("div", { id },
  el("div", { class: "stepper" }, el("button", { "aria-label": `${t("less")} ${said(moves[0])}`, tap: () => change(-moves[0]) }, "−"),
    el("output", {}, value === null ? t("not_measured") : said(value)),
    el("button", { "aria-label": `${t("more")} ${said(moves[0])}`, tap: () => change(moves[0]) }, "+")),
  el("div", { class: "pair" }, ...[-moves[1], moves[1]].map((by) => el("button", { class: "tap", tap: () => change(by) }, `${by < 0 ? "−" : "+"} ${said(Math.abs(by))}`))));

const lengthStepper = (id, first, most) => {
  const units = app.job.units;
  app.ui[id] ??= first;
  const change = (by) => { app.ui[id] = Math.min(most, Math.max(0, app.ui[id] + by)); rerender(); };
  return stepper(id, app.ui[id], (n) => lengthText(n, units), [1, units.length === "in" ? units.inch_step / 2 : 10], change);
};
const rerender = () => import("./card.js").then((card) => card.render());

const firstPanel = (f, n) => {
  const z = f.first[n];
  const say = z.as ? t(`first_${z.as}`) : t("first_other", { what: z.what });
  const keep = (odd) => (z.as ? write("first_on", body({ what: z.as }, odd)) : write("note", { joint: app.joint, text: `first on the pipe: ${z.what}` }));
  return el("button", { class: "big", id: `do-first${n}`, tap: () => tapped(unknown(), keep) }, t(z.as ? `${z.as}_is_on` : "other_is_on"), el("span", { hidden: true }, say));
};

const zero = (f) => f.first.map((z) => el("p", { class: "zero", id: "zero" }, z.as ? t(`first_${z.as}`) : t("first_other", { what: z.what }), f.first_sure ? "" : ` (${t("first_half")})`));

const bandOf = (f, m) => (m < Number(f.bands[0]) ? "tight" : m < Number(f.bands[1]) ? "good" : "net");

const dryFitPanel = (f) => {
  const units = app.job.units, depth = f.depth === null ? null : Number(f.depth);
  const first = depth === null ? 0 : stepsOf(depth / 2, units);
  const most = depth === null ? 2000 : stepsOf(depth, units);
  const at = lengthStepper("dry", first, most);
  const m = metres(app.ui.dry, units);
  const band = f.bands ? bandOf(f, m) : "";
  const [a, b] = f.bands_said;
  const keep = (more) => (odd) => write("dry_fit", body({ depth: length(app.ui.dry, units), ...more }, odd));
  return [
    el("h2", {}, t("dry_fit")), at,
    f.bands ? el("ul", { class: "bands" }, ...["tight", "good", "net"].map((one) => el("li", one === band ? { class: "here" } : {}, t(`band_${one}`, { a, b })))) : el("p", { class: "note tell" }, t("no_bands")),
    el("button", { class: "big", id: "do-dry_fit", tap: () => tapped([...unknown(), ...(band === "tight" ? [t("odd_tight")] : [])], keep({})) }, t("stops_here")),
    el("button", { id: "plays", tap: () => insist([...unknown(), t("odd_loose")], (odd) => {
      app.ui.dry = most;
      return keep({ note: "loose: plays at the stop" })(odd);
    }) }, t("it_plays")),
  ];
};

const choice = (id, word, value, rows, change) => el("label", {}, word,
  el("select", { id, change: (e) => act(() => change(e.target.value), { rest: 0 }) }, el("option", { value: "" }, t("nobody")),
    ...rows.map(([v, said]) => el("option", { value: v, selected: v === value }, said))));

// The code on a can: its name or its lot, as the list has it; anything else is looked past.
const scanned = async (f, text) => {
  const word = text.trim(), found = app.job.cans.find((c) => [c.can, c.lot].filter(Boolean).includes(word));
  if (!found || (found.holds !== "cement" && found.holds !== "primer")) return false;
  await act(() => keepDraft({ [found.holds]: canKey(found) }), { rest: 0 });
  return true;
};

const boxesPanel = (f) => {
  const roles = app.draft?.roles ?? {}, d = app.draft ?? {}, m = d.measured ?? {};
  const people = app.job.people.map((p) => [p.uuid, p.name]);
  const day = new Date().toISOString().slice(0, 10);
  const cans = (holds) => app.job.cans.filter((c) => c.holds === holds && (!f.card || !c.card || c.card === f.card || holds !== "cement"))
    .map((c) => [canKey(c), `${c.can ? `${c.can} · ` : ""}${t("lot")} ${c.lot}${c.expires && c.expires < day ? ` · ${t("expired")}` : ""}`]);
  const change = (name, by, first, low, high) => act(() => keepDraft(({ measured: was }) => ({ measured: { ...was, [name]: was[name] == null ? first : Math.min(high, Math.max(low, was[name] + by)) } })), { rest: 0 });
  const unit = app.job.units.temperature, far = unit === "F";
  return [
    el("details", { id: "boxes" }, el("summary", {}, `${t("boxes")}: ${ROLES.filter((r) => roles[r]).length}/4`),
      ...ROLES.map((r) => choice(`role-${r}`, t(r), roles[r] ?? "", people, (v) => keepDraft((was) => ({ roles: { ...was.roles, [r]: v } }))))),
    el("details", { id: "cans" }, el("summary", {}, `${t("cans")}: ${[can(d.cement), can(d.primer)].filter(Boolean).map((c) => c.can || c.lot).join(", ") || "—"}`),
      choice("can-cement", t("cement"), d.cement ?? "", cans("cement"), (v) => keepDraft({ cement: v })),
      navigator.mediaDevices ? el("button", { class: "tap", id: "scan-can", tap: () => look(document.getElementById("eye-can"), (text) => scanned(f, text)).catch(() => {}) }, t("scan_can")) : "", el("div", { id: "eye-can" }),
      f.method === "two-step" ? choice("can-primer", t("primer"), d.primer ?? "", cans("primer"), (v) => keepDraft({ primer: v })) : ""),
    el("details", { id: "measured" }, el("summary", {}, `${t("temperatures")}: ${m.joint_temperature == null ? "—" : `${m.joint_temperature} °${unit}`}`),
      el("h2", {}, t("joint_temperature")), stepper("joint-temperature", m.joint_temperature ?? null, (n) => `${n} °${unit}`, [1, 10], (by) => change("joint_temperature", by, far ? 60 : 15, far ? -20 : -29, far ? 160 : 71)),
      el("h2", {}, t("air_temperature")), stepper("air-temperature", m.air_temperature ?? null, (n) => `${n} °${unit}`, [1, 10], (by) => change("air_temperature", by, far ? 60 : 15, far ? -20 : -29, far ? 130 : 54)),
      el("h2", {}, t("humidity")), stepper("air-humidity", m.humidity ?? null, (n) => `${n} %`, [1, 10], (by) => change("humidity", by, 50, 0, 100))),
  ];
};

const insertionPanel = (f) => {
  const units = app.job.units;
  const at = lengthStepper("short", 0, units.length === "in" ? 6 * units.inch_step : 150);
  const odd = () => [...unknown(), ...(f.allowed === null || metres(app.ui.short, units) > Number(f.allowed) + 1e-9 ? [t("odd_short")] : [])];
  return [
    el("h2", {}, t("insertion")), at, f.allowed_said ? el("p", {}, t("allowed", { a: f.allowed_said })) : "",
    el("button", { class: "big", id: "do-insertion", tap: () => tapped(app.ui.short ? odd() : unknown(), (said) => write("insertion", body({ shortfall: length(app.ui.short, units), ...(f.procedure ? { procedure: f.procedure } : {}) }, said))) }, t("all_in")),
  ];
};

const stepButton = (f, id, big) => {
  const early = { hold_end: [holdLeft, "odd_early"], pullers_off: [pullersLeft, "odd_pullers"] }[id];
  const tap = () => {
    if (!early) { tapped(oddStep(f, id), (odd) => addStep(f, id, odd)); return; }
    const rest = early[0](f);
    const odd = [...(done("joint_made") ? [] : [t("odd_order", { before: t("home"), step: stageWord(id) })]), ...(rest > 0 ? [t(early[1], { left: left(rest) })] : [])];
    tapped([...unknown(), ...odd], (said) => write(id, body({}, said)));
  };
  return el("button", { class: big ? "big" : "tap", id: `do-${id}`, tap }, t(id === "hold_end" ? "let_go" : id));
};

const doing = (f, id) => {
  if (id.startsWith("first")) return [firstPanel(f, Number(id.slice(5)))];
  if (id === "dry_fit") return dryFitPanel(f);
  if (id === "insertion") return insertionPanel(f);
  return [stepButton(f, id, true)];
};

const photoWord = ({ body: { text, photos = [] } }) => {
  if (!photos.length) return text === "photo owed" ? t("photo_owed") : text;
  return photos.some((d) => app.photos.includes(d)) ? `${t("photo")} · ${t("photo_owed")}` : t("photo");
};

const doneList = () => {
  const steps = (app.draft?.steps ?? []).map((s) => ({ at: s.at, said: t(s.step), flag: "" }));
  const entries = app.entries.filter((e) => e.kind !== "step_in_clock").map((e) => ({
    at: e.wall, flag: [e.body.insisted ? t("insisted") : "", e.forked ? t("forked").split(":")[0] : ""].filter(Boolean).join(" · "), sent: !e.waiting,
    said: { dry_fit: `${t("first_dry_fit")} ${e.body.depth?.typed}`, insertion: `${t("insertion")} ${e.body.shortfall?.typed}`, note: photoWord(e) }[e.kind] ?? t(e.kind),
  }));
  const rows = [...entries, ...steps].sort((a, b) => a.at - b.at);
  return el("ul", { class: "done", id: "done" }, ...rows.map((r) => el("li", {},
    el("span", {}, `✓ ${r.said}`, r.flag ? el("span", { class: "small" }, ` · ${r.flag}`) : ""),
    el("span", { class: "at" }, `${clockText(r.at)} ${r.sent ? "●" : "○"}`))));
};

const examinePanel = () => {
  const by = Object.values(own("joint_made").at(-1)?.body.roles ?? {}).flat();
  const points = app.ui.points ??= Object.fromEntries(app.job.list.points.map((p) => [p, false]));
  const English = { bead: "bead all round", home: "home against the mark", ring: "ring or nut on", straight: "straight" };
  app.ui.examiner ??= by.includes(app.writer.who) ? "" : app.writer.who;
  const keep = (accepted) => {
    const who = app.ui.examiner;
    const odd = [...unknown(), ...(!who || by.includes(who) ? [t("same_person", { name: person(who) })] : [])];
    if (!who) { insist(odd, async () => {}); return; }
    tapped(odd, (said) => write("examined", body({ list: app.job.list.name, accepted, points: Object.fromEntries(Object.entries(points).map(([k, v]) => [English[k], v])) }, said), { who }));
  };
  return el("details", { id: "examine" }, el("summary", {}, t("examine")),
    el("label", {}, t("who_writes"), el("select", { id: "examiner", change: (e) => { app.ui.examiner = e.target.value; } }, el("option", { value: "" }, t("nobody")),
      ...app.job.people.map((p) => el("option", { value: p.uuid, selected: p.uuid === app.ui.examiner }, p.name)))),
    ...Object.keys(points).map((p) => el("button", { class: "tap", "aria-pressed": String(points[p]), tap: () => { points[p] = !points[p]; rerender(); } }, `${points[p] ? "☑" : "☐"} ${t(`point_${p}`)}`)),
    el("div", { class: "pair" }, el("button", { class: "wide", id: "accept", tap: () => keep(true) }, t("accepted")), el("button", { id: "refuse", tap: () => keep(false) }, t("not_accepted"))));
};

const furtherPanel = (f) => {
  const rest = f ? handsOffLeft(f) : null;
  const early = rest > 0 ? [t("odd_hands_off", { left: left(rest) })] : [];
  const plain = (kind, odd) => el("button", { class: "tap", id: `do-${kind}`, tap: () => tapped([...unknown(), ...odd], (said) => write(kind, body({}, said))) }, t(kind));
  return el("details", { id: "further" }, el("summary", {}, t("further")),
    plain("disturbed", []), plain("moved", early),
    el("label", {}, t("write_note"), el("textarea", { id: "note" })),
    el("button", { class: "wide", id: "keep-note", tap: () => { const text = document.getElementById("note").value.trim(); if (text) act(() => write("note", { joint: app.joint, text: text.slice(0, 4000) })); } }, t("keep")));
};

// Two taps: that there is one, and what it is.
const extraPanel = (f) => {
  if (!app.ui.extra) return el("button", { id: "extra", class: "tap", tap: () => { app.ui.extra = true; rerender(); } }, t("extra_joint"));
  const add = (what) => act(async () => {
    const all = new Set([...Object.keys(app.job.told), ...(await app.shelf.all("entries")).map((e) => e.joint)]);
    let n = 1;
    const name = () => `${line()}/F${n}-${app.writer.id.slice(0, 4)}`;
    while (all.has(name())) n += 1;
    await write("field_joint", { joint: name(), beside: app.joint, what, ...(f?.section ? { section: f.section } : {}) });
    await go(`/card/${name().split("/").map(encodeURIComponent).join("/")}`);
  });
  return el("div", { class: "pair" }, el("button", { class: "wide", id: "extra-coupling", tap: () => add("coupling") }, t("coupling")), el("button", { class: "wide", id: "extra-repair", tap: () => add("repair coupling") }, t("repair_coupling")));
};

const warnings = (f) => {
  const said = [], say = (kind, text, id) => said.push(el("p", { class: `note ${kind}`, role: "alert", id }, text));
  if (app.issue && app.issue !== (app.job.issue || "0")) say("stop", t("superseded", { old: app.issue, new: app.job.issue || "0" }), "superseded");
  if (!known()) say("tell", t("not_a_joint", { name: app.joint }), "unknown");
  const pressed = app.job.under_pressure.filter((s) => s === f?.section);
  for (const name of pressed) say("stop", t("under_pressure", { name }), "pressed");
  if (told()?.unclear.includes("two-stories")) say("tell", t("two_stories"), "stories");
  else if (madeElsewhere() && !done("joint_made")) say("tell", t("told_elsewhere"), "elsewhere");
  if (app.entries.some((e) => e.forked) || told()?.unclear.includes("fork")) say("tell", t("forked"), "forked");
  return said;
};

// The input lies over its label, so that a glove finds it and a keyboard too.
const photoPanel = () => el("label", { class: "tap over", id: "take" }, `📷 ${t("take_photo")}`,
  el("input", { id: "camera-photo", type: "file", accept: "image/*", capture: "environment", "aria-label": t("take_photo"), change: (e) => { if (e.target.files[0]) takePhoto(e.target.files[0]); } }));

export const jointPanel = () => {
  const f = facts();
  const j = app.job.joints[app.joint];
  const head = [
    el("h1", {}, `${t("joint")} ${app.joint}`), ...warnings(f),
    f ? el("p", {}, f.size) : "",
  ];
  const tail = [extraPanel(f), photoPanel(), el("button", { id: "photo", class: "tap", tap: () => act(() => write("note", { joint: app.joint, text: "photo owed" })) }, t("photo_owed")), examinePanel(), furtherPanel(f)];
  const kept = app.kept ? [el("p", { class: "good", role: "status", id: "kept" }, `✓ ${t("kept")}`)] : [];
  if (!f) return [...head, ...kept, doneList(), ...tail];
  const all = stages(f), next = all.find((s) => !s.done);
  const rest = next ? all.slice(all.indexOf(next) + 1).filter((s) => !s.done && !s.id.startsWith("first") && !["dry_fit", "insertion"].includes(s.id)) : [];
  return [
    ...head, ...(next?.id.startsWith("first") ? zero(f) : []), el("div", { id: "clocks" }), ...kept,
    ...(f.steps.length ? [] : [el("p", { class: "note stop" }, t("no_steps"))]),
    ...(next ? doing(f, next.id) : []),
    doneList(),
    ...(done("joint_made") ? [] : boxesPanel(f)),
    el("details", { id: "facts" }, el("summary", {}, `${t("depth")}: ${f.depth_said || "—"}`), el("dl", { class: "facts" },
      ...[[t("goes_in"), j?.in], [t("into"), j?.into], [t("second_mark"), f.second_said], [t("card"), f.card], [t("hands"), f.hands]].filter(([, v]) => v).flatMap(([k, v]) => [el("dt", {}, k), el("dd", {}, String(v))])),
      ...f.missing.map((m) => el("p", { class: "note tell" }, t("missing", { what: m })))),
    ...(rest.length ? [el("details", { id: "todo" }, el("summary", {}, `${t("further")}: ${rest.length}`), el("ul", { class: "todo" }, ...rest.map((s) => el("li", {}, stepButton(f, s.id, false)))))] : []),
    ...tail,
  ];
};

// ---------------------------------------------------------------- choosing a joint

const TAG = /^LP:([^:]+):(.+):([^:]*)$/;
const openTyped = (typed) => {
  const tag = TAG.exec(typed.trim());
  if (tag && tag[1] !== app.job.id) { app.ui.wrong = t("other_job", { name: tag[1] }); rerender(); return; }
  const name = tag ? tag[2] : typed.trim();
  const found = name in app.job.joints || app.job.field_joints.includes(name) ? name
    : Object.keys(app.job.joints).find((j) => j.toLowerCase() === name.toLowerCase());
  if (!found && !(tag && name.includes("/"))) { app.ui.wrong = t("not_a_joint", { name }); rerender(); return; }
  go(`/card/${(found ?? name).split("/").map(encodeURIComponent).join("/")}${tag ? `?issue=${encodeURIComponent(tag[3])}` : ""}`);
};

const scan = () => look(document.getElementById("eye-tag"), (text) => (TAG.test(text.trim()) ? (openTyped(text), true) : false));

export const startPanel = () => {
  const lines = new Map();
  for (const name of [...Object.keys(app.job.joints), ...app.job.field_joints]) {
    const of = name.slice(0, name.lastIndexOf("/"));
    lines.set(of, [...(lines.get(of) ?? []), name]);
  }
  return [
    el("h1", {}, t("open_joint")), el("p", { class: "small" }, `${app.job.name} · ${app.job.issue || "0"}`),
    app.ui.wrong ? el("p", { class: "note stop", role: "alert" }, app.ui.wrong) : "",
    el("label", {}, t("tag_or_number"), el("input", { id: "tag", autocapitalize: "characters", autocomplete: "off", enterkeyhint: "go" })),
    el("button", { class: "wide", id: "open", tap: () => openTyped(document.getElementById("tag").value) }, t("go_there")),
    navigator.mediaDevices ? el("button", { id: "scan", tap: () => scan().catch(() => {}) }, t("scan")) : "", el("div", { id: "eye-tag" }),
    ...[...lines].map(([of, names]) => el("details", { id: `line-${of}` }, el("summary", {}, `${t("line")} ${of} · ${names.length}`),
      ...names.map((name) => el("a", { class: "tap", href: `/card/${name}`, tap: (e) => { e.preventDefault(); go(`/card/${name.split("/").map(encodeURIComponent).join("/")}`); } },
        name, app.job.told[name]?.made ? ` · ✓ ${t("made")}` : "")))),
    readPanel(),
  ];
};
