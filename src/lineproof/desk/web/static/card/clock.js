// What a browser can know of time. A page start counts as a start of the device: nothing carries a monotonic
// clock over to the next one. Time that passed is never told too long, time that is left never too long either.
export const BOOT = `page-${crypto.randomUUID()}`;
const SET_S = 2; // the clock counts as set while it is this near to a set clock
const WRONG_S = 120;

export const mono = () => Math.floor(performance.now() * 1000) / 1e6; // stands still while the phone sleeps: less, never more
export const momentText = (ms) => new Date(ms).toISOString().replace("Z", "000Z");
export const read = () => {
  const wall = Date.now(), ticks = mono();
  return { wall, mono: ticks, boot: BOOT, synchronised: synchronised(wall, ticks) };
};

let held = null; // this clock against that of the server: {wall, mono, set: yes | no | unknown, off}

const synchronised = (wall, ticks) => {
  if (held === null) return "unknown";
  const drift = Math.abs((wall - held.wall) / 1000 - (ticks - held.mono));
  return drift <= SET_S ? held.set : "unknown"; // set by somebody since, or the phone slept
};

// The server read its clock between the asking and the answer: it cannot be further off than from the farther of the two.
export const hold = (asked, answered, told) => {
  const server = Date.parse(told.now);
  if (!Number.isFinite(server)) return;
  const off = Math.max(Math.abs(server - asked), Math.abs(server - answered)) / 1000;
  const middle = ((asked + answered) / 2 - server) / 1000;
  let set = "unknown";
  if (told.synchronised === "yes") set = off <= SET_S ? "yes" : Math.abs(middle) > WRONG_S ? "no" : "unknown";
  held = { wall: answered, mono: mono(), set, off: middle };
};
export const wrongBy = () => (held !== null && Math.abs(held.off) > WRONG_S ? held.off : 0); // [s]

// The lower bound of what passed since an event: inside one page start the smaller of both clocks; from an
// earlier one what its page was seen to be open for, and what this page has seen since.
const firstSeen = new Map();
export const passed = (event, beats, now = read()) => {
  const wall = (now.wall - event.wall) / 1000;
  if (event.boot === BOOT) return Math.max(0, Math.min(wall, now.mono - event.mono));
  const key = `${event.boot} ${event.mono}`;
  if (!firstSeen.has(key)) firstSeen.set(key, { before: Math.max(0, (beats[event.boot] ?? 0) - event.mono), mono: now.mono });
  const seen = firstSeen.get(key);
  return Math.max(0, Math.min(wall, seen.before + now.mono - seen.mono));
};
export const passedAtMost = (event, beats, now = read()) => {
  const wall = (now.wall - event.wall) / 1000;
  const ticks = event.boot === BOOT ? now.mono - event.mono : passed(event, beats, now);
  return Math.max(0, wall, ticks);
};
