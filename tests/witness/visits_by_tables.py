#!/usr/bin/python3
"""Plans of random portfolios, worked out again from what is written.

    visits_by_tables.py OUTLAY [--count N] [--seed S]

Each portfolio has some buildings of one to five roofs with costs of their own, so that
what a visit costs is a closed form: the roofs' costs, and once mobilisation, permit and
the hours of the set-up with their shares. By turns it is planned with and without
--together, and roofs have latest and fixed years. From plan.csv, visits.csv, budget.csv
and the catalogue's tables it is checked that

  * each building has one visit a year at most, and one in all with --together;
  * its roofs are those that plan.csv puts there, and theirs are its costs;
  * each visit pays what a visit costs once, in its year's money, and its roofs' own work;
  * the visits of a year are its cost in budget.csv, to the cent, and keep its cap;
  * latest and fixed years are kept, and no plan that keeps all this is cheaper.

Exit status 1 if anything disagrees.
"""

import argparse
import csv
import json
import math
import pathlib
import random
import subprocess
import sys
import tempfile

START, YEARS = 2027, 4
ESCALATION = 1.03
COVERS = ("replace", "recover")
AREA_ROUNDING = 25  # cents: half of the last digit printed, at 4.50 a square foot


def read(path):
    with open(path, encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def cents(text):
    return round(float(text) * 100) if text else 0


def half_up(value):
    return math.floor(value + 0.5)


# ---- Portfolios ----------------------------------------------------------------------

def square(east, north, side):
    """A square of so many metres, about, near 40 degrees north."""
    x, y = -95 + east / 85300, 40 + north / 111000
    w, h = side / 85300, side / 111000
    return [[x, y], [x + w, y], [x + w, y + h], [x, y + h], [x, y]]


def portfolio(rng):
    features = []
    for b in range(rng.randint(2, 5)):
        for r in range(rng.randint(1, 5)):
            side = rng.uniform(6, 14)
            properties = {
                "id": f"{b}{r}", "building": f"building {b}", "height_ft": 20,
                "deck": "steel", "exposure": "C", "risk": rng.randint(1, 4),
                "condition": rng.randint(5, 80), "covers": 1, "pullout_lbf": 600,
                "existing": "smooth", "wet_share": rng.choice([0, 0.05, 0.2]),
                "cost": round(rng.uniform(2000, 30000), 2)}
            if rng.random() < 0.15:
                properties["latest"] = START + rng.randint(1, YEARS)
            elif rng.random() < 0.1:
                properties["fixed_year"] = START + rng.randint(1, YEARS - 1)
            features.append({
                "type": "Feature", "properties": properties,
                "geometry": {"type": "Polygon", "coordinates":
                             [square(b * 300, r * 60, side)]}})
    return {"type": "FeatureCollection", "features": features}


# ---- What a visit costs once ---------------------------------------------------------

class Once:
    def __init__(self, folder):
        self.prices = read(folder / "prices.csv")
        items = read(folder / "items.csv")
        self.hours = next(float(row["hours_per_100"]) / 100 for row in items
                          if row["use"] == "set-up")
        self.crew = self.rate("crew hours")

    def rate(self, use):
        return next(float(row["price"]) for row in self.prices
                    if row["use"] == use and row["item"] == "")

    def cost(self, area):
        """In cents, for so many square feet of roofs in the visit, all of them low."""
        doublings = math.log2(area / self.rate("area without size effect"))
        size = (1 - self.rate("size effect") / 100) ** max(-3, min(3, doublings))
        labour = half_up(self.hours * self.crew * size * 100)
        mobilisation = half_up(self.rate("mobilisation") * 100)
        running = labour + mobilisation
        running += half_up(self.rate("permit") * 100) + \
            half_up(self.rate("permit fee") / 100 * running)
        for part in ("overhead", "profit", "contingency"):
            running += half_up(self.rate(part) / 100 * running)
        return running


# ---- Checks --------------------------------------------------------------------------

def check_visit(once, visit, roofs, given):
    """One row of visits.csv beside its roofs' rows of plan.csv."""
    wrong = []
    year = int(visit["year"])
    factor = ESCALATION ** (year - START)
    if int(visit["roofs"]) != len(roofs):
        wrong.append(f"{visit['roofs']} roofs, plan.csv has {len(roofs)}")
    fixed = once.cost(sum(float(row["area_ft2"]) for row in roofs))
    # the hours of the set-up go with those of the bill of the roof that pays for it
    if abs(cents(visit["fixed_usd"]) - fixed * factor) > 0.006 * fixed * factor:
        wrong.append(f"fixed {visit['fixed_usd']}, by hand {fixed * factor / 100:.2f}")
    own = sum(cents(row["own_cost_usd"]) if row["action"] in COVERS else flat(row)
              for row in roofs)
    unsure = sum(row["action"] not in COVERS for row in roofs) * AREA_ROUNDING
    if abs(cents(visit["work_usd"]) - own * factor) > 2.5 + unsure * factor:
        wrong.append(f"work {visit['work_usd']}, by hand {own * factor / 100:.2f}")
    for row in roofs:
        if row["action"] in COVERS and \
                cents(row["own_cost_usd"]) != round(given[row["roof_id"]]["cost"] * 100):
            wrong.append(f"roof {row['roof_id']} costs {row['own_cost_usd']}")
    if cents(visit["total_usd"]) != sum(cents(row["nominal_cost_usd"]) for row in roofs):
        wrong.append("its roofs' costs aren't its total")
    if cents(visit["total_usd"]) != cents(visit["work_usd"]) + cents(visit["fixed_usd"]):
        wrong.append("work and fixed aren't its total")
    return [f"visit {visit['building']} {year}: {text}" for text in wrong]


def flat(row):
    """Of an action with a cost of its own, by the area as printed."""
    action = next(a for a in check.actions if a["name"] == row["action"])
    return half_up(100 * (float(action["cost"] or 0) +
                          float(action["cost_per_area"] or 0) * float(row["area_ft2"])))


def check_years(plan, given):
    wrong = []
    for row in plan:
        of, year = given[row["roof_id"]], row["year"]
        if "fixed_year" in of and year != str(of["fixed_year"]):
            wrong.append(f"roof {row['roof_id']}: fixed {of['fixed_year']}, done {year}")
        if of.get("latest", 9999) < START + YEARS and not (
                year and int(year) <= of["latest"]):
            wrong.append(f"roof {row['roof_id']}: latest {of['latest']}, done {year}")
    return wrong


def check(once, out, given, together):
    plan, visits, budget = (read(out / name) for name in
                            ("plan.csv", "visits.csv", "budget.csv"))
    wrong = check_years(plan, given)
    planned = {}
    for row in plan:
        if row["year"]:
            planned.setdefault((row["building"], row["year"]), []).append(row)
    keys = [(visit["building"], visit["year"]) for visit in visits]
    if len(set(keys)) != len(keys) or set(keys) != set(planned):
        wrong.append("visits aren't the plan's buildings and years")
        return wrong
    if together and len({building for building, _ in keys}) != len(keys):
        wrong.append("a building is visited twice")
    for visit in visits:
        roofs = planned[visit["building"], visit["year"]]
        wrong += check_visit(once, visit, roofs, given)
    for row in budget:
        if row["plan"] != "this plan" or row["year"] == "all years":
            continue
        spent = sum(cents(visit["total_usd"]) for visit in visits
                    if visit["year"] == row["year"])
        if spent != cents(row["cost_usd"]) or spent > cents(row["cap_usd"]):
            wrong.append(f"{row['year']}: visits {spent}, budget {row['cost_usd']}, "
                         f"cap {row['cap_usd']}")
    totals = {row["plan"]: row for row in budget if row["year"] == "all years"}
    best = cents(totals["this plan"]["total_present_cost_usd"])
    for name, row in totals.items():
        if name != "this plan" and not row["state"] and \
                cents(row["total_present_cost_usd"]) < best:
            wrong.append(f"{name} is cheaper than the plan")
    return wrong


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("outlay")
    parser.add_argument("--count", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    folder = pathlib.Path(tempfile.mkdtemp(prefix="witness-"))
    subprocess.run([args.outlay, "catalog", "-o", folder / "tables"], check=True,
                   stdout=subprocess.DEVNULL)
    once = Once(folder / "tables")
    check.actions = read(folder / "tables" / "actions.csv")
    planned = visits = bad = refused = 0
    for i in range(args.count):
        rng = random.Random(1000 * args.seed + i)
        layer = portfolio(rng)
        given = {f["properties"]["id"]: f["properties"] for f in layer["features"]}
        source = folder / "roofs.geojson"
        source.write_text(json.dumps(layer), encoding="utf-8")
        command = [args.outlay, "budget", source, "-o", folder / "out", "--overwrite",
                   "-q", "--wind-speed", "90mph", "--start", str(START), "--years",
                   str(YEARS), "--cap", str(rng.choice([20000, 40000, 80000])),
                   "--waiting", "40", "--write", "plan,visits,budget"]
        run = subprocess.run(command + ["--together"] * (i % 2), check=False,
                             stderr=subprocess.PIPE, text=True)
        if run.returncode == 4 or "no year in common" in run.stderr:
            refused += 1
            continue
        wrong = check(once, folder / "out", given, i % 2) if run.returncode in (0, 1) \
            else [f"status {run.returncode}: {run.stderr[-400:]}"]
        planned += 1
        visits += len(read(folder / "out" / "visits.csv")) if not wrong else 0
        bad += bool(wrong)
        for text in wrong:
            print(f"portfolio {i}: {text}")
    print(f"visits by tables: {planned} plans, {visits} visits, {refused} refused, "
          f"{bad} disagree")
    return 1 if bad or planned < args.count / 2 or visits < planned else 0


if __name__ == "__main__":
    sys.exit(main())
