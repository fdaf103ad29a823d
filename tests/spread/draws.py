#!/usr/bin/python3
"""Draws depend on seed, ids and numbers alone: the same bytes for 1, 2 and 4 threads, the
same rows of a roof in another order and in a part of the layer, and others with another
seed. Without spreads, P10 and P90 are what the inputs as given come to, ranks too.

    draws.py OUTLAY
"""

import csv
import json
import os
import random
import subprocess
import sys
import tempfile

ROOT = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
SPREADS = "height=2ft,wind_speed=5mph,trace=1ft,exposure=0.15,condition=8"
FILES = ("spread.csv", "drivers.csv", "ranking.csv")
ROOFS = 600


def layer(path, order):
    """Boxes of all sizes, some of them wings of one building of two heights."""
    chance = random.Random(7)
    features = []
    for i in range(ROOFS):
        x, y = -95 + 0.002 * (i % 30), 40 + 0.002 * (i // 30)
        w, h = chance.uniform(1e-4, 1.2e-3), chance.uniform(1e-4, 1.2e-3)
        properties = {"roof_id": f"r{i}", "height_ft": round(chance.uniform(10, 80), 1),
                      "condition": chance.randrange(20, 100)}
        if i % 7 == 0:
            properties["storeys"] = chance.randrange(1, 6)
            del properties["height_ft"]
        if i % 10 < 2:
            properties["building"] = f"b{i // 10}"
            x, w = -95 + 0.002 * (i // 10 * 10 % 30) + (i % 10) * 8e-4, 8e-4
        ring = [[x, y], [x + w, y], [x + w, y + h], [x, y + h], [x, y]]
        features.append({"type": "Feature", "properties": properties,
                         "geometry": {"type": "Polygon", "coordinates": [ring]}})
    with open(path, "w", encoding="utf-8") as file:
        json.dump({"type": "FeatureCollection",
                   "features": [features[i] for i in order]}, file)


def run(program, path, folder, *options):
    """The files' bytes."""
    done = subprocess.run(
        [program, "run", path, "-o", folder, "--wind-speed", "115mph", "-q", "--write",
         "spread,drivers,ranking", "--draws", "50", *options],
        capture_output=True, text=True, check=False)
    assert done.returncode in (0, 1), done.stderr
    read = {}
    for name in FILES:
        with open(os.path.join(folder, name), "rb") as file:
            read[name] = file.read()
    return read


def rows(data):
    """The rows of each roof, by id; those of all roofs by ''."""
    out = {}
    for row in csv.reader(data.decode().splitlines()[1:]):
        out.setdefault(row[0], []).append(row)
    return out


def test_threads(program, folder, path):
    """The same bytes, with indices too."""
    for options in (["--spread", SPREADS],
                    ["--spread", SPREADS, "--draws", "2000", "--where",
                     "roof_id < 'r12'"]):
        runs = [run(program, path, os.path.join(folder, f"{options[-1]}-{threads}"),
                    *options, "--threads", threads) for threads in ("1", "2", "4")]
        for other in runs[1:]:
            for name in FILES:
                assert other[name] == runs[0][name], f"{name} varies with threads"


def test_order_and_parts(program, folder, path):
    """A roof's own rows."""
    mixed = os.path.join(folder, "mixed.geojson")
    order = list(range(ROOFS))
    random.Random(11).shuffle(order)
    layer(mixed, order)
    whole = run(program, path, os.path.join(folder, "whole"), "--spread", SPREADS)
    turned = run(program, mixed, os.path.join(folder, "turned"), "--spread", SPREADS)
    part = run(program, path, os.path.join(folder, "part"), "--spread", SPREADS,
               "--where", "building IS NOT NULL OR roof_id > 'r4'")
    seeded = run(program, path, os.path.join(folder, "seeded"), "--spread", SPREADS,
                 "--seed", "2")
    for name in FILES[:2]:
        first = rows(whole[name])
        for other in (turned, part):
            for roof, row in rows(other[name]).items():
                assert roof == "" or row == first[roof], f"{name}: roof {roof} varies"
        assert len(rows(part[name])) < len(first)
        assert rows(seeded[name])["r1"] != first["r1"] or name == "drivers.csv"
    # all roofs: sums in another order, to the digits that are printed
    assert rows(turned["spread.csv"])[""] == rows(whole["spread.csv"])[""]
    assert sorted(turned["ranking.csv"].splitlines()) == sorted(
        whole["ranking.csv"].splitlines())


def test_columns(program, folder, path):
    """A column with its unit in its name is as good as the option."""
    with open(path, encoding="utf-8") as file:
        collection = json.load(file)
    for feature in collection["features"]:
        feature["properties"]["height_spread_ft"] = 2
        feature["properties"]["trace_spread_m"] = 0.3048
        feature["properties"]["wind_speed_spread_mph"] = 5
        feature["properties"]["exposure_spread"] = 0.15
        feature["properties"]["condition_spread"] = 8
    own = os.path.join(folder, "own.geojson")
    with open(own, "w", encoding="utf-8") as file:
        json.dump(collection, file)
    by_option = run(program, path, os.path.join(folder, "by-option"), "--spread", SPREADS)
    by_column = run(program, own, os.path.join(folder, "by-column"))
    for name in FILES:
        assert by_column[name] == by_option[name], name


def test_without_spread(program, folder, path):
    """P10 and P90 are the plain values, and ranks the plain ranks."""
    plain = run(program, path, os.path.join(folder, "plain"), "--spread",
                "storey_height=0ft")
    for table in rows(plain["spread.csv"]).values():
        for row in table:
            for at in range(6, 24, 3):
                assert row[at] == row[at + 1] == row[at + 2], row
    read = csv.DictReader(plain["ranking.csv"].decode().splitlines())
    count = 0
    for row in read:
        assert row["rank"] == row["rank_p10"] == row["rank_p90"], row
        if row["rank"]:
            first = "1.000" if int(row["rank"]) <= 10 else "0.000"
            assert row["share_among_first"] == first, row
            count += 1
    assert count > 500
    assert not [row for table in rows(plain["drivers.csv"]).values() for row in table]


def test_costs_without_spread(program, folder):
    """Of roofs that are laid out and priced: the total of the comparison, exactly."""
    out = os.path.join(folder, "demo")
    demo = os.path.join(ROOT, "testdata", "demo")
    subprocess.run([program, "run", os.path.join(demo, "demo.geojson"), "--job",
                    os.path.join(demo, "demo.yaml"), "-o", out, "-q", "--write",
                    "spread,comparison", "--draws", "3", "--spread",
                    "storey_height=0ft"], capture_output=True, check=False)
    with open(os.path.join(out, "comparison.csv"), encoding="utf-8") as file:
        totals = {(row["roof_id"], row["method"]): row["total_usd"]
                  for row in csv.DictReader(file)}
    with open(os.path.join(out, "spread.csv"), encoding="utf-8") as file:
        wholes = [row for row in csv.DictReader(file) if row["zone"] == "all"]
    priced = 0
    for row in wholes:
        assert row["total_usd"] == row["total_p10_usd"] == row["total_p90_usd"], row
        assert row["fasteners"] == row["fasteners_p10"] == row["fasteners_p90"], row
        if row["roof_id"] and row["total_usd"]:
            assert row["total_usd"] in [total for (roof, _), total in totals.items()
                                        if roof == row["roof_id"]], row
            priced += 1
    assert priced > 30


def main():
    program = sys.argv[1]
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "roofs.geojson")
        layer(path, range(ROOFS))
        test_threads(program, folder, path)
        test_order_and_parts(program, folder, path)
        test_columns(program, folder, path)
        test_without_spread(program, folder, path)
        test_costs_without_spread(program, folder)


if __name__ == "__main__":
    main()
