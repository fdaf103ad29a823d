#!/usr/bin/env python3
"""Zonal statistics against a computation that shares no code with outlay: every pixel's
centre is tested against the outline by crossings, in numpy. On a raster north up, on one
that is turned, and on one in another coordinate system, whose metres aren't those of the
ground; ground in a ring around the outline as well.

    test_pixels.py OUTLAY
"""

import json
import subprocess
import sys
import tempfile

import numpy as np
import site_made as site
from osgeo import osr

OUTLINES = 500
COLUMNS = 25
SPACING = 60
STATISTICS = {"median": np.median, "p90": lambda v: np.percentile(v, 90),
              "mean": np.mean, "min": np.min, "max": np.max}
EDGE, RING = 1, 6  # m, as the manual says
WITHIN = 6e-4      # m: values are written in millimetres
RISE = 100         # m, of the surface over the terrain
RING_OTHER = 0.01  # share of ground values that may differ by a pixel at the ring's edge


class Grid:
    """A raster of random values over the site."""

    def __init__(self, name, epsg, corner, column, row, size):
        self.name, self.epsg, self.corner = name, epsg, np.array(corner)
        self.axes = np.array([column, row]).T  # way of a column, of a row
        self.size = size
        self.way = transformation(site.EPSG, epsg)

    def fill(self, rng):
        self.values = rng.uniform(0, 100, self.size).astype(np.float32)
        self.values[rng.random(self.size) < 0.1] = site.NODATA

    def write(self, path, rise):
        (a, b), (c, d) = self.axes
        values = np.where(self.values == site.NODATA, site.NODATA, self.values + rise)
        site.write(path, values, (self.corner[0], a, b, self.corner[1], c, d),
                   self.epsg)

    def ring(self, points):
        return np.array([self.way.TransformPoint(*map(float, p))[:2] for p in points])

    def near(self, ring):
        """Centres and values of the pixels within 10 m or so of a ring."""
        pixels = np.linalg.solve(self.axes, (ring - self.corner).T)
        reach = 10 / np.hypot(*self.axes[:, 0]) * 1.5
        low = np.maximum(np.floor(pixels.min(1) - reach), 0).astype(int)
        high = np.ceil(pixels.max(1) + reach).astype(int)
        values = self.values[low[1]:high[1], low[0]:high[0]].astype(float)
        column, row = np.meshgrid(np.arange(values.shape[1]) + low[0] + 0.5,
                                  np.arange(values.shape[0]) + low[1] + 0.5)
        x, y = (self.corner[i] + self.axes[i, 0] * column + self.axes[i, 1] * row
                for i in (0, 1))
        values[values == site.NODATA] = np.nan
        return x, y, values


def transformation(source, target):
    systems = []
    for epsg in (source, target):
        systems.append(osr.SpatialReference())
        systems[-1].ImportFromEPSG(epsg)
        systems[-1].SetAxisMappingStrategy(osr.OAMS_TRADITIONAL_GIS_ORDER)
    return osr.CoordinateTransformation(*systems)


def grids():
    south = OUTLINES // COLUMNS * SPACING
    east = COLUMNS * SPACING
    turned = 0.6 * np.array([[np.cos(0.35), np.sin(0.35)], [np.sin(0.35), -np.cos(0.35)]])
    yield Grid("north up", site.EPSG, (site.WEST, site.NORTH), (0.5, 0), (0, -0.5),
               (2 * south, 2 * east))
    yield Grid("turned", site.EPSG, (site.WEST - 500, site.NORTH + 100), *turned,
               (int(1.7 * (south + east / 2)), int(2.5 * east)))
    corner = transformation(site.EPSG, 3857).TransformPoint(site.WEST, site.NORTH)
    yield Grid("other system", 3857, (corner[0] - 50, corner[1] + 50), (0.7, 0),
               (0, -0.7), (int(south * 2), int(east * 2)))


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


def edges(rings):
    for ring in rings:
        yield from zip(ring, np.roll(ring, -1, 0))


def inside(rings, x, y):
    odd = np.zeros(x.shape, bool)
    for a, b in edges(rings):
        crosses = (a[1] <= y) != (b[1] <= y)
        with np.errstate(divide="ignore", invalid="ignore"):
            at = a[0] + (y - a[1]) * (b[0] - a[0]) / (b[1] - a[1])
        odd ^= crosses & (at <= x)
    return odd


def distance(rings, x, y):
    """To the nearest edge."""
    least = np.full(x.shape, np.inf)
    for a, b in edges(rings):
        along = b - a
        share = ((x - a[0]) * along[0] + (y - a[1]) * along[1]) / (along @ along)
        share = np.clip(share, 0, 1)
        least = np.minimum(least, np.hypot(x - a[0] - share * along[0],
                                           y - a[1] - share * along[1]))
    return least


def ground_scale(grid, rings):
    """Metres on the ground of a unit of the map to the east and to the north, by the
    ellipsoid's radii (WGS 84)."""
    way = transformation(grid.epsg, 4326)
    x, y = rings[0].mean(0)
    lon, lat = way.TransformPoint(float(x), float(y))[:2]
    _, north = way.TransformPoint(float(x), float(y) + 100)[:2]
    east = way.TransformPoint(float(x) + 100, float(y))[0]
    sine2 = np.sin(np.radians(lat)) ** 2
    a, e2 = 6378137.0, 0.00669437999014
    meridian = a * (1 - e2) / (1 - e2 * sine2) ** 1.5
    parallel = a / np.sqrt(1 - e2 * sine2) * np.cos(np.radians(lat))
    return np.radians([(east - lon) * parallel, (north - lat) * meridian]) / 100


def sampled(outlay, folder, role, source):
    subprocess.run([outlay, "run", f"{folder}/roofs.geojson", "--units", "si",
                    *(["--height", "6 m"] if role != "height" else []), "--write",
                    "roofs", "--overwrite", "--quiet", "--sample", f"{role}={source}:m",
                    "-o", f"{folder}/out"], check=True, stderr=subprocess.DEVNULL)
    with open(f"{folder}/out/roofs.geojson", encoding="utf-8") as file:
        for feature in json.load(file)["features"]:
            p = feature["properties"]
            yield p["roof_id"], *(p.get(f"sampled_{role}_{what}")
                                  for what in ("m", "count", "spread_m"))


def values_inside(grid, outline):
    rings = [grid.ring(ring) for ring in outline]
    x, y, values = grid.near(rings[0])
    return values[inside(rings, x, y) & ~np.isnan(values)]


def check_inside(outlay, folder, outlines, grid, statistics):
    wrong = 0
    pixels = [values_inside(grid, outline) for outline in outlines]
    for word, statistic in statistics.items():
        for roof, value, count, spread in sampled(outlay, folder, "elevation",
                                                  f"{folder}/noise.tif@{word}"):
            values = pixels[int(roof)]
            wide = np.percentile(values, 90) - np.percentile(values, 10)
            same = (count == values.size and abs(value - statistic(values)) < WITHIN and
                    abs(spread - wide) < WITHIN)
            if not same:
                wrong += 1
                print(f"{grid.name}, {word} of outline {roof}: {value}, {count} pixels; "
                      f"{statistic(values)}, {values.size}")
    return wrong


def above_ring(grid, outline):
    """Height of an outline over the ground around it, and the pixels it is made of; what
    the ring's median is, a pixel more or less at its edges."""
    rings = [grid.ring(ring) for ring in outline]
    scale = ground_scale(grid, rings)
    x, y, values = grid.near(rings[0])
    within = inside(rings, x, y)
    off = distance([ring * scale for ring in rings], x * scale[0], y * scale[1])
    roof = values[within & (off >= EDGE) & ~np.isnan(values)]
    around = np.sort(values[~within & (off >= EDGE) & (off < RING) & ~np.isnan(values)])
    middle = (around.size - 1) / 2
    few = max(1, RING_OTHER * around.size)
    low, high = (around[int(round(middle + way * few))] for way in (-1, 1))
    level = np.median(roof) + RISE
    return roof, level - high, level - low


def check_ring(outlay, folder, outlines, grid):
    wrong = 0
    source = f"{folder}/surface.tif-{folder}/noise.tif@ring"
    for roof, value, count, _ in sampled(outlay, folder, "height", source):
        pixels, low, high = above_ring(grid, outlines[int(roof)])
        if not (abs(count - pixels.size) <= 1 and low <= value <= high):
            wrong += 1
            print(f"{grid.name}, height of outline {roof}: {value}, {count} pixels; "
                  f"{low} to {high}, {pixels.size}")
    return wrong


def main():
    rng = np.random.default_rng(11)
    outlines = list(outlines_of(rng))
    wrong = 0
    with tempfile.TemporaryDirectory() as folder:
        write_outlines(f"{folder}/roofs.geojson", outlines)
        statistics = STATISTICS
        for grid in grids():
            grid.fill(rng)
            grid.write(f"{folder}/noise.tif", 0)
            grid.write(f"{folder}/surface.tif", RISE)
            inner = check_inside(sys.argv[1], folder, outlines, grid, statistics)
            ring = check_ring(sys.argv[1], folder, outlines, grid)
            print(f"{grid.name}: {OUTLINES} outlines, {', '.join(statistics)}: "
                  f"{inner} wrong; ground in a ring: {ring} wrong")
            wrong += inner + ring
            statistics = {"median": np.median}  # the others differ in pixels alone
    sys.exit(1 if wrong else 0)


if __name__ == "__main__":
    main()
