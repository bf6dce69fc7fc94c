// The words of the card in the language chosen on this phone.
let words = { en: {}, es: {} };
export let language = "en";

export const load = async () => {
  const answer = await fetch("/card/words.json");
  words = await answer.json();
  let chosen = null;
  try { chosen = localStorage.getItem("language"); } catch { /* nothing is remembered */ }
  choose(chosen ?? (navigator.language?.startsWith("es") ? "es" : "en"));
};
export const choose = (chosen) => {
  language = chosen in words ? chosen : "en";
  document.documentElement.lang = language;
  try { localStorage.setItem("language", language); } catch { /* it holds for this page */ }
};
export const t = (key, told = {}) => {
  const said = words[language]?.[key] ?? words.en?.[key] ?? key;
  return said.replace(/\{(\w+)\}/g, (_, name) => String(told[name] ?? ""));
};
