#!/usr/bin/python3
"""Plans for caps moved by a thousandth, beside the plan that was adopted.

    stability_by_tables.py OUTLAY [--count N] [--seed S] [--verbose]

Each portfolio has 60 to 100 invented roofs, costs by their area. It is planned; what its
dearest year costs is then the cap, which is moved up and down by 0.1 %, and it is planned
again with --adopted. So the adopted plan fits one of the caps and exceeds the other.
From plan.csv and budget.csv alone it is checked that

  * a roof whose year or action changed pays 2 % of its own cost, another one nothing;
  * costs, waiting, wind loss, life left and changes of the roofs are the plan's total;
  * the caps are kept;
  * at most 2 % of the planned roofs change, or else all changes together save more than
    their price. What they save is counted against the adopted plan where it fits the
    cap, else against the plan that a price of change of 1000 % gives.

How many roofs change without --adopted is printed beside it. Exit status 1 if anything
disagrees.
"""

import argparse
import json
import pathlib
import random
import subprocess
import sys
import tempfile

from visits_by_tables import cents, read, square

START, YEARS = 2027, 5
NODES = 100     # of the search; the default takes minutes here
PRICE = 2       # % of a roof's own cost, the default
STABLE = 0.02   # share of the planned roofs
SUMS = ("present_cost_usd", "waiting_cost_usd", "wind_loss_usd", "residual_value_usd")


def portfolio(rng):
    features = []
    wanted = rng.randint(60, 100)
    while len(features) < wanted:
        b, rate = len(features), rng.uniform(120, 260)
        for r in range(min(rng.choice([1, 1, 2, 3, 4]), wanted - len(features))):
            side = rng.uniform(8, 20)
            properties = {
                "id": f"{b}-{r}", "building": f"building {b}", "height_ft": 20,
                "deck": "steel", "exposure": "C", "risk": rng.randint(1, 4),
                "condition": rng.randint(5, 80), "covers": 1, "pullout_lbf": 600,
                "existing": "smooth", "wet_share": rng.choice([0, 0.05, 0.2]),
                "cost": round(rate * side * side, 2)}
            if rng.random() < 0.05:
                properties["latest"] = START + rng.randint(2, YEARS)
            features.append({
                "type": "Feature", "properties": properties,
                "geometry": {"type": "Polygon", "coordinates":
                             [square(b % 10 * 300, b // 10 * 300 + r * 60, side)]}})
    return {"type": "FeatureCollection", "features": features}


class Plan:
    """What is needed of a folder that `outlay budget` wrote."""

    def __init__(self, folder):
        self.rows = {row["roof_id"]: row for row in read(folder / "plan.csv")}
        budget = [row for row in read(folder / "budget.csv")
                  if row["plan"] == "this plan"]
        self.total = budget[-1]
        self.costs = [cents(row["cost_usd"]) for row in budget[:-1]]
        self.planned = sum(row["year"] != "" for row in self.rows.values())
        self.before_change = sum(cents(self.total[name]) for name in SUMS)

    def changed(self, adopted):
        return [i for i, row in self.rows.items()
                if any(row[name] != adopted.rows[i][name] for name in ("year", "action"))]

    def price(self, adopted):
        """Of its changes, in cents."""
        return sum(cents(self.rows[i]["own_cost_usd"]) * PRICE / 100
                   for i in self.changed(adopted))


def check_sums(plan, adopted):
    wrong = []
    changed = set(plan.changed(adopted))
    for i, row in plan.rows.items():
        price = cents(row["own_cost_usd"]) * PRICE / 100 if i in changed else 0
        if abs(cents(row["change_cost_usd"]) - price) > 0.51:
            wrong.append(f"roof {i}: a change costs {row['change_cost_usd']}")
    for name in (*SUMS[1:], "change_cost_usd"):
        roofs = sum(cents(row[name]) for row in plan.rows.values())
        if roofs != cents(plan.total[name]):
            wrong.append(f"{name}: roofs {roofs}, plan {plan.total[name]}")
    roofs = sum(cents(row["present_cost_usd"]) for row in plan.rows.values())
    if abs(roofs - cents(plan.total["present_cost_usd"])) > plan.planned:
        wrong.append(f"present cost: roofs {roofs}, plan {plan.total}")
    if plan.before_change + cents(plan.total["change_cost_usd"]) != \
            cents(plan.total["total_present_cost_usd"]):
        wrong.append("its parts aren't the total")
    return wrong


def check_changes(plan, adopted, least, cap):
    """@param least  stands for the adopted plan where that exceeds the cap"""
    wrong = check_sums(plan, adopted)
    if any(cost > cap for cost in plan.costs):
        wrong.append("a cap is exceeded")
    if len(plan.changed(adopted)) <= STABLE * plan.planned:
        return wrong
    beside = adopted if max(adopted.costs) <= cap else least
    saved = beside.before_change - plan.before_change
    price = plan.price(adopted) - beside.price(adopted)
    if saved < price or (beside is adopted and saved == price):
        wrong.append(f"{len(plan.changed(adopted))} of {plan.planned} roofs changed, "
                     f"which saves {saved / 100:.2f} and costs {price / 100:.2f}")
    return wrong


def budget(outlay, folder, cap, *options):
    out = pathlib.Path(tempfile.mkdtemp(dir=folder))
    subprocess.run([outlay, "budget", folder / "roofs.geojson", "-o", out, "--overwrite",
                    "-q", "--wind-speed", "90mph", "--start", str(START), "--years",
                    str(YEARS), "--cap", f"{cap / 100:.2f}", "--steps", str(NODES),
                    "--write", "plan,budget", *options], check=True,
                   stderr=subprocess.DEVNULL)
    return out


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("outlay")
    parser.add_argument("--count", type=int, default=4)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--verbose", action="store_true")
    args = parser.parse_args()
    folder = pathlib.Path(tempfile.mkdtemp(prefix="witness-"))
    bad = most = kept = anew = roofs = 0
    for i in range(args.count):
        rng = random.Random(1000 * args.seed + i)
        layer = portfolio(rng)
        (folder / "roofs.geojson").write_text(json.dumps(layer), encoding="utf-8")
        worth = sum(f["properties"]["cost"] for f in layer["features"])
        first = budget(args.outlay, folder, round(100 * worth * rng.uniform(0.04, 0.1)))
        adopted = Plan(first)
        cap = max(adopted.costs)
        for moved in (round(cap * 1.001), round(cap * 0.999)):
            again = ["--adopted", first / "plan.csv"]
            plan = Plan(budget(args.outlay, folder, moved, *again))
            least = Plan(budget(args.outlay, folder, moved, *again,
                                "--change-price", "1000"))
            without = Plan(budget(args.outlay, folder, moved))
            wrong = check_changes(plan, adopted, least, moved)
            counts = [len(p.changed(adopted)) for p in (plan, least, without)]
            if args.verbose:
                print(f"portfolio {i}, cap {moved / cap:.3f}: {plan.planned} planned, "
                      "changed {}, at least {}, without the adopted plan {}".format(
                          *counts))
            bad += bool(wrong)
            most = max(most, counts[0] / plan.planned)
            kept, anew, roofs = kept + counts[0], anew + counts[2], roofs + plan.planned
            for text in wrong:
                print(f"portfolio {i}, cap {moved / cap:.3f}: {text}")
    print(f"stability by tables: {2 * args.count} plans, of {roofs} planned roofs {kept} "
          f"changed ({anew} without the adopted plan), at most {100 * most:.1f} % of a "
          f"plan, {bad} disagree")
    return 1 if bad or anew <= kept else 0


if __name__ == "__main__":
    sys.exit(main())
