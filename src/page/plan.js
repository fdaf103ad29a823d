// The plan as a board reads it: scenarios side by side, what is weak in the plan, visits,
// and on paper every planned roof.
const plan = (() => {
  const { figure, missing, frame, axis, bars, invented, WIDTH, HIGH, LEFT, BOTTOM, BAR } =
    charts;
  const hooks = { choose() {} };
  const OWN = "this plan";
  const NAMES = { "worst first": "going worst first",
    adopted: "the adopted plan", nothing: "doing nothing" };
  const nameOf = (name) => NAMES[name] || name;
  const capital = (text) => text[0].toUpperCase() + text.slice(1);

  // {name, years, whole}: the plan and what it was weighed against, then other caps.
  const scenarios = [];
  for (const rows of [budget, data.scenarios ? rowsOf(data.scenarios) : []]) {
    const before = new Set(scenarios.map(({ name }) => name));
    for (const row of rows.filter((each) => !before.has(each.plan))) {
      let scenario = scenarios.find(({ name }) => name === row.plan);
      if (!scenario) {
        scenario = { name: row.plan, years: new Map(), whole: null };
        scenarios.push(scenario);
      }
      if (row.year === "all years") scenario.whole = row;
      else scenario.years.set(row.year, row);
    }
  }
  const named = (name) => scenarios.find((each) => each.name === name);
  const own = named(OWN);
  const solved = scenarios.filter(({ years }) => years.size);

  function table(heads, rows, attributes = {}) {
    return element("table", attributes,
      element("thead", {}, element("tr", {}, heads.map(([head, right]) =>
        element("th", { scope: "col", class: right ? "right" : null }, head)))),
      element("tbody", {}, rows.map((row) => element("tr", {}, row.map((cell, i) =>
        element(i ? "td" : "th", { scope: i ? null : "row",
          class: heads[i][1] ? "right" : null }, cell))))));
  }

  const scrolling = (label, child) => element("div", { class: "scroll", tabindex: "0",
    role: "region", "aria-label": label }, child);

  // ---- words ----
  // What is dearer is never called a saving.
  function compared(than) {
    const more = than.whole.total_present_cost - own.whole.total_present_cost;
    if (!known(than.whole.total_present_cost)) return "–";
    if (Math.abs(more) < 0.5) return "the same";
    return `${money(Math.abs(more))} ${more > 0 ? "dearer" : "cheaper"}`;
  }

  function againstWorstFirst() {
    const worst = named("worst first");
    if (!known(own.whole.saved))
      return `Going worst first can't be done as asked: ${worst.whole.state}.`;
    if (own.whole.saved < 0)
      return `This plan is ${money(-own.whole.saved)} dearer at present cost than going ` +
        "worst first.";
    return `Going worst first would cost ${money(own.whole.saved)} more at present cost.`;
  }

  function wordsOf(scenario) {
    const { whole, years } = scenario;
    const other = compared(scenario);
    return `${capital(nameOf(scenario.name))}: ` +
      `${plural(whole.roofs, "roof", "roofs")} in ${plural(whole.visits, "visit", "visits")}` +
      ` for ${money(whole.cost)} in ${plural(years.size, "year", "years")}, in each year's ` +
      `money${whole.state ? ` (${whole.state})` : ""}. ` + (scenario === own
      ? againstWorstFirst() : `Beside this plan, at present cost with waiting and worth ` +
        `left: ${other}.`) + invented;
  }

  // ---- charts ----
  function budgetChart(scenario) {
    const title = "Budget by year";
    const rows = [...scenario.years.values()];
    const items = rows.map((row) => ({ label: row.year, value: row.cost, line: row.cap,
      text: shortMoney(row.cost) }));
    const caps = ({ y, middle, slot }) => [
      ...rows.map((row, i) => svg("path", { d: `M${middle(i) - slot * 0.48},` +
        `${y(row.cap)}h${slot * 0.96}`, stroke: INK, "stroke-width": 2.5,
      "stroke-dasharray": "6 3" })),
      svg("text", { x: WIDTH - 6, y: y(rows[rows.length - 1].cap) - 6,
        "text-anchor": "end" }, "cap")];
    return figure(title, `Cost in each year's money: ${nameOf(scenario.name)}. Dashed: the ` +
      "cap.", bars(title, items, shortMoney, caps, true),
    ["Year", "Visits", "Roofs", "Cost", "Cap", "Not spent"],
    rows.map((row) => [row.year, number(row.visits), number(row.roofs), money(row.cost),
      money(row.cap), money(row.unspent)]));
  }

  // A line and its marks; the second is dashed with open squares, so that no legend rests
  // on colour.
  const strokeOf = (second) => second
    ? { fill: "none", stroke: INK, "stroke-width": 1.6, "stroke-dasharray": "5 4" }
    : { fill: "none", stroke: BAR, "stroke-width": 3 };
  const markAt = (second, x, y) => second
    ? svg("rect", { x: x - 3.5, y: y - 3.5, width: 7, height: 7, fill: PAPER, stroke: INK })
    : svg("circle", { cx: x, cy: y, r: 4.5, fill: BAR });

  function keyOf(list) {
    return element("ul", { class: "key" }, list.map((each, i) => element("li", {},
      svg("svg", { viewBox: "0 0 34 12", "aria-hidden": "true" },
        svg("path", { d: "M1,6H33", ...strokeOf(i > 0) }), markAt(i > 0, 17, 6)),
      nameOf(each.name))));
  }

  // exact: numbers as the table has them.
  function lineChart(title, sentence, key, list, text, least, exact = text) {
    const drawn = list.map((each) => [...each.years.values()].filter((row) =>
      known(row[key])));
    if (!drawn[0].length) return missing(title, `${sentence} Not known.`);
    const { y, nodes } = axis(Math.max(least, ...drawn.flat().map((row) => row[key])), text);
    const years = [...list[0].years.keys()];
    const x = (year) => LEFT + 20 + (WIDTH - LEFT - 44) * (years.length > 1
      ? years.indexOf(year) / (years.length - 1) : 0.5);
    const every = Math.ceil(years.length * 46 / (WIDTH - LEFT));
    const lines = drawn.map((rows, i) => [
      svg("path", { ...strokeOf(i > 0), d: rows.map((row, k) =>
        `${k ? "L" : "M"}${x(row.year)},${y(row[key])}`).join("") }),
      rows.map((row) => markAt(i > 0, x(row.year), y(row[key])))]).reverse();
    const drawing = frame(title, [...nodes, ...years.filter((year, i) => i % every === 0)
      .map((year) => svg("text", { x: x(year), y: HIGH - BOTTOM + 16,
        "text-anchor": "middle" }, year)), ...lines.flat(2)]);
    const made = figure(title, sentence, drawing,
      ["Year", ...list.map((each) => capital(nameOf(each.name)))],
      years.map((year) => [year, ...list.map((each) =>
        exact((each.years.get(year) || {})[key]))]));
    made.insertBefore(keyOf(list), drawing);
    return made;
  }

  function chartsOf(scenario) {
    const other = scenario === own ? named("worst first") : own;
    const list = [scenario, other];
    const index = (value) => number(value, 3);
    return [budgetChart(scenario),
      lineChart("Condition", "Mean by area at the end of each year; 100 is new.",
        "mean_condition", list, (value) => number(value), 100,
      (value) => number(value, 1)),
      lineChart("Facility condition index", "Due and not done over replacement value, at " +
        "the end of each year; less is better.", "facility_condition_index", list, index,
      0.01),
      lineChart("Backlog", "Due and not done at the end of each year, in its money.",
        "backlog", list, shortMoney, 1, money)];
  }

  function show(name) {
    byId("scenario-words").textContent = wordsOf(named(name));
    byId("plan-charts").replaceChildren(...chartsOf(named(name)));
  }

  // ---- scenarios side by side ----
  function comparison() {
    const last = (scenario) => [...scenario.years.values()].pop();
    const rows = scenarios.map((each) => each.years.size ? [capital(nameOf(each.name)),
      number(each.whole.roofs), money(each.whole.cost), number(last(each).mean_condition, 1),
      number(last(each).facility_condition_index, 3), money(last(each).backlog),
      each === own ? "–" : compared(each), each.whole.state || "–"]
      : [capital(nameOf(each.name)), "–", "–", "–", "–", "–", "–", each.whole.state]);
    return element("figure", { class: "wide" },
      element("h3", {}, "Scenarios side by side"),
      element("p", { class: "small" }, "Condition, facility condition index (FCI) and " +
        "backlog at the end of the last year."),
      scrolling("Scenarios, scrolls", table([["Scenario"], ["Roofs", true], ["Cost", true],
        ["Condition", true], ["FCI", true], ["Backlog", true],
        ["Present cost against this plan", true],
        ["How far it was searched, or why there is none"]], rows,
      { id: "scenarios" })));
  }

  // ---- what is weak ----
  function weakOf(roof) {
    const { plan: of, demand_over_capacity: ratio } = roof;
    if (!known(roof.year)) return roof.state === "not met" || roof.state === "unknown"
      ? [`attachment ${roof.state}; ${of.why}`] : [];
    const words = [];
    if (of.attachment === "not met" || of.attachment === "unknown")
      words.push(`attachment ${of.attachment}`);
    if (!of.attachment && !known(ratio))
      words.push("the present roof stays, its rating isn't known");
    if (!of.attachment && ratio > 1)
      words.push(`the present roof stays, its rating isn't met (${number(ratio, 2)})`);
    if (of.condition_basis === "assumed") words.push("condition assumed");
    return words;
  }

  const roofButton = (roof) => {
    const button = element("button", { type: "button", class: "roof" }, roofTitle(roof));
    button.addEventListener("click", () => hooks.choose(roof));
    return button;
  };

  function weakness() {
    const severe = ([, words]) => words.some((word) => word.includes("not met")) ? 0 : 1;
    const listed = roofs.filter((roof) => roof.plan).map((roof) => [roof, weakOf(roof)])
      .filter(([, words]) => words.length)
      .sort((a, b) => severe(a) - severe(b) || (a[0].year || 9999) - (b[0].year || 9999));
    const assumed = roofs.filter((roof) => roof.plan &&
      roof.plan.attachment === "met assumed").length;
    const { unpriced } = data.planned;
    const words = [
      `${plural(assumed, "planned roof is", "planned roofs are")} met on an assumption only.`,
      unpriced ? `${plural(unpriced, "roof has", "roofs have")} no cost and ` +
        `${unpriced === 1 ? "is" : "are"} in no sum.` : "",
      data.planned.roofs > roofs.length
        ? `Looked at here: the ${number(roofs.length)} roofs that this page shows.` : "",
      listed.length ? "" : "No planned roof is not met or unknown."];
    return element("figure", { class: "wide" },
      element("h3", {}, "Not met or unknown in the plan"),
      element("p", { class: "small" }, words.filter(Boolean).join(" ")),
      listed.length ? scrolling("Roofs not met or unknown, scrolls", table([["Roof"],
        ["Year", true], ["Cost", true], ["What"]], listed.map(([roof, what]) =>
        [roofButton(roof), known(roof.year) ? String(roof.year) : "–",
          money(roof.nominal_cost), what.join("; ")]), { id: "weak" })) : null);
  }

  // ---- visits and, on paper, roofs ----
  const visits = data.visits ? rowsOf(data.visits) : [];

  function visitList() {
    const sum = (key) => visits.reduce((all, visit) => all + visit[key], 0);
    return element("figure", { class: "wide screen" },
      element("h3", {}, "Visits"),
      element("p", { class: "small" }, `${plural(visits.length, "visit", "visits")}; what a ` +
        `visit costs once, whatever is done: ${money(sum("fixed"))} of ` +
        `${money(sum("total"))}.`),
      scrolling("Visits, scrolls", table([["Building"], ["Year", true], ["Roofs", true],
        ["Total", true], ["Work", true], ["Once a visit", true], ["Which"]],
      visits.map((visit) => [visit.building || visit.roof_ids, String(visit.year),
        number(visit.roofs), money(visit.total), money(visit.work), money(visit.fixed),
        visit.roof_ids]), { id: "visits" })));
  }

  function paperList() {
    const collate = new Intl.Collator("en", { numeric: true }).compare;
    const planned = roofs.filter((roof) => known(roof.year)).sort((a, b) =>
      a.year - b.year || collate(a.building || "", b.building || "") || a.index - b.index);
    byId("paper").replaceChildren(element("h2", {},
      `Every planned roof, by year (${number(planned.length)})`),
    table([["Roof"], ["Building"], ["Year", true], ["Action"], ["Attachment"],
      ["Condition", true], ["Cost in its year", true]], planned.map((roof) =>
      [roofTitle(roof), roof.building || "–", String(roof.year), roof.plan.action,
        roof.plan.attachment || "present roof stays", number(roof.plan.condition),
        money(roof.nominal_cost)]), { id: "planned" }));
  }

  function draw() {
    if (!own) return;
    const select = byId("scenario");
    byId("plan").hidden = false;
    select.append(...solved.map(({ name }) =>
      element("option", { value: name }, capital(nameOf(name)))));
    select.addEventListener("change", () => show(select.value));
    byId("plan-lists").append(comparison(), weakness(), visitList());
    byId("plan-caution").textContent =
      data.plan_caution.replace(byId("caution").textContent, "").trim();
    show(OWN);
  }

  function visitOf(roof) {
    return visits.find((visit) => visit.year === roof.year &&
      visit.building === (roof.building || ""));
  }

  return { hooks, draw, visitOf, toPaper: () => own && paperList(),
    fromPaper: () => byId("paper").replaceChildren() };
})();
