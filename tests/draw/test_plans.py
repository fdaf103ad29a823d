#!/usr/bin/env python3
"""Plan sheets against the tables of the same run: every figure that a page states stands
in summary.csv, zones.geojson and materials.csv, and the other way round.

    tests/draw/test_plans.py --outlay PROGRAM
"""

import argparse
import csv
import json
import pathlib
import re
import subprocess
import sys
import tempfile
import unittest
import xml.etree.ElementTree

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
DEMO = ROOT / "testdata" / "demo" / "demo.geojson"
OPTIONS = ["--wind-speed", "115mph", "-q"]
PROGRAM = None


def outlay(*arguments, status=0, limit=None):
    """Runs it, with files of at most limit blocks of 512 bytes; gives its messages."""
    command = ["sh", "-c", f'ulimit -f {limit}; trap "" XFSZ; exec "$@"', "sh"]
    done = subprocess.run([*(command if limit else []), PROGRAM, *map(str, arguments)],
                          capture_output=True, text=True)
    if done.returncode != status:
        raise AssertionError(f"{arguments}: status {done.returncode}\n{done.stderr}")
    return done.stderr


def pages(path):
    """The text of each page, without the commas between thousands."""
    text = subprocess.run(["pdftotext", "-layout", path, "-"], check=True,
                          capture_output=True, text=True).stdout
    text = re.sub(r"(?<=\d),(?=\d{3}(\D|$))", "", text)
    return text.split("\f")[:-1]


def rows(path):
    with open(path, encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def on_sheet(number, unit):
    """A pattern of a table's quantity as a sheet shows it: one decimal of six, none of
    weights, where the six may have hidden to which side of a half it lay."""
    if "." not in number:
        return number or "-"
    digits = 0 if unit in ("lb", "kg") else 1
    shown = {f"{float(number) + shift:.{digits}f}" for shift in (-1e-6, 0, 1e-6)}
    return f"(?:{'|'.join(map(re.escape, sorted(shown)))})"


class Plans(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.scratch = tempfile.TemporaryDirectory()
        cls.folder = pathlib.Path(cls.scratch.name)
        for units in ("us", "si"):
            outlay("run", DEMO, "-o", cls.folder / units, "--units", units, *OPTIONS,
                   status=1)

    @classmethod
    def tearDownClass(cls):
        cls.scratch.cleanup()

    def page_of(self, units):
        """Text of the two pages of each roof, by its id."""
        texts = pages(self.folder / units / "plans.pdf")
        ids = [row["roof_id"] for row in rows(self.folder / units / "summary.csv")]
        self.assertEqual(len(texts), 2 * len(ids) + 1)
        return {roof: texts[2 * k] + texts[2 * k + 1] for k, roof in enumerate(ids)}

    def test_paper_and_pages(self):
        for units, size in (("us", "2448 x 1584"), ("si", "2383.94 x 1683.78")):
            said = subprocess.run(["pdfinfo", self.folder / units / "plans.pdf"],
                                  check=True, capture_output=True, text=True).stdout
            self.assertRegex(said, r"Pages: +83\n")
            self.assertIn(f"Page size:       {size}", said)
            self.assertNotIn("CreationDate", said)

    def test_every_page_states_what_it_must(self):
        for number, (roof, text) in enumerate(self.page_of("us").items(), 1):
            flat = " ".join(text.split())
            for words in (roof, f"{2 * number - 1} of 83", f"{2 * number} of 83",
                          "ASCE/SEI 7-22", "fall protection",
                          "Planning figures, not a design", "Lengths in feet and inches",
                          "North is up", "counted, not placed", "invented: ratings"):
                self.assertIn(words, flat, roof)
            self.assertRegex(flat, r"\d in = \d+ ft")

    def test_figures_are_those_of_the_summary(self):
        for units, area in (("us", "ft"), ("si", "m")):
            page_of = self.page_of(units)
            for row in rows(self.folder / units / "summary.csv"):
                text = page_of[row["roof_id"]]
                for column in (f"area_{area}2", f"edge_length_{area}", f"height_{area}"):
                    self.assertIn(row[column] or "-", text, (row["roof_id"], column))
                if row["corners"]:
                    self.assertIn(row["state"], text)

    def test_zones_are_those_of_the_zones_file(self):
        with open(self.folder / "us" / "zones.geojson", encoding="utf-8") as file:
            features = json.load(file)["features"]
        page_of = self.page_of("us")
        for zone in (feature["properties"] for feature in features):
            line = next(line for line in page_of[zone["roof_id"]].splitlines()
                        if re.search(rf"\b{zone['zone']} +{zone['standard_zone']} ", line)
                        and zone["state"] in line)
            for value in (zone["area_ft2"], zone["uplift_psf"]):
                self.assertIn(f" {value:.1f} ", line)
            if zone["fasteners"] is not None:
                self.assertRegex(line, rf" {zone['fasteners']} +\S {zone['state']}")

    def test_orders_are_those_of_the_materials(self):
        page_of = self.page_of("us")
        listed = 0
        for row in rows(self.folder / "us" / "materials.csv"):
            if not row["roof_id"] or not row["use"]:
                continue
            text = page_of[row["roof_id"]]
            start = (row["item"] or row["use"])[:30]
            net, ordered = (on_sheet(row[name], row["unit"])
                            for name in ("net", "ordered"))
            packs = ""
            if row["packs"].isdigit():     # a share of a pack is the order's
                end = "" if row["packs"] == "1" else "(s|es)"
                packs = rf".* {row['packs']} {row['pack']}{end}$"
            self.assertRegex(text, re.compile(
                re.escape(start) + rf".* {net} +{ordered} {packs}", re.MULTILINE),
                row["roof_id"])
            listed += 1
        self.assertGreater(listed, 500)

    def test_notes_without_room_are_counted(self):
        """A roof that takes so much that its list leaves room for a few notes alone."""
        def at(x, y):  # shares of a roof of 200 ft by 120 ft
            return [-90 + x * 0.000713868, 40 + y * 0.00032941]

        def layer(name, *features):
            (self.folder / name).write_text(json.dumps(
                {"type": "FeatureCollection", "features": [
                    {"type": "Feature", "properties": properties,
                     "geometry": {"type": kind, "coordinates": places}}
                    for properties, kind, places in features]}))
            return self.folder / name

        ring = [at(0, 0), at(1, 0), at(1, 1), at(0, 1), at(0, 0)]
        roof = layer("full.geojson", ({"id": "full", "height_ft": 20, "covers": 2,
                                       "parapet_ft": 4, "wet": 0.3, "penetrations": 4},
                                      "Polygon", [ring]))
        edges = layer("edges.geojson", *(
            ({"kind": kind, "height_ft": 4}, "LineString", ring[k:k + 2])
            for k, kind in enumerate(("gutter", "wall", "parapet", "metal"))))
        fixtures = layer("fixtures.geojson", *(
            ({"id": str(k), "kind": kind, "width_ft": 4, "length_ft": 4, "height_ft": 1},
             "Point", at(*place)) for k, (kind, *place) in enumerate((
                 ("drain", .3, .5), ("drain", .7, .5), ("unit", .5, .7),
                 ("hatch", .2, .8), ("pipe", .4, .2)))))
        outlay("run", roof, "-o", self.folder / "full", "--edges", edges, "--fixtures",
               fixtures, "--taper", "1/4", *OPTIONS)
        text = " ".join(pages(self.folder / "full" / "plans.pdf")[1].split())
        notes = {(row["use"], row["note"]): f"{row['use']}: {row['note']}"[:40]
                 for row in rows(self.folder / "full" / "materials.csv") if row["note"]}
        shown = sum(note in text for note in notes.values())
        said = re.search(r"\b(\d+) further notes: see materials\.csv", text)
        self.assertGreater(shown, 0)
        self.assertIsNotNone(said)
        self.assertEqual(int(said[1]), len(notes) - shown)

    def sheets(self, roof):
        """Numbers of the sheets of a roof in layout.gpkg."""
        said = subprocess.run(
            ["ogr2ogr", "-f", "CSV", "/vsistdout/", self.folder / "us" / "layout.gpkg",
             "-sql", f"SELECT sheet FROM sheets WHERE roof_id = '{roof}' AND sheet > 0"],
            check=True, capture_output=True, text=True).stdout
        return sorted(map(int, re.findall(r"\d+", said)))

    def test_sheets_are_those_of_the_rolls(self):
        page_of = self.page_of("us")
        numbers, rolls = {}, {}
        for row in rows(self.folder / "us" / "rolls.csv"):
            found = numbers.setdefault(row["roof_id"], set())
            found.update(int(row[name]) for name in ("sheet", "beside") if row[name])
            rolls[row["roof_id"], row["use"]] = int(row["roll"])
        self.assertGreater(len(numbers), 30)
        run_on = {row["roof_id"] for row in rows(self.folder / "us" / "summary.csv")
                  if float(row["continuous_edge_ft"] or 0) > 0}
        for roof, found in numbers.items():
            if roof in run_on:  # its sheets are numbered with those of other sections
                self.assertLessEqual(found, set(self.sheets(roof)), roof)
            else:
                self.assertEqual(self.sheets(roof), list(range(1, len(found) + 1)), roof)
                self.assertEqual(found, set(range(1, len(found) + 1)), roof)
            words = set(page_of[roof].split())
            missing = sum(str(number) not in words for number in found)
            unseen = re.search(r"rolls\.csv; (\d+)\s+not\b", page_of[roof])
            self.assertLessEqual(missing, int(unseen[1]) if unseen else 0, roof)
        for row in rows(self.folder / "us" / "materials.csv"):
            count = re.search(r"; (\d+) rolls?, no cutting", row["note"])
            if count:
                key = row["roof_id"], row["use"]
                self.assertEqual(int(count[1]), rolls.pop(key, 0))
        self.assertFalse(rolls)

    def test_end_laps_are_drawn_where_rolls_end(self):
        """Those of other sections' rolls too: 0201 has no ends of its own."""
        said = subprocess.run(
            ["ogr2ogr", "-f", "CSV", "/vsistdout/", self.folder / "us" / "layout.gpkg",
             "-sql", "SELECT DISTINCT roof_id AS id FROM roll_ends e WHERE method = "
             "(SELECT method FROM outline o WHERE o.roof_id = e.roof_id)"],
            check=True, capture_output=True, text=True).stdout
        ends = set(re.findall(r"\d{4}", said))
        self.assertIn("0201", ends)
        texts = pages(self.folder / "us" / "plans.pdf")
        for number, row in enumerate(rows(self.folder / "us" / "summary.csv")):
            drawn = re.search(r"\bend lap\b", texts[2 * number]) is not None
            self.assertEqual(drawn, row["roof_id"] in ends, row["roof_id"])

    def test_shared_edges_are_told(self):
        page_of = self.page_of("us")
        self.assertIn("shared edge", page_of["0201"])
        self.assertNotIn("shared edge", page_of["0101"])

    def test_edges_by_kind(self):
        page_of = self.page_of("us")
        kinds = {"0101": ["edge metal"], "0103": ["parapet", "wall"]}
        for roof, there in kinds.items():
            legend = page_of[roof].split("Drains and penetrations")[0].splitlines()[-12:]
            for kind in there:
                self.assertTrue(any(kind in line for line in legend), (roof, kind))

    def test_weak_results_are_told(self):
        page_of = self.page_of("us")
        for row in rows(self.folder / "us" / "summary.csv"):
            text = " ".join(page_of[row["roof_id"]].split())
            for word in ("estimated", "assumed"):
                for name in filter(None, row[word].split("; ")):
                    self.assertRegex(
                        text,
                        rf"{word} {name} \((site|reading|source)\):"
                        rf"|without a source: [a-z, -]*\b{name}\b"
                        rf"|further remarks? \(.*\b{name}\b.*\)",
                        row["roof_id"])
        self.assertIn("no usable height and no storeys", page_of["1502"])
        self.assertIn("left out", page_of["1502"])

    def test_same_bytes_for_any_threads(self):
        files = [self.folder / f"{threads}.pdf" for threads in (1, 4)]
        for threads, file in zip((1, 4), files):
            outlay("draw", DEMO, "-o", file, "--threads", threads, *OPTIONS, status=1)
        first = files[0].read_bytes()
        self.assertEqual(first, files[1].read_bytes())
        self.assertEqual(first, (self.folder / "us" / "plans.pdf").read_bytes())

    def test_bookmarks(self):
        data = (self.folder / "us" / "plans.pdf").read_bytes()
        titles = re.findall(rb"/Title \(([^)]*)\)", data)
        self.assertIn(b"Hill Secondary School", titles)
        self.assertIn(b"0601  Courtyard block", titles)

    def test_chosen_roofs(self):
        file = self.folder / "set.pdf"
        outlay("draw", DEMO, "-o", file, "--set", "0601,0101", *OPTIONS)
        texts = pages(file)
        self.assertEqual(len(texts), 5)
        self.assertIn("1 of 5", texts[0])
        self.assertIn("0101", texts[0])
        self.assertIn("0601", texts[2])
        whole = self.page_of("us")
        self.assertEqual((texts[2].replace("3 of 5", "27 of 83") +
                          texts[3].replace("4 of 5", "28 of 83")).split(),
                         whole["0601"].split())

    def test_a_roof_that_is_not_there(self):
        said = outlay("draw", DEMO, "-o", self.folder / "none.pdf", "--set", "0601,9999",
                      *OPTIONS, status=2)
        self.assertIn('no roof has the id "9999"', said)
        self.assertFalse((self.folder / "none.pdf").exists())

    def test_only_chosen_roofs_decide_the_status(self):
        said = outlay("draw", DEMO, "-o", self.folder / "left.pdf", "--roof", "1502",
                      *OPTIONS, status=1)
        self.assertIn("without zones: 1 of 1", said)
        problems = rows(self.folder / "left.problems.csv")
        self.assertEqual([row["roof_id"] for row in problems], ["1502"])

    def test_problems_go_beside(self):
        outlay("draw", DEMO, "-o", self.folder / "all.pdf", *OPTIONS, status=1)
        self.assertEqual((self.folder / "all.problems.csv").read_text(),
                         (self.folder / "us" / "problems.csv").read_text())

    def test_files_of_pages(self):
        outlay("draw", DEMO, "-o", self.folder / "one.svg", "--roof", "0601", *OPTIONS)
        for name in ("one.svg", "one-2.svg", "one-3.svg"):
            xml.etree.ElementTree.parse(self.folder / name)
        outlay("draw", DEMO, "-o", self.folder / "two.png", "--set", "0601,0101",
               *OPTIONS)
        for number in (1, 2, 3, 4, 5):
            data = (self.folder / f"two-{number}.png").read_bytes()
            self.assertEqual(data[:8], b"\x89PNG\r\n\x1a\n")
            self.assertEqual(int.from_bytes(data[16:20], "big"), 17 * 150)

    def test_what_exists_stays(self):
        file = self.folder / "mine.pdf"
        file.write_text("mine")
        said = outlay("draw", DEMO, "-o", file, *OPTIONS, status=3)
        self.assertIn("--overwrite", said)
        self.assertEqual(file.read_text(), "mine")
        self.assertIn("end it in .pdf", outlay("draw", DEMO, "-o", self.folder / "x.doc",
                                               *OPTIONS, status=2))

    def test_a_deck_given_for_all_roofs(self):
        source = self.folder / "bare.geojson"
        demo = json.loads(DEMO.read_text())
        for feature in demo["features"]:
            feature["properties"].pop("deck", None)
        source.write_text(json.dumps(demo))
        for deck, said in (("concrete", r"deck\s+concrete"),
                           (None, r"deck\s+steel, assumed")):
            file = self.folder / f"deck-{deck}.pdf"
            outlay("draw", source, "-o", file, "--roof", "0601", *OPTIONS,
                   *(("--deck", deck) if deck else ()))
            self.assertRegex(pages(file)[0], said)

    def test_walkways_are_as_wide_as_their_pads(self):
        fixtures = DEMO.with_name("fixtures.geojson")
        outlay("catalog", "-o", self.folder / "catalog")
        items = self.folder / "catalog" / "items.csv"
        items.write_text(items.read_text().replace("pad, 30 in x 60", "pad, 48 in x 60"))
        widths = []
        for more in ([], ["--items", items]):
            file = self.folder / f"walkway-{len(widths)}.svg"
            outlay("draw", DEMO, "-o", file, "--roof", "0101", "--fixtures", fixtures,
                   *OPTIONS, *more)
            found = re.findall(r"stroke-width:([\d.]+)", file.read_text())
            widths.append(max(map(float, found)))
        self.assertAlmostEqual(widths[1] / widths[0], 48 / 30, 3)

    def test_a_full_disk(self):
        said = outlay("draw", DEMO, "-o", self.folder / "full.pdf", "--roof", "0101",
                      "--where", "id = '0101'", *OPTIONS, limit=20, status=3)
        self.assertIn("failed", said)
        self.assertFalse((self.folder / "full.pdf").exists())

    def test_odd_names_and_no_outline(self):
        names = {"a": "<script>alert('x')</script> & <b>", "b": "W" * 1000,
                 "c": "Größe Ægir", "d": "two\nlines", "e" * 99: "Shed"}
        features = [{"type": "Feature", "properties": {"id": key, "name": name,
                                                       "height_m": 6},
                     "geometry": {"type": "Polygon", "coordinates": [
                         [[-93, 39], [-92.9998, 39], [-92.9998, 39.0002],
                          [-93, 39.0002], [-93, 39]]]}} for key, name in names.items()]
        features.append({"type": "Feature", "properties": {"id": "z", "height_m": 6},
                         "geometry": None})
        source = self.folder / "odd.geojson"
        source.write_text(json.dumps({"type": "FeatureCollection",
                                      "features": features}))
        outlay("draw", source, "-o", self.folder / "odd.pdf", *OPTIONS, status=1)
        texts = pages(self.folder / "odd.pdf")
        self.assertIn(names["a"], texts[0])
        self.assertIn("W" * 20, texts[2])
        self.assertIn(names["c"], texts[4])
        self.assertIn("two lines", texts[6])
        self.assertIn("Roof plan, Shed", texts[8])
        self.assertIn("Corner and order, Shed", texts[9])
        self.assertIn("no usable outline", texts[10])
        self.assertIn("no usable outline", texts[11])


if __name__ == "__main__":
    parser = argparse.ArgumentParser()
    parser.add_argument("--outlay", required=True)
    chosen, rest = parser.parse_known_args()
    PROGRAM = chosen.outlay
    unittest.main(argv=[sys.argv[0], *rest])
