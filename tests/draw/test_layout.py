#!/usr/bin/env python3
"""layout.gpkg against the tables of the same run, and its styles.

    tests/draw/test_layout.py --outlay PROGRAM
"""

import argparse
import collections
import csv
import json
import pathlib
import subprocess
import sys
import tempfile
import unittest
import xml.etree.ElementTree

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
DEMO = ROOT / "testdata" / "demo" / "demo.geojson"
SCALE = 0.9996  # the least of a UTM zone
PROGRAM = None


def rows(path):
    with open(path, encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


class Layout(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.scratch = tempfile.TemporaryDirectory()
        cls.folder = pathlib.Path(cls.scratch.name) / "out"
        done = subprocess.run(
            [PROGRAM, "takeoff", DEMO, "-o", cls.folder, "--wind-speed", "115mph", "-q",
             "--edge-rule", "row-fraction"], capture_output=True, text=True)
        if done.returncode != 1:  # one roof of the demo is left out
            raise AssertionError(done.stderr)

    @classmethod
    def tearDownClass(cls):
        cls.scratch.cleanup()

    def select(self, sql):
        """Properties of the features that a query finds, and their geometry."""
        said = subprocess.run(
            ["ogr2ogr", "-f", "GeoJSON", "-lco", "RFC7946=NO", "-preserve_fid",
             "/vsistdout/", self.folder / "layout.gpkg", "-sql", sql],
            check=True, capture_output=True, text=True).stdout
        return [feature["properties"] for feature in json.loads(said)["features"]]

    def test_insulation_plates_are_those_of_the_order(self):
        net = {row["roof_id"]: float(row["net"])
               for row in rows(self.folder / "materials.csv")
               if row["use"] == "insulation plate" and row["roof_id"]
               and row["method"] == "seam-fastened"}
        plates = {row["roof_id"]: row["n"] for row in self.select(
            "SELECT roof_id, SUM(plates) AS n, SUM(ST_NumGeometries(geom)) AS points "
            "FROM insulation_plates GROUP BY roof_id HAVING n = points")}
        boards = {row["roof_id"]: row["n"] for row in self.select(
            "SELECT roof_id, SUM(fasteners) AS n FROM boards "
            "WHERE method = 'seam-fastened' GROUP BY roof_id")}
        self.assertGreater(len(plates), 30)
        self.assertEqual(plates, boards)
        self.assertEqual(set(net), set(plates))
        for roof, count in plates.items():
            self.assertEqual(net[roof], count, roof)

    def test_every_end_of_a_roll_lies_on_its_sheet(self):
        expected = {(row["roof_id"], int(row["sheet"]), int(row["part"]),
                     int(row["roll"])) for row in rows(self.folder / "rolls.csv")
                    if int(row["part"]) < int(row["parts"])}
        ends = self.select("SELECT e.*, ST_Length(e.geom) AS l, s.width_ft AS w, "
                           "s.length_ft AS whole, ST_Distance(e.geom, s.geom) AS d "
                           "FROM roll_ends e JOIN sheets s ON e.roof_id = s.roof_id "
                           "AND e.sheet = s.sheet AND e.method = s.method")
        found = collections.Counter()
        for end in ends:
            found[end["cut_by"], end["sheet"], end["part"], end["roll"]] += 1
            self.assertLess(end["d"], 0.001)
            self.assertLessEqual(end["l"] / 0.3048, end["w"] + 0.01)
            self.assertAlmostEqual(end["lap_in"], 3, 2)
            self.assertLess(end["at_ft"], end["whole"])
        self.assertGreater(len(expected), 500)
        # Beside a half sheet that is ripped off, both have their ends.
        self.assertEqual(expected, set(found))
        # Ends across sections lie on each of them.
        across = {end["roof_id"] for end in ends if end["roof_id"] != end["cut_by"]}
        run_on = {row["roof_id"] for row in self.select(
            "SELECT DISTINCT roof_id FROM edges WHERE kind = 'continuous'")}
        self.assertTrue(across and across <= run_on)

    def test_sheets_are_as_wide_as_they_say(self):
        """Rectangles are as large as laid width by length, others smaller; a half sheet
        along an edge runs out over it by half a lap, 3 in."""
        sheets = self.select(
            "SELECT kind, width_ft, laid_width_ft, length_ft, ST_Area(geom) AS a "
            "FROM sheets WHERE ST_NPoints(geom) = 5")
        kinds, narrower = collections.Counter(), collections.Counter()
        for sheet in sheets:
            laid = sheet["laid_width_ft"]
            share = sheet["a"] / SCALE ** 2 / 0.3048 ** 2 / sheet["length_ft"] / laid
            self.assertLess(share, 1.002)
            self.assertLessEqual(laid, sheet["width_ft"] + 0.001)
            kinds[sheet["kind"]] += share > 0.998
            narrower[sheet["kind"], round(sheet["width_ft"] - laid, 2)] += 1
        self.assertGreater(kinds["full"], 100)
        self.assertGreater(kinds["half"], 0)
        self.assertGreater(kinds["cover strip"], 10)
        self.assertGreater(narrower["half", 0.25], 0)
        self.assertGreater(narrower["full", 0], 100)
        self.assertEqual({cut for kind, cut in narrower if kind == "cover strip"}, {0})

    def test_styles(self):
        styles = self.select("SELECT f_table_name, styleQML FROM layer_styles")
        self.assertEqual(len(styles), 13)
        names = {"fill": "SimpleFill", "line": "SimpleLine", "marker": "SimpleMarker"}
        kinds = {"MULTIPOLYGON": "fill", "LINESTRING": "line", "POINT": "marker",
                 "MULTIPOINT": "marker"}
        shapes = {row["t"]: kinds[row["g"]] for row in self.select(
            "SELECT table_name AS t, geometry_type_name AS g FROM gpkg_geometry_columns")}
        self.assertEqual(set(shapes), {style["f_table_name"] for style in styles})
        for style in styles:
            layer = style["f_table_name"]
            root = xml.etree.ElementTree.fromstring(style["styleQML"])
            renderer = root.find("renderer-v2")
            symbols = renderer.find("symbols").findall("symbol")
            for symbol in symbols:
                self.assertEqual(symbol.get("type"), shapes[layer])
                self.assertEqual(symbol.find("layer").get("class"), names[shapes[layer]])
                for prop in symbol.find("layer").findall("prop"):
                    if prop.get("k").endswith("color"):
                        numbers = [int(part) for part in prop.get("v").split(",")]
                        self.assertEqual(len(numbers), 4)
                        self.assertLessEqual(max(numbers), 255)
                    elif prop.get("k").endswith("style"):
                        self.assertIn(prop.get("v"),
                                      ("solid", "no", "dash", "dot", "dash dot"))
            attribute = renderer.get("attr")
            if not attribute:
                self.assertEqual(len(symbols), 1, layer)
                continue
            classes = [(c.get("value"), c.get("symbol"))
                       for c in renderer.find("categories")]
            self.assertEqual([number for _, number in classes],
                             [symbol.get("name") for symbol in symbols])
            values = {str(row["v"]) for row in self.select(
                f"SELECT DISTINCT {attribute} AS v FROM {layer}")}
            self.assertLessEqual(values, {value for value, _ in classes}, layer)
        scaled = {style["f_table_name"] for style in styles
                  if 'VisibilityFlag="1"' in style["styleQML"]}
        self.assertEqual(scaled, {"sheets", "boards", "rows", "plates", "taper",
                                  "insulation_plates", "roll_ends"})


if __name__ == "__main__":
    parser = argparse.ArgumentParser()
    parser.add_argument("--outlay", required=True)
    chosen, rest = parser.parse_known_args()
    PROGRAM = chosen.outlay
    unittest.main(argv=[sys.argv[0], *rest])
