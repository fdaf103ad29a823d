// The data of the page, one object per roof. Names lose their units: "area_ft2" is "area",
// "total_usd" is "total", "total_usd_per_ft2" is "total_rate".
const data = JSON.parse(document.getElementById("data").textContent);
const units = data.units;
const SUFFIX = /_(ft2|m2|ft|m|in|mm|psf|pa|mph|mps|lbf|n)$/;

function bareName(name) {
  const money = `_${units.currency}`;
  const rate = `${money}_per_${units.area}`;
  if (name.endsWith(rate)) return `${name.slice(0, -rate.length)}_rate`;
  if (name.endsWith(money)) return name.slice(0, -money.length);
  return name.replace(SUFFIX, "");
}

function toObject(names, values) {
  const object = {};
  names.forEach((name, i) => { object[name] = values[i]; });
  return object;
}

function rowsOf(grid) {
  const names = grid.columns.map(bareName);
  return grid.rows.map((row) => toObject(names, row));
}

// Rows of a table of the portfolio; null where the run made none.
function gridRows(name) {
  const grid = data.grids.find((each) => each.name === name);
  return grid ? rowsOf(grid) : null;
}

// A ring of the file: whole centimetres, each point as its way from the one before.
function ringMetres(deltas) {
  const points = new Float64Array(deltas.length);
  let x = 0;
  let y = 0;
  for (let i = 0; i < deltas.length; i += 2) {
    x += deltas[i];
    y += deltas[i + 1];
    points[i] = x / 100;
    points[i + 1] = y / 100;
  }
  return points;
}

const columnNames = data.columns.map(bareName);
const factNames = data.facts.map(bareName);
const methodNames = data.methods.map(bareName);
const roofs = data.roofs.map((raw, index) => ({
  index,
  ...toObject(columnNames, raw.s),
  ...toObject(factNames, raw.f),
  methods: (raw.m || []).map((row) => toObject(methodNames, row)),
  edges: raw.e.map(([kind, source, length]) => ({ kind, source, length })),
  origin: raw.o || null,
  rings: (raw.p || []).flat().map(ringMetres),
  zones: (raw.z || []).map(([role, polygons]) =>
    ({ role, rings: polygons.flat().map(ringMetres) })),
}));

// The ranking has a row a roof, in the same order.
rowsOf(data.ranking).forEach((place, index) => {
  const roof = roofs[index];
  roof.place = place;
  for (const key of ["rank", "group", "exposure_pressure", "demand_over_capacity",
    "condition", "edge_condition", "age", "risk"])
    roof[key] = place[key];
});

// So has the plan, where there is one; and its years.
if (data.plan)
  rowsOf(data.plan).forEach((row, index) => {
    roofs[index].plan = row;
    roofs[index].year = row.year;
    roofs[index].nominal_cost = row.nominal_cost;
  });
const budget = data.budget ? rowsOf(data.budget) : [];

for (const roof of roofs)
  for (const key of ["estimated", "assumed", "open"])
    roof[key] = roof[key] ? roof[key].split("; ") : [];

const known = (value) => value !== null && value !== undefined;
const has = (key) => roofs.some((roof) => known(roof[key]));
const ROLES = ["corner", "perimeter", "field", "interior"];
