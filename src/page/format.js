// Numbers and words as people read them, and elements with text that is never markup.
const UNIT_WORDS = { ft2: "ft²", m2: "m²", psf: "psf", pa: "Pa", ft: "ft", m: "m" };
const areaUnit = UNIT_WORDS[units.area];
const lengthUnit = UNIT_WORDS[units.length];
const pressureUnit = UNIT_WORDS[units.pressure];
const pressureDigits = units.pressure === "pa" ? 0 : 1;

function number(value, digits = 0) {
  return known(value) ? value.toLocaleString("en-US", {
    minimumFractionDigits: digits, maximumFractionDigits: digits }) : "–";
}

const percent = (share) => known(share) ? `${number(100 * share, 0)} %` : "–";
const pressure = (value) => known(value)
  ? `${number(value, pressureDigits)} ${pressureUnit}` : "unknown";
const plural = (count, one, many) => `${number(count)} ${count === 1 ? one : many}`;

const currency = units.currency.toUpperCase();

function money(value, digits = 0) {
  if (!known(value)) return "–";
  return currency === "USD" ? `$${number(value, digits)}`
    : `${number(value, digits)} ${currency}`;
}

// Short, for axes and key figures: $1.7 M.
function shortMoney(value) {
  if (!known(value)) return "–";
  const [scale, letter] = value >= 1e6 ? [1e6, "\u00a0M"] : value >= 1e3 ? [1e3, "\u00a0k"] : [1, ""];
  const digits = scale > 1 && value / scale < 100 ? 1 : 0;
  return money(value / scale, digits) + letter;
}

// element("p", {class: "small"}, "text", child): text goes in as text.
function element(name, attributes, ...children) {
  return filled(document.createElement(name), attributes, children);
}

function svg(name, attributes, ...children) {
  return filled(document.createElementNS("http://www.w3.org/2000/svg", name), attributes,
    children);
}

function filled(node, attributes, children) {
  for (const [key, value] of Object.entries(attributes || {}))
    if (value !== null && value !== false) node.setAttribute(key, value === true ? "" : value);
  node.append(...children.flat().filter(known));
  return node;
}

const byId = (id) => document.getElementById(id);

function roofTitle(roof) {
  return roof.name ? `${roof.roof_id} ${roof.name}` : roof.roof_id;
}

// What fits on a map: a short id, else the rank.
function roofLabel(roof) {
  const id = roof.roof_id;
  return id.length <= 16 || !known(roof.rank) ? id.slice(-16) : `rank ${number(roof.rank)}`;
}

function median(values) {
  const sorted = values.filter(known).sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  if (!sorted.length) return null;
  return sorted.length % 2 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
}

// The nearest of 1, 2, 5 times a power of ten at or above.
function niceStep(rough) {
  const power = Math.pow(10, Math.floor(Math.log10(rough)));
  return [1, 2, 5, 10].map((n) => n * power).find((n) => n >= rough * 0.9999);
}
