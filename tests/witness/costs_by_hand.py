#!/usr/bin/python3
"""The demo's costs, worked out again from what is written.

    costs_by_hand.py OUTLAY

Reads materials.csv (what is ordered), items.csv (hours) and prices.csv, and works out
every part of every layout's cost in comparison.csv: goods and crews to within what the
rounding of printed quantities allows, shares of them and totals to the cent. Packs are
rounded roof by roof and for the portfolio, so that the portfolio's own rows are held
against it too. Exit status 1 if anything disagrees.
"""

import csv
import math
import pathlib
import subprocess
import sys
import tempfile

HERE = pathlib.Path(__file__).parent
DEMO = HERE.parent.parent / "testdata" / "demo"
DIRECT = ["material", "labour", "tear_off", "disposal", "mobilisation"]
SHEETS = ("field sheet", "half sheet")
WORK = ("side-lap weld", "end-lap weld", "tear-off", "debris, weight",
        "debris, loose volume", "set-up", "crew hours")


def read(path):
    with open(path, encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def number(text):
    return float(text) if text else 0.0


class Prices:
    def __init__(self, folder):
        self.rows = read(folder / "prices.csv")
        self.items = read(folder / "items.csv")

    def rate(self, use):
        return next(float(row["price"]) for row in self.rows if row["use"] == use)

    def row(self, use, item):
        """The row of that use whose item is the longest start of the name."""
        fits = [row for row in self.rows if row["use"] == use and
                (item == row["item"] or row["item"] == "" or
                 item.startswith((row["item"] + ",", row["item"] + " ")))]
        return max(fits, key=lambda row: len(row["item"]))

    def cost(self, line):
        """Of one line of materials.csv, by what is ordered."""
        row = self.row(line["use"], line["item"])
        ordered, price = number(line["ordered"]), float(row["price"])
        if row["unit"] == "pack":
            return ordered / float(line["pack_holds"]) * price
        if row["unit"] == "board-foot":
            inches = float(line["item"].split(" x ")[-1].split(" in")[0])
            return ordered * inches * price
        if row["unit"] == "ton":
            return ordered / 2000 * price
        return ordered * price

    def hours(self, line):
        """Of one line, before the effect of height."""
        same = [row for row in self.items if row["use"] == line["use"]]
        named = [row for row in same if row["item"] == line["item"]]
        rows = named or same
        return number(line["laid"]) * float(rows[0]["hours_per_100"]) / 100 if rows else 0

    def crew(self, use):
        return float(self.row("crew hours", use)["price"])


def sum_up(prices, lines, size):
    """Parts before rounding, in units of the currency."""
    parts = dict.fromkeys(DIRECT + ["permit"], 0.0)
    hours = {line["use"] + line["item"]: prices.hours(line) for line in lines}
    total = sum(number(line["laid"]) for line in lines if line["use"] == "crew hours")
    scale = total / sum(hours.values()) if total else 0
    for line in lines:
        use = line["use"]
        work = hours[use + line["item"]] * scale * prices.crew(use) * size
        if use == "tear-off":
            parts["tear_off"] += work + prices.cost(line)
        elif use in ("debris, weight", "debris, loose volume"):
            parts["disposal"] += prices.cost(line)
        elif use == "set-up":
            parts["mobilisation"] += number(line["laid"]) * prices.rate("mobilisation")
            parts["permit"] += number(line["laid"]) * prices.rate("permit")
            parts["labour"] += work
        elif use != "crew hours":
            parts["labour"] += work
            if use not in WORK:
                parts["material"] += prices.cost(line)
    return parts


def cents(row, part):
    return round(number(row[part + "_usd"]) * 100)


def half_up(value):
    return math.floor(value + 0.5)


def check_shares(prices, row, fixed_permit):
    """Parts that are shares of the printed others, to the cent."""
    wrong = []
    running = sum(cents(row, part) for part in DIRECT)
    expected = {"permit": round(fixed_permit * 100) +
                          half_up(prices.rate("permit fee") / 100 * running)}
    running += expected["permit"]
    for part in ("overhead", "profit", "contingency"):
        expected[part] = half_up(prices.rate(part) / 100 * running)
        running += expected[part]
    expected["tax"] = half_up(prices.rate("sales tax") / 100 * cents(row, "material"))
    expected["total"] = running + expected["tax"]
    for part, value in expected.items():
        if abs(cents(row, part) - value) > 1:   # half cents, one way or the other
            wrong.append(f"{part} {cents(row, part)}, by hand {value} cents")
    return wrong


def check(prices, row, lines, size):
    parts = sum_up(prices, lines, size)
    wrong = check_shares(prices, row, parts["permit"])
    for part in DIRECT:
        found, value = cents(row, part) / 100, parts[part]
        if abs(found - value) > 3 + 0.0015 * value:
            wrong.append(f"{part} {found:.2f}, by hand {value:.2f}")
    return wrong


def size_factors(prices, comparison):
    """By building: less for each doubling of its roofs' area, three at the most."""
    areas = {}
    for row in comparison:
        if row["of"] == "roof" and row["own"]:
            name = row["building"] or row["roof_id"]
            areas[name] = areas.get(name, 0) + float(row["area_ft2"])
    least = 1 - prices.rate("size effect") / 100
    reference = prices.rate("area without size effect")
    return {name: least ** max(-3, min(3, math.log2(area / reference)))
            for name, area in areas.items()}


def run(outlay, folder, order_by):
    subprocess.run([outlay, "takeoff", DEMO / "demo.geojson", "--job", DEMO / "demo.yaml",
                    "-o", folder, "-q", "--methods", "all", "--order-by", order_by,
                    "--write", "materials,comparison"],
                   check=False, stderr=subprocess.DEVNULL)
    lines = {}
    for line in read(folder / "materials.csv"):
        lines.setdefault((line["roof_id"], line["method"]), []).append(line)
    return lines, read(folder / "comparison.csv")


def main():
    outlay = sys.argv[1]
    folder = pathlib.Path(tempfile.mkdtemp(prefix="witness-"))
    subprocess.run([outlay, "catalog", "-o", folder / "tables"], check=True)
    prices = Prices(folder / "tables")
    checked = bad = 0
    for order_by in ("roof", "portfolio"):
        lines, comparison = run(outlay, folder / order_by, order_by)
        sizes = size_factors(prices, comparison)
        for row in comparison:
            if row["of"] == "portfolio" or not row["total_usd"]:
                continue
            size = sizes.get(row["building"] or row["roof_id"], 1)
            wrong = check(prices, row, lines[row["roof_id"], row["method"]], size)
            checked += 1
            bad += bool(wrong)
            for text in wrong:
                print(f"{order_by} {row['roof_id']} {row['method']}: {text}")
    print(f"costs by hand: {checked} costs, {bad} disagree")
    return 1 if bad or checked < 200 else 0


if __name__ == "__main__":
    sys.exit(main())
