#!/usr/bin/env python3
"""Writes demo.geojson: the invented roofs of an invented town; and two layers beside it,
what stands on some of these roofs and what is along their edges, invented as well.

    python3 testdata/demo/make.py > testdata/demo/demo.geojson
    python3 testdata/demo/make.py fixtures > testdata/demo/fixtures.geojson
    python3 testdata/demo/make.py edges > testdata/demo/edges.geojson

Standard library only; the same bytes on every run. Plans are drawn in feet on each
building's own axes, then turned and placed through its district's street grid.
"""

import json
import math
import sys

FT = 0.3048
TOWN = (-92.88, 39.21)  # longitude, latitude of the crossing that all is measured from

# district: east and north of TOWN in ft, angle of its streets (degrees, anticlockwise)
DISTRICTS = {
    "old town": (0, 0, 14.0),
    "rail": (1250, -750, -31.0),
    "highway": (-1750, 560, 4.0),
    "school hill": (-250, 720, 22.0),
    "waterworks": (-1000, -1300, 47.0),
}

COLUMNS = [
    "id", "name", "building", "height_ft", "storeys", "parapet_ft", "slope", "deck",
    "deck_bearing", "exposure", "risk", "enclosure", "covers", "existing", "wet_share",
    "installed", "condition", "rating_psf", "rating_basis", "pullout_lbf", "method",
    "edge", "edge_condition", "wall_length_ft", "holes", "penetrations", "drains",
    "stack_in", "earliest", "latest", "fixed_year", "replacement_value",
]

features = []
fixtures = []
edges = []


# ---- plans, in feet ---------

def rect(x0, y0, x1, y1):
    return [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]


def circle(cx, cy, radius, count):
    return [(cx + radius * math.cos(2 * math.pi * (k + 0.5) / count),
             cy + radius * math.sin(2 * math.pi * (k + 0.5) / count))
            for k in range(count)]


def area(ring):
    return abs(sum(a[0] * b[1] - b[0] * a[1]
                   for a, b in zip(ring, ring[1:] + ring[:1]))) / 2


# ---- to the ground ---------

def turned(point, degrees):
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return (c * point[0] - s * point[1], s * point[0] + c * point[1])


def lonlat(point):
    """East and north of TOWN (ft) to degrees: radii of curvature at the town."""
    e2 = 0.00669437999014
    phi = math.radians(TOWN[1])
    w = 1 - e2 * math.sin(phi) ** 2
    meridian = 6378137.0 * (1 - e2) / w ** 1.5
    parallel = 6378137.0 / math.sqrt(w) * math.cos(phi)
    return [round(TOWN[0] + math.degrees(point[0] * FT / parallel), 8),
            round(TOWN[1] + math.degrees(point[1] * FT / meridian), 8)]


class Building:
    """A building's axes and what its roofs have in common."""

    def __init__(self, name, district, u, v, turn=0, **common):
        east, north, grid = DISTRICTS[district]
        offset = turned((u, v), grid)
        self.name, self.common = name, common
        self.origin = (east + offset[0], north + offset[1])
        self.angle = grid + turn

    def bearing(self, axis):
        """Ribs along the building's x or y axis: degrees clockwise from north."""
        return round((90 - self.angle - (90 if axis == "y" else 0)) % 180, 1)

    def ground(self, ring, clockwise=False):
        signed = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, ring[1:] + ring[:1]))
        ring = ring[::-1] if (signed < 0) != clockwise else ring
        points = []
        for point in ring:
            x, y = turned(point, self.angle)
            points.append(lonlat((self.origin[0] + x, self.origin[1] + y)))
        return points + points[:1]

    def roof(self, id_, name, *parts, ribs=None, cost=17, **own):
        """Adds a roof. A part is a shell or a tuple (shell, hole, ...)."""
        parts = [part if isinstance(part, tuple) else (part,) for part in parts]
        size = sum(area(p[0]) - sum(area(hole) for hole in p[1:]) for p in parts)
        values = {"id": id_, "name": name, "building": self.name, **self.common}
        if ribs:
            values.update(deck="steel", deck_bearing=self.bearing(ribs))
        values.update(drains=max(1, round(size / 9000)),
                      penetrations=max(1, round(size / 2200)),
                      replacement_value=round(size * cost, -3) or 1000)
        values.update(own)
        rings = [[self.ground(ring, clockwise=k > 0) for k, ring in enumerate(part)]
                 for part in parts]
        if len(rings) == 1:
            geometry = {"type": "Polygon", "coordinates": rings[0]}
        else:
            geometry = {"type": "MultiPolygon", "coordinates": rings}
        unknown = set(values) - set(COLUMNS)
        if unknown:
            raise ValueError(f"{id_}: no such column: {unknown}")
        features.append({"type": "Feature",
                         "properties": {c: values.get(c) for c in COLUMNS},
                         "geometry": geometry})


    def place(self, point):
        x, y = turned(point, self.angle)
        return lonlat((self.origin[0] + x, self.origin[1] + y))

    def fixture(self, kind, id_, x, y, size=None, height=None, traced=False):
        """Adds what stands at x, y; size: along and across the building's x axis."""
        values = {"kind": kind, "id": id_, "width_ft": None, "length_ft": None,
                  "height_in": height}
        geometry = {"type": "Point", "coordinates": self.place((x, y))}
        if size and traced:
            a, b = size[0] / 2, size[1] / 2
            geometry = {"type": "Polygon",
                        "coordinates": [self.ground(rect(x - a, y - b, x + a, y + b))]}
        elif size:
            values.update(length_ft=size[0], width_ft=size[1])
        fixtures.append({"type": "Feature", "properties": values, "geometry": geometry})

    def edge(self, kind, *points, height=None, thickness=None):
        """Adds a line along edges, drawn as somebody would: 4 in off."""
        values = {"kind": kind, "height_ft": height, "thickness_in": thickness}
        line = [self.place((x + 0.33, y + 0.33)) for x, y in points]
        edges.append({"type": "Feature", "properties": values,
                      "geometry": {"type": "LineString", "coordinates": line}})


# ---- the rail district: warehouses ---------

b = Building("Rail Street Warehouse", "rail", 0, 0, exposure="C", risk=2,
             enclosure="enclosed", existing="single-ply", edge="metal", covers=1)
b.roof("0101", "Hall", rect(0, 0, 420, 240), ribs="y", height_ft=32, installed=2004,
       condition=38, wet_share=0.06, edge_condition=45, stack_in=4, parapet_ft=0)
b.roof("0102", "Dock canopy", rect(60, -11, 240, 0), ribs="y", height_ft=16,
       installed=2004, condition=52, wet_share=0, edge_condition=40, stack_in=0,
       enclosure="open", wall_length_ft=180, penetrations=0, cost=11)
b.roof("0103", "Office", rect(420, 30, 500, 92), ribs="x", height_ft=14, storeys=1,
       installed=2011, condition=61, wet_share=0.02, edge_condition=70, stack_in=5.2,
       wall_length_ft=62, edge="parapet", parapet_ft=1.5, cost=21)

for k, x in enumerate((60, 160, 260, 360)):
    b.fixture("drain", f"D{2 * k + 1}", x, 60)
    b.fixture("drain", f"D{2 * k + 2}", x, 180)
for k, (x, y) in enumerate(((31, 33), (112.5, 88), (207, 131), (305.2, 40), (393, 219))):
    b.fixture("pipe", f"P{k + 1}", x, y)
b.fixture("unit", "RTU1", 130, 150, (14, 7), 14, traced=True)
b.fixture("unit", "RTU2", 300, 110, (14, 7), 14, traced=True)
b.fixture("hatch", "H1", 40, 200, (3, 2.5), 12)
b.fixture("skylight", "S1", 210, 200, (8, 4), 10)
b.fixture("curb", "C1", 330, 200, (4, 4))
b.edge("gutter", (0, 240), (420, 240))
b.edge("parapet", (0, 0), (0, 240), height=2.5, thickness=12)

b = Building("Grain Street Depot", "rail", 40, -620, exposure="C", risk=2,
             enclosure="partially enclosed", existing="ballasted", edge="metal",
             storeys=1)
b.roof("0201", "West half", rect(0, 0, 300, 310), ribs="y", height_ft=36, covers=1,
       installed=1998, condition=22, wet_share=0.31, edge_condition=30, stack_in=3,
       earliest=2027, latest=2029)
b.roof("0202", "East half", rect(300, 0, 612, 310), ribs="y", height_ft=36, covers=2,
       installed=1998, condition=27, wet_share=0.18, edge_condition=34, stack_in=3)

b = Building("Cold Store", "rail", 760, -540, turn=3, exposure="C", risk=3,
             enclosure="enclosed", edge="parapet", deck="concrete", covers=1)
b.roof("0301", "Freezer hall",
       (rect(0, 0, 304, 184), rect(120, 70, 168, 104)), height_ft=44, parapet_ft=3.5,
       holes="penthouse", installed=2009, condition=57, wet_share=0.03,
       existing="single-ply", edge_condition=66, stack_in=10, pullout_lbf=780, cost=26)
b.roof("0302", "Engine room", rect(304, 20, 366, 100), height_ft=18, parapet_ft=1,
       installed=1991, condition=19, wet_share=0.22, existing="gravel-surfaced",
       edge_condition=25, stack_in=3, wall_length_ft=80, cost=24)

b = Building("Distribution Centre", "rail", 700, 0, exposure="C", risk=2,
             enclosure="enclosed", existing="single-ply", edge="metal", covers=1)
b.roof("0401", "Hall", [(0, 0), (880, 0), (880, 400), (820, 400), (820, 470), (0, 470)],
       ribs="y", height_ft=40, parapet_ft=0, slope=0.0208, installed=2016,
       condition=74, wet_share=0.01, edge_condition=81, stack_in=4.6, rating_psf=90,
       rating_basis="ultimate", cost=15)

# ---- school hill ---------

b = Building("Hill Primary School", "school hill", 0, 0, exposure="B", risk=3,
             enclosure="enclosed", edge="metal", storeys=1)
b.roof("0501", "Classroom wing A", rect(0, 0, 224, 64), ribs="y", height_ft=14,
       covers=1, existing="smooth", installed=2001, condition=33, wet_share=0.09,
       edge_condition=48, stack_in=3, latest=2030)
b.roof("0502", "Classroom wing B", rect(0, 110, 184, 174), ribs="y", height_ft=14,
       covers=2, existing="gravel-surfaced", installed=1987, condition=12,
       wet_share=0.27, edge_condition=20, stack_in=2, latest=2028)
b.roof("0503", "Gymnasium", rect(224, 0, 334, 84), ribs="x", height_ft=30, covers=1,
       existing="single-ply", installed=2012, condition=68, wet_share=0,
       edge_condition=72, stack_in=4)
b.roof("0504", "Dining hall", rect(224, 84, 314, 154), ribs="x", height_ft=18,
       covers=1, existing="single-ply", installed=2012, condition=66, wet_share=0.02,
       edge_condition=72, stack_in=4, wall_length_ft=90)
b.roof("0505", "Kitchen", rect(184, 110, 224, 142), height_ft=13, deck="wood", covers=1,
       existing="smooth", installed=1995, condition=29, wet_share=0.12,
       edge_condition=35, stack_in=2, wall_length_ft=64, penetrations=9)

b = Building("Hill Secondary School", "school hill", 760, -60, turn=-7, exposure="B",
             risk=3, enclosure="enclosed", edge="parapet", parapet_ft=2)
b.roof("0601", "Courtyard block",
       (rect(0, 0, 264, 204), rect(78, 62, 186, 142)), ribs="x", height_ft=29,
       storeys=2, holes="court", covers=1, existing="smooth", installed=1999,
       condition=31, wet_share=0.14, edge_condition=50, stack_in=3.5)
b.roof("0602", "Sports hall", rect(264, 92, 388, 204), ribs="y", height_ft=36,
       storeys=1, covers=1, existing="single-ply", installed=2008, condition=55,
       wet_share=0.04, edge_condition=61, stack_in=4, earliest=2028)
b.roof("0603", "Theatre", rect(0, 204, 96, 300), height_ft=46, deck="concrete",
       covers=1, existing="gravel-surfaced", installed=1999, condition=41,
       edge_condition=55, stack_in=3, parapet_ft=3.2, cost=23)
b.roof("0604", "Science wing", rect(-318, 40, 0, 112), ribs="y", height_ft=29,
       storeys=2, covers=1, existing="single-ply", installed=2014, condition=72,
       wet_share=0.01, edge_condition=77, stack_in=4.5)
b.roof("0605", "Workshops",
       [(-318, 112), (-230, 112), (-230, 150), (-262, 150), (-262, 196), (-318, 196)],
       ribs="y", height_ft=15, storeys=1, covers=2, existing="smooth", installed=1990,
       condition=17, wet_share=0.24, edge_condition=28, stack_in=2,
       wall_length_ft=88, earliest=2027, latest=2028, parapet_ft=0, edge="metal")
b.roof("0606", "Covered walk", rect(264, 40, 330, 52), height_ft=11, deck="wood",
       covers=1, existing="smooth", installed=2008, condition=49, wet_share=0.05,
       edge_condition=44, stack_in=0, enclosure="open", parapet_ft=0, edge="metal",
       wall_length_ft=12, penetrations=0, cost=12)

# ---- old town ---------

b = Building("Town Hall", "old town", 0, 0, exposure="B", risk=4, enclosure="enclosed",
             edge="parapet", deck="concrete")
b.roof("0701", "Offices", [(0, 0), (164, 0), (164, 62), (66, 62), (66, 148), (0, 148)],
       height_ft=43, storeys=3, parapet_ft=3, covers=1, existing="gravel-surfaced",
       installed=1993, condition=24, wet_share=0.11, edge_condition=58, stack_in=2.5,
       fixed_year=2028, cost=27)
b.roof("0702", "Clock tower", rect(66, 62, 94, 90), height_ft=74, storeys=6,
       parapet_ft=2, covers=1, existing="smooth", installed=2006, condition=59,
       wet_share=0, edge_condition=62, stack_in=2, cost=38)

b = Building("Clinic", "old town", 430, 40, exposure="B", risk=4, enclosure="enclosed",
             edge="parapet", deck="concrete", covers=1)
b.roof("0801", "Podium", (rect(0, 0, 212, 176), rect(96, 54, 186, 142)), height_ft=22,
       storeys=2, parapet_ft=3.5, holes="penthouse", existing="single-ply",
       installed=2002, condition=36, wet_share=0.1, edge_condition=52, stack_in=4,
       wall_length_ft=356, cost=28)
b.roof("0802", "Tower", rect(96, 54, 186, 142), height_ft=112, storeys=8, parapet_ft=4,
       existing="single-ply", installed=2002, condition=44, wet_share=0.03,
       edge_condition=57, stack_in=4, pullout_lbf=910, cost=34)

b = Building("Library", "old town", -420, 60, turn=-9, exposure="B", risk=3,
             enclosure="enclosed", edge="parapet", covers=1)
ring = circle(0, 0, 46, 48)
arc = [p for p in ring[-6:] + ring[:6]]  # the points that face the wing, south to north
b.roof("0901", "Reading room", ring, height_ft=31, storeys=2, parapet_ft=2.5,
       deck="wood", existing="single-ply", installed=2010, condition=63,
       wet_share=0.02, edge_condition=69, stack_in=5, cost=29)
b.roof("0902", "Stacks", [arc[0], (176, arc[0][1]), (176, arc[-1][1])] + arc[:0:-1],
       height_ft=17, storeys=1, parapet_ft=1, deck="light-concrete",
       existing="gravel-surfaced", installed=1996, condition=30, edge_condition=41,
       stack_in=2, wall_length_ft=66, cost=22)

b = Building("Fire Station", "old town", 80, -420, exposure="B", risk=4,
             enclosure="partially enclosed", edge="metal", covers=1)
b.roof("1001", "Engine bays", rect(0, 0, 96, 72), ribs="x", height_ft=24, storeys=1,
       existing="single-ply", installed=2005, condition=42, wet_share=0.05,
       edge_condition=47, stack_in=3.5)
b.roof("1002", "Quarters", rect(96, 12, 170, 60), ribs="y", storeys=2,
       enclosure="enclosed", existing="single-ply", installed=2005, condition=46,
       wet_share=0.04, edge_condition=51, stack_in=3.5)

b = Building("Arts Centre", "old town", -520, -420, turn=11, exposure="B", risk=3,
             enclosure="enclosed", edge="parapet", covers=1)
b.roof("1101", "Hall",
       [(60, 0), (128, 0), (188, 62), (188, 130), (120, 168), (24, 150), (0, 70)],
       height_ft=38, parapet_ft=2, deck="steel", existing="single-ply", installed=2018,
       condition=83, wet_share=0, edge_condition=86, stack_in=6, rating_psf=45,
       rating_basis="allowable", method="induction-welded", cost=31)
b.roof("1102", "Foyer", [(60, 0), (128, 0), (172, -58), (30, -50)], height_ft=16,
       parapet_ft=1.2, deck="wood", existing="single-ply", installed=2018,
       condition=80, wet_share=0, edge_condition=84, stack_in=6, wall_length_ft=68,
       method="adhered-fastened", cost=31)

b = Building("Community Centre", "old town", 560, -470, turn=-4, exposure="B", risk=2,
             enclosure="enclosed", edge="metal", storeys=1)
b.roof("1201", "Halls",
       [(0, 0), (150, 0), (150, 120), (108, 120), (108, 46), (40, 46), (40, 104),
        (0, 128)],
       height_ft=19, deck="wood-fibre", covers=2, existing="gravel-surfaced",
       installed=1984, condition=9, wet_share=0.35, edge_condition=22, stack_in=1.5,
       latest=2027)
# Two clicks in the wrong order: the outline crosses itself in one corner.
b.roof("1202", "Day nursery",
       [(150, 20), (232, 20), (232, 79.2), (233, 80), (233, 79), (232.2, 80), (150, 80)],
       ribs="x", height_ft=12, covers=1, existing="smooth", installed=2000,
       condition=35, edge_condition=39, stack_in=2.5, wall_length_ft=60)

# ---- the highway: a long mall, sections traced one by one ---------

b = Building("Crossing Mall", "highway", 0, 0, exposure="C", risk=2,
             enclosure="enclosed", edge="metal", storeys=1)
b.roof("1301", "Shops 1 to 6", [(0, 0), (182, 0), (182, 150), (0, 150)], ribs="y",
       height_ft=24, covers=1, existing="ballasted", installed=2003, condition=34,
       wet_share=0.08, edge_condition=43, stack_in=3)
b.roof("1302", "Shops 7 to 11",
       [(182, -12), (338, -12), (338, 150), (182, 150), (182, 0)], ribs="y",
       height_ft=24, covers=1, existing="ballasted", installed=2003, condition=37,
       wet_share=0.07, edge_condition=43, stack_in=3)
b.roof("1303", "Shops 12 to 17",
       [(338, -12), (404, -12), (404, 0), (520, 0), (520, 162), (338, 162), (338, 150)],
       ribs="y", height_ft=24.5, covers=2, existing="single-ply", installed=2007,
       condition=47, edge_condition=49, stack_in=3)
# Traced from another image: a gap of about 0.1 m to its neighbour.
b.roof("1304", "Shops 18 to 23",
       [(520.4, 6), (700, 6), (700, 150), (612, 150), (612, 162), (520.4, 162)], ribs="y",
       height_ft=24, covers=1, existing="single-ply", installed=2007, condition=50,
       wet_share=0.05, edge_condition=53, stack_in=3)
b.roof("1305", "Shops 24 to 28", [(700, 0), (850, 0), (850, 150), (700, 150)],
       ribs="y", height_ft=23.5, covers=1, existing="single-ply", installed=2013,
       condition=65, wet_share=0.02, edge_condition=70, stack_in=3.5)
b.roof("1306", "Department store", rect(850, -60, 1090, 190), ribs="x", height_ft=36,
       covers=1, existing="single-ply", installed=2010, condition=58, wet_share=0.03,
       edge_condition=64, stack_in=4, parapet_ft=3, edge="parapet", storeys=2)

b.edge("joint", (182, 0), (182, 150))
b.edge("gutter", (0, 150), (182, 150))

# ---- the waterworks and the bus yard ---------

b = Building("Waterworks", "waterworks", 0, 0, exposure="C", risk=4,
             enclosure="enclosed", edge="parapet", covers=1)
b.roof("1401", "Filter hall", rect(0, 0, 124, 70), height_ft=27, storeys=1,
       parapet_ft=1.5, deck="gypsum", existing="gravel-surfaced", installed=1989,
       condition=15, wet_share=0.2, edge_condition=33, stack_in=2, cost=24)
b.roof("1402", "Valve shed", rect(160, 10, 176.4, 26.4), height_ft=9, storeys=1,
       deck="wood", edge="metal", parapet_ft=0, existing="smooth", installed=2009,
       condition=53, wet_share=0, edge_condition=50, stack_in=1, drains=0)

b = Building("Bus Yard", "waterworks", 560, -60, turn=5, exposure="C", risk=2,
             enclosure="partially open", edge="metal", covers=1, existing="single-ply")
b.roof("1501", "Bus shelters", rect(0, 0, 140, 54), rect(0, 118, 140, 172), ribs="y",
       height_ft=18, storeys=1, installed=2006, condition=40, wet_share=0.04,
       edge_condition=46, stack_in=2, wall_length_ft=0)
# Nobody has measured this one: it can't be zoned until somebody does.
b.roof("1502", "Dispatch office", rect(200, 20, 268, 62), ribs="x",
       enclosure="enclosed", installed=2015, condition=70, edge_condition=73,
       stack_in=4)


def main():
    layer = sys.argv[1] if len(sys.argv) > 1 else "demo"
    rows = {"demo": features, "fixtures": fixtures, "edges": edges}[layer]
    out = sys.stdout
    note = ("Invented for demonstration: no such town, client, buildings, conditions "
            "or values exist.")
    out.write('{\n"type": "FeatureCollection",\n')
    out.write(f'"name": "{layer}",\n')
    out.write(f'"note": {json.dumps(note)},\n"features": [\n')
    out.write(",\n".join(json.dumps(f) for f in rows))
    out.write("\n]\n}\n")


main()
