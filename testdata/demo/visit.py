#!/usr/bin/env python3
"""Fills in the survey of the demo as an invented visit would: findings.csv.

    outlay survey demo.geojson --job demo.yaml -o visit
    ./visit.py visit/survey.csv > findings.csv

Everything is invented: who went, when, and what they found. Same bytes each time.
"""

import csv
import json
import os
import random
import sys

HERE = os.path.dirname(os.path.abspath(__file__))
COLUMNS = ["roof_id", "place", "kind", "value", "unit", "who", "when", "note"]
NOTE = "invented"

# building: who went, when, mean and spread of its pull-out tests in lbf, share of the
# tests that were made
VISITS = {
    "Rail Street Warehouse": ("R. Invented", "2026-11-17", 640, 35, 1),
    "Grain Street Depot": ("R. Invented", "2026-11-18", 330, 60, 1),
    "Cold Store": ("T. Invented", "2026-11-18", 820, 40, 1),
    "Distribution Centre": ("T. Invented", "2026-11-19", 610, 40, 0.5),
    "Arts Centre": ("R. Invented", "2026-11-20", 700, 30, 1),
    "Bus Yard": ("T. Invented", "2026-11-20", 600, 50, 0.2),
}


def parapet(roof):
    """Height of the parapet, in: none at a metal edge."""
    if roof["edge"] == "metal":
        return 0
    return round(12 * (roof["parapet_ft"] or 0))


def read(roof, kind):
    """What somebody reads on the roof; None: nobody looked."""
    values = {
        "stack": roof["stack_in"],
        "covers": roof["covers"],
        "existing": roof["existing"],
        "wet": "no",
        "wet_share": None if roof["wet_share"] is None else round(100 * roof["wet_share"]),
        "height": roof["height_ft"],
        "edge": roof["edge"] or "metal",
        "parapet": parapet(roof),
        "parapet_thickness": 8 if parapet(roof) else None,
        "deck": roof["deck"],
        "deck_bearing": roof["deck_bearing"],
        "drains": roof["drains"],
        "penetrations": roof["penetrations"],
        "exposure": roof["exposure"],
        "enclosure": roof["enclosure"],
        "topographic": 1,
        "holes": roof["holes"],
    }
    return values.get(kind)


def value_of(row, roof, chance):
    """The value of a row of the form; None: it stays empty."""
    _, _, mean, spread, share = VISITS[row["building"]]
    if row["kind"] == "pullout":
        load = round(chance.gauss(mean, spread) / 5) * 5
        return load if chance.random() < share else None
    return read(roof, row["kind"])


def main():
    with open(os.path.join(HERE, "demo.geojson"), encoding="utf-8") as file:
        roofs = {f["properties"]["id"]: f["properties"] for f in json.load(file)["features"]}
    out = csv.writer(sys.stdout, lineterminator="\n")
    out.writerow(COLUMNS)
    with open(sys.argv[1], encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            if row["building"] not in VISITS:
                continue
            chance = random.Random(row["roof_id"] + row["place"] + row["kind"])
            value = value_of(row, roofs[row["roof_id"]], chance)
            if value is not None:
                who, when = VISITS[row["building"]][:2]
                out.writerow([row["roof_id"], row["place"], row["kind"], value,
                              row["unit"], who, when, NOTE])


if __name__ == "__main__":
    main()
