// The table: sorted by its header, filtered by the form, rows added as it is scrolled.
const table = (() => {
  const head = document.querySelector("#roofs thead tr");
  const body = document.querySelector("#roofs tbody");
  const scroll = byId("scroll");
  const form = byId("filters");
  const hooks = { choose() {}, hover() {}, filter() {} };
  const CHUNK = 100;
  const PRINTED = 60;

  const STATE_MARKS = { met: "●", "met assumed": "◐", "not met": "▲", unknown: "○" };
  const most = Math.max(...roofs.map((roof) => roof.exposure_pressure || 0), 1);

  const numeric = (key, label, text, more) => ({ key, label, text, right: true, ...more });
  const columns = [
    numeric("index", "Rank", null, { cell: rankCell }),
    { key: "roof_id", label: "Roof", cell: titleCell },
    numeric("year", "Year", (roof) => known(roof.year) ? String(roof.year) : "–"),
    numeric("nominal_cost", "Cost in its year", (roof) => money(roof.nominal_cost),
      { falling: true }),
    numeric("exposure_pressure", `Exposure, ${pressureUnit}`, null,
      { cell: exposureCell, falling: true }),
    { key: "state", label: "Attachment",
      text: (roof) => `${STATE_MARKS[roof.state]} ${roof.state}` },
    numeric("total", "Cost today", (roof) => money(roof.total), { falling: true }),
    numeric("total_rate", `Cost / ${areaUnit}`, (roof) => money(roof.total_rate, 2),
      { falling: true }),
    numeric("condition", "Condition", (roof) => number(roof.condition)),
    numeric("area", `Area, ${areaUnit}`, (roof) => number(roof.area), { falling: true }),
    numeric("demand_over_capacity", "Demand /\u00a0capacity",
      (roof) => number(roof.demand_over_capacity, 2), { falling: true }),
    numeric("height", `Height, ${lengthUnit}`, (roof) => number(roof.height) +
      (roof.estimated.includes("height") ? " ~" : ""), { falling: true, screen: true }),
    numeric("installed", "Laid in", (roof) => known(roof.installed)
      ? String(roof.installed) : "–", { screen: true }),
  ].filter(({ key }) => has(key));

  let sorted = { key: "index", falling: false };
  let rows = [];
  let chosen = null;
  const lines = new Map(); // roof to its row on the page

  // Ranks of the two groups say nothing about each other.
  function rankCell(roof) {
    const words = { rating: "rated", exposure: "exposed" };
    const word = roof.group === "apart" ? "apart" : data.groups.rating ? words[roof.group] : null;
    return element("td", { class: "right" }, known(roof.rank) ? String(roof.rank) : "–",
      word ? element("span", { class: "small word" }, word) : null);
  }

  function titleCell(roof) {
    const button = element("button", { type: "button", class: "roof" }, roofTitle(roof));
    button.addEventListener("click", (event) => {
      event.stopPropagation();
      hooks.choose(roof);
    });
    return element("th", { scope: "row" }, button,
      roof.building ? element("span", { class: "small" }, roof.building) : null);
  }

  function exposureCell(roof) {
    const share = Math.round(100 * (roof.exposure_pressure || 0) / most);
    return element("td", { class: "right" },
      element("span", {}, number(roof.exposure_pressure, pressureDigits)),
      element("span", { class: "gauge", "aria-hidden": "true" },
        element("i", { style: `width:${share}%` })));
  }

  // Columns that paper has no room for are on the screen only.
  const classOf = (column) => [column.right ? "right" : "", column.screen ? "screen" : ""]
    .join(" ").trim() || null;
  const cellOf = (column, roof) => column.cell ? column.cell(roof)
    : element("td", { class: classOf(column) }, column.text(roof));

  function lineOf(roof) {
    const line = element("tr", { "aria-selected": roof === chosen ? "true" : null },
      columns.map((column) => cellOf(column, roof)));
    line.addEventListener("click", () => hooks.choose(roof));
    line.addEventListener("pointerenter", () => hooks.hover(roof));
    line.addEventListener("pointerleave", () => hooks.hover(null));
    return line;
  }

  // ---- order ----
  const collate = new Intl.Collator("en", { numeric: true }).compare;

  function compare(a, b) {
    const [x, y] = [a[sorted.key], b[sorted.key]];
    if (!known(x) || !known(y)) return known(y) - known(x) || a.index - b.index;
    const order = typeof x === "number" ? x - y : collate(x, y);
    return (sorted.falling ? -order : order) || a.index - b.index;
  }

  function sortBy(column) {
    const first = Boolean(column.falling);
    sorted = { key: column.key,
      falling: sorted.key === column.key ? !sorted.falling : first };
    update();
  }

  function fillHead() {
    for (const column of columns) {
      const button = element("button", { type: "button" }, column.label,
        element("span", { "aria-hidden": "true", class: "arrow" }));
      button.addEventListener("click", () => sortBy(column));
      head.append(element("th", { scope: "col", class: classOf(column),
        "data-key": column.key, "data-label": column.label }, button));
    }
  }

  function showOrder() {
    for (const cell of head.children) {
      const on = cell.dataset.key === sorted.key;
      if (on) cell.setAttribute("aria-sort", sorted.falling ? "descending" : "ascending");
      else cell.removeAttribute("aria-sort");
      cell.querySelector(".arrow").textContent = on ? (sorted.falling ? " ▼" : " ▲") : "";
    }
  }

  // ---- filter ----
  function fillChoices(select, key, all) {
    const names = [...new Set(roofs.map((roof) => roof[key]).filter(known))].sort(collate);
    select.append(element("option", { value: "" }, all),
      ...names.map((name) => element("option", { value: name }, name)));
    select.hidden = names.length < 2;
  }

  // Years of the plan, and the roofs that it leaves out.
  function fillYears(select) {
    fillChoices(select, "year", "all years");
    if (roofs.some((roof) => !known(roof.year)))
      select.append(element("option", { value: "none" }, "not in the plan"));
  }

  function passes(roof) {
    const words = byId("words").value.toLowerCase().split(/\s+/).filter(Boolean);
    const text = [roof.roof_id, roof.name, roof.building].filter(known).join(" ")
      .toLowerCase();
    const year = byId("year").value;
    const agrees = (key) => !byId(key).value || roof[key] === byId(key).value;
    return words.every((word) => text.includes(word)) &&
      ["state", "method", "building"].every(agrees) &&
      (!year || year === (known(roof.year) ? String(roof.year) : "none"));
  }

  function tellCount() {
    // Of hundredths at most, in which the sum of all is given too.
    const area = Math.round(rows.reduce((sum, roof) => sum + (roof.area || 0), 0) * 100) / 100;
    const cost = rows.reduce((sum, roof) => sum + (roof.total || 0), 0);
    const planned = rows.reduce((sum, roof) => sum + (roof.nominal_cost || 0), 0);
    byId("count").textContent = `${plural(rows.length, "roof", "roofs")}` +
      (rows.length === roofs.length ? "" : ` of ${number(roofs.length)}`) +
      `, ${number(area)} ${areaUnit}` + (has("total") ? `, ${money(cost)} today` : "") +
      (has("nominal_cost") ? `, ${money(planned)} in the plan` : "");
    byId("print-rows").textContent = rows.length > PRINTED
      ? `Printed: the first ${PRINTED} of ${number(rows.length)} rows in this order.` : "";
  }

  // ---- rows ----
  function append(until) {
    const from = body.children.length;
    const added = rows.slice(from, until).map((roof) => {
      const line = lineOf(roof);
      line.setAttribute("aria-rowindex", rows.indexOf(roof, from) + 2);
      line.classList.toggle("not-printed", rows.indexOf(roof, from) >= PRINTED);
      lines.set(roof, line);
      return line;
    });
    body.append(...added);
  }

  function update() {
    rows = roofs.filter(passes).sort(compare);
    lines.clear();
    body.replaceChildren();
    append(CHUNK);
    byId("roofs").setAttribute("aria-rowcount", rows.length + 1);
    scroll.scrollTop = 0;
    showOrder();
    tellCount();
    hooks.filter(new Set(rows));
  }

  function lineInView(roof) {
    const at = rows.indexOf(roof);
    if (at < 0) return null;
    if (!lines.has(roof)) append(at + CHUNK);
    return lines.get(roof);
  }

  scroll.addEventListener("scroll", () => {
    if (scroll.scrollTop + scroll.clientHeight > scroll.scrollHeight - 600)
      append(body.children.length + CHUNK);
  });
  form.addEventListener("input", update);
  form.addEventListener("reset", () => setTimeout(update));
  form.addEventListener("submit", (event) => event.preventDefault());
  fillHead();
  fillYears(byId("year"));
  fillChoices(byId("state"), "state", "all states");
  fillChoices(byId("building"), "building", "all buildings");
  fillChoices(byId("method"), "method", "all methods");

  return {
    hooks,
    update,
    choose(roof) {
      if (lines.has(chosen)) lines.get(chosen).removeAttribute("aria-selected");
      chosen = roof;
      const line = roof && lineInView(roof);
      if (!line) return;
      line.setAttribute("aria-selected", "true");
      const top = line.offsetTop - head.offsetHeight;
      const bottom = line.offsetTop + line.offsetHeight;
      if (top < scroll.scrollTop) scroll.scrollTop = top - 40;
      else if (bottom > scroll.scrollTop + scroll.clientHeight)
        scroll.scrollTop = bottom - scroll.clientHeight + 40;
    },
    hover(roof) {
      for (const line of body.querySelectorAll(".hovered")) line.classList.remove("hovered");
      if (lines.has(roof)) lines.get(roof).classList.add("hovered");
    },
    next(roof, by) {
      const at = rows.indexOf(roof);
      return rows[at < 0 ? 0 : Math.min(Math.max(at + by, 0), rows.length - 1)] || null;
    },
  };
})();
