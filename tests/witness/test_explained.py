#!/usr/bin/env python3
"""The bill and the cost that `explain` prints are those of the tables.

    test_explained.py OUTLAY OUTLINES
"""

import csv
import math
import pathlib
import re
import subprocess
import sys
import tempfile

ROOFS = ("0101", "0302", "0602")
OPTIONS = ("--wind-speed", "115mph", "--order-by", "roof")
ITEM = re.compile(r"^   ([^(:]+?)(?: \(.*\))?: ([\d,.]+)(?: \+ .*?)?(?: = ([\d,.]+))? "
                  r"(each|ft2|ft|lb|yd3|h)(?:;.*)?$")
TAKING = re.compile(r"^   \w+: (.+?) ([\d,.]+)(?: ft2?)?, from ")


def number(text):
    return float(text.replace(",", ""))


def section(text, title):
    """Lines of the section whose heading begins so."""
    found = re.search(rf"^\d+\. {title}.*?\n(.*?)\n\n", text, re.DOTALL | re.MULTILINE)
    return found.group(1).split("\n") if found else []


def rows_of(path, roof):
    with open(path, newline="", encoding="utf-8-sig") as table:
        return [row for row in csv.DictReader(table) if row["roof_id"] == roof]


def same(printed, kept):
    """Whether a number is the other one, rounded as it is printed."""
    decimals = len(printed.partition(".")[2])
    return abs(number(printed) - float(kept)) <= 0.5001 * 10 ** -decimals


def check_bill(text, rows):
    printed = [found for line in section(text, "Bill") if (found := ITEM.match(line))]
    counted = [row for row in rows if row["net"]]
    wrong = [] if len(printed) == len(counted) else \
        [f"{len(printed)} items printed, {len(counted)} in the table"]
    for found, row in zip(printed, counted):
        use, net, ordered, _ = found.groups()
        if use != row["use"] or not same(net, row["net"]) or \
                not same(ordered or net, row["ordered"]):
            wrong.append(f"{found.group(0)!r} isn't {row['use']}, net {row['net']}, "
                         f"ordered {row['ordered']}")
    return wrong


def check_edges(text, rows):
    """What edges take adds up to the items that nothing else takes."""
    sums, wrong = {}, []
    for line in section(text, "Edges"):
        use, taken = TAKING.match(line).groups()
        sums[use] = sums.get(use, 0) + number(taken)
    sums.pop("T-joint patch", None)
    for row in rows:
        if row["use"] in sums and math.fabs(sums.pop(row["use"]) - float(row["net"])) > 1:
            wrong.append(f"{row['use']}: the edges' isn't the bill's")
    return wrong + [f"{use}: not in the bill" for use in sums]


def main():
    outlay, source = sys.argv[1:]
    wrong = []
    with tempfile.TemporaryDirectory() as name:
        out = pathlib.Path(name) / "out"
        subprocess.run([outlay, "takeoff", source, "-o", out, "-q", *OPTIONS, "--write",
                        "materials,comparison"], capture_output=True, check=False)
        for roof in ROOFS:
            text = subprocess.run([outlay, "explain", source, roof, *OPTIONS],
                                  capture_output=True, text=True, check=True).stdout
            rows = rows_of(out / "materials.csv", roof)
            found = check_bill(text, rows) + check_edges(text, rows)
            plates = re.search(r"together (\d+) fasteners in rows", text).group(1)
            if not any(r["use"] == "seam plate" and r["net"] == plates for r in rows):
                found.append(f"{plates} fasteners in rows aren't the seam plates")
            total = re.search(r"together ([\d,.]+) usd", text).group(1)
            if not any(same(total, r["total_usd"])
                       for r in rows_of(out / "comparison.csv", roof)):
                found.append(f"a cost of {total} isn't in the comparison")
            wrong += [f"roof {roof}: {what}" for what in found]
    print("\n".join(wrong) or f"{len(ROOFS)} roofs explained as in the tables")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
