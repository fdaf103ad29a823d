#!/usr/bin/env python3
"""What nobody gave and changes an amount by more than 1 % is said to be assumed.

    test_assumed.py OUTLAY OUTLINES

Each field below is taken from three roofs of the demo and then given in turn, each of
its values: where any amount of materials.csv changes by more than 1 %, the run without
the field must name the assumption (summary.csv, orders.csv, the plan sheet, the page),
and the run with it must not.
"""

import csv
import json
import pathlib
import subprocess
import sys
import tempfile

ROOFS = ("0101", "0302", "0602")
# field of the demo, values, assumption that stands for it
FIELDS = [
    ("stack_in", (2, 6), "stack"),
    ("existing", ("single-ply", "gravel-surfaced"), "cover"),
    ("edge", ("parapet", "gutter"), "edge"),
    ("deck_bearing", (31, 121), "rib-direction"),
    ("parapet_thickness_in", (6, 16), "parapet-thickness"),
    ("deck", ("wood",), "deck"),
]
# What a case takes for granted besides, by field.
BESIDE = {"edge": {"parapet_ft": None},
          "existing": {"covers": 1, "wet_share": 0.6},
          "parapet_thickness_in": {"edge": "parapet", "parapet_ft": 2},
          "deck_bearing": {"deck": "steel"}}
NOT_ASKED = {"method": "seam-fastened"}


def features(source, field, value):
    layer = json.loads(pathlib.Path(source).read_text())
    kept = [f for f in layer["features"] if f["properties"]["id"] in ROOFS]
    for feature in kept:
        feature["properties"].update(BESIDE.get(field, {}), **NOT_ASKED, building=None)
        feature["properties"].pop(field, None)
        if value is not None:
            feature["properties"][field] = value
    return json.dumps(dict(layer, features=kept))


def run(outlay, source, folder, field, value):
    """Writes and reads all tables of a run."""
    outlines, out = folder / "roofs.geojson", folder / "out"
    outlines.write_text(features(source, field, value))
    done = subprocess.run([outlay, "run", outlines, "-o", out, "--overwrite", "-q",
                           "--wind-speed", "115mph", "--climate-zone", "0", "--write",
                           "materials,orders,summary,plans,page"],
                          capture_output=True, text=True)
    if done.returncode not in (0, 1):
        sys.exit(f"{field}={value}: {done.stderr}")
    return out


def rows(path):
    with open(path, newline="", encoding="utf-8-sig") as table:
        return list(csv.DictReader(table))


def amounts(out):
    found = {}
    for row in rows(out / "materials.csv"):
        if row["net"] not in ("", None):
            key = row["roof_id"], row["use"]
            found[key] = found.get(key, 0) + float(row["net"])
    return found


def changed(a, b):
    """Roofs of which an amount differs by more than 1 %."""
    return {key[0] for key in a.keys() | b.keys()
            if abs(a.get(key, 0) - b.get(key, 0)) > 0.01 * max(a.get(key, 0),
                                                              b.get(key, 0))}


def assumed(out):
    return {row["roof_id"]: row["assumed"].split("; ")
            for row in rows(out / "summary.csv") if row["roof_id"]}


def words_of(out):
    text = subprocess.run(["pdftotext", "-layout", out / "plans.pdf", "-"],
                          capture_output=True, text=True, check=True).stdout
    return {"sheet": text, "page": (out / "report.html").read_text(),
            "orders": (out / "orders.csv").read_text()}


def main():
    outlay, source = sys.argv[1:]
    wrong, tried = [], 0
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        for field, values, assumption in FIELDS:
            out = run(outlay, source, folder, field, None)
            without, named, places = amounts(out), assumed(out), words_of(out)
            moved = set()
            for value in values:
                out = run(outlay, source, folder, field, value)
                moved |= changed(without, amounts(out))
                wrong += [f"{field}={value}: roof {roof} still assumes {assumption}"
                          for roof, names in assumed(out).items() if assumption in names]
            wrong += [f"{field}: changes roof {roof} by over 1 %, which assumes "
                      f"{named[roof]}" for roof in moved if assumption not in named[roof]]
            if not moved:
                wrong.append(f"{field}: no amount changes, so that nothing is tried")
            wrong += [f"{field}: the {where} doesn't say {assumption}"
                      for where, text in places.items() if assumption not in text]
            tried += len(moved)
    print("\n".join(wrong) or
          f"{tried} roofs changed by what was assumed, and said so")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
