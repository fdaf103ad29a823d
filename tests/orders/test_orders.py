#!/usr/bin/env python3
"""Adds orders.csv of the demo up against materials.csv and comparison.csv.

    tests/orders/test_orders.py --outlay PROGRAM --demo FOLDER

By building, by roof, for the portfolio and by visit of a plan, in both unit systems:

  * no amount is negative, no pack is empty, needed + spare + rounding = ordered = packs x
    pack_holds, and packs x unit_price = line_total; what isn't counted says so;
  * what the roofs of an order take, by materials.csv, adds up to each of its lines, and
    every one of their goods is in it;
  * the lines of an order add up, to the cent, to the material of its roofs in
    comparison.csv.

Exit status 1 if anything disagrees.
"""

import argparse
import csv
import math
import pathlib
import subprocess
import sys
import tempfile
from collections import defaultdict

WORK = {"side-lap weld", "end-lap weld", "tear-off", "debris, weight",
        "debris, loose volume", "set-up", "crew hours"}
PRINTED = 1e-6      # half the last digit, and one more for luck
PLAN = ["--start", "2027", "--cap", "1500000"]


def read(path):
    with open(path, encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def number(text):
    return float(text) if text else math.nan


def near(a, b, count=1):
    return abs(a - b) <= PRINTED * (count + abs(b) * 1e-6) + 1e-9 * abs(b)


def cents(text):
    return round(float(text) * 100) if text else 0


# ---- One line ------------------------------------------------------------------------

def check_line(row):
    values = {name: number(row[name]) for name in
              ("needed", "spare", "rounding", "ordered", "pack_holds", "packs",
               "unit_price_usd", "line_total_usd")}
    if math.isnan(values["ordered"]):
        empty = all(row[name] == "" for name in
                    ("needed", "spare", "rounding", "packs", "line_total_usd"))
        said = empty and "not counted" in row["note"]
        return [] if said else ["neither amount nor note"]
    wrong = [f"{name} is negative or not there" for name, value in values.items()
             if not value >= 0]
    if not values["packs"] >= 1 or values["packs"] % 1:
        wrong.append(f"{row['packs']} packs")
    if not near(values["needed"] + values["spare"] + values["rounding"],
                values["ordered"], 4):
        wrong.append("needed, spare and rounding aren't ordered")
    if not near(values["packs"] * values["pack_holds"], values["ordered"],
                values["packs"] + 1):
        wrong.append("packs don't hold what is ordered")
    # boards and rolls are cut roof by roof, and leave rests there
    if row["use"] not in ("board", "field sheet", "half sheet") and \
            not values["rounding"] < values["pack_holds"]:
        wrong.append("a pack more than needed")
    total = values["packs"] * values["unit_price_usd"]
    if abs(total - values["line_total_usd"]) > 0.0051:
        wrong.append("packs x unit price aren't the line's total")
    return wrong


def check_share(row):
    """One line of materials.csv."""
    wrong = [f"{name} is negative" for name in ("net", "laps", "laid", "cuts", "spare",
                                                "rounding", "ordered", "packs")
             if number(row[name]) < 0]
    if not row["roof_id"]:
        wrong.append("no roof")
    if row["pack"] and row["ordered"] and not near(
            number(row["packs"]) * number(row["pack_holds"]), number(row["ordered"]),
            number(row["packs"]) + number(row["pack_holds"]) + 1):
        wrong.append("packs don't hold what is ordered")
    return wrong


# ---- Whole orders --------------------------------------------------------------------

def own_goods(folder):
    """Lines of materials.csv by roof, of its own method and counted or not."""
    own = {(row["roof_id"], row["method"]) for row in read(folder / "comparison.csv")
           if row["own"]}
    goods = defaultdict(list)
    for row in read(folder / "materials.csv"):
        if row["use"] and row["use"] not in WORK and \
                (row["roof_id"], row["method"]) in own:
            goods[row["roof_id"]].append(row)
    return goods


def check_order(lines, goods):
    """@param goods  of its roofs, as own_goods() has them"""
    sums, wrong = defaultdict(lambda: [0, 0.0, 0.0, 0]), []
    for row in goods:
        entry = sums[row["method"], row["use"], row["item"]]
        entry[0] += 1
        if row["ordered"]:
            entry[1] += number(row["laid"]) + number(row["cuts"])
            entry[2] += number(row["ordered"]) - number(row["rounding"])
            entry[3] += 1
    for row in lines:
        name = f"{row['method']} {row['use']}: "
        wrong += [name + text for text in check_line(row)]
        roofs, needed, ordered, counted = sums.pop(
            (row["method"], row["use"], row["item"]), (0, 0, 0, 0))
        if int(row["roofs"]) != roofs:
            wrong.append(f"{name}{row['roofs']} roofs, materials.csv has {roofs}")
        if counted and not near(needed, number(row["needed"]), 2 * roofs):
            wrong.append(f"{name}needed {row['needed']}, its roofs {needed:.6f}")
        before = number(row["needed"]) + number(row["spare"])
        if counted and not near(ordered, before, 4 * roofs):
            wrong.append(f"{name}before rounding {before:.6f}, its roofs {ordered:.6f}")
        if (counted < roofs) != ("not counted" in row["note"]):
            wrong.append(f"{name}{counted} of {roofs} counted, note: {row['note']}")
    return wrong + [f"{' '.join(key)} isn't in it" for key in sums]


def material(folder):
    """Cents of each roof by its own method, and of the portfolio's packs (None)."""
    paid = defaultdict(int)
    for row in read(folder / "comparison.csv"):
        if row["own"] or row["of"] == "packs":
            paid[row["roof_id"] or None] += cents(row["material_usd"])
    return paid


def members(folder, by, demo):
    """By the name of an order its roofs, and whether these are all of the building's
    that are laid out."""
    rows = [row for row in read(folder / "comparison.csv") if row["own"]]
    orders = defaultdict(list)
    if by == "visit":
        built_up = {row["name"] for row in read(demo / "actions.csv")
                    if row["cost"] == "built-up"}
        by_building = defaultdict(set)
        for row in rows:
            by_building[row["building"]].add(row["roof_id"])
        for row in read(folder / "plan.csv"):
            if row["year"] and row["action"] in built_up:
                orders[row["building"] + " " + row["year"]].append(row["roof_id"])
        return {name: (roofs, set(roofs) in by_building.values())
                for name, roofs in orders.items()}
    for row in rows:
        orders[{"building": row["building"], "roof": row["roof_id"],
                "portfolio": "portfolio"}[by]].append(row["roof_id"])
    return {name: (roofs, True) for name, roofs in orders.items()}


def check_run(folder, by, demo):
    wrong = [f"materials.csv, {row['roof_id']} {row['use']}: {text}"
             for row in read(folder / "materials.csv") for text in check_share(row)]
    orders = defaultdict(list)
    for row in read(folder / "orders.csv"):
        orders[row["order"]].append(row)
    goods, paid = own_goods(folder), material(folder)
    wanted = members(folder, by, demo)
    if set(wanted) != set(orders):
        wrong.append(f"orders {sorted(set(wanted) ^ set(orders))} stand on one side only")
    compared = 0
    for name in set(wanted) & set(orders):
        roofs, whole = wanted[name]
        texts = check_order(orders[name], [row for roof in roofs for row in goods[roof]])
        total = sum(cents(row["line_total_usd"]) for row in orders[name])
        due = sum(paid[roof] for roof in roofs) + (paid[None] if by == "portfolio" else 0)
        compared += whole
        if whole and total != due:
            texts.append(f"lines {total} cents, the material of its roofs {due}")
        wrong += [f"order {name}: {text}" for text in texts]
    if not compared:
        wrong.append("no order's cost was compared")
    return len(orders), sum(map(len, orders.values())), compared, wrong


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--outlay", required=True)
    parser.add_argument("--demo", required=True, type=pathlib.Path)
    args = parser.parse_args()
    bad = 0
    with tempfile.TemporaryDirectory() as name:
        for by in ("building", "roof", "portfolio", "visit"):
            for units in ("us", "si"):
                folder = pathlib.Path(name) / f"{by}-{units}"
                planned = PLAN + ["--actions", args.demo / "actions.csv"]
                subprocess.run(
                    [args.outlay, "run", args.demo / "demo.geojson", "--job",
                     args.demo / "demo.yaml", "-o", folder, "-q", "--units", units,
                     "--order-by", by, "--write", "materials,orders,comparison" +
                     ",plan" * (by == "visit"), *(planned if by == "visit" else [])],
                    check=False, stderr=subprocess.DEVNULL)
                orders, lines, compared, wrong = check_run(folder, by, args.demo)
                print(f"by {by}, {units}: {orders} orders, {lines} lines, {compared} "
                      f"totals to the cent, {len(wrong)} disagree")
                print("".join(f"  {text}\n" for text in wrong[:20]), end="")
                bad += len(wrong)
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
