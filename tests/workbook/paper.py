#!/usr/bin/python3
"""Prints the workbook of 300 invented roofs: the demo's again and again, each time
further east, with ids and buildings of their own.

    tests/workbook/paper.py OUTLAY

Needs LibreOffice Calc and pdftotext. Exit status: 77 skipped since one is missing.
"""

import csv
import json
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

DEMO = pathlib.Path(__file__).resolve().parent.parent.parent / "testdata" / "demo"
ROOFS, PAGES = 300, 30
SKIPPED = 77


def moved(coordinates, east):
    if isinstance(coordinates[0], (int, float)):
        return [coordinates[0] + east, *coordinates[1:]]
    return [moved(each, east) for each in coordinates]


def portfolio():
    """ROOFS features; a copy stands 0.1 degrees east of the one before."""
    demo = json.loads((DEMO / "demo.geojson").read_text(encoding="utf-8"))
    features = []
    while len(features) < ROOFS:
        copy, at = divmod(len(features), len(demo["features"]))
        of = demo["features"][at]
        own = of["properties"]
        features.append({
            "type": "Feature",
            "properties": {**own, "id": f"{copy}-{own['id']}",
                           "building": f"{own['building']} {copy}"},
            "geometry": {**of["geometry"], "coordinates":
                         moved(of["geometry"]["coordinates"], 0.1 * copy)}})
    return {**demo, "features": features}


def printed(outlay, folder):
    """Runs outlay and prints the workbook; its pages, as text."""
    (folder / "roofs.geojson").write_text(json.dumps(portfolio()), encoding="utf-8")
    done = subprocess.run(
        [outlay, "run", "roofs.geojson", "--job", DEMO / "demo.yaml", "--actions",
         DEMO / "actions.csv", "-o", "out", "-q", "--methods", "all", "--start", "2027",
         "--cap", "12000000", "--gap", "2", "--write", "plan,scenarios,workbook"],
        cwd=folder, stderr=subprocess.PIPE, text=True, check=False)
    if done.returncode > 1:
        sys.exit(f"outlay ended with {done.returncode}: {done.stderr}")
    subprocess.run(
        ["libreoffice", f"-env:UserInstallation={(folder / 'profile').as_uri()}",
         "--headless", "--convert-to", "pdf", "out/workbook.xlsx"], cwd=folder,
        env={**os.environ, "TMPDIR": str(folder)}, stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL, check=True)
    text = subprocess.run(["pdftotext", "-layout", "workbook.pdf", "-"], cwd=folder,
                          stdout=subprocess.PIPE, text=True, check=True).stdout
    return text.split("\f")[:-1]


def faults(pages, plan):
    """What is wrong with the print."""
    text = "\n".join(pages)
    if len(pages) >= PAGES:
        yield f"{len(pages)} pages, {PAGES} are too many"
    for row in plan:
        line = re.search(rf"^\s*{row['year']}\s+{row['roof_id']}\s.*$", text,
                         re.MULTILINE)
        if not line or f"{float(row['nominal_cost_usd']):,.2f}" not in line.group():
            yield f"roof {row['roof_id']} of {row['year']} isn't printed with its cost"
    for number, page in enumerate(pages, 1):
        if "Planning figures, not a design" not in page:
            yield f"page {number} has no caution"
    for sheet in ("scenarios", "visits", "overview"):
        if not re.search(rf"\b{sheet}\b", text):
            yield f"no sheet {sheet}"
    if re.search(r"#(VALUE|REF|NAME|DIV/0)|###|Err:", text):
        yield "a cell doesn't show its value"
    if "materials, the first 45 of " not in text:
        yield "the materials don't say that they go on"


def main():
    lacking = [name for name in ("libreoffice", "pdftotext") if not shutil.which(name)]
    if lacking:
        print(f"workbook: SKIPPED, no {', '.join(lacking)}", file=sys.stderr)
        sys.exit(SKIPPED)
    with tempfile.TemporaryDirectory(prefix="outlay-paper-") as name:
        folder = pathlib.Path(name)
        pages = printed(pathlib.Path(sys.argv[1]).resolve(), folder)
        if len(sys.argv) > 2:
            shutil.copy(folder / "workbook.pdf", sys.argv[2])
        with open(folder / "out" / "plan.csv", newline="", encoding="utf-8") as file:
            plan = [row for row in csv.DictReader(file) if row["year"]]
    found = list(faults(pages, plan))
    print(f"workbook: {ROOFS} roofs, {len(plan)} of them planned, on {len(pages)} pages")
    for fault in found[:20]:
        print(f"workbook: {fault}", file=sys.stderr)
    sys.exit(1 if found or len(plan) < ROOFS / 2 else 0)


if __name__ == "__main__":
    main()
