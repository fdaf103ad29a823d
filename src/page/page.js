// The page as a whole: heading, key figures, legend, and the links between its parts.
const { totals } = data;
let chosenRoof = null;

function orderIsOfHeights() {
  const exposed = roofs.filter((roof) => roof.group === "exposure");
  const same = (key) => exposed.every((roof) => roof[key] === exposed[0][key]);
  return exposed.length > 2 && data.by === "worst" && same("wind_speed") &&
    same("exposure") && !same("height") &&
    exposed.every((roof, i) => !i || roof.height <= exposed[i - 1].height ||
      roof.rank === exposed[i - 1].rank);
}

function fillHeading() {
  const title = data.title ? `Roof portfolio: ${data.title}` : "Roof portfolio";
  document.title = title;
  document.querySelector("h1").textContent = title;
  byId("subtitle").textContent = `${plural(totals.roofs, "roof", "roofs")} of ` +
    `${plural(totals.buildings, "building", "buildings")}. Wind by ${data.standard}.`;
  byId("foot").textContent = `Made by outlay ${data.version}. This file holds all of its ` +
    "data and asks the network for nothing.";
  const { apart } = data.groups;
  byId("order").textContent = [
    apart ? `${plural(apart, "roof is", "roofs are")} apart, without a rank: steep, tiny, ` +
      "mapped twice or without a usable outline." : "",
    orderIsOfHeights() ? "With one wind speed and one exposure, the order by exposure is " +
      "that of the heights." : ""].join(" ").trim();
  byId("order").hidden = !byId("order").textContent;
  if (totals.roofs <= roofs.length) return;
  byId("shown").hidden = false;
  const { kind, side } = areas;
  byId("shown").textContent = `The map shows all ${number(totals.roofs)} roofs in ${kind}s` +
    `${side ? ` of ${side}` : ""}, the table the first ${number(roofs.length)} by rank. The ` +
    "key figures and the distribution of exposure count all of them.";
  byId("map-help").textContent += ` Enter opens the ${kind} in the middle.`;
}

function fillTiles() {
  const tile = (value, label) => byId("tiles").append(
    element("li", {}, element("b", {}, value), element("span", {}, label)));
  const leftOut = totals.roofs - totals.zoned;
  const { states } = totals;
  tile(number(totals.roofs), leftOut ? `roofs, ${number(leftOut)} of them left out` : "roofs");
  tile(`${number(totals.area)} ${areaUnit}`, "roof area");
  const ranked = roofs.filter((roof) => known(roof.rank));
  if (ranked.length)
    tile(pressure(Math.max(...ranked.map((roof) => roof.exposure_pressure || 0))),
      "highest exposure pressure");
  tile(number(states["not met"]), "attachment not met");
  tile(number(states["met assumed"]), "met on an assumption");
  const whole = budget.find((row) => row.year === "all years");
  if (whole)
    tile(shortMoney(whole.cost), `plan ${budget[0].year} to ` +
      `${budget[budget.indexOf(whole) - 1].year}, ${plural(whole.roofs, "roof", "roofs")}`);
  if (has("total"))
    tile(shortMoney(roofs.reduce((sum, roof) => sum + (roof.total || 0), 0)),
      totals.roofs > roofs.length ? "cost of the roofs shown" : "cost of all roofs");
}

function fillLegend(measure) {
  const counts = new Array(measure.count + 1).fill(0);
  const items = areas.all.length ? areas.all : roofs;
  for (const each of items) counts[measure.classOf(each) + 1]++;
  const item = (fill, dashed, words, count) => element("li", {},
    svg("svg", { viewBox: "0 0 22 14", "aria-hidden": "true" },
      svg("rect", { x: 0.5, y: 0.5, width: 21, height: 13, fill, stroke: INK,
        "stroke-dasharray": dashed ? "2 2" : null }),
      fill === TONES[4] && measure.count > 1 ? svg("path", { d: "M1,13L8,1M8,13L15,1M15,13L21,3",
        stroke: "#a9c4d6", "stroke-width": 1.4 }) : null),
    `${words} `, element("span", { class: "small" }, `(${number(count)})`));
  const lines = measure.words.map((words, i) =>
    item(TONES[measure.toneOf(i)], false, words, counts[i + 1]));
  if (counts[0]) lines.push(item("#ffffff", true, measure.none, counts[0]));
  if (areas.all.length) lines.push(element("li", {}, svg("svg", { viewBox: "0 0 22 14",
    "aria-hidden": "true" }, svg("rect", { x: 4, y: 3, width: 14, height: 8, fill: "#ffffff",
    stroke: INK, "stroke-width": 1.6 })), `from near: a roof of the table`));
  else lines.push(element("li", {}, svg("svg", { viewBox: "0 0 22 14", "aria-hidden": "true" },
    svg("path", { d: "M11,1L18,13H4Z", fill: "#ffffff", stroke: INK, "stroke-width": 1.4 }),
    svg("path", { d: "M11,5V9M11,10.4V12", stroke: INK, "stroke-width": 1.6 })),
  "attachment not met"));
  byId("legend").replaceChildren(
    element("li", { class: "unit" }, measure.unit || measure.label,
      areas.all.length ? ` (number of ${areas.kind}s)` : null), ...lines);
}

function chooseMeasure(key) {
  const measure = areas.all.length
    ? classify(areas.measures.find((each) => each.key === key), areas.all)
    : classify(allMeasures.find((each) => each.key === key), roofs);
  fillLegend(measure);
  map.setMeasure(measure);
}

function fillMeasures() {
  const select = byId("measure");
  const offered = areas.all.length ? areas.measures : allMeasures.filter(({ key }) => has(key));
  if (!offered.length) offered.push(allMeasures[0]);
  select.append(...offered.map(({ key, label }) => element("option", { value: key }, label)));
  select.addEventListener("change", () => chooseMeasure(select.value));
  chooseMeasure(offered[0].key);
}

function choose(roof, fromMap) {
  chosenRoof = roof;
  panel.show(roof);
  table.choose(roof);
  map.choose(roof, !fromMap);
  map.chooseArea(null);
}

map.hooks.choose = (roof) => choose(roof, true);
map.hooks.area = (area) => {
  choose(null, true);
  map.chooseArea(area);
  panel.showArea(area, (roof) => choose(roof, false), () => map.fitArea(area));
};
map.hooks.hover = (roof) => table.hover(roof);
map.hooks.step = (by) => choose(table.next(chosenRoof, by), false);
table.hooks.choose = (roof) => choose(roof === chosenRoof ? null : roof, false);
table.hooks.hover = (roof) => map.hover(roof);
table.hooks.filter = (rows) => map.setShown((roof) => rows.has(roof));
plan.hooks.choose = (roof) => choose(roof, false);
panel.hooks.close = () => choose(null, false);
document.addEventListener("keydown", (event) => {
  if (event.key === "Escape" && !byId("panel").hidden) choose(null, false);
});
// On paper the map gets the size that it has there, and all planned roofs are listed.
for (const part of [map, plan]) {
  window.addEventListener("beforeprint", part.toPaper);
  window.addEventListener("afterprint", part.fromPaper);
}

fillHeading();
fillTiles();
fillMeasures();
table.update();
charts.draw();
plan.draw();
