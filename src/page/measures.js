// What the map can be coloured by, and the classes: one hue from light to dark, the last
// class hatched too. Class limits are round numbers near equal shares of the roofs.
const TONES = ["#e1ebf2", "#b4ccdd", "#7fa5c1", "#477799", "#1d4866"];
const INK = "#1e2a33";
const PAPER = "#fdfcf9";
const ACCENT = "#86296b";
const ZONE_TONES = { corner: "#3f6a8a", perimeter: "#86a9c2", field: "#cfdde7",
  interior: "#f0f5f8" };

const allMeasures = [
  { key: "exposure_pressure", label: "Exposure pressure", unit: pressureUnit, text: pressure,
    ranked: true, none: "apart, or unknown: no wind speed or no height" },
  { key: "demand_over_capacity", label: "Demand over capacity", unit: "",
    text: (value) => number(value, 2), ranked: true,
    none: "apart, or no tested rating of the present roof" },
  { key: "total_rate", label: `Cost per ${areaUnit}`, unit: `${currency}/${areaUnit}`,
    text: (value) => money(value, 2), none: "not priced" },
  { key: "year", label: "Year of the plan", unit: "", text: (value) => String(value),
    none: "not within the plan", whole: true, reversed: true },
  { key: "condition", label: "Condition (0 to 100)", unit: "", reversed: true,
    text: (value) => number(value), none: "not given" },
];

// Limits between classes, at most four.
function classLimits(measure, values) {
  if (measure.whole) {
    const years = [...new Set(values)].sort((a, b) => a - b);
    const group = Math.ceil(years.length / TONES.length);
    return years.filter((year, i) => i > 0 && i % group === 0);
  }
  const sorted = [...values].sort((a, b) => a - b);
  const range = sorted[sorted.length - 1] - sorted[0];
  if (!(range > 0)) return [];
  const step = niceStep(range / 40);
  const limits = [1, 2, 3, 4].map((i) =>
    Math.round(sorted[Math.floor(sorted.length * i / 5)] / step) * step);
  return [...new Set(limits)].filter((limit) => limit > sorted[0]);
}

// {label, text, limits, valueOf(roof), classOf(roof), tones[class], words[class]}. What
// isn't ranked has no value of the measures that ranks go by.
function classify(measure, items) {
  const valueOf = (item) => measure.ranked && item.group === "apart" ? null : item[measure.key];
  const values = items.map(valueOf).filter(known);
  const limits = classLimits(measure, values);
  const count = limits.length + 1;
  const spread = (i) => count === 1 ? 2 : Math.round(i * (TONES.length - 1) / (count - 1));
  const tone = (i) => spread(measure.reversed ? count - 1 - i : i);
  const digits = measure.digits ||
    (limits.some((limit) => limit % 1) ? (measure.key === "total_rate" ? 2 : 1) : 0);
  const show = (value) => measure.whole ? String(value)
    : measure.percent ? percent(value) : number(value, digits);
  const words = [...Array(count).keys()].map((i) => {
    if (count === 1) return "all";
    const years = values.filter((value) => classOfValue(limits, value) === i);
    if (measure.whole) {
      const [from, to] = [Math.min(...years), Math.max(...years)];
      return from === to ? String(from) : `${from} to ${to}`;
    }
    if (i === 0) return `below ${show(limits[0])}`;
    return i === count - 1 ? `${show(limits[i - 1])} and more`
      : `${show(limits[i - 1])} to ${show(limits[i])}`;
  });
  return { ...measure, count, words, toneOf: tone,
    valueOf,
    classOf: (roof) => known(valueOf(roof)) ? classOfValue(limits, valueOf(roof)) : -1 };
}

function classOfValue(limits, value) {
  let index = 0;
  while (index < limits.length && value >= limits[index]) index++;
  return index;
}
