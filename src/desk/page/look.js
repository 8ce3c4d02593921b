// Colours, scales and small pieces of SVG. One colour has one meaning.

/** Ways of heat in the order in which they are stacked: key, words, class of colour. */
export const WAYS = [
  ["conduction_kW_m2", "conduction", "way-conduction"],
  ["moving_air_kW_m2", "moving air", "way-moving"],
  ["radiation_kW_m2", "radiation", "way-radiation"],
  ["vapour_kW_m2", "steam", "way-steam"],
];

/** Temperatures that the colours run between [°C]: round ends around what is shown. */
export function ends(views) {
  let high = 60;
  for (const view of views) {
    for (const tenth of view.temperature_tenth_C) if (tenth > 10 * high) high = tenth / 10;
  }
  return [20, Math.ceil(high / 100) * 100];
}

const CHROMA = [12, 52, 62, 34];
const HUE = [92, 72, 36, 0];
const steps = [];

// Lightness falls in a straight line from 95 to 24 while the hue turns from straw to plum, as in the
// charts of the program: equal steps of temperature look like equal steps of darkness.
function lab(share) {
  const at = Math.min(share * 3, 2.9999);
  const i = Math.floor(at);
  const mix = (list) => list[i] + (at - i) * (list[i + 1] - list[i]);
  const [chroma, hue] = [mix(CHROMA), (mix(HUE) * Math.PI) / 180];
  const l = 95 - 71 * share;
  const fy = (l + 16) / 116;
  const back = (f) => (f > 6 / 29 ? f * f * f : 3 * (6 / 29) ** 2 * (f - 4 / 29));
  const x = 0.95047 * back(fy + (chroma * Math.cos(hue)) / 500);
  const y = back(fy);
  const z = 1.08883 * back(fy - (chroma * Math.sin(hue)) / 200);
  const part = (v) => {
    const out = v <= 0.0031308 ? v * 12.92 : 1.055 * v ** (1 / 2.4) - 0.055;
    return Math.round(Math.min(1, Math.max(0, out)) * 255);
  };
  const rgb = [
    part(3.2406 * x - 1.5372 * y - 0.4986 * z),
    part(-0.9689 * x + 1.8758 * y + 0.0415 * z),
    part(0.0557 * x - 0.204 * y + 1.057 * z),
  ];
  return `rgb(${rgb.join(",")})`;
}

/** The colour of a share from 0, cool and pale, to 1, hot and dark. */
export function ramp(share) {
  if (steps.length === 0) for (let i = 0; i <= 256; i += 1) steps.push(lab(i / 256));
  return steps[Math.round(256 * Math.min(1, Math.max(0, share)))];
}

/** Round values between two ends, about `n` of them. */
export function ticks(low, high, n) {
  const rough = (high - low) / n;
  if (!(rough > 0)) return [low];
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].find((m) => m * power >= rough) * power;
  const found = [];
  for (let i = Math.ceil(low / step - 1e-9); i * step <= high + 1e-9 * step; i += 1) {
    found.push(Number((i * step).toPrecision(12)));
  }
  return found;
}

/** A number for a place on the screen. */
export const px = (value) => (Math.round(value * 100) / 100).toString();

export const escape = (text) =>
  String(text).replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;").replaceAll('"', "&quot;");

/** A number with so many decimals, without a sign before zero. */
export function fixed(value, decimals) {
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? text.replace("-", "") : text;
}

/** A difference with its sign. */
export const signed = (value, decimals) =>
  (Number(value.toFixed(decimals)) > 0 ? "+" : "") + fixed(value, decimals).replace("-", "−");

/** Where a time lies among increasing times: the place before it and the share of the way to the next. */
export function between(times, t) {
  let [low, high] = [0, times.length - 1];
  if (t <= times[0]) return [0, 0];
  if (t >= times[high]) return [Math.max(0, high - 1), high > 0 ? 1 : 0];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (times[middle] <= t) low = middle;
    else high = middle;
  }
  const step = times[high] - times[low];
  return [low, step > 0 ? (t - times[low]) / step : 0];
}

/** A curve's value at a time. */
export function at(times, values, t) {
  const [i, share] = between(times, t);
  const next = values[Math.min(i + 1, values.length - 1)];
  return values[i] + share * (next - values[i]);
}
