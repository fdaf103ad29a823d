#!/usr/bin/env python3
"""Dimensions, enlarged corners and details of plan sheets, as poppler reads them, against
layout.gpkg and the tables of the same run.

    tests/draw/test_dimensions.py --outlay PROGRAM
"""

import argparse
import csv
import json
import math
import pathlib
import re
import subprocess
import sys
import tempfile
import unittest

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
DEMO = ROOT / "testdata" / "demo" / "demo.geojson"
DETAILS = ROOT / "src" / "catalog" / "details.csv"
FOOT, INCH = 0.3048, 0.0254
SCALE = 0.9996  # the least of a UTM zone
PROGRAM = None


def outlay(*arguments, statuses=(0, 1)):
    done = subprocess.run([PROGRAM, *map(str, arguments)], capture_output=True, text=True)
    if done.returncode not in statuses:
        raise AssertionError(f"{arguments}: status {done.returncode}\n{done.stderr}")


def pages(path):
    text = subprocess.run(["pdftotext", path, "-"], check=True, capture_output=True,
                          text=True).stdout
    return text.split("\f")[:-1]


def rows(path):
    with open(path, encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def feet(metres):
    """As a sheet writes a length, to the nearest half inch."""
    halves = math.floor(metres / INCH * 2 + 0.5)
    whole, rest = divmod(halves, 24)
    inches = f"{rest // 2}" + (" 1/2" if rest % 2 else "")
    return (f"{whole}'-" if whole else "") + f'{inches}"'


def metres(written):
    found = re.fullmatch(r"(?:(\d+)'-)?(\d+)?(?: ?(1/2))?\"", written)
    return (int(found[1] or 0) * 12 + int(found[2] or 0) +
            (0.5 if found[3] else 0)) * INCH


LENGTH = r"(?:\d+'-)?\d+(?: 1/2)?\""


def drawing(text):
    """The texts of a page before its notes."""
    return text.split("Planning figures")[0]


class Sheet:
    """What layout.gpkg says of the roofs."""

    def __init__(self, folder):
        self.path = folder / "layout.gpkg"

    def features(self, layer):
        said = subprocess.run(
            ["ogr2ogr", "-f", "GeoJSON", "-lco", "RFC7946=NO", "/vsistdout/", self.path,
             layer], check=True, capture_output=True, text=True).stdout
        result = {}
        for feature in json.loads(said)["features"]:
            result.setdefault(feature["properties"]["roof_id"], []).append(feature)
        return result


def sides(polygons):
    """Segments of the rings of a multipolygon."""
    for polygon in polygons:
        for ring in polygon:
            yield from zip(ring, ring[1:])


def is_gap(length, segments):
    """Whether two parallel segments lie so far apart, to a half inch."""
    slack = INCH / 4 + 0.002 + length * (1 / SCALE - 1)
    lines = []
    for (ax, ay), (bx, by) in segments:
        angle = math.atan2(by - ay, bx - ax) % math.pi
        if math.hypot(bx - ax, by - ay) > 0.3:
            lines.append((angle, (ax + bx) / 2, (ay + by) / 2))
    for angle, x, y in lines:
        offsets = [abs((q - y) * math.cos(angle) - (p - x) * math.sin(angle))
                   for other, p, q in lines
                   if abs(math.sin(other - angle)) < 0.002]
        if any(abs(offset - length) <= slack for offset in offsets):
            return True
    return False


class Dimensions(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.scratch = tempfile.TemporaryDirectory()
        cls.folder = pathlib.Path(cls.scratch.name)
        outlay("run", DEMO, "-o", cls.folder / "demo", "-q", "--wind-speed", "115mph")
        cls.sheets = pages(cls.folder / "demo" / "plans.pdf")
        cls.summary = rows(cls.folder / "demo" / "summary.csv")
        cls.layout = Sheet(cls.folder / "demo")

    @classmethod
    def tearDownClass(cls):
        cls.scratch.cleanup()

    def test_no_text_is_small(self):
        """Capitals of 4 mm on the sheet are letters of 15.55 pt; poppler's boxes are as
        high as DejaVu Sans rises and falls, 1.164 of that. Second pages have no slanted
        texts: what isn't that high stands upright and is that wide."""
        file = self.folder / "demo" / "plans.pdf"
        count = 0
        for page in (2, 28, 70, len(self.sheets)):
            said = subprocess.run(
                ["pdftotext", "-bbox", "-f", str(page), "-l", str(page), file, "-"],
                check=True, capture_output=True, text=True).stdout
            for word in re.findall(r'xMin="([\d.]+)" yMin="([\d.]+)" '
                                   r'xMax="([\d.]+)" yMax="([\d.]+)">', said):
                left, top, right, bottom = map(float, word)
                count += 1
                if bottom - top < 15.55 * 1.164 - 0.01:
                    self.assertGreaterEqual(right - left, 15.55 * 1.164 - 0.01)
                    self.assertLess(right - left, 21)
        self.assertGreater(count, 500)

    def test_corners_are_those_of_the_layout(self):
        """Each dimension of an enlarged corner is a distance of two rows, or of a row
        from an edge, or a side of the corner zone."""
        laid, corners = self.layout.features("rows"), self.layout.features("zones")
        outlines = self.layout.features("outline")
        dimensioned = spaced = 0
        for k, row in enumerate(self.summary):
            roof, text = row["roof_id"], self.sheets[2 * k + 1]
            if roof not in laid:
                continue
            drawn = drawing(text).split("A corner of")[0]
            spacings = {feet(f["properties"]["spacing_in"] * INCH) for f in laid[roof]}
            for spacing in re.findall(rf"@ ({LENGTH})", drawn):
                self.assertIn(spacing, spacings, roof)
                spaced += 1
            lines = [f["geometry"]["coordinates"] for f in laid[roof]]
            lines += sides(outlines[roof][0]["geometry"]["coordinates"])
            zone = [math.dist(*side) for f in corners[roof]
                    if f["properties"]["zone"] == "corner"
                    for side in sides(f["geometry"]["coordinates"])]
            found = re.findall(rf"^({LENGTH})$", drawn, re.MULTILINE)
            for written in set(found):
                length = metres(written)
                self.assertTrue(
                    is_gap(length, lines) or
                    any(abs(side / SCALE - length) < INCH / 4 + 0.03 for side in zone),
                    (roof, written))
            dimensioned += len(found) > 1
        self.assertGreater(dimensioned, 30)
        self.assertGreater(spaced, 60)

    def rectangle(self, name, *options):
        """A rectangle that stands square to north, so that its texts are read whole."""
        east, north = 90 / 86470.0, 60 / 111030.0  # degrees, about 90 m x 60 m
        source = self.folder / f"{name}.geojson"
        ring = [[-93, 39], [-93 + east, 39], [-93 + east, 39 + north], [-93, 39 + north],
                [-93, 39]]
        source.write_text(json.dumps({"type": "FeatureCollection", "features": [
            {"type": "Feature", "properties": {"id": "r", "height_m": 9, "deck": "wood"},
             "geometry": {"type": "Polygon", "coordinates": [ring]}}]}))
        outlay("run", source, "-o", self.folder / name, "-q", "--wind-speed", "115mph",
               *options)
        return self.folder / name, pages(self.folder / name / "plans.pdf")

    def check_rectangle(self, folder, texts, unit, write):
        layout, summary = Sheet(folder), rows(folder / "summary.csv")[0]
        width = float(summary[f"zone_width_{unit}"]) * (FOOT if unit == "ft" else 1)
        sizes = {f["properties"][f"length_{unit}"] for f in layout.features("edges")["r"]}
        words = drawing(texts[0]).splitlines()
        for size in sizes:
            size *= FOOT if unit == "ft" else 1
            near = {write(size + shift) for shift in (-0.001, 0, 0.001)}
            self.assertTrue(near & set(words), (size, words))
        corner = next(f for f in layout.features("zones")["r"]
                      if f["properties"]["zone"] == "corner")
        # An L: two sides as long as the leg, two as its depth, two between them.
        lengths = sorted(math.dist(*side) / SCALE for side in
                         sides(corner["geometry"]["coordinates"][:1]))
        leg, depth = lengths[-1], lengths[0]
        self.assertAlmostEqual(leg, width, 1)
        self.assertGreaterEqual(words.count(write(width)), 3)  # two strips and a leg
        self.assertAlmostEqual(depth, width / 3, 1)
        corner_words = drawing(texts[1]).splitlines()
        for size in (depth, leg - depth):
            near = {write(size + shift) for shift in (-0.002, 0, 0.002)}
            if unit == "m":
                near = {write(size + shift / 1000) for shift in (-2, -1, 0, 1, 2)}
            self.assertGreaterEqual(sum(word in near for word in corner_words), 2, size)

    def test_zone_widths_and_legs(self):
        folder, texts = self.rectangle("us")
        self.check_rectangle(folder, texts, "ft", feet)
        folder, texts = self.rectangle("si", "--units", "si")
        self.check_rectangle(folder, texts, "m",
                             lambda metres: str(math.floor(metres * 1000 + 0.5)))

    def test_half_sheets_and_first_rows(self):
        """Frames: rows run along both edges, each as far from it as in layout.gpkg."""
        folder, texts = self.rectangle("frames", "--edge-sheets", "frames")
        layout = Sheet(folder)
        words = drawing(texts[1])
        self.assertRegex(texts[1].replace("\n", " "), r"half sheets? along each edge")
        (left, _), (right, _) = [
            f(p for side in sides(layout.features("outline")["r"][0]["geometry"]
                                  ["coordinates"]) for p in side) for f in (min, max)]
        self.assertGreater(right - left, 80)
        first = sorted({round(abs(f["geometry"]["coordinates"][0][0] - left), 2)
                        for f in layout.features("rows")["r"]
                        if abs(f["geometry"]["coordinates"][0][0] -
                               f["geometry"]["coordinates"][1][0]) < 0.05 and
                        f["properties"]["kind"] != "base securement"})[0]
        found = [metres(w) for w in re.findall(rf"^({LENGTH})$", words, re.MULTILINE)]
        self.assertGreaterEqual(
            sum(abs(length - first / SCALE) < INCH for length in found), 2, first)

    def test_what_stands_on_the_roof(self):
        file = self.folder / "fixtures.pdf"
        demo = DEMO.parent
        outlay("draw", DEMO, "-o", file, "--set", "0101,1301", "--wind-speed", "115mph",
               "-q", "--fixtures", demo / "fixtures.geojson", "--edges",
               demo / "edges.geojson")
        texts = pages(file)
        with open(demo / "fixtures.geojson", encoding="utf-8") as source:
            kinds = {feature["properties"]["kind"]
                     for feature in json.load(source)["features"]}
        self.assertGreater(len(kinds), 4)
        self.assertLessEqual(kinds, set(texts[0].splitlines()))
        self.assertNotIn("not placed", texts[0])
        self.assertIn("joint", texts[2].splitlines())
        self.assertIn("not placed", texts[2])
        self.assertLessEqual({"Curb", "Joint", "Gutter"}, set(texts[4].splitlines()))

    def test_details_are_those_of_the_tables(self):
        text = self.sheets[-1]
        flat = re.sub(r"(?<=\d),(?=\d{3})", "", text)
        titles = {"metal": "Edge metal", "gutter": "Gutter", "parapet": "Parapet",
                  "wall": "Wall", "curb": "Curb", "joint": "Joint"}
        for kind, title in titles.items():
            lengths = [float(row[f"{kind}_edge_ft"] or 0) for row in self.summary]
            there = sum(length > 0 for length in lengths)
            self.assertEqual(title in text.splitlines(), there > 0, kind)
            if not there:
                continue
            said = re.search(rf"{sum(lengths):.0f} ft on {there} roofs?", flat)
            self.assertTrue(said, (kind, sum(lengths), there))
            for detail in rows(DETAILS):
                if detail["kind"] == kind:
                    self.assertIn(detail["item"], text)

    def test_amounts_are_those_of_the_details(self):
        """Pieces count by the unit of length, lengths by themselves."""
        details = self.folder / "details.csv"
        details.write_text(
            "kind,item,per,amount,add_in,note\n"
            "metal,edge metal,length,2,,\n"
            "metal,edge metal fastener,length,3,,\n"
            "metal,strip-in membrane,length,1,,\n"
            "metal,wood nailer,course,1.5,,\n"
            "metal,water cut-off mastic,half length,1,,\n"
            "metal,caulk,half length,2.5,,\n"
            "metal,T-joint patch,half length,6,,\n", encoding="utf-8")
        for units, unit, three, six in (("us", "ft", 3, 6), ("si", "m", 9.843, 19.685)):
            file = self.folder / f"details-{units}.pdf"
            outlay("draw", DEMO, "-o", file, "--set", "0101", "--wind-speed", "115mph",
                   "-q", "--units", units, "--details", details, "--edge", "metal")
            said = pages(file)[-1].splitlines()
            for words in (f"2 {unit} each {unit}", f"{three} each {unit}", "all along",
                          f"1.5 {unit} each {unit} of a course", "half of its length",
                          f"2.5 {unit} each {unit} of half its length",
                          f"{six} each {unit} of half its length"):
                self.assertIn(words, said)


if __name__ == "__main__":
    parser = argparse.ArgumentParser()
    parser.add_argument("--outlay", required=True)
    chosen, rest = parser.parse_known_args()
    PROGRAM = chosen.outlay
    unittest.main(argv=[sys.argv[0], *rest])
