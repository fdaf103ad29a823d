#!/usr/bin/env python3
"""Writes the roofs of hand-counts.md, which are invented, the lines along their edges and
what stands on them.

    python3 testdata/hand-counts/make.py > testdata/hand-counts/roofs.geojson
    python3 testdata/hand-counts/make.py edges > testdata/hand-counts/edges.geojson
    python3 testdata/hand-counts/make.py fixtures > testdata/hand-counts/fixtures.geojson

Standard library only; the same bytes on every run. Plans are drawn in feet, x to the east
and y to the north, and put on the ground by the radii of curvature there, so that a foot
of the plan is a foot on the ellipsoid; 8 decimals of a degree are about 1 mm.
"""

import json
import math
import sys

FT = 0.3048
PLACE = (-93.5, 41.0)   # longitude and latitude of x = y = 0

# id: building, x and y of its corner in ft, rings in ft from there, columns
ROOFS = {
    "warehouse": ("warehouse", (0, 0), [[(0, 0), (200.04, 0), (200.04, 120.04), (0, 120.04)]], {
        "height_ft": 20, "deck": "steel", "deck_bearing": 0, "edge": "metal",
        "stack_in": 2.5, "covers": 2, "existing": "gravel-surfaced", "drains": 0,
        "penetrations": 7}),
    "school": ("school", (1000, 0), [
        [(-1, -1), (161.08, -1), (161.08, 89.04), (-1, 89.04)],
        [(74.04, 34.04), (74.04, 46.1), (94.04, 46.1), (94.04, 34.04)]], {
        "height_ft": 30, "deck": "steel", "deck_bearing": 0, "parapet_ft": 3.2,
        "parapet_thickness_in": 12, "holes": "penthouse", "stack_in": 3.5, "covers": 2,
        "existing": "smooth", "drains": 6, "penetrations": 12}),
    "wing": ("school", (1000, 0), [[(0, -49.04), (60.04, -49.04), (60.04, -1), (0, -1)]], {
        "height_ft": 14, "deck": "steel", "deck_bearing": 0, "edge": "metal",
        "stack_in": 3.5, "covers": 2, "existing": "smooth", "drains": 2,
        "penetrations": 3}),
    "west": ("halls", (2000, 0), [[(0, 0), (96.04, 0), (96.04, 60.04), (0, 60.04)]], {
        "height_ft": 18, "deck": "steel", "deck_bearing": 0, "edge": "metal",
        "stack_in": 2.5, "covers": 2, "existing": "smooth", "drains": 2,
        "penetrations": 4}),
    "east": ("halls", (2096.04, 0), [[(0, 0), (72.04, 0), (72.04, 60.04), (0, 60.04)]], {
        "height_ft": 18, "deck": "steel", "deck_bearing": 0, "edge": "metal",
        "stack_in": 2.5, "covers": 2, "existing": "smooth", "drains": 2,
        "penetrations": 3}),
    "market": ("market", (3000, 0), [[(0, 0), (63.84, 0), (63.84, 63.84), (0, 63.84)]], {
        "height_ft": 20, "deck": "steel", "deck_bearing": 0, "edge": "metal",
        "stack_in": 2.5, "covers": 2, "existing": "smooth", "taper": 0.25 / 12}),
    "plant": ("plant", (4000, 0), [[(0, 0), (96.04, 0), (96.04, 72.04), (0, 72.04)]], {
        "height_ft": 20, "deck": "steel", "deck_bearing": 0, "edge": "metal",
        "stack_in": 2.5, "covers": 2, "existing": "smooth"}),
}

# kind: the line, likewise
EDGES = [("gutter", (0, 0), [(0, 0), (200.04, 0)]),
         ("joint", (2096.04, 0), [(0, 0), (0, 60.04)])]

def curb(length, width, height):
    return {"width_ft": width, "length_ft": length, "height_in": height}


# corner of the roof; of each: kind, id, its middle in ft from there, and columns
FIXTURES = [
    ((3000, 0), [("drain", "D1", (15.96, 15.96), {}), ("drain", "D2", (47.88, 15.96), {}),
                 ("drain", "D3", (15.96, 47.88), {}), ("drain", "D4", (47.88, 47.88), {}),
                 ("pipe", "P1", (8, 18), {}), ("pipe", "P2", (40, 46), {})]),
    ((4000, 0), [("hatch", "H1", (12, 36.02), curb(4, 4, 12)),
                 ("unit", "U1", (40, 36.02), curb(8, 4, 14)),
                 ("unit", "U2", (40, 59.02), curb(8, 4, 14)),
                 ("unit", "U3", (40, 13.02), curb(8, 4, 14)),
                 ("unit", "U4", (80, 36.02), curb(8, 4, 14)),
                 ("skylight", "S1", (60, 13.02), curb(4, 4, 10)),
                 ("skylight", "S2", (60, 59.02), curb(4, 4, 10)),
                 ("curb", "C1", (90, 36.02), curb(2, 2, None)),
                 ("drain", "D1", (72, 17.02), {}), ("drain", "D2", (72, 55.02), {}),
                 ("pipe", "P1", (28, 17.02), {}), ("pipe", "P2", (28, 55.02), {}),
                 ("pipe", "P3", (64, 26.02), {}), ("pipe", "P4", (64, 46.02), {}),
                 ("support", "B1", (70, 26.02), {}), ("support", "B2", (70, 46.02), {})]),
]


def lonlat(point):
    """East and north of PLACE (ft) to degrees."""
    e2 = 0.00669437999014
    phi = math.radians(PLACE[1])
    w = 1 - e2 * math.sin(phi) ** 2
    meridian = 6378137.0 * (1 - e2) / w ** 1.5
    normal = 6378137.0 / math.sqrt(w)
    east, north = point[0] * FT, point[1] * FT
    return [round(PLACE[0] + math.degrees(east / (normal * math.cos(phi))), 8),
            round(PLACE[1] + math.degrees(north / meridian), 8)]


def placed(corner, points):
    return [lonlat((corner[0] + x, corner[1] + y)) for x, y in points]


def layer(features):
    lines = ",\n".join(json.dumps({"type": "Feature", "properties": properties,
                                   "geometry": geometry})
                       for properties, geometry in features)
    return '{"type":"FeatureCollection","features":[\n' + lines + "\n]}"


def main():
    if sys.argv[1:] == ["edges"]:
        print(layer([({"kind": kind}, {"type": "LineString",
                                       "coordinates": placed(corner, points)})
                     for kind, corner, points in EDGES]))
        return
    if sys.argv[1:] == ["fixtures"]:
        print(layer([({"kind": kind, "id": name, "width_ft": None, "length_ft": None,
                       "height_in": None, **columns},
                      {"type": "Point", "coordinates": placed(corner, [at])[0]})
                     for corner, fixtures in FIXTURES
                     for kind, name, at, columns in fixtures]))
        return
    print(layer([({"id": name, "building": building, "slope": 0.02, "exposure": "C",
                   "risk": 2, "enclosure": "enclosed", "method": "seam-fastened",
                   **columns},
                  {"type": "Polygon",
                   "coordinates": [placed(corner, ring + ring[:1]) for ring in rings]})
                 for name, (building, corner, rings, columns) in ROOFS.items()]))


if __name__ == "__main__":
    main()
