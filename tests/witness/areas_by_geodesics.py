#!/usr/bin/python3
"""Areas against GeographicLib, from 80 S to 80 N and over the antimeridian.

    areas_by_geodesics.py OUTLAY

Boxes and stars of 60 to 1500 m, written in degrees; the area that outlay gives (sum
over its zones, two decimals each) is compared with the geodesic polygon's, to 1e-6.
"""

import json
import pathlib
import subprocess
import sys
import tempfile

import numpy as np
from geographiclib.geodesic import Geodesic

from outlines import star
from plane import Plane, feature

SHARE = 1e-6
PRINTED = 4 * 0.005  # m2; four zones, two decimals


def cases():
    """id -> (plane, ring) at every ten degrees, and across 180 degrees."""
    rng = np.random.default_rng(7)
    out = {}
    for lat in range(-80, 81, 10):
        for lon in (-93.0, 12.5, 179.9999, -180.0):
            plane = Plane(lon, lat)
            for size in (60.0, 500.0, 1500.0):
                half = size / 2
                box = np.array(((-half, -half), (half, -half), (half, half),
                                (-half, half)))
                for kind, ring in (("box", box), ("star", star(rng, 9, half))):
                    out[f"{kind} {size:.0f} m at {lat} {lon}"] = (plane, ring)
    return out


def geodesic_area(coordinates):
    polygon = Geodesic.WGS84.Polygon()
    for lon, lat in coordinates[:-1]:
        polygon.AddPoint(lat, lon)
    return abs(polygon.Compute(False, True)[2])


def main():
    folder = pathlib.Path(tempfile.mkdtemp(prefix="witness-"))
    source, result = folder / "in.geojson", folder / "out.geojson"
    features = [feature(plane, [[ring]], {"id": id_, "height_m": 8})
                for id_, (plane, ring) in cases().items()]
    source.write_text(json.dumps({"type": "FeatureCollection", "features": features}))
    done = subprocess.run([sys.argv[1], "zones", source, "-o", result, "--units", "si",
                           "--wind-speed", "115mph"], capture_output=True, text=True)
    if done.returncode > 1:  # 1: roofs left out, which shows below
        sys.exit(f"outlay zones: exit status {done.returncode}\n{done.stderr}")
    given = {}
    for item in json.loads(result.read_text())["features"]:
        known = item["properties"]
        given[known["roof_id"]] = given.get(known["roof_id"], 0) + known["area_m2"]
    bad, worst = 0, 0.0
    for item in features:
        id_ = item["properties"]["id"]
        expected = geodesic_area(item["geometry"]["coordinates"][0])
        off = abs(given.get(id_, 0) - expected)
        worst = max(worst, off / expected if expected > 1e5 else 0)
        if off > SHARE * expected + PRINTED:
            bad += 1
            print(f"{id_}: {given.get(id_, 0):.6f} m2 instead of {expected:.6f}")
    print(f"areas by geodesics: {len(features)} outlines, {bad} disagree, worst of the "
          f"large ones {worst:.1e}")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
