// The bytes of an entry and its seal: exactly as the logbook writes them, or the chain would not hold.
const utf8 = new TextEncoder();
export const NOTHING_BEFORE = "0".repeat(64);
const DEEPEST = 32;

// The logbook sorts by code points, JavaScript by UTF-16 units: they differ above U+FFFF.
const byCodePoint = (a, b) => {
  const x = Array.from(a, (c) => c.codePointAt(0)), y = Array.from(b, (c) => c.codePointAt(0));
  for (let i = 0; i < Math.min(x.length, y.length); i++) if (x[i] !== y[i]) return x[i] - y[i];
  return x.length - y.length;
};

const text = (value) => {
  if (/[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/.test(value)) {
    throw new TypeError("a text holds half a character");
  }
  return JSON.stringify(value);
};

const written = (value, depth) => {
  if (value === null || typeof value === "boolean") return String(value);
  if (typeof value === "string") return text(value);
  if (typeof value === "number") {
    if (!Number.isSafeInteger(value)) throw new TypeError(`an entry cannot hold ${value}`);
    return String(value);
  }
  if (depth > DEEPEST) throw new TypeError("the entry is nested too deep");
  if (Array.isArray(value)) return `[${value.map((one) => written(one, depth + 1)).join(",")}]`;
  if (typeof value === "object" && Object.getPrototypeOf(value) === Object.prototype) {
    const names = Object.keys(value).sort(byCodePoint);
    return `{${names.map((name) => `${text(name)}:${written(value[name], depth + 1)}`).join(",")}}`;
  }
  throw new TypeError(`an entry cannot hold a ${typeof value}`);
};

export const canonical = (value) => utf8.encode(written(value, 0));

export const hex = (bytes) => Array.from(bytes, (b) => b.toString(16).padStart(2, "0")).join("");
const unhex = (figures) => Uint8Array.from(figures.match(/../g), (pair) => parseInt(pair, 16));

export const seal = async (previous, raw) => {
  const all = new Uint8Array(32 + raw.length);
  all.set(unhex(previous));
  all.set(raw, 32);
  return hex(new Uint8Array(await crypto.subtle.digest("SHA-256", all)));
};
