#!/usr/bin/python3
"""Tapered insulation against a raster of random outlines.

    taper_by_raster.py OUTLAY [--count N] [--seed S] [--only N] [--keep DIR]

Distances are counted in steps over pixels of 0.15 m, sideways and diagonally alike, which
is the Chebyshev distance around whatever isn't roof; crickets are added pixel by pixel.
Volume, mean thickness, 1 / mean(U) and the area of each panel's letter are
compared with summary.csv and materials.csv. No code is shared with outlay, and no
geometry: the raster knows no planes, no cells and no visibility.
Exit status 1 if anything disagrees.
"""

import argparse
import csv
import json
import math
import pathlib
import subprocess
import sys
import tempfile

import numpy as np
from shapely.geometry import Point, Polygon, box
from shapely.geometry.polygon import orient
from shapely.ops import unary_union
from shapely.vectorized import contains

from plane import Plane, feature

PIXEL = 0.15        # m
APART = 150         # m between the middles of roofs
TOWN = (-97.0, 39.0)
FOOT, INCH = 0.3048, 0.0254
R_PER_INCH, RSI = 5.7, 0.1761101838
# slope in inches a foot: letters in their order, thin edge and rise of one, in
SEQUENCES = {1 / 8: ("ABCD", 0.5, 0.5), 3 / 16: ("EF", 0.5, 0.75),
             1 / 4: ("GH", 0.5, 1.0), 1 / 2: ("L", 0.5, 2.0)}
PANEL = 4 * FOOT


def arguments():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("outlay")
    parser.add_argument("--count", type=int, default=100, help="roofs")
    parser.add_argument("--seed", type=int, default=5)
    parser.add_argument("--only", type=int, help="one roof by its number")
    parser.add_argument("--keep", type=pathlib.Path, help="folder for the files")
    return parser.parse_args()


# ---- the roofs, in the axes of their boards ---------

def blocks(rng):
    return unary_union([box(x, y, x + rng.uniform(6, 18), y + rng.uniform(6, 18))
                        for x, y in rng.uniform(0, 18, (rng.integers(1, 6), 2))])


def star(rng):
    angles = np.sort(rng.uniform(0, 2 * math.pi, rng.integers(5, 14)))
    radii = rng.uniform(7, 16, len(angles))
    return Polygon(np.column_stack((18 + radii * np.cos(angles),
                                    18 + radii * np.sin(angles)))).buffer(0)


def wide_enough(shape):
    """Without spikes in which no pixel's middle lies."""
    return shape.buffer(-0.5, join_style=2).buffer(0.5, join_style=2)


def clear(shape):
    """No neck and no slot that pixels would close or bridge."""
    shut = shape.buffer(0.5, join_style=2).buffer(-0.5, join_style=2)
    return all(shape.symmetric_difference(other).area < 0.01
               for other in (shut, wide_enough(shape)))


def with_holes(rng, shape):
    for x, y in rng.uniform(3, 30, (rng.integers(0, 4), 2)):
        hole = box(x, y, x + rng.uniform(1, 6), y + rng.uniform(1, 6))
        left = wide_enough(shape.difference(hole))
        if left.geom_type == "Polygon":
            shape = left
    return shape


class Roof:
    def __init__(self, number, seed):
        rng = np.random.default_rng((seed, number))
        self.id = str(number)
        self.two_way = number % 3 == 2
        self.slope = list(SEQUENCES)[number % 4 if not self.two_way else (0, 2)[
            number % 2]]
        self.bearing = math.radians(rng.uniform(0, 180))
        self.at = np.array((number % 10 - 4.5, number // 10 - 4.5)) * APART
        self.shape = None
        while self.shape is None or self.shape.area < 60 or not clear(self.shape):
            made = blocks(rng) if self.two_way or rng.random() < 0.5 else star(rng)
            made = wide_enough(with_holes(rng, made))
            if made.geom_type != "Polygon":
                made = max(made.geoms, key=lambda part: part.area)
            self.shape = orient(made)
        self.raster(rng)

    def raster(self, rng):
        left, low, right, high = self.shape.bounds
        self.xs = np.arange(left + PIXEL / 2, right, PIXEL)
        self.ys = np.arange(low + PIXEL / 2, high, PIXEL)
        self.mask = contains(self.shape, *np.meshgrid(self.xs, self.ys))
        rows, columns = np.nonzero(self.mask)
        if self.two_way:
            row = rng.choice(rows)
            columns = columns[rows == row]
            picked = rng.choice(columns, min(len(columns), rng.integers(2, 5)),
                                replace=False)
            self.drains = [(row, column) for column in sorted(picked)]
        else:
            picked = rng.choice(len(rows), rng.integers(1, 5), replace=False)
            self.drains = [(rows[k], columns[k]) for k in picked]

    def frame(self, x, y):
        c, s = math.cos(self.bearing), math.sin(self.bearing)
        x, y = x - 18, y - 18
        return self.at + np.array((x * c - y * s, x * s + y * c))

    def rings(self):
        """As traced, off by 0.1 um to 1 mm, so that levels nearly meet."""
        rng = np.random.default_rng(int(self.id))
        off = 10.0 ** -rng.uniform(3, 7)
        return [np.array([self.frame(*p) + rng.uniform(-off, off, 2)
                          for p in ring.coords[:-1]])
                for ring in (self.shape.exterior, *self.shape.interiors)]

    def properties(self):
        degrees = (90 - math.degrees(self.bearing)) % 360
        return {"roof_id": self.id, "height_m": 6, "deck": "steel",
                "deck_bearing": degrees, "stack_m": 0, "covers": 0,
                "method": "seam-fastened", "taper": self.slope / 12}


# ---- thickness by pixels ---------

def grown(area):
    wide = np.pad(area, 1)
    return sum(wide[1 + i:wide.shape[0] - 1 + i, 1 + j:wide.shape[1] - 1 + j]
               for i in (-1, 0, 1) for j in (-1, 0, 1)) > 0


def steps_from(mask, seeds):
    """Pixels to the nearest seed, through the mask; infinite where none is reached."""
    steps = np.full(mask.shape, np.inf)
    reached = seeds & mask
    steps[reached] = 0
    for count in range(1, 4 * sum(mask.shape)):
        front = grown(reached) & mask & ~reached
        if not front.any():
            break
        steps[front] = count
        reached |= front
    return steps


def chords(roof):
    """Runs of pixels on the line of drains that hold a drain: (row, begin, end)."""
    row = roof.drains[0][0]
    inside = np.concatenate(([False], roof.mask[row], [False]))
    edges = np.nonzero(inside[1:] != inside[:-1])[0]
    for begin, end in zip(edges[::2], edges[1::2]):
        columns = [c for _, c in roof.drains if begin <= c < end]
        if columns:
            yield row, begin, end, columns


def crickets(roof, steps):
    """What crickets add, in pixels, where the line itself is straight below."""
    extra = np.zeros(roof.mask.shape)
    for row, begin, end, columns in chords(roof):
        for x in range(begin, end):
            along = min(abs(x - c) for c in columns)
            for way in (1, -1):
                y = row
                while 0 <= y < len(roof.ys) and roof.mask[y, x]:
                    if steps[y, x] == abs(y - row):
                        extra[y, x] = max(along - 2 * abs(y - row), 0)
                    y += way
    return extra


def expected(roof):
    seeds = np.zeros(roof.mask.shape, bool)
    if roof.two_way:
        for row, begin, end, _ in chords(roof):
            seeds[row, begin:end] = True
    else:
        for row, column in roof.drains:
            seeds[row, column] = True
    steps = steps_from(roof.mask, seeds)
    letters, thin, rise = SEQUENCES[roof.slope]
    slope = roof.slope / 12
    extra = crickets(roof, steps) if roof.two_way else 0
    reached = np.isfinite(steps)
    thickness = (thin * INCH + slope * PIXEL * (steps + extra))[reached]
    row = (steps[reached] * PIXEL / PANEL).astype(int) % len(letters)
    area = roof.shape.area * reached.sum() / roof.mask.sum()
    return {
        "mean": thickness.mean(), "area": area,
        "volume": thickness.mean() * area,
        "inverse": 1 / (1 / thickness).mean(),
        "letters": {letter: (row == k).mean() * area for k, letter in enumerate(letters)},
        "unreached": (roof.mask & ~reached).sum() * PIXEL ** 2,
    }


# ---- comparing ---------

def run(outlay, roofs, folder):
    plane = Plane(*TOWN)
    features = [feature(plane, [roof.rings()], roof.properties()) for roof in roofs]
    points = []
    for roof in roofs:
        places = [roof.frame(roof.xs[c], roof.ys[r]) for r, c in roof.drains]
        for lon, lat in plane.lonlat(places):
            points.append({"type": "Feature", "properties": {"kind": "drain"},
                           "geometry": {"type": "Point", "coordinates": [lon, lat]}})
    for name, rows in (("roofs", features), ("drains", points)):
        (folder / f"{name}.geojson").write_text(
            json.dumps({"type": "FeatureCollection", "features": rows}))
    for model in ("four-way", "two-way"):
        subprocess.run([outlay, "takeoff", folder / "roofs.geojson", "--fixtures",
                        folder / "drains.geojson", "--taper-model", model, "--units",
                        "si", "--wind-speed", "45", "--write", "summary,materials", "-o",
                        folder / model, "-q"], check=True, capture_output=True)


def rows_of(path):
    with open(path, encoding="utf-8-sig") as file:
        return list(csv.DictReader(file))


def found(folder, model):
    roofs = {}
    for row in rows_of(folder / model / "summary.csv"):
        if row["roof_id"]:
            roofs[row["roof_id"]] = {
                "mean": float(row["taper_mean_mm"]) / 1000,
                "volume": float(row["taper_m3"]),
                "inverse": float(row["insulation_effective_rsi"]) /
                (R_PER_INCH * RSI / INCH), "letters": {}}
    for row in rows_of(folder / model / "materials.csv"):
        if row["use"] == "tapered panel" and row["roof_id"]:
            letter = row["item"].split()[2]
            roofs[row["roof_id"]]["letters"][letter] = float(row["net"])
    return roofs


def differences(roof, have, want):
    share = PIXEL / math.sqrt(want["area"])     # of the area, along the boundary
    for key, most in (("mean", 0.01 + share), ("volume", 0.01 + share),
                      ("inverse", 0.015 + share)):
        if abs(have[key] / want[key] - 1) > most:
            yield f"{key} {have[key]:.4f}, by raster {want[key]:.4f}"
    for letter, area in want["letters"].items():
        if abs(have["letters"].get(letter, 0) - area) > (0.01 + 2 * share) * want["area"]:
            yield (f"letter {letter} {have['letters'].get(letter, 0):.1f}, by raster "
                   f"{area:.1f}")
    if want["unreached"] > 4 * PIXEL ** 2:
        yield f"{want['unreached']:.1f} m2 not reached by raster"


def main():
    options = arguments()
    numbers = [options.only] if options.only is not None else range(options.count)
    roofs = [Roof(number, options.seed) for number in numbers]
    with tempfile.TemporaryDirectory() as temporary:
        folder = options.keep or pathlib.Path(temporary)
        folder.mkdir(exist_ok=True)
        run(pathlib.Path(options.outlay).resolve(), roofs, folder)
        have = {model: found(folder, model) for model in ("four-way", "two-way")}
    wrong = worst = 0
    for roof in roofs:
        model = "two-way" if roof.two_way else "four-way"
        got, want = have[model][roof.id], expected(roof)
        worst = max(worst, abs(got["volume"] / want["volume"] - 1))
        for text in differences(roof, got, want):
            print(f"roof {roof.id}, {model}: {text}")
            wrong += 1
    print(f"taper by raster: {len(roofs)} roofs, {wrong} differences, volumes within "
          f"{100 * worst:.2f} %")
    return wrong > 0


if __name__ == "__main__":
    sys.exit(main())
