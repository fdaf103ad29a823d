#!/usr/bin/python3
"""Zones of random outlines against their definition, sampled and integrated.

    zones_by_sampling.py OUTLAY [--count N] [--seed S] [--samples N] [--keep DIR]

Writes random levels around the world, has outlay zone them by each standard, and
compares: which zone holds each of thousands of points (those within 2 cm of a zone's
boundary don't count), every zone's area, and by shapely that zones are valid, apart
and together the outline. Exit status 1 if anything disagrees.
"""

import argparse
import json
import math
import pathlib
import subprocess
import sys
import tempfile

import numpy as np
from shapely.geometry import Polygon, shape
from shapely.ops import unary_union

from definition import ROLES, Zones, inside_rings
from outlines import JOG, levels
from plane import Plane, feature, polygons_of

STANDARDS = ("asce7-22", "asce7-16", "asce7-10")
NEAR = 0.02         # m; points this near to a boundary don't count
ROUNDING = 0.0008   # m; half a unit of the eighth decimal, both ways
AREA_SHARE = 1e-6   # of the level's area
PRINTED = 0.0051    # m2; half a unit of area_m2 as written
TOUCH = 0.001       # m; pieces of corner zones may overlap by this where they meet


def arguments():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("outlay")
    parser.add_argument("--count", type=int, default=120, help="levels")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--samples", type=int, default=1500, help="points per level")
    parser.add_argument("--only", type=int, help="one level by its number")
    parser.add_argument("--keep", type=pathlib.Path, help="folder for the files")
    return parser.parse_args()


def places(seed, count):
    """Planes from 75 S to 80 N, away from the antimeridian (its own test)."""
    rng = np.random.default_rng(seed + 1000)
    return [Plane(float(lon), float(lat)) for lon, lat in
            zip(rng.uniform(-179, 179, count), rng.uniform(-75, 80, count))]


def section_id(number, section):
    return f"{number}.{section}"


def write_input(path, chosen):
    features = []
    for number, level, plane in chosen:
        for section, rings in enumerate(level.sections):
            outer = [r for r in rings if signed_area(r) > 0]
            holes = [r for r in rings if signed_area(r) < 0]
            if len(outer) != 1:
                raise ValueError(f"level {number}: a section of {len(outer)} parts")
            features.append(feature(plane, [outer + holes], {
                "id": section_id(number, section), "building": str(number),
                "height_m": level.height}))
    path.write_text(json.dumps({"type": "FeatureCollection", "features": features}))


def signed_area(ring):
    x, y = ring.T
    return float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2


def run_outlay(outlay, source, result, standard):
    done = subprocess.run(
        [outlay, "zones", source, "-o", result, "--overwrite", "--standard", standard,
         "--units", "si", "--field", "building=building"], capture_output=True, text=True)
    if done.returncode != 0:
        sys.exit(f"outlay zones: exit status {done.returncode}\n{done.stderr}")
    found = {}
    for item in json.loads(result.read_text())["features"]:
        known = item["properties"]
        found.setdefault(known["roof_id"], {})[known["zone"]] = item
    return found


# ---- the three comparisons ---------

def compare_samples(zones, level, written, samples, rng):
    """written: role -> local polygons of all sections of the level."""
    low = np.min([r.min(axis=0) for r in level.rings], axis=0)
    high = np.max([r.max(axis=0) for r in level.rings], axis=0)
    points = rng.uniform(low, high, (samples, 2))
    near = NEAR + (JOG if level.smooth else 0)
    expected = zones.roles(points)
    sure = np.ones(len(points), bool)
    for angle in np.arange(8) * math.pi / 4:
        step = near * np.array((math.cos(angle), math.sin(angle)))
        sure &= zones.roles(points + step) == expected
    got = np.full(len(points), -1)
    for role, name in enumerate(ROLES):
        for polygon in written.get(name, ()):
            got[inside_rings([r[:-1] for r in polygon], points)] = role
    wrong = sure & (got != expected)
    if not wrong.any():
        return []
    first = points[wrong][0]
    return [f"{wrong.sum()} of {sure.sum()} points: at ({first[0]:.3f}, {first[1]:.3f}) "
            f"{name_of(got[wrong][0])} instead of {name_of(expected[wrong][0])}"]


def name_of(role):
    return "outside" if role < 0 else ROLES[role]


def compare_areas(zones, level, given):
    """given: role -> sum of area_m2 over the level's sections."""
    expected = zones.areas()
    whole = sum(expected)
    slack = AREA_SHARE * whole + PRINTED * len(level.sections) + TOUCH * zones.leg_edge
    if level.smooth:
        slack += JOG * sum(np.hypot(*(r - np.roll(r, 1, axis=0)).T).sum()
                           for r in level.rings)
    return [f"{name}: {given.get(name, 0):.4f} m2 instead of {expected[role]:.4f}"
            for role, name in enumerate(ROLES)
            if abs(given.get(name, 0) - expected[role]) > slack]


def compare_partition(outline, zones):
    """One roof: outline and zones as written, in degrees, scaled to about metres."""
    wrong = []
    scale = math.cos(math.radians(outline["coordinates"][0][0][1]))
    x0, y0 = outline["coordinates"][0][0]

    def metres(geometry):
        return [Polygon([((x - x0) * 111e3 * scale, (y - y0) * 111e3) for x, y in p[0]],
                        [[((x - x0) * 111e3 * scale, (y - y0) * 111e3) for x, y in h]
                         for h in p[1:]]) for p in polygons_of(geometry)]

    shapes = {}
    for name, item in zones.items():
        if not shape(item["geometry"]).is_valid:
            wrong.append(f"{name}: not valid as written")
            continue
        shapes[name] = unary_union(metres(item["geometry"]))
    roof = unary_union(metres(outline))
    slack = AREA_SHARE * roof.area + ROUNDING * roof.length
    names = sorted(shapes)
    for i, a in enumerate(names):
        for b in names[i + 1:]:
            shared = shapes[a].intersection(shapes[b]).area
            if shared > AREA_SHARE * roof.area:
                wrong.append(f"{a} and {b} share {shared:.5f} m2")
    amiss = unary_union(list(shapes.values())).symmetric_difference(roof).area
    if amiss > slack:
        wrong.append(f"zones and outline differ by {amiss:.5f} m2")
    return wrong


# ---- the run ---------

def check_level(number, level, plane, found, standard, outlines, samples):
    zones = Zones(standard, level.height, level.rings, level.openings, level.smooth)
    written, given, wrong = {}, {}, []
    for section in range(len(level.sections)):
        id_ = section_id(number, section)
        roles = found.get(id_, {})
        for name, item in roles.items():
            if name is None:
                wrong.append("not zoned")
                continue
            given[name] = given.get(name, 0) + item["properties"]["area_m2"]
            for polygon in polygons_of(item["geometry"]):
                written.setdefault(name, []).append([plane.local(r) for r in polygon])
        wrong += compare_partition(outlines[id_], roles)
    rng = np.random.default_rng(number)
    wrong += compare_samples(zones, level, written, samples, rng)
    return wrong + compare_areas(zones, level, given)


def main():
    chosen = arguments()
    folder = chosen.keep or pathlib.Path(tempfile.mkdtemp(prefix="witness-"))
    folder.mkdir(parents=True, exist_ok=True)
    work = list(zip(range(chosen.count), levels(chosen.seed, chosen.count),
                    places(chosen.seed, chosen.count)))
    if chosen.only is not None:
        work = work[chosen.only:chosen.only + 1]
    source = folder / "outlines.geojson"
    write_input(source, work)
    outlines = {f["properties"]["id"]: f["geometry"]
                for f in json.loads(source.read_text())["features"]}
    bad = 0
    for standard in STANDARDS:
        result = folder / f"{standard}.geojson"
        found = run_outlay(chosen.outlay, source, result, standard)
        for number, level, plane in work:
            wrong = check_level(number, level, plane, found, standard, outlines,
                                chosen.samples)
            bad += bool(wrong)
            for line in wrong:
                print(f"{standard} level {number} ({level.kind}, h {level.height} m, "
                      f"{sum(map(len, level.rings))} vertices): {line}")
    print(f"zones by sampling: {len(work)} levels x {len(STANDARDS)} standards x "
          f"{chosen.samples} points, {bad} disagree")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
