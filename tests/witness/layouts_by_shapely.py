#!/usr/bin/python3
"""Layouts of random outlines against what a layout must be, by shapely.

    layouts_by_shapely.py OUTLAY [--count N] [--seed S] [--only N] [--keep DIR]

Has outlay lay out random levels for every method and reads layout.gpkg (brought to the
plane in which the outlines were drawn) and materials.csv. Sheets must cover the roof and
lap, boards must fill it without overlapping, screws must be where their rows and boards
are and as many as the rows say, rows must lie in the zones they name, and every item's
quantities must add up. Zones are those of definition.py; no code is shared with outlay.
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
import warnings
from collections import defaultdict

import numpy as np
from shapely.geometry import LineString, Point, Polygon, shape
from shapely.ops import unary_union
from shapely.prepared import prep
from shapely.strtree import STRtree

import outlines
from bills import FILLED, JOINT, check_bill
from definition import ROLES, Zones, inside_rings
from outlines import JOG, Level, levels
from plane import Plane, feature

METHODS = ("seam-fastened", "induction-welded", "adhered-fastened", "adhered")
LAYERS = ("outline", "sheets", "boards", "rows", "plates")
KINDS = ("rectilinear", "general", "sheared", "bowed", "opening", "jogged", "small")
LARGEST = 3000      # m2; larger roofs show nothing that these don't
APART = 300         # m between the middles of levels
ROUNDING = 0.001    # m; what is written is this exact
NEAR = 0.02         # m; points this near to a zone's boundary may be in either
STEP = 0.05         # m between samples of a row
ROW_END = 0.1524    # m; most from the end of a row to its first screw
PLATE = 0.0762      # m; plates are 3 in wide
NO_ROW = 0.15       # m; a part of a row in its middle nearer to an edge isn't laid
WALL = 0.2032       # m; a parapet of which nothing is said is 8 in thick
TOWN = (-97.0, 39.0)


def arguments():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("outlay")
    parser.add_argument("--count", type=int, default=25, help="levels")
    parser.add_argument("--seed", type=int, default=3)
    parser.add_argument("--only", type=int, help="one level by its number")
    parser.add_argument("--keep", type=pathlib.Path, help="folder for the files")
    return parser.parse_args()


# ---- the roofs ---------

class Roof:
    """A level at its place in the plane, and what the outlines' table says of it."""

    def __init__(self, number, level, rng):
        self.id, self.level = str(number), level
        self.at = np.array((number % 6 - 2.5, number // 6 - 2.5)) * APART
        steel = number % 5 in (0, 1, 3)
        self.given = {
            "id": self.id, "building": self.id, "height_m": level.height,
            "wind_speed_mph": round(float(rng.uniform(85, 150)), 1),
            "deck": "steel" if steel else "concrete",
            "deck_bearing": round(float(rng.uniform(0, 180)), 2)
            if steel and number % 2 else None,
            "parapet_m": 0.5 if number % 4 == 0 else 0,
        }
        self.rings = [r + self.at for r in list(level.rings) + level.openings]
        self.traced = polygon_of(self.rings)
        self.shape = self.covered([r + self.at for r in level.rings],
                                  [r + self.at for r in level.openings])
        smooth = level.smooth and [r + self.at for r in level.smooth]
        self.zones = Zones("asce7-22", level.height, [r + self.at for r in level.rings],
                           [r + self.at for r in level.openings], smooth)
        self.near = NEAR + (JOG if level.smooth else 0)
        self.edge = self.shape.boundary

    def covered(self, rings, openings):
        """What lies inside the parapets: none stands around an opening."""
        if not self.given["parapet_m"]:
            return self.traced
        inside = polygon_of(rings).buffer(-WALL, join_style=2)  # mitred
        return inside.difference(unary_union([Polygon(r) for r in openings]))

    def __str__(self):
        return (f"level {self.id} ({self.level.kind}, {self.given['deck']}, "
                f"{self.shape.area:.0f} m2)")


def polygon_of(rings):
    outer = [r for r in rings if Polygon(r).exterior.is_ccw]
    return Polygon(outer[0], [r for r in rings if not Polygon(r).exterior.is_ccw])


def rings_of(region):
    """As arrays of points, each without the last point, which repeats the first."""
    return [np.array(ring.coords)[:-1] for polygon in getattr(region, "geoms", [region])
            for ring in (polygon.exterior, *polygon.interiors)]


def curved(rng):
    """A bent ellipse of 200 vertices."""
    t = np.arange(200) * 2 * math.pi / 200
    x, y = rng.uniform(26, 30, 2)   # rounder than what regularising takes for a corner
    return Level("curved", [np.column_stack((x * np.cos(t) + 0.8 * np.cos(2 * t),
                                             y * np.sin(t)))], 9.0)


def notched(rng):
    """A box with notches smaller than a sheet, a court and an opening."""
    plan = np.array(((0, 0), (20, 0), (20, 2.4), (22.4, 2.4), (22.4, 0), (45, 0),
                     (45, 31), (42.5, 31), (42.5, 33.5), (30, 33.5), (30, 31), (0, 31)),
                    float)
    court = np.array(((12, 9), (12, 18), (24, 18), (24, 9)), float)
    hole = np.array(((33, 12), (33, 13), (34, 13), (34, 12)), float)
    angle = rng.uniform(0, 6.3)
    return Level("notched", [outlines.turned(r, angle) for r in (plan, court)], 8.0,
                 openings=[outlines.turned(hole, angle)])


def choose(seed, count):
    rng = np.random.default_rng(seed)
    by_kind = defaultdict(list)
    for level in levels(seed, 16 * count):
        if level.kind in KINDS and level_area(level) < LARGEST:
            by_kind[level.kind].append(level)
    chosen = [curved(rng), notched(rng)]
    for k in range(count):
        chosen.append(by_kind[KINDS[k % len(KINDS)]].pop(0))
    return [Roof(number, level, rng) for number, level in enumerate(chosen[:count])]


def level_area(level):
    return sum(float(np.cross(r, np.roll(r, -1, axis=0)).sum()) / 2 for r in level.rings)


# ---- the program ---------

def run(*command):
    done = subprocess.run([str(c) for c in command], capture_output=True, text=True)
    if done.returncode != 0:
        sys.exit(f"{command[0]}: exit status {done.returncode}\n{done.stderr}")


def lay_out(outlay, roofs, folder):
    plane, source = Plane(*TOWN), folder / "outlines.geojson"
    source.write_text(json.dumps({"type": "FeatureCollection", "features": [
        feature(plane, [roof.rings], roof.given) for roof in roofs]}))
    run(outlay, "takeoff", source, "-o", folder / "out", "--overwrite", "--quiet",
        "--units", "si", "--methods", ",".join(METHODS), "--order-by", "roof")
    run(outlay, "catalog", "-o", folder / "tables", "--overwrite", "--quiet")
    layouts = defaultdict(lambda: defaultdict(list))
    crs = f"+proj=aeqd +lon_0={TOWN[0]} +lat_0={TOWN[1]} +datum=WGS84 +units=m"
    for layer in LAYERS:
        path = folder / f"{layer}.geojson"
        path.unlink(missing_ok=True)
        run("ogr2ogr", "-f", "GeoJSON", "-t_srs", crs, "-lco", "COORDINATE_PRECISION=7",
            path, folder / "out" / "layout.gpkg", layer)
        for item in json.loads(path.read_text())["features"]:
            known = item["properties"]
            known["shape"] = (item["geometry"]["coordinates"] if layer == "plates"
                              else unfolded(shape(item["geometry"])))
            method = "" if layer == "outline" else known["method"]
            layouts[known["roof_id"], method][layer].append(known)
    with open(folder / "tables" / "assemblies.csv", newline="") as table:
        assemblies = {row["name"]: row for row in csv.DictReader(table)}
    bills = defaultdict(list)
    with open(folder / "out" / "materials.csv", newline="") as table:
        for row in csv.DictReader(table):
            bills[row["roof_id"], row["method"]].append(row)
    return layouts, assemblies, bills


def unfolded(geometry):
    """A shape that touches itself in a point may fold over there when it is brought to
    the plane and rounded."""
    if geometry.is_valid:
        return geometry
    mended = geometry.buffer(0)
    return mended if abs(mended.area - geometry.area) < ROUNDING else geometry


# ---- sheets ---------

def polygons_in(geometry):
    if isinstance(geometry, Polygon):
        return [geometry]
    return [p for g in getattr(geometry, "geoms", ()) for p in polygons_in(g)]


def segments_of(line):
    if isinstance(line, LineString):
        return [(a, b) for a, b in zip(line.coords, line.coords[1:]) if a != b]
    return [s for part in getattr(line, "geoms", ()) for s in segments_of(part)]


def direction(a, b):
    return math.atan2(b[1] - a[1], b[0] - a[0])


def askew(one, other):
    """Angle between two undirected directions."""
    off = (one - other) % math.pi
    return min(off, math.pi - off)


def overlap_list(shapes):
    tree = STRtree(shapes)
    place = {id(s): k for k, s in enumerate(shapes)}
    return [(k, place[id(other)], one.intersection(other))
            for k, one in enumerate(shapes) for other in tree.query(one)
            if place[id(other)] > k]


def is_mitre(roof, a, b):
    """Whether a cut inside the roof runs between two edges, parallel to neither."""
    middle = Point((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    far = sorted((LineString(e).distance(middle), askew(direction(*e), direction(a, b)))
                 for e in segments_of(roof.edge))
    return all(angle > 0.02 for d, angle in far if d < far[0][0] + 0.1)


def check_laps(roof, sheets, bearing, lap, framed):
    """Along every cut inside the roof, other sheets lie over the sheet by a lap."""
    wrong, inner = [], roof.edge.buffer(2 * ROUNDING)
    for k, sheet in enumerate(sheets):
        others = unary_union([s for i, s in enumerate(sheets) if i != k and
                              s.intersects(sheet)])
        for a, b in segments_of(sheet.boundary.difference(inner)):
            cut = LineString((a, b))
            if cut.length < 0.1:
                continue
            along = askew(direction(a, b), bearing) < 0.001
            if not along and (not framed or is_mitre(roof, a, b)):
                continue
            strip = cut.buffer(lap - 3 * ROUNDING, cap_style=2).intersection(sheet)
            bare = strip.difference(others.buffer(ROUNDING)).buffer(-ROUNDING)
            if bare.area > 1e-3:
                middle = bare.representative_point()
                wrong.append(f"sheet {k}: lap short over {bare.area:.4f} m2, at "
                             f"{place_of(roof, middle)}")
    return wrong


def place_of(roof, point):
    return f"({point.x - roof.at[0]:.2f}, {point.y - roof.at[1]:.2f})"


def width_across(geometry, bearing):
    points = np.array([c for p in polygons_in(geometry) for c in p.exterior.coords])
    return np.ptp(points @ np.array((-math.sin(bearing), math.cos(bearing)))), \
        np.ptp(points @ np.array((math.cos(bearing), math.sin(bearing))))


def check_sheets(roof, layout, assembly, outline):
    wrong = []
    lap = float(assembly["lap_in"]) * 0.0254
    main = [s for s in layout["sheets"] if s["kind"] != "cover strip"]
    shapes = [s["shape"] for s in main]
    for k, s in enumerate(layout["sheets"]):
        if not s["shape"].is_valid:
            wrong.append(f"{s['kind']} sheet {k}: not valid")
        outside = s["shape"].difference(roof.shape.buffer(ROUNDING))
        if outside.area > 1e-6:
            wrong.append(f"{s['kind']} sheet {k}: {outside.area:.4f} m2 outside the roof "
                         f"at {place_of(roof, outside.representative_point())}")
    bare = roof.shape.difference(unary_union(shapes)).buffer(-ROUNDING)
    if bare.area > 0:
        wrong.append(f"sheets leave {bare.area:.4f} m2 bare at "
                     f"{place_of(roof, bare.representative_point())}")
    seam = layout["sheets"][0]["method"] == "seam-fastened"
    half = [s["shape"] for s in main if s["kind"] == "half"]
    # The table tells the direction of the roof's own method.
    bearing = bearing_of(roof, main,
                         math.radians(90 - outline["bearing_deg"]) if seam else None)
    framed = seam and is_framed(half, bearing)
    for k, s in enumerate(main):
        across, along = width_across(s["shape"], bearing)
        if framed:      # half sheets, and full ones in gaps between them, turn
            across, along = box_of_mitred(s)
        if across > s["width_m"] + 2 * ROUNDING:
            wrong.append(f"sheet {k} ({s['kind']}): {across:.3f} m wide, the roll "
                         f"{s['width_m']} m")
        if along > s["length_m"] + 2 * ROUNDING:
            wrong.append(f"sheet {k}: {along:.3f} m long, given {s['length_m']} m")
        if abs(s["area_m2"] - s["shape"].area) > 1e-3 + 1e-5 * s["area_m2"]:
            wrong.append(f"sheet {k}: {s['shape'].area:.3f} m2, given {s['area_m2']}")
    return wrong + check_laps(roof, shapes, bearing, lap, framed)


def bearing_of(roof, main, given):
    """Direction of the parallel sheets: of their longest cut inside the roof, within half
    a degree of the one that is given; nan where there is none."""
    border = roof.edge.buffer(2 * ROUNDING)
    cuts = [c for s in main for c in segments_of(s["shape"].boundary.difference(border))
            if given is None or askew(direction(*c), given) < 0.01]
    return direction(*max(cuts, key=lambda c: math.dist(*c))) if cuts else math.nan


def box_of_mitred(sheet):
    """Width and length along that one of its sides along which it fits its roll best."""
    boxes = [width_across(sheet["shape"], direction(a, b))
             for p in polygons_in(sheet["shape"])
             for a, b in segments_of(p.exterior.simplify(0))]
    return min(boxes, key=lambda box: max(box[0] - sheet["width_m"],
                                          box[1] - sheet["length_m"]))


def is_framed(half, bearing):
    """Whether any half sheet runs another way than the full ones."""
    for sheet in half:
        across, along = width_across(sheet, bearing)
        if across > along and across > 2:
            return True
    return False


# ---- rows ---------

def check_rows(roof, layout, seam):
    wrong, given, found, misplaced = [], defaultdict(float), defaultdict(float), 0
    grown = prep(roof.shape.buffer(ROUNDING))
    points, shares, names = [], [], []
    for k, row in enumerate(layout["rows"]):
        line = row["shape"]
        if not grown.contains(line):
            wrong.append(f"row {row['row']} ({row['kind']}): outside the roof near "
                         f"{place_of(roof, line.centroid)}")
        if not seam:
            continue        # base securement alone, the same in every zone
        (x0, y0), (x1, y1) = line.coords
        given[row["zone"]] += line.length
        count = max(1, math.ceil(line.length / STEP))
        t = (np.arange(count) + 0.5) / count
        samples = np.column_stack((x0 + t * (x1 - x0), y0 + t * (y1 - y0)))
        if row["kind"] == "base securement":    # at the edge: look up just inside
            aside = np.array((y0 - y1, x1 - x0)) / max(line.length, 1e-9) * 0.01
            within = inside_rings(rings_of(roof.shape), samples + aside)
            samples = np.where(within[:, None], samples + aside, samples - aside)
        points.append(samples)
        shares += [line.length / count] * count
        names += [row["zone"]] * count
    if not points:
        return wrong
    points, names, shares = np.concatenate(points), np.array(names), np.array(shares)
    roles = np.array(ROLES + ("outside",))[roof.zones.roles(points)]
    amiss = roles != names
    for angle in np.arange(8) * math.pi / 4:
        step = roof.near * np.array((math.cos(angle), math.sin(angle)))
        moved = np.array(ROLES + ("outside",))[roof.zones.roles(points[amiss] + step)]
        amiss[np.flatnonzero(amiss)[moved == names[amiss]]] = False
    if shares[amiss].sum() > NEAR:
        at = Point(points[amiss][0])
        wrong.append(f"{shares[amiss].sum():.2f} m of rows in another zone than given: "
                     f"at {place_of(roof, at)} {roles[amiss][0]} instead of "
                     f"{names[amiss][0]}")
    for role in ROLES:
        found[role] = shares[roles == role].sum()
        # Where a row runs along a zone's boundary either is right.
        slack = 2 * STEP * len(layout["rows"]) + near_length(roof, points, roles, shares)
        if abs(found[role] - given[role]) > slack:
            wrong.append(f"{role}: {given[role]:.2f} m of rows given, "
                         f"{found[role]:.2f} m")
    return wrong


def near_length(roof, points, roles, shares):
    unsure = np.zeros(len(points), bool)
    for angle in np.arange(4) * math.pi / 2:
        step = roof.near * np.array((math.cos(angle), math.sin(angle)))
        other = roof.zones.roles(points + step)
        unsure |= (other >= 0) & (np.array(ROLES + ("outside",))[other] != roles)
    return shares[unsure].sum()


def check_laps_have_rows(roof, layout, assembly):
    """Where two sheets lap there is a row, but close to an edge along it; narrower laps,
    of mitres, are welded only."""
    lap = float(assembly["lap_in"]) * 0.0254
    main = [s["shape"] for s in layout["sheets"] if s["kind"] != "cover strip"]
    rows = unary_union([r["shape"] for r in layout["rows"]
                        if r["kind"] == "in a lap"]).buffer(lap / 2 + 0.01)
    edge, wrong = roof.edge.buffer(2 * NO_ROW + lap / 2), []
    laps = [o for _, _, o in overlap_list(main) if o.area > 1e-3]
    wide = unary_union(laps).buffer(0.02 - lap / 2).buffer(lap / 2 - 0.02)
    bare = wide.difference(rows).difference(edge).buffer(-0.02)
    if bare.area > 0.2:     # tips of mitres are shorter than a row
        wrong.append(f"laps without a row: {bare.area:.3f} m2 at "
                     f"{place_of(roof, bare.representative_point())}")
    return wrong


def chains(layout):
    """Rows as lines: their pieces in order."""
    pieces = defaultdict(list)
    for row in layout["rows"]:
        pieces[row["row"]].append(row)
    return pieces


def check_screws_of_rows(roof, layout):
    """Plates lie on their rows, as many as given, no further apart than the spacing."""
    wrong, plates = [], defaultdict(list)
    for plate in layout["plates"]:
        plates[plate["of"]].append(plate)
    for number, pieces in chains(layout).items():
        given, found = defaultdict(int), defaultdict(int)
        for piece in pieces:
            given[piece["zone"]] += piece["fasteners"]
        mine = plates.pop(number, [])
        for plate in mine:
            found[plate["zone"]] += 1
        if {k: v for k, v in given.items() if v} != dict(found):
            wrong.append(f"row {number}: {dict(given)} fasteners given, {dict(found)} "
                         f"drawn")
        wrong += [f"row {number}: {line}" for line in gaps_in(roof, pieces, mine)]
    if plates:
        wrong.append(f"plates of rows that aren't there: {sorted(plates)[:5]}")
    return wrong


def gaps_in(roof, pieces, plates):
    starts = np.concatenate(([0], np.cumsum([p["shape"].length for p in pieces])))
    spacing = np.array([p["spacing_mm"] / 1000 for p in pieces])
    closed = Point(pieces[0]["shape"].coords[0]).distance(
        Point(pieces[-1]["shape"].coords[-1])) < 0.001 and len(pieces) > 1
    places, at = [], 0
    for plate in map(Point, (p["shape"] for p in plates)):   # in the order of the walk
        at = next((k for k in range(at, len(pieces))
                   if pieces[k]["shape"].distance(plate) < ROUNDING), None)
        if at is None:
            return [f"a plate off its row at {place_of(roof, plate)}"]
        places.append(starts[at] + pieces[at]["shape"].project(plate))
    wrong, total = [], starts[-1]
    if not places:
        return [f"no plate on {total:.2f} m"]
    steps = list(zip(places, places[1:]))
    if closed:
        steps.append((places[-1], total + places[0]))
    elif max(places[0], total - places[-1]) > min(ROW_END, total / 2) + ROUNDING:
        wrong.append(f"ends {places[0]:.3f} m and {total - places[-1]:.3f} m from the "
                     f"first and last screw")
    for a, b in steps:
        within = (starts[1:] > a + 0.001) & (starts[:-1] < min(b, total) - 0.001)
        if within.any() and b - a > spacing[within].max() + ROUNDING:
            wrong.append(f"screws {b - a:.3f} m apart, spacing {spacing[within].max()}")
    return wrong[:1]


# ---- boards ---------

def check_boards(roof, layout, assembly):
    """Boards fill the roof but for strips at its edges that are filled."""
    boards, wrong = layout["boards"], []
    shapes = [b["shape"] for b in boards]
    whole = unary_union(shapes)
    # A strip may be as wide as it is measured along the boards' own directions.
    bare = roof.shape.difference(whole).buffer(-FILLED / 2 - ROUNDING)
    if bare.area > 0:
        wrong.append(f"boards leave {bare.area:.4f} m2 bare at "
                     f"{place_of(roof, bare.representative_point())}")
    total = sum(s.area for s in shapes)
    if total - whole.area > 1e-6 * total:
        wrong.append(f"boards overlap by {total - whole.area:.5f} m2")
    if roof.shape.area - total > FILLED * roof.edge.length or \
            total - roof.shape.area > 1e-4 * total:
        wrong.append(f"boards of {total:.3f} m2 on a roof of {roof.shape.area:.3f} m2")
    if whole.difference(roof.shape.buffer(ROUNDING)).area > 1e-6:
        wrong.append("boards outside the roof")
    length, width = (float(assembly[f"board_{side}_ft"]) * 0.3048
                     for side in ("length", "width"))
    least = (length - JOINT) * (width - JOINT)
    for k, board in enumerate(boards):
        area = board["shape"].area
        if area < least - 1e-4 if board["whole"] else area > length * width * (1 - 1e-5):
            wrong.append(f"board {k}: {area:.4f} m2, whole {board['whole']}")
    return wrong


def fits(piece, edge, count):
    """Whether so many plates have room inside the edge distance, each 3 in from the
    next: surely so along the longest side of the box around what is left."""
    room = piece.buffer(-edge - ROUNDING)
    if room.is_empty or not isinstance(room, Polygon):
        return not room.is_empty and count == 1
    corners = np.array(room.minimum_rotated_rectangle.exterior.coords) \
        if room.area > 0 else np.array(room.bounds).reshape(2, 2)
    longest = max(math.dist(a, b) for a, b in zip(corners, corners[1:]))
    return longest > 3 * PLATE * count


def check_plates_of_boards(roof, layout, assembly):
    wrong, boards = [], layout["boards"]
    edge = float(assembly["board_edge_in"] or 0) * 0.0254
    plates = defaultdict(list)
    for plate in layout["plates"]:
        plates[plate["of"]].append(plate)
    for k, board in enumerate(boards):
        mine = plates.pop(k, [])
        if len(mine) != board["fasteners"]:
            wrong.append(f"board {k}: {board['fasteners']} fasteners given, {len(mine)} "
                         f"drawn")
        if not mine:
            continue
        inside = prep(board["shape"].buffer(1e-5))
        keep = edge if fits(board["shape"], edge, len(mine)) else 0
        border = board["shape"].boundary
        for plate in mine:
            at = Point(plate["shape"])
            if not inside.contains(at):
                wrong.append(f"a plate off board {k} at {place_of(roof, at)}")
            elif border.distance(at) < keep - ROUNDING:
                wrong.append(f"a plate {border.distance(at):.3f} m from the edge of "
                             f"board {k}, {keep:.3f} m allowed")
            if plate["zone"] != board["zone"]:
                wrong.append(f"board {k}: {board['zone']}, its plate {plate['zone']}")
        spots = np.array([p["shape"] for p in mine])
        apart = np.hypot(*(spots[:, None] - spots[None]).transpose(2, 0, 1))
        apart[np.diag_indices(len(mine))] = math.inf
        if apart.min() < PLATE - ROUNDING:
            wrong.append(f"board {k}: plates {apart.min():.4f} m apart")
    if plates:
        wrong.append(f"plates of boards that aren't there: {sorted(plates)[:5]}")
    return wrong


# ---- the run ---------

def check_layout(roof, method, layout, assemblies, bill, outline):
    if not bill:
        return ["not in materials.csv"]
    assembly = assemblies.get(bill[0]["assembly"])
    if assembly is None:
        if layout["sheets"] or bill[0]["item"] != "nothing laid out":
            return ["laid out without an assembly"]
        return []
    if not layout["sheets"]:
        return ["no sheets"]
    seam = method == "seam-fastened"
    wrong = check_sheets(roof, layout, assembly, outline)
    wrong += check_rows(roof, layout, seam)
    wrong += check_boards(roof, layout, assembly)
    if seam:
        wrong += check_screws_of_rows(roof, layout)
        wrong += check_laps_have_rows(roof, layout, assembly)
    else:
        wrong += check_plates_of_boards(roof, layout, assembly)
    return wrong + check_bill(roof, bill, layout)


def main():
    chosen = arguments()
    folder = chosen.keep or pathlib.Path(tempfile.mkdtemp(prefix="witness-"))
    folder.mkdir(parents=True, exist_ok=True)
    roofs = choose(chosen.seed, chosen.count)
    warnings.simplefilter("ignore")     # shapely 1.8 announces 2.0
    if chosen.only is not None:
        roofs = roofs[chosen.only:chosen.only + 1]
    layouts, assemblies, bills = lay_out(chosen.outlay, roofs, folder)
    bad = laid = 0
    for roof in roofs:
        outline = layouts[roof.id, ""]["outline"][0]
        amiss = outline["shape"].symmetric_difference(roof.traced).area
        if amiss > 2e-4 * roof.edge.length:
            print(f"{roof}: outline as written differs by {amiss:.4f} m2")
            bad += 1
        for method in METHODS:
            layout = layouts.get((roof.id, method), defaultdict(list))
            wrong = check_layout(roof, method, layout, assemblies,
                                 bills[roof.id, method], outline)
            laid += bool(layout["sheets"])
            bad += bool(wrong)
            for line in wrong:
                print(f"{roof} {method}: {line}")
    print(f"layouts by shapely: {len(roofs)} levels, {laid} layouts, {bad} disagree")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
