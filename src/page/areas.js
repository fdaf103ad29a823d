// Districts or squares, where there are more roofs than the page shows: all roofs are in
// them. Each has its figures, its worst roofs and those of its roofs that are shown.
const areas = (() => {
  if (!data.areas) return { all: [], measures: [], title: () => "", kind: "" };
  const { side } = data.areas;
  const kind = side ? "square" : "group";
  const all = rowsOf(data.areas.sums).map((row, index) => ({
    index, ...row, lonlat: data.areas.shapes[index], worst: [],
    shown: roofs.filter((roof, i) => data.areas.of[i] === index),
  }));
  for (const row of rowsOf(data.areas.worst)) all[row.group].worst.push(row);
  const counted = (by) => all.some((area) => area[`ranked_by_${by}`]);
  const first = (key) => (all.find((area) => known(area[key])) || {})[key];
  const share = (by) => `Share of ranked roofs that score ` +
    `${number(first(`${by}_threshold`), 2)} or more by ${by}`;
  const measures = ["exposure", "rating"].filter(counted).flatMap((by) => [
    { key: `${by}_mean_score`, label: `Mean score by ${by}`, unit: "",
      text: (value) => number(value, 2), digits: 2, none: `no roof ranked by ${by}` },
    { key: `${by}_share_above`, label: `High scores by ${by}`, unit: share(by), percent: true,
      text: (value) => percent(value), none: `no roof ranked by ${by}` }]);
  measures.push({ key: "roofs", label: `Roofs in each ${kind}`, unit: "",
    text: (value) => number(value), none: "none" });

  // A square has no name that means anything to a reader: its place says which it is.
  function title(area) {
    if (!side || !area.lonlat.length) return area.group;
    const middle = (i) => (area.lonlat[i] + area.lonlat[i + 4]) / 2;
    const place = (value, hands) => `${number(Math.abs(value), 3)}° ${hands[value < 0 ? 1 : 0]}`;
    return `Square at ${place(middle(1), "NS")}, ${place(middle(0), "EW")}`;
  }

  return { all, measures, title, kind, side };
})();

// The panel of a square: its figures, its worst roofs, more of its roofs on this page.
function areaPanel(area, choose) {
  const score = (by) => {
    if (!area[`ranked_by_${by}`]) return null;
    return `${plural(area[`ranked_by_${by}`], "roof", "roofs")}, mean score ` +
      `${number(area[`${by}_mean_score`], 2)}; ${percent(area[`${by}_share_above`])} score ` +
      `${number(area[`${by}_threshold`], 2)} or more, as does a fifth of all roofs`;
  };
  const pairs = [
    ["Roofs", number(area.roofs)],
    ["Area", `${number(area.area)} ${areaUnit}`],
    ["By exposure", score("exposure")],
    ["By rating", score("rating")],
    ["Apart", area.apart ? `${plural(area.apart, "roof", "roofs")}: steep, tiny, mapped twice ` +
      "or without a usable outline" : null],
    ["Unknown", area.without_result ? `${plural(area.without_result, "roof", "roofs")} ` +
      "without height or wind speed" : null],
  ].filter(([, value]) => value);
  const nameOf = (roof, words) => {
    if (!roof) return words;
    const button = element("button", { type: "button", class: "roof" }, words);
    button.addEventListener("click", () => choose(roof));
    return button;
  };
  const line = (roof, rank, words, points) => element("tr", {},
    element("td", { class: "right" }, number(rank)),
    element("th", { scope: "row" }, nameOf(roof, words)),
    element("td", { class: "right" }, number(points, 2)));
  const list = (title, lines) => lines.length ? [element("h3", {}, title),
    element("table", { class: "zones list" },
      element("thead", {}, element("tr", {}, ["Rank", "Roof", "Score"].map((head, i) =>
        element("th", { scope: "col", class: i === 1 ? null : "right" }, head)))),
      element("tbody", {}, lines))] : [];
  const named = new Set();
  const worst = (by) => list(`Its worst roofs by ${by}`,
    area.worst.filter((row) => row.by === by).map((row) => {
      const roof = area.shown.find((each) => each.group === by && each.rank === row.rank &&
        each.roof_id === row.roof_id);
      named.add(roof);
      return line(roof, row.rank, roofTitle(row), row.score);
    }));
  return [
    element("dl", {}, pairs.flatMap(([name, value]) =>
      [element("dt", {}, name), element("dd", {}, value)])),
    ...worst("exposure"), ...worst("rating"),
    ...list("More of its roofs in the table", area.shown.filter((roof) => !named.has(roof))
      .map((roof) => line(roof, roof.rank, roofTitle(roof), roof.place.score))),
  ];
}
