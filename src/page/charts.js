// Charts as SVG, each with a sentence that says what it shows and its numbers as a table.
const charts = (() => {
  const WIDTH = 520;
  const HIGH = 230;
  const LEFT = 62;
  const BOTTOM = 34;
  const BAR = TONES[3];
  const invented = /Prices are invented/.test(byId("caution").textContent)
    ? " Prices are invented." : "";

  function figure(title, sentence, drawing, heads, rows, note) {
    return element("figure", { class: "chart" },
      element("h3", {}, title),
      element("figcaption", {}, sentence),
      drawing,
      element("details", {}, element("summary", {}, "As a table"),
        element("table", {},
          element("thead", {}, element("tr", {}, heads.map((head, i) =>
            element("th", { scope: "col", class: i ? "right" : null }, head)))),
          element("tbody", {}, rows.map((row) => element("tr", {}, row.map((cell, i) =>
            i ? element("td", { class: "right" }, cell)
              : element("th", { scope: "row" }, cell))))))),
      note ? element("p", { class: "small" }, note) : null);
  }

  const missing = (title, sentence) => element("figure", { class: "chart" },
    element("h3", {}, title), element("figcaption", {}, sentence));

  function frame(label, children) {
    return svg("svg", { viewBox: `0 0 ${WIDTH} ${HIGH}`, role: "img", "aria-label": label },
      children);
  }

  // Grid lines and their numbers; returns value to y and the nodes.
  function axis(most, text, whole) {
    const step = Math.max(niceStep(most / 4 || 1), whole ? 1 : 0);
    const top = Math.ceil(most / step - 1e-9) * step || step;
    const y = (value) => HIGH - BOTTOM - (HIGH - BOTTOM - 18) * value / top;
    const nodes = [];
    for (let value = 0; value <= top * 1.0001; value += step)
      nodes.push(
        svg("path", { d: `M${LEFT},${y(value)}H${WIDTH - 4}`, stroke: value ? "#dfe3e6" : INK }),
        svg("text", { x: LEFT - 6, y: y(value) + 4, "text-anchor": "end" }, text(value)));
    return { y, nodes };
  }

  // Bars one beside the other: [{label, value, text, hatched}].
  function bars(label, items, text, extra = () => [], inside = false) {
    const { y, nodes } = axis(Math.max(...items.map((item) => item.value),
      ...items.map((item) => item.line || 0)), text, text === number);
    const lift = inside ? -15 : 4;
    const slot = (WIDTH - LEFT - 4) / items.length;
    const every = Math.ceil(items.length * 46 / (WIDTH - LEFT));
    const middle = (i) => LEFT + slot * (i + 0.5);
    return frame(label, [nodes, items.map((item, i) => [
      svg("rect", { x: middle(i) - slot * 0.36, y: y(item.value), width: slot * 0.72,
        height: y(0) - y(item.value), fill: BAR }, svg("title", {}, `${item.label}: ${item.text}`)),
      slot > 34 && item.value ? svg("text", { x: middle(i), y: y(item.value) - lift,
        "text-anchor": "middle", class: inside ? "light" : null }, item.text) : null,
      i % every === 0 ? svg("text", { x: middle(i), y: HIGH - BOTTOM + 16,
        "text-anchor": "middle" }, item.label) : null,
    ]), extra({ y, middle, slot })].flat(3).filter(known));
  }

  // ---- exposure ----
  function exposureChart() {
    const { width, roofs: counts } = data.distribution;
    const first = counts.findIndex((count) => count > 0);
    const title = `Exposure to wind, ${pressureUnit}`;
    if (first < 0)
      return missing(title, "Unknown: no roof has both a height and a wind speed.");
    let last = counts.length - 1;
    while (counts[last] === 0) last--;
    const join = Math.ceil((last - first + 1) / 14);
    const items = [];
    for (let i = first - first % join; i <= last; i += join) {
      const value = counts.slice(i, i + join).reduce((sum, each) => sum + each, 0);
      items.push({ label: number(i * width), value, text: number(value),
        to: (i + join) * width });
    }
    const total = items.reduce((sum, item) => sum + item.value, 0);
    const top = items[items.length - 1];
    return figure(title, `Roofs by the uplift on their worst zone, in steps of ` +
      `${number(join * width)} ${pressureUnit}. ${plural(top.value, "roof", "roofs")} of ` +
      `${number(total)} in the highest step, from ${top.label} ${pressureUnit}.`,
    bars(title, items, number), [`From, ${pressureUnit}`, "Roofs"],
    items.map((item) => [`${item.label} to ${number(item.to)}`, item.text]));
  }

  // ---- condition ----
  function conditionChart() {
    const title = "Condition by year of laying";
    const dots = roofs.filter((roof) => known(roof.condition) && known(roof.installed));
    if (!dots.length) return null;
    const years = dots.map((roof) => roof.installed);
    const [from, to] = [Math.min(...years), Math.max(...years)];
    const step = niceStep(Math.max((to - from) / 6, 1));
    const start = Math.floor(from / step) * step;
    const end = Math.max(Math.ceil(to / step) * step, start + step);
    const { y, nodes } = axis(100, number);
    const x = (year) => LEFT + 8 + (WIDTH - LEFT - 32) * (year - start) / (end - start);
    for (let year = start; year <= end; year += step)
      nodes.push(svg("text", { x: x(year), y: HIGH - BOTTOM + 16, "text-anchor": "middle" },
        year));
    const poor = dots.filter((roof) => roof.condition < 40);
    const area = (list) => list.reduce((sum, roof) => sum + (roof.area || 0), 0);
    const largest = Math.max(...dots.map((roof) => roof.area || 0), 1);
    const marks = dots.map((roof) => svg("circle", { cx: x(roof.installed),
      cy: y(roof.condition), r: 3 + 8 * Math.sqrt((roof.area || 0) / largest), fill: BAR,
      "fill-opacity": 0.55, stroke: INK, "stroke-width": 0.6 },
    svg("title", {}, `${roofTitle(roof)}: laid in ${roof.installed}, condition ` +
      number(roof.condition))));
    return figure(title, `A circle a roof, as large as its area; 100 is new. ` +
      `${plural(poor.length, "roof", "roofs")} below 40 (our mark), ` +
      `${percent(area(poor) / area(dots))} of the area.`,
    frame(title, [...nodes, ...marks]), ["Roof", "Laid in", "Condition"],
    dots.slice(0, 200).map((roof) => [roofTitle(roof), String(roof.installed),
      number(roof.condition)]));
  }

  // ---- cost ----
  const PARTS = ["material", "labour", "tear_off", "disposal", "mobilisation", "permit",
    "overhead", "profit", "contingency", "tax"];

  // Bars one below the other, their words at the left: [{label, value, text}].
  function lyingBars(label, items) {
    const slot = Math.min((HIGH - 8) / items.length, 34);
    const left = 150;
    const most = Math.max(...items.map((item) => item.value), 1e-9);
    return svg("svg", { viewBox: `0 0 ${WIDTH} ${(slot * items.length + 8).toFixed(0)}`,
      role: "img", "aria-label": label }, items.flatMap((item, i) => {
      const long = (WIDTH - left - 160) * item.value / most;
      const y = 4 + slot * i;
      return [
        svg("text", { x: left - 8, y: y + slot / 2 + 4, "text-anchor": "end" }, item.label),
        svg("rect", { x: left, y: y + 3, width: long, height: slot - 6,
          fill: item.hatched ? "url(#stripes)" : BAR, stroke: INK, "stroke-width": 0.6 }),
        svg("text", { x: left + long + 6, y: y + slot / 2 + 4 }, item.text)];
    }), svg("defs", {}, svg("pattern", { id: "stripes", width: 6, height: 6,
      patternTransform: "rotate(45)", patternUnits: "userSpaceOnUse" },
    svg("rect", { width: 6, height: 6, fill: "#ffffff" }),
    svg("path", { d: "M0,0V6", stroke: BAR, "stroke-width": 3 }))));
  }

  function partsChart(own) {
    const items = PARTS.map((part) => ({ label: part.replace("_", "-"), value: own[part],
      text: shortMoney(own[part]) })).filter(({ value }) => value > 0);
    return figure("Cost by part", `${money(own.total)} for ` +
      `${plural(own.roofs, "roof", "roofs")}, each by its own method.${invented}`,
    lyingBars("Cost by part", items), ["Part", "Cost"],
    items.map((item) => [item.label, money(item.value)]));
  }

  function costChart() {
    const title = "Cost by method";
    const rows = (gridRows("comparison") || []).filter((row) => row.of === "portfolio");
    const own = rows.find((row) => row.method === "own");
    const named = rows.filter((row) => row.method !== "own" && row.roofs > 0);
    const methods = named.filter((row) => row.method !== "cheapest");
    if (!own || !own.roofs) return null;
    if (methods.length < 2) return partsChart(own);
    const items = named.map((row) => ({ label: row.method, value: row.total_rate,
      text: `${money(row.total_rate, 2)}, ${plural(row.roofs, "roof", "roofs")}` +
        (row.roofs_not_met ? " ▲" : ""),
      hatched: row.method === "cheapest" }));
    return figure(title, `Per ${areaUnit} of the roofs that each was laid out on; "cheapest" ` +
      "takes each roof's cheapest method that holds. ▲: doesn't hold on " +
      `some roofs.${invented}`, lyingBars(title, items),
    ["Method", "Roofs", "Not met", `Per ${areaUnit}`, "Total"],
    named.map((row) => [row.method, number(row.roofs), number(row.roofs_not_met),
      money(row.total_rate, 2), money(row.total)]));
  }

  function draw() {
    byId("charts").replaceChildren(...[budget.length ? null : conditionChart(),
      costChart(), exposureChart()].filter(Boolean));
  }

  return { draw, figure, missing, frame, axis, bars, invented, WIDTH, HIGH, LEFT, BOTTOM,
    BAR };
})();
