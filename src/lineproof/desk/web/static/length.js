// Large keys for a length, fit for gloves: they come up under the box that is touched. Typing works as well.
const boxes = [...document.querySelectorAll("input[data-length]")];
const pad = document.createElement("div");
pad.className = "length-pad";
pad.hidden = true;
pad.setAttribute("role", "group");
const us = boxes[0]?.dataset.length === "us";
const KEYS = us
  ? ["7", "8", "9", "\u232b", "4", "5", "6", "'", "1", "2", "3", "\"", "0", ".", "-", "\u2713", "1/16", "1/8", "3/16", "1/4", "5/16", "3/8", "7/16", "1/2", "9/16", "5/8", "11/16", "3/4", "13/16", "7/8", "15/16", "\u2715"]
  : ["7", "8", "9", "\u232b", "4", "5", "6", " mm", "1", "2", "3", " m", "0", ".", "\u2713", "\u2715"];
let box = null;
const put = (words) => { box.value = words; box.dispatchEvent(new Event("input", { bubbles: true })); };
const typed = (now, key) => {
  if (key.includes("/")) {
    const whole = now.replace(/"$/, "");
    return `${/\d$/.test(whole) ? `${whole} ` : whole.endsWith("'") ? `${whole}-` : whole}${key}"`;
  }
  if (now.endsWith("'") && /\d/.test(key)) return `${now}-${key}`;
  return now + key;
};
for (const key of KEYS) {
  const button = document.createElement("button");
  button.type = "button";
  button.textContent = key.trim();
  button.addEventListener("pointerdown", (event) => event.preventDefault()); // the box keeps the focus
  button.addEventListener("click", () => {
    if (!box) return;
    if (key === "\u232b") put(box.value.replace(/(?:\d+\/\d+"?|\s*mm|\s*m|'-|.)\s*$/, ""));
    else if (key === "\u2715") { pad.hidden = true; box.blur(); }
    else if (key === "\u2713") {
      const mine = boxes.filter((b) => b.form === box.form);
      const next = mine[mine.indexOf(box) + 1];
      if (next) next.focus(); else { pad.hidden = true; box.blur(); }
    } else put(typed(box.value, key));
  });
  pad.append(button);
}
for (const one of boxes) {
  // Without a finger there is a keyboard: the keys stay away.
  if (matchMedia("(pointer: coarse)").matches) {
    one.inputMode = "none";
    one.addEventListener("focus", () => {
      box = one;
      one.closest("label").after(pad);
      pad.hidden = false;
      one.scrollIntoView({ block: "center" });
    });
  }
}
