#!/usr/bin/python3
"""The demo's costs, worked out again from what is written.

    costs_by_hand.py OUTLAY

Reads materials.csv (what is ordered), items.csv (hours) and prices.csv, and works out
every part of every layout's cost in comparison.csv, to the cent. Packs are rounded roof
by roof and for the portfolio, so that the rows of the portfolio's packs, which the roofs'
goods give, are held against it too.
Then the same for 50 random roofs, some of which have a cost of their own: a column's, or
the rate of a table by the kind of the present roof. Exit status 1 if anything disagrees.
"""

import csv
import json
import math
import pathlib
import random
import subprocess
import sys
import tempfile

HERE = pathlib.Path(__file__).parent
DEMO = HERE.parent.parent / "testdata" / "demo"
DIRECT = ["material", "labour", "tear_off", "disposal", "mobilisation"]
SHARES = ["permit", "overhead", "profit", "contingency", "tax"]
SLACK = 0.05    # cents, of quantities printed with 6 decimals
GOODS = "goods" # lines of material, each of them rounded
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

    def roof_rate(self, kind):
        """For one ft2 of a roof of that kind, where the table has such rates."""
        rates = {row["item"]: float(row["price"]) for row in self.rows
                 if row["use"] == "roof"}
        return rates.get(kind, rates.get(""))

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
    parts = dict.fromkeys(DIRECT + ["permit"], 0.0) | {GOODS: []}
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
                parts[GOODS].append(prices.cost(line))
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
        if abs(cents(row, part) - value) > 0:
            wrong.append(f"{part} {cents(row, part)}, by hand {value} cents")
    return wrong


def check_material(row, goods):
    """Each line in whole cents; where it lies near a half, either way."""
    least, most = (sum(half_up(100 * value + slack) for value in goods)
                   for slack in (-SLACK, SLACK))
    found = cents(row, "material")
    return [] if least <= found <= most else [
        f"material {found}, by hand {least} to {most} cents"]


def pack_lines(prices, lines):
    """What whole packs of all roofs cost more than the roofs' own shares, by hand: lines
    that cost as much."""
    kinds = {}
    for line in lines:
        if line["use"] not in WORK and line["ordered"]:
            kinds.setdefault((line["use"], line["item"]), []).append(line)
    for same in kinds.values():
        ordered = sum(number(line["ordered"]) for line in same)
        holds = float(same[0]["pack_holds"])
        packs = math.ceil(ordered / holds - 1e-7)
        whole = dict(same[0], ordered=str(packs * holds))
        yield prices.cost(whole), [prices.cost(line) for line in same]


def check_packs(prices, row, lines):
    found, values = cents(row, "material"), list(pack_lines(prices, lines))
    wrong = check_shares(prices, row, 0)
    least, most = (sum(half_up(100 * whole + slack) -
                       sum(half_up(100 * share - slack) for share in shares)
                       for whole, shares in values) for slack in (-SLACK, SLACK))
    if not least <= found <= most:
        wrong.append(f"material {found}, by hand {least} to {most} cents")
    return wrong


def check(prices, row, lines, size):
    parts = sum_up(prices, lines, size)
    wrong = check_shares(prices, row, parts["permit"])
    wrong += check_material(row, parts[GOODS])
    for part in DIRECT[1:]:
        found, value = cents(row, part), 100 * parts[part]
        if abs(found - value) > 0.5 + SLACK:
            wrong.append(f"{part} {found}, by hand {value:.4f} cents")
    return wrong


def check_given(row, value):
    """A cost of the roof's own is its work; what a visit costs once comes on top."""
    wrong = [part for part in ("material", "tear_off", "disposal", "tax")
             if cents(row, part) != 0]
    parts = (*DIRECT, *SHARES, "given")
    if cents(row, "total") != sum(cents(row, part) for part in parts):
        wrong.append("the total isn't the sum of the parts")
    if abs(cents(row, "given") - 100 * value) > 0.5 + SLACK:
        wrong.append(f"given {cents(row, 'given')}, by hand {100 * value:.4f} cents")
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


def run(outlay, folder, source, *options):
    subprocess.run([outlay, "takeoff", *source, "-o", folder, "-q", "--methods", "all",
                    "--write", "materials,comparison", *options],
                   check=False, stderr=subprocess.DEVNULL)
    lines = {}
    for line in read(folder / "materials.csv"):
        lines.setdefault((line["roof_id"], line["method"]), []).append(line)
    return lines, read(folder / "comparison.csv")


def own_cost(prices, row, roof):
    """What price the row should bear, and its cost where that isn't built up."""
    if row["own"] and roof.get("cost"):
        return "given", roof["cost"]
    if row["own"] and roof.get("cost_per_ft2"):
        return "given", roof["cost_per_ft2"] * float(row["area_ft2"])
    rate = prices.roof_rate(roof.get("existing", ""))
    if row["own"] and rate:
        return "by kind", rate * float(row["area_ft2"])
    return "built up", None


def check_run(prices, lines, comparison, roofs, name):
    """@return how many costs were checked, how many disagree"""
    sizes = size_factors(prices, comparison)
    checked = bad = 0
    for row in comparison:
        if row["of"] == "portfolio" or not row["total_usd"]:
            continue
        basis, cost = own_cost(prices, row, roofs.get(row["roof_id"], {}))
        size = sizes.get(row["building"] or row["roof_id"], 1)
        if row["of"] == "packs":
            wrong = check_packs(prices, row, [
                line for (_, method), of in lines.items() for line in of
                if method == row["method"]])
        elif cost:
            wrong = check_given(row, cost)
        else:
            wrong = check(prices, row, lines[row["roof_id"], row["method"]], size)
        if row["of"] == "roof" and row["price"] != basis:
            wrong.append(f"the price is {row['price']}, expected {basis}")
        checked += 1
        bad += bool(wrong)
        for text in wrong:
            print(f"{name} {row['roof_id']} {row['method']}: {text}")
    return checked, bad


def random_roof(draw, number):
    width, depth = draw.uniform(40, 400), draw.uniform(40, 300)     # ft
    x, y = -90 + number % 10 * 0.01, 40 + number // 10 * 0.01
    east, north = width / 280200, depth / 364300
    cut_x, cut_y = draw.uniform(0.3, 0.7) * east, draw.uniform(0.3, 0.7) * north
    ring = [(0, 0), (east, 0), (east, cut_y), (cut_x, cut_y), (cut_x, north), (0, north)]
    roof = {"roof_id": f"r{number}", "height_ft": draw.randint(10, 58),
            "covers": draw.randint(0, 2), "wet_share": draw.choice([0, 0, 0.1]),
            "deck": draw.choice(["steel", "wood", "concrete"]),
            "existing": draw.choice(["smooth", "gravel-surfaced", "single-ply"]),
            "stack_in": draw.choice([2, 3.5, 4, 5.2]), "drains": draw.randint(0, 6),
            "penetrations": draw.randint(0, 20),
            "method": draw.choice(["seam-fastened", "adhered-fastened"])}
    if number % 5 == 1:
        roof["cost"] = round(draw.uniform(50000, 900000), 2)
    if number % 5 == 2:
        roof["cost_per_ft2"] = round(draw.uniform(8, 22), 2)
    points = [[round(x + a, 8), round(y + b, 8)] for a, b in ring + ring[:1]]
    return {"type": "Feature", "properties": roof,
            "geometry": {"type": "Polygon", "coordinates": [points]}}


def check_random(outlay, folder, prices):
    """50 roofs, and again with rates by kind in the table."""
    draw = random.Random(10)
    features = [random_roof(draw, number) for number in range(50)]
    layer = folder / "random.geojson"
    layer.write_text(json.dumps({"type": "FeatureCollection", "features": features}),
                     encoding="utf-8")
    roofs = {f["properties"]["roof_id"]: f["properties"] for f in features}
    source = [layer, "--wind-speed", "115mph"]
    table = folder / "tables" / "prices.csv"
    counts = [check_run(prices, *run(outlay, folder / "r1", source, "--prices", table),
                        roofs, "random")]
    with open(table, "a", encoding="utf-8") as file:
        file.write("roof,smooth,11.35,ft2,usd,2026,7,invented value\n")
    counts.append(check_run(Prices(folder / "tables"),
                            *run(outlay, folder / "r2", source, "--prices", table),
                            roofs, "random by kind"))
    return counts


def main():
    outlay = sys.argv[1]
    folder = pathlib.Path(tempfile.mkdtemp(prefix="witness-"))
    subprocess.run([outlay, "catalog", "-o", folder / "tables"], check=True)
    prices = Prices(folder / "tables")
    demo = [DEMO / "demo.geojson", "--job", DEMO / "demo.yaml"]
    counts = []
    for order_by in ("roof", "portfolio"):
        lines, comparison = run(outlay, folder / order_by, demo, "--order-by", order_by)
        counts.append(check_run(prices, lines, comparison, {}, order_by))
    counts += check_random(outlay, folder, prices)
    checked, bad = (sum(column) for column in zip(*counts))
    print(f"costs by hand: {checked} costs, {bad} disagree")
    return 1 if bad or checked < 600 else 0


if __name__ == "__main__":
    sys.exit(main())
