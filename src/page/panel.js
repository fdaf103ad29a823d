// One roof: its zones drawn, its numbers, what is weak about them, why it ranks there.
const panel = (() => {
  const box = byId("panel");
  const hooks = { close() {} };
  const foot = units.length === "ft" ? 0.3048 : 1;

  // ---- drawing ----
  function pathOf(rings, x, y) {
    return rings.map((ring) => {
      let path = "";
      for (let i = 0; i < ring.length; i += 2)
        path += `${i ? "L" : "M"}${x(ring[i])},${y(ring[i + 1])}`;
      return `${path}Z`;
    }).join("");
  }

  function hatch() {
    return svg("pattern", { id: "hatch", width: 6, height: 6, patternTransform: "rotate(45)",
      patternUnits: "userSpaceOnUse" },
    svg("rect", { width: 6, height: 6, fill: ZONE_TONES.corner }),
    svg("path", { d: "M0,0V6", stroke: "#dfe9f0", "stroke-width": 1.8 }));
  }

  const fillOf = (role) => role === "corner" ? "url(#hatch)" : ZONE_TONES[role];

  function drawing(roof) {
    const points = roof.rings.flatMap((ring) => [...ring]);
    const xs = points.filter((each, i) => i % 2 === 0);
    const ys = points.filter((each, i) => i % 2 === 1);
    if (!xs.length) return element("p", {}, "This roof has no usable outline.");
    const [left, right] = [Math.min(...xs), Math.max(...xs)];
    const [bottom, top] = [Math.min(...ys), Math.max(...ys)];
    const WIDTH = 300;
    const scale = Math.min((WIDTH - 12) / (right - left), 200 / (top - bottom));
    const high = (top - bottom) * scale + 40;
    const x = (value) => (WIDTH / 2 + (value - (left + right) / 2) * scale).toFixed(1);
    const y = (value) => (6 + (top - value) * scale).toFixed(1);
    const length = niceStep((right - left) / foot / 4);
    const bar = length * foot * scale;
    const zones = roof.zones.length ? roof.zones
      : [{ role: "interior", rings: roof.rings }];
    return svg("svg", { viewBox: `0 0 ${WIDTH} ${high.toFixed(0)}`, role: "img",
      "aria-label": `Zones of roof ${roofTitle(roof)}, north up` },
    svg("defs", {}, hatch()),
    zones.map(({ role, rings }) => svg("path", { d: pathOf(rings, x, y), fill: fillOf(role),
      "fill-rule": "evenodd", stroke: INK, "stroke-width": 0.6 }, svg("title", {}, role))),
    svg("path", { d: pathOf(roof.rings, x, y), fill: "none", stroke: INK,
      "stroke-width": 1.6 }),
    svg("path", { d: `M6,${high - 16}v6h${bar.toFixed(1)}v-6`, fill: "none", stroke: INK }),
    svg("text", { x: 12 + bar, y: high - 8 }, `${number(length)} ${lengthUnit}`),
    svg("text", { x: WIDTH - 6, y: high - 8, "text-anchor": "end" }, "↑ N"));
  }

  // ---- numbers ----
  const SMALL = units.length === "ft" ? "in" : "mm";

  function spacingOf(roof, role) {
    const rows = roof[`${role}_row_spacing`];
    const along = roof[`${role}_fastener_spacing`];
    const board = roof[`${role}_per_board`];
    if (known(rows)) return `${number(rows, 1)} ${lengthUnit} × ` +
      `${number(along)} ${SMALL}`;
    return known(board) ? `${number(board)} a board` : "–";
  }

  function zoneTable(roof) {
    const rows = ROLES.filter((role) => roof[role] > 0).map((role) =>
      element("tr", {},
        element("th", { scope: "row" }, swatch(role), role),
        element("td", { class: "right" }, number(roof[role])),
        element("td", { class: "right" }, percent(roof[role] / roof.area)),
        element("td", { class: "right" }, number(roof[`${role}_uplift`], pressureDigits)),
        element("td", { class: "right" }, number(roof[`${role}_required`], pressureDigits)),
        element("td", {}, spacingOf(roof, role))));
    if (!rows.length) return null;
    const heads = ["Zone", areaUnit, "share", `uplift, ${pressureUnit}`,
      `required, ${pressureUnit}`, "rows × fasteners"];
    return element("table", { class: "zones" },
      element("thead", {}, element("tr", {}, heads.map((head, i) =>
        element("th", { scope: "col", class: i > 0 && i < 5 ? "right" : null }, head)))),
      element("tbody", {}, rows));
  }

  function swatch(role) {
    return svg("svg", { class: "swatch", viewBox: "0 0 18 12", "aria-hidden": "true" },
      svg("rect", { x: 0.5, y: 0.5, width: 17, height: 11, stroke: INK,
        fill: fillOf(role) }));
  }

  function planned(roof) {
    const of = roof.plan;
    if (!of) return null;
    if (!known(roof.year)) return of.why;
    const visit = plan.visitOf(roof);
    const others = visit ? visit.roofs - 1 : 0;
    const { soonest_year: from, last_year: to } = of;
    return `${roof.year}: ${of.action}, ${money(of.nominal_cost)} in that year's money` +
      (others > 0 ? `, in a visit with ${plural(others, "other roof", "other roofs")}` : "") +
      `: ${of.why}.` + (known(from) && from !== to
      ? ` With other service lives: ${from} to ${to}.` : "") + (of.waiting_cost > 0
      ? ` Waiting costs ${money(of.waiting_cost)} in today's money.` : "");
  }

  function facts(roof) {
    const age = known(roof.installed) ? `, laid in ${roof.installed}` : "";
    const pairs = [
      ["Area", `${number(roof.area)} ${areaUnit}, edge ${number(roof.edge_length)} ` +
        lengthUnit],
      ["Edges", roof.edges.map(({ kind, source, length }) => `${kind} ${number(length)} ` +
        `${lengthUnit} (${data.sources[source]})`).join(", ")],
      ["Height", known(roof.height) ? `${number(roof.height, 1)} ${lengthUnit}` +
        (roof.estimated.includes("height") ? " (estimated from storeys)" : "") : "unknown"],
      ["Wind", known(roof.wind_speed) ? `${number(roof.wind_speed)} ` +
        `${units.length === "ft" ? "mph" : "m/s"}, exposure ${roof.exposure || "–"}`
        : "no speed given"],
      ["Attachment", `${roof.state}: ${roof.assembly || roof.method || "none"}`],
      ["Reason", roof.reason],
      ["Present roof", [roof.existing, roof.deck && `${roof.deck} deck`, known(roof.covers)
        && plural(roof.covers, "cover", "covers"), known(roof.condition) &&
        `condition ${number(roof.condition)} of 100`].filter(Boolean).join(", ") + age],
      ["Work", roof.scope],
      ["Cost", known(roof.total) ? `${money(roof.total)}, ${money(roof.total_rate, 2)} per ` +
        areaUnit : null],
      ["Plan", planned(roof)],
      ["Vouched for", roof.vouched],
    ];
    return element("dl", {}, pairs.filter(([, value]) => value).flatMap(([name, value]) =>
      [element("dt", {}, name), element("dd", {}, value)]));
  }

  function methodTable(roof) {
    if (roof.methods.length < 2) return null;
    const heads = ["Method", "attachment", "cost", `per ${areaUnit}`, "crew hours"];
    return element("table", { class: "zones" },
      element("thead", {}, element("tr", {}, heads.map((head, i) =>
        element("th", { scope: "col", class: i > 1 ? "right" : null }, head)))),
      element("tbody", {}, roof.methods.map((each) => element("tr", {},
        element("th", { scope: "row" }, each.method,
          each.cheapest ? " (cheapest that holds)" : null),
        element("td", {}, each.state),
        element("td", { class: "right" }, money(each.total)),
        element("td", { class: "right" }, money(each.total_rate, 2)),
        element("td", { class: "right" }, number(each.hours))))));
  }

  // What nobody gave or confirmed, in words.
  function weak(roof) {
    if (!roof.open.length) return null;
    const of = (sort) => roof.open.filter((item) => item.endsWith(`(${sort})`)).length;
    return element("details", {},
      element("summary", {}, `${plural(roof.open.length, "value", "values")} estimated or ` +
        `assumed: ${of("site")} to look at on site, ${of("reading")} to decide, ` +
        `${of("source")} without a source`),
      element("ul", {}, roof.open.map((item) => element("li", {},
        `${item}: ${data.reasons[item.slice(0, item.lastIndexOf(" ("))] || ""}`))));
  }

  // ---- rank ----
  const middles = {};
  for (const key of ["height", "exposure_pressure"])
    middles[key] = median(roofs.map((roof) => roof[key]));

  function compared(value, middle, text, nouns) {
    const word = Math.abs(value - middle) <= 0.005 * Math.abs(middle) ? "the same as"
      : value > middle ? `${nouns[0]} than` : `${nouns[1]} than`;
    return `${text(value)}, ${word} the middle roof here (${text(middle)})`;
  }

  function rankTitle(roof) {
    if (!known(roof.rank)) return "Why it has no rank";
    return `Why rank ${roof.rank} of ${number(data.groups[roof.group])} by ` +
      (roof.group === "rating" ? "its rating" : "exposure");
  }

  function reasons(roof) {
    const lines = [`${roof.place.reason[0].toUpperCase()}${roof.place.reason.slice(1)}.`];
    if (known(roof.exposure_pressure))
      lines.push(`Exposure pressure ${compared(roof.exposure_pressure,
        middles.exposure_pressure, pressure, ["higher", "lower"])}.`);
    return lines;
  }

  // Load times factors: the score, as the ranking's table has it.
  function score(roof) {
    const place = roof.place;
    if (!known(place.score)) return null;
    const loads = { worst: "uplift, kPa", mean: "mean uplift, kPa", force: "force, kN" };
    const load = roof.group === "rating" ? "demand / capacity" : loads[data.by];
    const factors = ["edge", "condition", "age", "consequence"]
      .map((part) => [part, place[`${part}_factor`]]).filter(([, value]) => known(value));
    return element("details", {}, element("summary", {}, "How the score comes about"),
      element("p", {}, `${number(place.load, 2)} (${load}) ` +
        factors.map(([part, value]) => `× ${number(value, 2)} (${part}) `).join("") +
        `= ${number(place.score, 2)}`),
      element("p", { class: "small" }, data.formula));
  }

  function heading(title, beside) {
    const close = element("button", { type: "button", "aria-label": "Close" }, "×");
    close.addEventListener("click", () => hooks.close());
    return element("div", { class: "bar" }, element("h2", {}, title), beside,
      element("span", { class: "grow" }), close);
  }

  function showArea(area, choose, zoom) {
    const near = element("button", { type: "button" }, "Zoom to it");
    near.addEventListener("click", zoom);
    box.hidden = false;
    box.setAttribute("aria-label", `The chosen ${areas.kind}`);
    box.replaceChildren(heading(areas.title(area), near), ...areaPanel(area, choose));
    box.scrollTop = 0;
    box.focus({ preventScroll: true });
  }

  function show(roof) {
    box.hidden = !roof;
    if (!roof) return;
    box.setAttribute("aria-label", "The chosen roof");
    box.replaceChildren(
      heading(roofTitle(roof), roof.building
        ? element("span", { class: "small" }, roof.building) : null),
      element("div", { class: "two" },
        element("figure", {}, drawing(roof)),
        element("div", {}, facts(roof))),
      zoneTable(roof) || "",
      methodTable(roof) || "",
      element("h3", {}, rankTitle(roof)),
      element("ul", {}, reasons(roof).map((line) => element("li", {}, line))),
      score(roof) || "",
      weak(roof) || "");
    box.scrollTop = 0;
  }

  return { hooks, show, showArea };
})();
