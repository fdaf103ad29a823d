#!/usr/bin/env python3
"""Heights and slopes sampled from made surfaces against what they were made from.

    test_truth.py OUTLAY
"""

import json
import subprocess
import sys
import tempfile

import site_made as site

HEIGHT_WITHIN = 0.3
HEIGHT_SHARE = 0.99
RIGHT_SHARE = 0.98  # of low-slope against pitched
WRONG_SHARE = 0.005  # the rest is uncertain
SEED = 21  # not among those that the limits in plane.c and shapes.c were tried on

# pixel, m; noise, m; least area, m2
BARS = [(0.5, 0.05, 100), (0.5, 0.2, 100), (1.0, 0.2, 100)]


def sampled(outlay, folder):
    subprocess.run([outlay, "run", f"{folder}/roofs.geojson", "--units", "si", "--write",
                    "roofs", "--sample",
                    f"height={folder}/surface.tif-{folder}/terrain.tif:m", "--sample",
                    f"slope={folder}/surface.tif:m", "-o", f"{folder}/out", "--quiet"],
                   check=True)
    with open(f"{folder}/out/roofs.geojson", encoding="utf-8") as file:
        return {f["properties"]["roof_id"]: f["properties"]
                for f in json.load(file)["features"]}


def share(flags):
    return sum(flags) / len(flags)


def check(roofs, found, bar):
    """Whether heights and kinds of a site's roofs are right as often as they must be."""
    pixel, noise, area = bar
    heights, right, wrong, stepped = [], [], [], []
    for number, roof in enumerate(roofs):
        if roof.length * roof.width < area:
            continue
        properties = found[f"R{number}"]
        height = properties["sampled_height_m"]
        kind = properties.get("sampled_slope_kind", "uncertain")
        pitched = roof.kind in ("gable", "hip")
        heights.append(abs(height - roof.truth()) < HEIGHT_WITHIN)
        right.append(kind != "uncertain" and (kind == "pitched") == pitched)
        wrong.append(kind != "uncertain" and (kind == "pitched") != pitched)
        if roof.kind == "stepped":
            stepped.append(kind == "stepped")
    print(f"{pixel} m, noise {noise} m, from {area} m2: heights {share(heights):.3f}; "
          f"shapes right {share(right):.3f}, wrong {share(wrong):.3f}, the rest "
          f"uncertain; stepped ones marked so {share(stepped):.3f}")
    return (share(heights) >= HEIGHT_SHARE and share(right) >= RIGHT_SHARE and
            share(wrong) <= WRONG_SHARE)


def check_site(outlay, pixel, noise):
    with tempfile.TemporaryDirectory() as folder:
        roofs = site.make(folder, SEED, pixel, noise)
        found = sampled(outlay, folder)
    return all([check(roofs, found, bar) for bar in BARS if bar[:2] == (pixel, noise)])


def main():
    good = [check_site(sys.argv[1], *what) for what in sorted({bar[:2] for bar in BARS})]
    sys.exit(0 if all(good) else 1)


if __name__ == "__main__":
    main()
