// Sound, vibration and a screen that stays on, where the phone has them; the screen itself always says it too.
let audio = null, lock = null;

export const ready = () => { // from a tap: browsers allow sound only then
  try { audio ??= new AudioContext(); audio.resume(); } catch { /* no sound */ }
};
export const call = () => {
  try { navigator.vibrate?.([400, 150, 400, 150, 400]); } catch { /* no vibration */ }
  if (!audio || audio.state !== "running") return;
  for (const at of [0, 0.5, 1]) {
    const tone = audio.createOscillator();
    tone.frequency.value = 880;
    tone.connect(audio.destination);
    tone.start(audio.currentTime + at);
    tone.stop(audio.currentTime + at + 0.25);
  }
};
export const awake = async (on) => {
  try {
    if (on && !lock) {
      lock = await navigator.wakeLock?.request("screen") ?? null;
      lock?.addEventListener("release", () => { lock = null; });
    } else if (!on && lock) { await lock.release(); }
  } catch { lock = null; }
};
