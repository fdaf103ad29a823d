#!/usr/bin/env python3
"""Zonal statistics against a computation that shares no code with outlay: every pixel's
centre is tested against the outline by crossings, in numpy.

    test_pixels.py OUTLAY
"""

import json
import subprocess
import sys
import tempfile

import numpy as np
import site_made as site

OUTLINES = 500
PIXEL = 0.5
COLUMNS = 25
SPACING = 60
STATISTICS = {"median": np.median, "p90": lambda v: np.percentile(v, 90),
              "mean": np.mean, "min": np.min, "max": np.max}


def star(rng, middle, least, most):
    """A ring of many corners around its middle."""
    count = rng.integers(5, 14)
    angles = (np.arange(count) + rng.uniform(0, 0.8, count)) * 2 * np.pi / count
    reach = rng.uniform(least, most, angles.size)
    return np.column_stack([middle[0] + reach * np.cos(angles),
                            middle[1] + reach * np.sin(angles)])


def outlines_of(rng):
    for number in range(OUTLINES):
        row, column = divmod(number, COLUMNS)
        middle = (site.WEST + (column + 0.5) * SPACING,
                  site.NORTH - (row + 0.5) * SPACING)
        rings = [star(rng, middle, 8, 25)]
        if number % 3 == 0:
            rings.append(star(rng, middle, 1, 4))
        yield rings


def closed(ring):
    return np.vstack([ring, ring[:1]])


def write_outlines(path, outlines):
    way = site.to_lonlat()
    features = []
    for number, rings in enumerate(outlines):
        lonlat = [[list(way.TransformPoint(*map(float, p))[:2]) for p in closed(ring)]
                  for ring in rings]
        features.append({"type": "Feature", "properties": {"roof_id": str(number)},
                         "geometry": {"type": "Polygon", "coordinates": lonlat}})
    with open(path, "w", encoding="utf-8") as out:
        json.dump({"type": "FeatureCollection", "features": features}, out)


def inside(rings, x, y):
    odd = np.zeros(x.shape, bool)
    for ring in rings:
        for a, b in zip(ring, np.roll(ring, -1, 0)):
            crosses = (a[1] <= y) != (b[1] <= y)
            with np.errstate(divide="ignore", invalid="ignore"):
                at = a[0] + (y - a[1]) * (b[0] - a[0]) / (b[1] - a[1])
            odd ^= crosses & (at <= x)
    return odd


def values_of(raster, rings):
    rows, columns = raster.shape
    x = site.WEST + (np.arange(columns) + 0.5) * PIXEL
    y = site.NORTH - (np.arange(rows) + 0.5) * PIXEL
    near_x = abs(x - rings[0][:, 0].mean()) < SPACING
    near_y = abs(y - rings[0][:, 1].mean()) < SPACING
    part = raster[np.ix_(near_y, near_x)]
    grid_x, grid_y = np.meshgrid(x[near_x], y[near_y])
    values = part[inside(rings, grid_x, grid_y)].astype(float)
    return values[values != site.NODATA]


def sampled(outlay, folder, word):
    subprocess.run([outlay, "run", f"{folder}/roofs.geojson", "--units", "si", "--height",
                    "6 m", "--write", "roofs", "--overwrite", "--quiet", "--sample",
                    f"elevation={folder}/noise.tif@{word}:m", "-o", f"{folder}/out"],
                   check=True, stderr=subprocess.DEVNULL)
    with open(f"{folder}/out/roofs.geojson", encoding="utf-8") as file:
        return {f["properties"]["roof_id"]: f["properties"]
                for f in json.load(file)["features"]}


def check(outlay, folder, outlines, raster):
    wrong = 0
    for word, statistic in STATISTICS.items():
        found = sampled(outlay, folder, word)
        for number, rings in enumerate(outlines):
            values = values_of(raster, rings)
            properties = found[str(number)]
            same = (properties["sampled_elevation_count"] == values.size and
                    abs(properties["sampled_elevation_m"] - statistic(values)) < 6e-4)
            spread = np.percentile(values, 90) - np.percentile(values, 10)
            same &= abs(properties["sampled_elevation_spread_m"] - spread) < 6e-4
            if not same:
                wrong += 1
                print(f"{word} of outline {number}: {properties}, {values.size} pixels, "
                      f"{statistic(values)}")
    return wrong


def main():
    rng = np.random.default_rng(11)
    outlines = list(outlines_of(rng))
    size = (OUTLINES // COLUMNS * SPACING * 2, COLUMNS * SPACING * 2)
    raster = rng.uniform(0, 100, size).astype(np.float32)
    raster[rng.random(size) < 0.1] = site.NODATA
    with tempfile.TemporaryDirectory() as folder:
        site.write(f"{folder}/noise.tif", raster, PIXEL)
        write_outlines(f"{folder}/roofs.geojson", outlines)
        wrong = check(sys.argv[1], folder, outlines, raster)
    print(f"{OUTLINES} outlines, {len(STATISTICS)} statistics: {wrong} wrong")
    sys.exit(1 if wrong else 0)


if __name__ == "__main__":
    main()
