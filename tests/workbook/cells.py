#!/usr/bin/python3
"""Reads workbooks back and compares every cell with the CSV files of the same run.

    tests/workbook/cells.py OUTLAY [TEST...]

Needs Debian's python3-openpyxl.
"""

import csv
import json
import pathlib
import subprocess
import sys
import tempfile
import unittest

import openpyxl

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
DEMO = ROOT / "testdata" / "demo"
CAUTION = "Planning figures, not a design"
TABLES = ("summary,totals,materials,orders,comparison,ranking,budget,scenarios,visits,"
          "plan,problems,workbook")
PLAN = ("--cap", "1500000", "--start", "2027", "--actions",
        str(DEMO / "actions.csv"))
ACTIONS = "what can be done to a roof"
SHOWN = 2000  # roofs that a workbook shows at most
OUTLAY = None


def run(folder, name, source, *options):
    """Runs outlay into folder/name; returns that folder."""
    out = folder / name
    done = subprocess.run([OUTLAY, "run", str(source), "-o", str(out), "-q", *options],
                          capture_output=True, text=True, check=False)
    if done.returncode not in (0, 1):
        raise AssertionError(done.stderr)
    return out


def table(out, name):
    """The rows of a CSV file, its last column, the caution, left off."""
    with open(out / f"{name}.csv", newline="", encoding="utf-8") as file:
        rows = [row[:-1] for row in csv.reader(file)]
    return rows[0], rows[1:]


def unguarded(text):
    """A CSV text without the apostrophe that keeps it from being a formula."""
    return text[1:] if text[:1] == "'" and text[1:2] in tuple("=+-@") else text


def head_row(sheet, first):
    """Number of the row that the columns' names are in."""
    for row in range(1, 12):
        if sheet.cell(row, 1).value == first:
            return row
    raise AssertionError(f"{sheet.title}: no header")


def square(x, y, name, properties=None):
    """A feature of 20 m by 20 m, some kilometres from the others."""
    west, south = -95 + 0.01 * x, 40 + 0.01 * y
    ring = [[west, south], [west + 0.0002, south], [west + 0.0002, south + 0.0002],
            [west, south + 0.0002], [west, south]]
    return {"type": "Feature",
            "properties": {"id": f"{x:02}-{y:02}", "name": name, "height_m": 6,
                           **(properties or {})},
            "geometry": {"type": "Polygon", "coordinates": [ring]}}


def write_layer(path, features):
    path.write_text(json.dumps({"type": "FeatureCollection", "features": features}),
                    encoding="utf-8")
    return path


class Workbook(unittest.TestCase):
    def setUp(self):
        self.temporary = tempfile.TemporaryDirectory(prefix="outlay-workbook-")
        self.folder = pathlib.Path(self.temporary.name)

    def tearDown(self):
        self.temporary.cleanup()

    def compare_cell(self, cell, wanted, where):
        """One cell against its text in the CSV file."""
        if wanted == "":
            self.assertIsNone(cell.value, where)
        elif cell.data_type == "n":
            self.assertEqual(cell.value, float(wanted), where)
            decimals = len(wanted.partition(".")[2])
            shown = len(cell.number_format.partition(".")[2])
            self.assertTrue(shown == decimals or shown <= min(2, decimals), where)
        else:
            self.assertEqual(cell.data_type, "s", where)
            self.assertEqual(cell.value, unguarded(wanted), where)

    def compare_sheet(self, sheet, names, rows):
        """A sheet against its CSV file; returns the row after the last one compared."""
        head = head_row(sheet, names[0])
        self.assertEqual([cell.value for cell in sheet[head]], names)
        cells = sheet.iter_rows(min_row=head + 1, max_row=head + len(rows),
                                max_col=len(names))
        for i, (row, found) in enumerate(zip(rows, cells, strict=True)):
            for name, wanted, cell in zip(names, row, found, strict=True):
                self.compare_cell(cell, wanted, f"{sheet.title}, row {i + 1}, {name}")
        self.assertEqual(sheet.freeze_panes, f"B{head + 1}", sheet.title)
        last = openpyxl.utils.get_column_letter(len(names))
        self.assertEqual(sheet.auto_filter.ref, f"A{head}:{last}{head + len(rows)}")
        self.assertIn(CAUTION, sheet.cell(2, 1).value)
        return head, head + 1 + len(rows)

    def compare_book(self, out):
        values = openpyxl.load_workbook(out / "workbook.xlsx", data_only=True)
        self.assertEqual(values.sheetnames[0], "overview")
        for name in (n for n in values.sheetnames[1:] if (out / f"{n}.csv").exists()):
            names, rows = table(out, name)
            with self.subTest(sheet=name):
                self.compare_sheet(values[name], names, rows)
        return values

    def test_every_cell_is_that_of_the_csv_files(self):
        for units, order in (("us", "building"), ("si", "portfolio")):
            out = run(self.folder, units, DEMO / "demo.geojson", "--job",
                      str(DEMO / "demo.yaml"), "--units", units, "--methods", "all",
                      "--order-by", order, "--write", TABLES, *PLAN)
            values = self.compare_book(out)
            self.assertEqual(",".join(values.sheetnames[1:]) + ",workbook", TABLES)

    def test_totals_are_formulas_with_their_values(self):
        out = run(self.folder, "out", DEMO / "demo.geojson", "--job",
                  str(DEMO / "demo.yaml"), "--write", "summary,workbook")
        names, rows = table(out, "summary")
        values = openpyxl.load_workbook(out / "workbook.xlsx", data_only=True)["summary"]
        formulas = openpyxl.load_workbook(out / "workbook.xlsx")["summary"]
        head = head_row(values, names[0])
        last = head + len(rows)
        summed = []
        for j, name in enumerate(names):
            cell = formulas.cell(last + 1, j + 1)
            if cell.data_type != "f":
                continue
            letter = openpyxl.utils.get_column_letter(j + 1)
            self.assertEqual(cell.value,
                             f"=SUBTOTAL(109,{letter}{head + 1}:{letter}{last})")
            wanted = sum(float(row[j]) for row in rows if row[j])
            self.assertAlmostEqual(values.cell(last + 1, j + 1).value, wanted, 6, name)
            summed.append(name)
        self.assertEqual(summed, ["area_ft2", "corner_ft2", "perimeter_ft2", "field_ft2",
                                  "interior_ft2", "edge_length_ft", "fasteners",
                                  "board_fasteners", "metal_edge_ft", "gutter_edge_ft",
                                  "parapet_edge_ft", "wall_edge_ft", "curb_edge_ft",
                                  "joint_edge_ft", "continuous_edge_ft",
                                  "problems"])

    def test_texts_stay_texts(self):
        names = ["=1+1", "+1+1", "-1+1", "@SUM(A1)", "=HYPERLINK(\"http://a\")", "0417",
                 "<script>&amp;</script>", "http://example.org", "\N{ROCKET} caf\u00e9"]
        layer = write_layer(self.folder / "in.geojson",
                            [square(i, 0, name, {"building": name, "id": name})
                             for i, name in enumerate(names)])
        out = run(self.folder, "out", layer, "--write", "summary,workbook")
        self.compare_book(out)
        sheet = openpyxl.load_workbook(out / "workbook.xlsx")["summary"]
        head = head_row(sheet, "roof_id")
        found = [sheet.cell(head + 1 + i, 2) for i in range(len(names))]
        self.assertEqual([cell.value for cell in found], names)
        self.assertEqual({cell.data_type for cell in found}, {"s"})
        self.assertEqual([cell.hyperlink for cell in found], [None] * len(names))

    def test_texts_that_no_cell_may_hold(self):
        long = "\N{ROCKET}" * 20000
        layer = write_layer(self.folder / "in.geojson",
                            [square(0, 0, "a\tb\nc\x01d\x7fe"), square(1, 0, long)])
        out = run(self.folder, "out", layer, "--write", "workbook")
        sheet = openpyxl.load_workbook(out / "workbook.xlsx")["summary"]
        head = head_row(sheet, "roof_id")
        self.assertEqual(sheet.cell(head + 1, 2).value, "a b c d e")
        self.assertEqual(sheet.cell(head + 2, 2).value,
                         "\N{ROCKET}" * 16383 + "\N{HORIZONTAL ELLIPSIS}")

    def test_a_large_portfolio_is_cut_by_rank_and_says_so(self):
        layer = write_layer(self.folder / "in.geojson",
                            [square(i % 50, i // 50, "x",
                                    {"height_m": 5 + i * 701 % (SHOWN + 5) / 100})
                             for i in range(SHOWN + 5)])
        out = run(self.folder, "out", layer, "--wind-speed", "115mph", "--write",
                  "summary,ranking,workbook")
        _, ranks = table(out, "ranking")
        shown = {row[4] for row in ranks[:SHOWN]}
        names, rows = table(out, "summary")
        self.assertEqual(len(rows), SHOWN + 5)
        book = openpyxl.load_workbook(out / "workbook.xlsx")
        sheet = book["summary"]
        _, last = self.compare_sheet(sheet, names, [r for r in rows if r[0] in shown])
        self.assertEqual(sheet.max_row, last)
        self.assertIn("2000 roofs of 2005 that rank highest", sheet["A1"].value)
        self.assertIn("last roof is among the 2000 of 2005", book["orders"]["A1"].value)

    def test_the_same_bytes_with_any_number_of_threads(self):
        books = []
        for threads in ("1", "3"):
            out = run(self.folder, threads, DEMO / "demo.geojson", "--threads", threads,
                      "--write", "workbook")
            books.append((out / "workbook.xlsx").read_bytes())
        self.assertEqual(books[0], books[1])

    def test_years_are_numbers(self):
        out = run(self.folder, "out", DEMO / "demo.geojson", "--job",
                  str(DEMO / "demo.yaml"), "--write", "budget,plan,workbook", *PLAN)
        book = openpyxl.load_workbook(out / "workbook.xlsx")
        for name in ("budget", "plan"):
            names, rows = table(out, name)
            head = head_row(book[name], names[0])
            for column in ("year", "earliest", "latest", "fixed_year"):
                if column not in names:
                    continue
                at = names.index(column)
                given = [(i, row[at]) for i, row in enumerate(rows) if row[at].isdigit()]
                for i, year in given:
                    cell = book[name].cell(head + 1 + i, at + 1)
                    self.assertEqual((cell.data_type, cell.value, cell.number_format),
                                     ("n", int(year), "0"), f"{name}, {column}")
                self.assertTrue(given, f"{name}, {column}")

    def test_the_overview_says_what_the_totals_say(self):
        out = run(self.folder, "out", DEMO / "demo.geojson", "--job",
                  str(DEMO / "demo.yaml"), "--write", "totals,budget,workbook", *PLAN)
        sheet = openpyxl.load_workbook(out / "workbook.xlsx")["overview"]
        lines = {row[0].value: row[1].value for row in sheet if row[0].value}
        _, rows = table(out, "totals")
        totals = {(row[0], row[1]): float(row[2]) for row in rows if row[2]}
        for state in ("met", "met assumed", "not met", "unknown"):
            self.assertEqual(lines[state], totals["roofs", state])
        for zone in ("corner", "perimeter", "field", "interior"):
            self.assertAlmostEqual(lines[zone], totals["area_ft2", zone], 0)
        names, years = table(out, "budget")
        cost = names.index("cost_usd")
        for row in years[:5]:
            self.assertAlmostEqual(lines[row[1]], float(row[cost]), 0)
        words = " ".join(str(cell.value) for row in sheet for cell in row if cell.value)
        for wanted in (CAUTION, "41 roofs", "Filter hall", "ASCE/SEI 7-22", "invented",
                       "115 mph", "Most exposed to wind", "USD", "from memory"):
            self.assertIn(wanted, words)
        self.assertNotIn(ACTIONS, words)

    def test_built_in_actions_are_said_to_be_invented(self):
        source = write_layer(self.folder / "roofs.geojson", [square(0, 0, "Shed")])
        out = run(self.folder, "out", source, "--wind-speed", "115mph", "--cap",
                  "1500000", "--start", "2027", "--write", "workbook,run")
        book = openpyxl.load_workbook(out / "workbook.xlsx")
        lines = {row[0].value: row[3].value for row in book["overview"]}
        self.assertEqual(lines[ACTIONS], "invented: the built-in actions")
        self.assertIn("not measured", lines["what waiting costs, how long roofs last"])
        above = " ".join(str(row[0].value) for row in book["plan"].iter_rows(max_row=15))
        self.assertIn("What can be done to a roof, and what it gives, is invented", above)


if __name__ == "__main__":
    OUTLAY = str(pathlib.Path(sys.argv.pop(1)).resolve())
    unittest.main()
