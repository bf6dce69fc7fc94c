// The walk pad. The server is asked with the text as it is and one step; undo and redo are this list of texts.
const pad = document.getElementById("pad");
const { line, file, key, units } = pad.dataset;
const told_words = JSON.parse(pad.dataset.words);
const t = (name, values = {}) =>
  Object.entries(values).reduce((words, [k, v]) => words.replaceAll(`{${k}}`, String(v)), told_words[name]);
const $ = (id) => document.getElementById(id);
const SLOT = `pad ${file}`;
const MOST = 200; // texts kept for undo
const opened = JSON.parse(pad.dataset.text);
let state = { texts: [opened], at: 0, seen: pad.dataset.seen, saved: pad.dataset.seen ? opened : null };
let answer = null;
let row = Number(pad.dataset.row);
let asked = 0;
let waiting = null;
let taking = 0; // steps on their way
let turn = Promise.resolve();
let last = null; // the text that is drawn, and where everything stands on it

const keep = () => {
  while (true) {
    try { sessionStorage.setItem(SLOT, JSON.stringify(state)); return; } catch {
      if (state.texts.length < 2) return; // no storage: undo holds for this page
      state.texts.shift();
      state.at = Math.max(state.at - 1, 0);
    }
  }
};
const text = () => state.texts[state.at];
const mode = () => document.querySelector("input[name=mode]:checked").value;
const say = (words) => { $("state").textContent = words; };

const post = async (path, body, signal) => {
  const told = await fetch(path, {
    method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify(body), signal,
  });
  const type = told.headers.get("content-type") || "";
  const json = type.includes("json") ? await told.json() : { refused: t("not_understood") };
  return [told.status, json];
};

const element = (name, words, kind) => {
  const made = document.createElement(name);
  if (words) made.textContent = words;
  if (kind) made.className = kind;
  return made;
};

const english = (made) => { made.lang = "en"; return made; }; // statements and what the reader says of them

const marks = () => {
  const many = answer ? answer.troubles.length : 0;
  const unsaved = text() !== state.saved;
  $("undo").disabled = state.at === 0;
  $("redo").disabled = state.at >= state.texts.length - 1;
  $("save").disabled = !unsaved;
  $("where").textContent = t(mode(), { row });
  for (const item of $("rows").querySelectorAll("button")) {
    item.setAttribute("aria-pressed", String(Number(item.dataset.row) === row));
  }
  return `${t(unsaved ? "unsaved" : "saved")}${many ? t("mend", { n: many }) : ""}. `;
};

const draw = (told) => {
  const sheets = $("sheets");
  const left = sheets.scrollLeft, top = sheets.scrollTop;
  const page = new DOMParser().parseFromString(told.sheets.join(""), "text/html");
  sheets.replaceChildren(...page.body.childNodes);
  sheets.scrollLeft = left;
  sheets.scrollTop = top;
  $("much").textContent = told.much;
  const ways = told.north === "left"
    ? [["north", "↖"], ["up", "↑"], ["east", "↗"], ["west", "↙"], ["down", "↓"], ["south", "↘"]]
    : [["west", "↖"], ["up", "↑"], ["north", "↗"], ["south", "↙"], ["down", "↓"], ["east", "↘"]];
  [...$("ways").children].forEach((one, n) => {
    if (one.dataset.way === ways[n][0]) return;
    one.dataset.way = ways[n][0];
    const arrow = element("span", ways[n][1]);
    arrow.setAttribute("aria-hidden", "true");
    one.replaceChildren(arrow, ` ${t(`way_${ways[n][0]}`)}`);
  });
};

// What a row makes is drawn in the accent and brought into view.
const show = (told, at) => {
  const sheets = $("sheets");
  const refs = new Set(told.marks[at] ?? []);
  for (const one of sheets.querySelectorAll(".here")) one.classList.remove("here");
  const found = [...sheets.querySelectorAll("[data-ref]")].filter((one) => refs.has(one.dataset.ref));
  for (const one of found) one.classList.add("here");
  const first = found.find((one) => one.tagName === "path");
  if (!first) return;
  const room = sheets.getBoundingClientRect(), box = first.getBoundingClientRect();
  if (box.left < room.left || box.right > room.right) sheets.scrollLeft += (box.left + box.right - room.left - room.right) / 2;
  if (box.top < room.top || box.bottom > room.bottom) sheets.scrollTop += (box.top + box.bottom - room.top - room.bottom) / 2;
};

const list = () => {
  const mine = answer.rows.filter((r) => r.line === line || answer.troubles.some((t) => t.row === r.row));
  $("rows").replaceChildren(...mine.map((r) => {
    const item = element("li");
    const pick = element("button");
    pick.type = "button";
    pick.dataset.row = r.row;
    pick.lang = "en";
    pick.append(element("span", String(r.row), "num"), ` ${r.said}`);
    if (r.comment) pick.append(element("span", ` # ${r.comment}`, "small"));
    item.append(pick);
    for (const t of answer.troubles) if (t.row === r.row) item.append(english(element("p", t.sentence, "trouble")));
    return item;
  }));
  $("elsewhere").replaceChildren(
    ...answer.troubles.filter((t) => !mine.some((r) => r.row === t.row)).map((t) => english(element("li", t.sentence))));
  $("rows").querySelector(`[data-row="${row}"]`)?.scrollIntoView({ block: "nearest" });
};

// Looks at half a statement give way to one another; steps that change the text are taken one after the other,
// so that no tap is lost however fast it comes.
const question = async (step, signal) => {
  try {
    return await post("/api/pad/step", { file, line, text: text(), step, last }, signal);
  } catch (error) {
    if (error.name !== "AbortError") say(t("no_answer"));
    return null;
  }
};
const glance = async (step) => {
  const mine = ++asked;
  waiting?.abort();
  waiting = new AbortController();
  if (taking) return; // what is taken now is drawn first
  const answered = await question(step, waiting.signal);
  if (!answered || mine !== asked || taking) return;
  const told = answered[1];
  $("refused").textContent = told.refused ?? "";
  if (told.refused !== undefined) return;
  draw(told);
  last = told.hold ? { text: told.text, hold: told.hold } : null;
  show(told, step ? told.row : row);
};
const take = async (make) => {
  asked += 1;
  waiting?.abort();
  taking += 1;
  pad.dataset.busy = "yes";
  const before = turn;
  let done;
  turn = new Promise((resolve) => { done = resolve; });
  await before;
  try {
    const step = make();
    const answered = await question(step);
    if (!answered) return false;
    const told = answered[1];
    $("refused").textContent = told.refused ?? "";
    if (told.refused !== undefined) return false;
    answer = told;
    row = told.row;
    if (step) {
      state.texts = [...state.texts.slice(0, state.at + 1), told.text].slice(-MOST);
      state.at = state.texts.length - 1;
      keep();
    }
    draw(told);
    last = told.hold ? { text: told.text, hold: told.hold } : null;
    list();
    show(told, row);
    say(marks() + (told.told ? `${told.told}. ` : ""));
    return true;
  } finally {
    taking -= 1;
    if (!taking) delete pad.dataset.busy;
    done();
  }
};

const step = (did, said) => {
  if (did !== "split") return { do: did, row, said };
  const cut = said.indexOf(";");
  return cut < 0 ? { do: did, row, at: said } : { do: did, row, at: said.slice(0, cut), said: said.slice(cut + 1) };
};
const look = () => {
  const said = $("said").value.trim();
  if (said) glance(step(mode(), said));
  else { $("refused").textContent = ""; glance(null); }
};
const enter = async () => {
  const typed = $("said").value, said = typed.trim(), did = mode();
  if (!said) return;
  $("said").value = "";
  if (await take(() => step(did, said))) {
    if (did !== "add") document.querySelector("input[name=mode][value=add]").checked = true;
    marks();
    if ($("said").value.trim()) look();
  } else if (!$("said").value) $("said").value = typed;
};
const type = (words) => {
  const box = $("said");
  box.value = words(box.value);
  look();
};
const spaced = (now, word) => (now && !now.endsWith(" ") ? `${now} ${word}` : now + word);
const go = async (by) => {
  const was = row;
  const moved = await take(() => {
    state.at = Math.min(Math.max(state.at + by, 0), state.texts.length - 1);
    keep();
    return null;
  });
  if (!moved) return;
  row = Math.min(was, answer.rows.length);
  list();
  say(marks());
};

const save = async () => {
  const now = text();
  const [code, told] = await post("/api/pad/save", { key, file, text: now, seen: state.seen });
  if (code === 200) {
    state.seen = told.seen;
    state.saved = now;
    keep();
    $("refused").textContent = "";
    say(`${marks()}${t("saved_as", { file })}`);
  } else {
    $("refused").textContent = told.refused;
    say(t("not_saved"));
    $("theirs").hidden = code !== 409;
  }
};

$("keys").addEventListener("click", (event) => {
  const hit = event.target.closest("button");
  if (!hit) return;
  const data = hit.dataset;
  if (data.way) type((now) => `${spaced(now || (mode() === "split" ? "" : "go"), data.way)} `);
  else if (data.begin) type(() => (data.begin.endsWith('"') ? data.begin : `${data.begin} `));
  else if (data.word) type((now) => spaced(now, data.word));
  else if (data.part) type((now) => `${/\d"$/.test(now) ? `${now.slice(0, -1)} ` : now.endsWith("'") ? `${now}-` : /\d$/.test(now) ? `${now} ` : now}${data.part}"`);
  else if (data.type) type((now) => (now.endsWith("'") && /\d/.test(data.type) ? `${now}-${data.type}` : now + data.type));
});
$("back").addEventListener("click", () => type((now) => now.replace(/(?:[A-Za-z-]{2,}|'-|.)\s*$/, "")));
$("enter").addEventListener("click", enter);
$("said").addEventListener("keydown", (event) => { if (event.key === "Enter") { event.preventDefault(); enter(); } });
$("said").addEventListener("input", look);
$("undo").addEventListener("click", () => go(-1));
$("redo").addEventListener("click", () => go(1));
$("drop").addEventListener("click", () => take(() => ({ do: "delete", row })));
$("save").addEventListener("click", save);
$("theirs").addEventListener("click", () => { sessionStorage.removeItem(SLOT); location.reload(); });
document.addEventListener("keydown", (event) => {
  if (!(event.ctrlKey || event.metaKey) || event.target.closest("textarea, #said:not(:placeholder-shown)")) return;
  const k = event.key.toLowerCase();
  if (k === "z" && !event.shiftKey) { event.preventDefault(); $("undo").click(); }
  else if (k === "y" || (k === "z" && event.shiftKey)) { event.preventDefault(); $("redo").click(); }
});
$("rows").addEventListener("click", (event) => {
  const hit = event.target.closest("button");
  if (!hit) return;
  row = Number(hit.dataset.row);
  if (mode() === "change") $("said").value = answer.rows.find((r) => r.row === row).said;
  show(answer, row);
  say(marks());
});
$("rows").addEventListener("keydown", (event) => {
  const by = { ArrowDown: 1, ArrowUp: -1 }[event.key];
  if (!by) return;
  const all = [...$("rows").querySelectorAll("button")];
  const next = all[all.indexOf(event.target) + by];
  if (next) { event.preventDefault(); next.focus(); next.click(); }
});
for (const one of document.querySelectorAll("input[name=mode]")) {
  one.addEventListener("change", () => {
    $("said").value = mode() === "change" ? answer.rows.find((r) => r.row === row)?.said ?? "" : "";
    say(marks());
  });
}

// Back after a reload: what was walked here is still here, as long as this tab is open.
let conflict = "";
try {
  const kept = JSON.parse(sessionStorage.getItem(SLOT));
  if (kept?.texts?.length && kept.texts[kept.at] !== undefined) {
    if (kept.seen !== state.seen && kept.texts[kept.at] !== kept.saved) {
      conflict = t("theirs", { file });
      state = kept;
    } else if (kept.seen === state.seen) state = kept;
  }
} catch { /* nothing was kept */ }
$("keys").hidden = false;
$("whole").open = false;
await take(() => null);
if (conflict) {
  $("refused").textContent = conflict;
  $("theirs").hidden = false;
}
pad.dataset.ready = "yes";
