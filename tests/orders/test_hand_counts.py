#!/usr/bin/env python3
"""Holds orders.csv against testdata/hand-counts/hand-counts.md, line by line.

    tests/orders/test_hand_counts.py --outlay PROGRAM --counts FOLDER

Each heading of the document that has a table is an order, each row of the table a line of
it, called by its use, or by its item where several have the same use: pieces and packs
must be the same, lengths and areas the same to 0.05 %; a line that isn't counted says so.
Neither side may have a line more. Exit status 1 if anything disagrees.
"""

import argparse
import csv
import pathlib
import re
import subprocess
import sys
import tempfile

TRACED = 0.0005     # what 1 mm of each coordinate may do, relatively
COMMAND = re.compile(r"^    outlay ((?:.*\\\n)*.*)$", re.MULTILINE)


def counts_of(text):
    """(order, use or item) to (needed, packs), as texts."""
    counts, order = {}, None
    for line in text.splitlines():
        if line.startswith("## "):
            order = line[3:].strip()
        cells = [cell.strip() for cell in line.strip("|").split("|")]
        if order and line.startswith("|") and len(cells) == 4 and \
                cells[0] not in ("use", "---"):
            assert (order, cells[0]) not in counts, cells
            counts[order, cells[0]] = (cells[2], cells[3])
    return counts


def check(row, needed, packs):
    if not needed:
        return "not counted" in row["note"] and row["packs"] == ""
    found = float(row["needed"] or "nan")
    slack = 0 if row["unit"] == "each" else TRACED * float(needed)
    return abs(found - float(needed)) <= slack and row["packs"] == packs


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--outlay", required=True)
    parser.add_argument("--counts", required=True, type=pathlib.Path)
    args = parser.parse_args()
    text = (args.counts / "hand-counts.md").read_text(encoding="utf-8")
    command = COMMAND.search(text)[1].replace("\\\n", " ").split()
    counts, bad = counts_of(text), 0
    with tempfile.TemporaryDirectory() as folder:
        out = pathlib.Path(folder) / "out"
        subprocess.run([args.outlay, *command, "-o", out, "-q",
                        "--write", "orders"], cwd=args.counts, check=False,
                       stderr=subprocess.DEVNULL)
        with open(out / "orders.csv", encoding="utf-8", newline="") as file:
            rows = list(csv.DictReader(file))
    for row in rows:
        name = row["item"] if (row["order"], row["item"]) in counts else row["use"]
        needed, packs = counts.pop((row["order"], name), (None, None))
        if needed is None or not check(row, needed, packs):
            bad += 1
            print(f"{row['order']}, {name}: needed {row['needed']}, packs "
                  f"{row['packs']}; by hand {needed}, {packs}")
    for order, use in counts:
        print(f"{order}, {use}: not in orders.csv")
    print(f"hand counts: {len(rows)} lines, {bad + len(counts)} disagree")
    return 1 if bad or counts or not rows else 0


if __name__ == "__main__":
    sys.exit(main())
