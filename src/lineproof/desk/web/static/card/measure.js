// A measure as typed, with its SI value beside it, as the logbook keeps it.
const plain = (value) => {
  const said = value.toFixed(9).replace(/0+$/, "").replace(/\.$/, "");
  return said === "-0" ? "0" : said;
};

export const temperature = (value, unit) => ({
  typed: `${value} ${unit}`, unit: "K", si: plain(unit === "F" ? ((value - 32) * 5) / 9 + 273.15 : value + 273.15),
});
export const percent = (value) => ({ typed: `${value} %`, unit: "1", si: plain(value / 100) });

const part = (n, step) => {
  const most = (a, b) => (b ? most(b, a % b) : a);
  const by = most(n, step);
  return `${n / by}/${step / by}`;
};
// `steps` of 1/step inch, or millimetres.
export const lengthText = (steps, units) => {
  if (units.length !== "in") return `${steps} mm`;
  const whole = Math.floor(steps / units.inch_step), rest = steps % units.inch_step;
  return `${[whole || !rest ? whole : "", rest ? part(rest, units.inch_step) : ""].filter((x) => x !== "").join(" ")} in`;
};
export const metres = (steps, units) => (units.length === "in" ? (steps / units.inch_step) * 0.0254 : steps / 1000);
export const length = (steps, units) => ({ typed: lengthText(steps, units), unit: "m", si: plain(metres(steps, units)) });
export const stepsOf = (m, units) => Math.round(units.length === "in" ? (m / 0.0254) * units.inch_step : m * 1000);
