// The chain of this phone: entries made one after the other, on the disk before anybody is told that they are.
import { NOTHING_BEFORE, canonical, seal } from "./bytes.js";
import { momentText, read } from "./clock.js";

const SOFTWARE = "lineproof card 1";
const STEP_S = 120; // a wall clock that moved this much against the monotonic one was set
const TRIES = 50;
const VERSIONS = { reading_file: 2 };

export class Writer {
  constructor(shelf, job, zone) { Object.assign(this, { shelf, job, zone }); }

  async begin() {
    let id = await this.shelf.get("about", "writer");
    if (!id) {
      // Two tabs may begin at once: the first to stand in the store is the writer.
      await this.shelf.change(["about"], (tx) => { tx.objectStore("about").add(crypto.randomUUID(), "writer"); }).catch(() => {});
      id = await this.shelf.get("about", "writer");
    }
    this.id = id;
    this.who = (await this.shelf.get("about", "who")) ?? "";
    return this;
  }

  // `also` changes other stores in the same transaction: both are kept, or neither.
  async write(kind, body, { also = () => {}, who = this.who } = {}) {
    for (let n = 0; n < TRIES; n++) {
      const last = await this.shelf.last();
      const now = read();
      const made = [];
      const jump = stepped(last, now);
      if (jump) made.push(await this.make("step_in_clock", jump, now, last, who));
      made.push(await this.make(kind, body, now, made[0] ?? last, who));
      try {
        await this.shelf.change(["entries", "drafts", "about", "photos"], (tx) => {
          for (const one of made) tx.objectStore("entries").add(one);
          also(tx);
        });
        return made.at(-1);
      } catch (error) {
        if (error?.name !== "ConstraintError") throw error; // another tab wrote first: again, after it
      }
    }
    throw new Error("the chain is written by too many at once");
  }

  async make(kind, body, now, last, who) {
    const sequence = last ? last.sequence + 1 : 1, previous = last ? last.seal : NOTHING_BEFORE;
    const id = crypto.randomUUID();
    const raw = canonical({
      version: 1, kind, kind_version: VERSIONS[kind] ?? 1, id, job: this.job, writer: this.id, sequence, previous,
      wall: momentText(now.wall), zone: this.zone, monotonic: now.mono.toFixed(6), boot: now.boot,
      synchronised: now.synchronised, who, device: device(), software: SOFTWARE, tables: {}, body,
    });
    return {
      sequence, id, kind, raw, seal: await seal(previous, raw), previous, waiting: 1, joint: body.joint ?? "",
      body, wall: now.wall, mono: now.mono, boot: now.boot, forked: false,
    };
  }
}

const device = () => `phone, ${(navigator.userAgentData?.platform || navigator.platform || "browser").slice(0, 60)}`;

const stepped = (last, now) => {
  if (!last || last.boot !== now.boot) return null;
  const should = last.wall + (now.mono - last.mono) * 1000;
  const by = (now.wall - should) / 1000;
  if (Math.abs(by) <= STEP_S) return null;
  return { before: momentText(Math.round(should)), after: momentText(now.wall), by_s: by.toFixed(6) };
};
