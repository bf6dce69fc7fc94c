// Light on dark by choice; the choice stays on this device.
const button = document.getElementById("light");
const root = document.documentElement;
const set = (dark) => {
  root.classList.toggle("dark", dark);
  button.textContent = dark ? "light" : "dark";
};
let dark = false;
try { dark = localStorage.getItem("light") === "dark"; } catch { /* no storage: light it is */ }
set(dark);
button.hidden = false;
button.addEventListener("click", () => {
  dark = !root.classList.contains("dark");
  set(dark);
  try { localStorage.setItem("light", dark ? "dark" : "light"); } catch { /* it holds for this page */ }
});

// On a narrow screen the row of pages is wider than the screen: the one that is open is brought into view.
document.querySelector("nav [aria-current]")?.scrollIntoView({ block: "nearest", inline: "center" });
