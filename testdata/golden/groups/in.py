"""Counts and areas of groups.geojson against summary.csv and totals.csv of the same folder."""

import csv
import json
import sys
from decimal import Decimal

folder = sys.argv[1]
groups = [feature["properties"] for feature in json.load(
    open(f"{folder}/groups.geojson"), parse_float=Decimal)["features"]]
roofs = list(csv.DictReader(open(f"{folder}/summary.csv")))
totals = {(row["quantity"], row["of"]): row["value"]
          for row in csv.DictReader(open(f"{folder}/totals.csv"))}
area = sum(Decimal(group["area_ft2"]) for group in groups)
count = sum(group["roofs"] for group in groups)
parts = sum(group[key] for group in groups for key in
            ("ranked_by_rating", "ranked_by_exposure", "without_result", "apart"))
listed = sum(Decimal(roof["area_ft2"]) for roof in roofs if roof["area_ft2"])
print("roofs", count, "are", parts, "and", len(roofs), "and", totals["roofs", "all"])
print("area", area, "is", listed, "and", totals["area_ft2", "all"])
