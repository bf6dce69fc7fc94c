// What waits is sent again and again until the job answers with the seal of that very entry. Any other answer,
// such as the page of a portal that also says 200, clears nothing.
import { hold } from "./clock.js";
import { linesOf } from "./frames.js";
import { PART } from "./photo.js";

const AT_ONCE = 200, BYTES = 400000, PATIENCE_MS = 20000;
const LF = new Uint8Array([10]);

const asked = async (path, options = {}) => {
  const sent = Date.now();
  const answer = await fetch(path, { cache: "no-store", redirect: "error", signal: AbortSignal.timeout(PATIENCE_MS), ...options });
  const told = await answer.json().catch(() => null);
  if (!told || typeof told !== "object" || typeof told.lineproof !== "string") throw new NotOurs();
  if (told.now) hold(sent, Date.now(), told);
  return told;
};
export class NotOurs extends Error {}

export class Outbox {
  constructor(shelf, writer) { Object.assign(this, { shelf, writer, running: null, state: "", sentence: "", notes: [], carried: "", cleared: 0 }); }

  waiting() { return this.shelf.count("entries", "waiting", 1); }

  send() {
    this.running ??= this.#send().then(() => (this.state === "clear" ? this.#carried().then(() => this.#photos()) : null)).finally(() => { this.running = null; });
    return this.running;
  }

  async #send() {
    try {
      for (let rounds = 0; rounds < 1000; rounds++) {
        const all = await this.shelf.all("entries", "waiting", 1, AT_ONCE);
        if (!all.length) { this.#say("clear"); return; }
        let size = 0;
        const some = all.filter((e, n) => (size += e.raw.length + 1) <= BYTES || n === 0);
        const told = await asked("/sync/entries", {
          method: "POST", headers: { "content-type": "application/x-ndjson" },
          body: new Blob(some.flatMap((e) => [e.raw, LF])),
        });
        if (told.lineproof !== "taken") {
          if (await this.#again(told)) continue;
          this.#say("refused", String(told.sentence ?? ""));
          return;
        }
        this.notes = [...new Set([...this.notes, ...(told.notes ?? [])])];
        if (!(await this.#clear(some, told.entries ?? []))) { this.#say("strange"); return; }
      }
    } catch (error) {
      this.#say(error instanceof NotOurs ? "portal" : "offline");
    }
  }

  // What this phone read from another one's screen: those entries go as they are, and only their seals let them go.
  async #carried() {
    this.carried = "";
    try {
      for (const { hash, bytes } of await this.shelf.all("carried")) {
        const lines = await linesOf(bytes);
        let good = lines.length > 0;
        for (let n = 0; good && n < lines.length;) {
          const some = lines.slice(n, n + AT_ONCE).filter((one) => one.writer === lines[n].writer);
          const told = await asked("/sync/entries", {
            method: "POST", headers: { "content-type": "application/x-ndjson" }, body: new Blob(some.flatMap((e) => [e.raw, LF])),
          });
          const seals = new Map((told.entries ?? []).map((k) => [k.id, k.seal]));
          good = told.lineproof === "taken" && some.every((e) => seals.get(e.id) === e.seal);
          if (!good) this.carried = String(told.sentence ?? "");
          n += some.length;
        }
        if (good) { await this.shelf.remove("carried", hash); this.cleared += 1; }
      }
    } catch (error) {
      this.#say(error instanceof NotOurs ? "portal" : "offline");
    }
  }

  // Photographs go last, each after its entry, from where the job says that it has them; one is let go from the
  // phone only when the job says that the whole of it, by its hash, is there.
  async #photos() {
    try {
      for (const digest of await this.shelf.keys("photos")) {
        const { bytes } = await this.shelf.get("photos", digest);
        const path = `/sync/photo/${digest}`;
        let told = await asked(path);
        for (let rounds = 0; rounds < 1000 && this.#fits(told, digest) && !told.whole; rounds++) {
          told = await asked(`${path}?at=${told.have}&of=${bytes.length}`, {
            method: "POST", headers: { "content-type": "application/octet-stream" }, body: new Blob([bytes.slice(told.have, told.have + PART)]),
          });
        }
        if (told.lineproof === "refused") { this.#say("refused", String(told.sentence ?? "")); return; }
        if (!this.#fits(told, digest) || !told.whole) { this.#say("strange"); return; }
        await this.shelf.remove("photos", digest);
        this.cleared += 1;
      }
    } catch (error) {
      this.#say(error instanceof NotOurs ? "portal" : "offline");
    }
  }
  #fits(told, digest) { return told.lineproof === "photo" && told.photo === digest && Number.isInteger(told.have); }

  // Only the seal of the entry itself, at its own place, lets it go from the outbox.
  async #clear(sent, told) {
    const seals = new Map(told.map((k) => [k.sequence, k]));
    const good = sent.filter((e) => seals.get(e.sequence)?.seal === e.seal && seals.get(e.sequence)?.id === e.id);
    await this.shelf.change(["entries"], (tx) => {
      for (const e of good) tx.objectStore("entries").put({ ...e, waiting: 0, forked: seals.get(e.sequence).forked === true });
    });
    this.cleared += good.length;
    return good.length > 0;
  }

  // The job lost what it once had, as after a backup was put back: what follows its head is sent again.
  async #again(told) {
    const heads = await asked(`/sync/heads?writer=${this.writer.id}`);
    const mine = (heads.heads ?? []).filter((h) => h.writer === this.writer.id);
    const entries = await this.shelf.all("entries");
    const seals = new Set(mine.map((h) => h.seal));
    const at = entries.findLast((e) => seals.has(e.seal))?.sequence ?? 0;
    const lost = entries.filter((e) => e.sequence > at && e.waiting === 0);
    if (!lost.length || heads.lineproof !== "heads") return false;
    await this.shelf.change(["entries"], (tx) => { for (const e of lost) tx.objectStore("entries").put({ ...e, waiting: 1 }); });
    return Boolean(told);
  }

  #say(state, sentence = "") { Object.assign(this, { state, sentence }); }
}

export const fetchJob = async () => {
  const told = await asked("/sync/job");
  if (told.lineproof !== "card job") throw new NotOurs(String(told.sentence ?? ""));
  return told;
};

// The second way out: the same bytes in a file, one entry on each line.
export const asFile = async (shelf) => new Blob((await shelf.all("entries")).flatMap((e) => [e.raw, LF]), { type: "application/x-ndjson" });
// As frames of codes: what waits; all of it where nothing waits.
export const asBytes = async (shelf) => {
  const waiting = await shelf.all("entries", "waiting", 1), some = waiting.length ? waiting : await shelf.all("entries");
  return new Uint8Array(await new Blob(some.flatMap((e) => [e.raw, LF])).arrayBuffer());
};
