#!/usr/bin/python3
"""Strips of convex and rectilinear outlines against CGAL's straight skeleton.

    insets_by_skeleton.py OUTLAY [--count N] [--seed S]

Where no mitre is cut, the roof within d of its edges is what the faces of the straight
skeleton hold within d of their own edge. The skeleton comes from SFCGAL (Debian:
libsfcgal1), so the insets share no code with outlay's or with GEOS. The definition by
brute force (definition.py), the other witness, is held against it as well.
"""

import argparse
import ctypes
import json
import pathlib
import subprocess
import sys
import tempfile

import numpy as np
from shapely import wkt
from shapely.geometry import LineString, MultiPoint, Polygon
from shapely.ops import polygonize, unary_union

from definition import covered_area, strip_pieces
from outlines import any_height, rectilinear, turned
from plane import Plane, feature

SHARE = 1e-6      # of the outline's area
PRINTED = 0.0051  # m2; half a unit of area_m2 as written


class Skeleton:
    """The few calls of SFCGAL's C interface that this takes."""

    def __init__(self):
        lib = self.lib = ctypes.CDLL("libSFCGAL.so.1")
        lib.sfcgal_io_read_wkt.restype = ctypes.c_void_p
        lib.sfcgal_io_read_wkt.argtypes = [ctypes.c_char_p, ctypes.c_size_t]
        lib.sfcgal_geometry_straight_skeleton.restype = ctypes.c_void_p
        lib.sfcgal_geometry_straight_skeleton.argtypes = [ctypes.c_void_p]
        lib.sfcgal_geometry_as_text_decim.argtypes = [
            ctypes.c_void_p, ctypes.c_int, ctypes.POINTER(ctypes.c_void_p),
            ctypes.POINTER(ctypes.c_size_t)]
        lib.sfcgal_geometry_delete.argtypes = [ctypes.c_void_p]
        lib.sfcgal_init()

    def lines(self, polygon):
        text = wkt.dumps(polygon, rounding_precision=17).encode()
        shape = self.lib.sfcgal_io_read_wkt(text, len(text))
        bones = self.lib.sfcgal_geometry_straight_skeleton(shape)
        out, size = ctypes.c_void_p(), ctypes.c_size_t()
        self.lib.sfcgal_geometry_as_text_decim(bones, 12, ctypes.byref(out),
                                               ctypes.byref(size))
        self.lib.sfcgal_geometry_delete(bones)
        self.lib.sfcgal_geometry_delete(shape)
        text = ctypes.string_at(out, size.value).decode()
        return wkt.loads(text)


def within_depth(polygon, bones, depths):
    """Area within each depth of the edges, from the skeleton's faces; None where the
    faces aren't one a wall."""
    rings = [polygon.exterior] + list(polygon.interiors)
    walls = [LineString(pair) for r in rings for pair in zip(r.coords, r.coords[1:])]
    faces = [f for f in polygonize(unary_union([*walls, *bones.geoms]))
             if polygon.contains(f.representative_point())]
    if len(faces) != len(walls):
        return None
    total = np.zeros(len(depths))
    for wall in walls:
        middle = wall.interpolate(0.5, normalized=True)
        face = min(faces, key=middle.distance)
        total += [near_area(face, wall, depth) for depth in depths]
    return total


def near_area(face, wall, depth):
    """Area of a face within depth of its wall's line: a convex cut by hand."""
    (ax, ay), (bx, by) = wall.coords
    length = np.hypot(bx - ax, by - ay)
    normal = np.array((-(by - ay), bx - ax)) / length
    points = np.array(face.exterior.coords)
    off = (points - (ax, ay)) @ normal
    off = off if off.sum() > 0 else -off
    return piece_area(points, off, depth)


def piece_area(points, off, depth):
    """Area of the part with off <= depth: Sutherland and Hodgman against one line. A
    face meets each line square to its wall once, so the cut may run along itself but
    encloses the right area."""
    kept = []
    for p, q, u, v in zip(points[:-1], points[1:], off[:-1], off[1:]):
        if u <= depth:
            kept.append(p)
        if (u < depth < v) or (v < depth < u):
            kept.append(p + (q - p) * (depth - u) / (v - u))
    if len(kept) < 3:
        return 0.0
    x, y = np.array(kept).T
    return abs(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2


def convex(rng):
    cloud = rng.uniform(-1, 1, (rng.integers(5, 16), 2)) * rng.uniform(8, 60, 2)
    hull = np.array(MultiPoint(cloud).convex_hull.exterior.coords)[:-1]
    return turned(hull[::-1], rng.uniform(0, 6.3))


def cases(seed, count):
    """number -> (rings, height), height low enough for 0.6 h and 1.2 h strips."""
    rng = np.random.default_rng(seed)
    out = {}
    for number in range(count):
        rings = [convex(rng)] if number % 2 else rectilinear(rng).rings
        # Six decimals, so that the skeleton's text gives the vertices back exactly.
        out[number] = ([r.round(6) for r in rings], min(any_height(rng), 18.0))
    return out


def told_areas(outlay, features):
    """roof id -> zone -> m2."""
    folder = pathlib.Path(tempfile.mkdtemp(prefix="witness-"))
    source, result = folder / "in.geojson", folder / "out.geojson"
    source.write_text(json.dumps({"type": "FeatureCollection", "features": features}))
    done = subprocess.run([outlay, "zones", source, "-o", result, "--units", "si",
                           "--wind-speed", "115mph"], capture_output=True, text=True)
    if done.returncode != 0:
        sys.exit(f"outlay zones: exit status {done.returncode}\n{done.stderr}")
    given = {}
    for item in json.loads(result.read_text())["features"]:
        known = item["properties"]
        given.setdefault(known["roof_id"], {})[known["zone"]] = known["area_m2"]
    return given


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("outlay")
    parser.add_argument("--count", type=int, default=200)
    parser.add_argument("--seed", type=int, default=3)
    chosen = parser.parse_args()
    work, skeleton = cases(chosen.seed, chosen.count), Skeleton()
    rng = np.random.default_rng(chosen.seed)
    features = []
    for number, (rings, height) in work.items():
        rings = sorted(rings, key=lambda r: -abs(Polygon(r).area))
        plane = Plane(rng.uniform(-179, 179), rng.uniform(-75, 80))
        features.append(feature(plane, [rings], {"id": str(number), "height_m": height}))
    given = told_areas(chosen.outlay, features)
    bad, unused = 0, 0
    for number, (rings, height) in work.items():
        rings = sorted(rings, key=lambda r: -abs(Polygon(r).area))
        polygon = Polygon(rings[0], rings[1:])
        expected = within_depth(polygon, skeleton.lines(polygon),
                                (0.6 * height, 1.2 * height))
        if expected is None:
            unused += 1
            continue
        areas = given.get(str(number), {})
        strip = areas.get("corner", 0) + areas.get("perimeter", 0)
        found = (strip, strip + areas.get("field", 0))
        for share, a, b in zip((0.6, 1.2), found, expected):
            if abs(a - b) > SHARE * polygon.area + 3 * PRINTED:
                bad += 1
                print(f"level {number} (h {height} m, {sum(map(len, rings))} vertices): "
                      f"within {share} h {a:.4f} m2 instead of {b:.4f}")
            force = covered_area(rings, strip_pieces(rings, share * height))
            if abs(force - b) > 1e-9 * polygon.area:
                bad += 1
                print(f"level {number}: the witnesses disagree within {share} h: brute "
                      f"force {force:.6f} m2, skeleton {b:.6f}")
    print(f"insets by skeleton: {len(work)} outlines, {bad} disagree, {unused} left out "
          "since their skeleton's faces don't close")
    return 1 if bad or unused > len(work) // 10 else 0


if __name__ == "__main__":
    sys.exit(main())
