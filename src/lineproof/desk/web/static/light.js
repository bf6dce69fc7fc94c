// Ink on paper, light on dark, or the strongest contrast for the sun: by choice, and the choice stays on this device.
const WAYS = ["day", "dark", "glare"];
const button = document.getElementById("light");
const root = document.documentElement;
let way = "day";
try { way = localStorage.getItem("light") ?? "day"; } catch { /* no storage: day it is */ }
const set = (now) => {
  way = WAYS.includes(now) ? now : "day";
  for (const each of WAYS) root.classList.toggle(each, each === way);
  button.textContent = button.dataset[WAYS[(WAYS.indexOf(way) + 1) % WAYS.length]];
};
set(way);
button.hidden = false;
button.addEventListener("click", () => {
  set(WAYS[(WAYS.indexOf(way) + 1) % WAYS.length]);
  try { localStorage.setItem("light", way); } catch { /* it holds for this page */ }
});

// On a narrow screen the row of pages is wider than the screen: the one that is open is brought into view.
document.querySelector("nav [aria-current]")?.scrollIntoView({ block: "nearest", inline: "center" });
