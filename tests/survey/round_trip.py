#!/usr/bin/python3
"""The survey's forms filled in by other programs, and read back: survey.gpkg through
GDAL as a mobile GIS would leave it (points moved, added, deleted, a column of the form's
own, another layer beside it), survey.xlsx through openpyxl and LibreOffice, survey.csv as
a text. What comes out is what the demo's findings.csv gives.

    round_trip.py OUTLAY
"""

import csv
import os
import shutil
import subprocess
import sys
import tempfile

import openpyxl
from osgeo import ogr, osr

ogr.UseExceptions()

ROOT = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
DEMO = os.path.join(ROOT, "testdata", "demo")
COLUMNS = ["value", "unit", "who", "when"]


def outlay(program, *arguments):
    """Standard error of a run on the demo, which has to succeed but for the roof that
    has no height."""
    run = subprocess.run([program, *arguments], capture_output=True, text=True, cwd=DEMO)
    assert run.returncode in (0, 1), run.stderr
    return run.stderr


def findings():
    """The demo's findings by roof, place and kind."""
    with open(os.path.join(DEMO, "findings.csv"), encoding="utf-8", newline="") as file:
        return {(r["roof_id"], r["place"], r["kind"]): r for r in csv.DictReader(file)}


def results(program, folder, form):
    """What the roofs come to with a form: state, open and verified of each."""
    err = outlay(program, "run", "demo.geojson", "--job", "demo.yaml", "--findings", form,
                 "--decisions", "decisions.csv", "--confirmed", "confirmed.csv", "-o",
                 folder, "--overwrite", "--write",
                 "summary,materials,problems")
    with open(os.path.join(folder, "summary.csv"), encoding="utf-8", newline="") as file:
        rows = {r["roof_id"]: (r["state"], r["open"], r["verified"], r["reason"])
                for r in csv.DictReader(file)}
    return rows, err


def fill_points(path):
    """As a person with a mobile GIS: values into fields, points moved, deleted, added."""
    filled = findings()
    data = ogr.Open(path, 1)
    layer = data.GetLayerByName("survey")
    layer.CreateField(ogr.FieldDefn("photo_file", ogr.OFTString))
    for feature in list(layer):
        row = filled.get((feature["roof_id"], feature["place"], feature["kind"]))
        if not row:
            continue
        for column in COLUMNS:
            feature[column] = row[column]
        point = feature.GetGeometryRef()
        point.AddPoint_2D(point.GetX() + 2e-6, point.GetY() - 2e-6)
        layer.SetFeature(feature)
    last = layer.GetFeature(layer.GetFeatureCount())
    assert last["value"] is None  # a place of a roof where nobody went
    layer.DeleteFeature(last.GetFID())
    home = next(f for f in layer if f["roof_id"] == "0501")
    added = ogr.Feature(layer.GetLayerDefn())
    added.SetGeometry(home.GetGeometryRef().Clone())  # its place alone says which roof
    for column, value in [("kind", "topographic"), ("value", "1.0"),
                          ("who", "N. Invented"), ("when", "2026/11/21 09:30:00")]:
        added[column] = value
    layer.CreateFeature(added)
    wgs84 = osr.SpatialReference()
    wgs84.ImportFromEPSG(4326)
    data.CreateLayer("other", wgs84, ogr.wkbPoint)
    del layer
    del data


def check_points(program, folder, expected):
    path = os.path.join(folder, "visit", "survey.gpkg")
    fill_points(path)
    rows, err = results(program, os.path.join(folder, "by_points"), path)
    assert "finding" not in err, err
    assert rows["0501"][2] == "topographic", rows["0501"]
    assert "topographic" not in rows["0501"][1], rows["0501"]
    del rows["0501"], expected["0501"]
    assert rows == expected, [k for k in rows if rows[k] != expected[k]]


def fill_sheet(path):
    filled = findings()
    book = openpyxl.load_workbook(path)
    sheet = book.worksheets[0]
    head = next(r for r in sheet.iter_rows() if "roof_id" in [c.value for c in r])
    at = {cell.value: cell.column - 1 for cell in head}
    for row in sheet.iter_rows(min_row=head[0].row + 1):
        key = tuple(str(row[at[c]].value) for c in ("roof_id", "place", "kind"))
        if key in filled:
            for column in COLUMNS:
                row[at[column]].value = filled[key][column]
    book.save(path)


def by_office(path, folder):
    """Opened and saved again by a spreadsheet; None where there is none."""
    office = shutil.which("soffice") or shutil.which("libreoffice")
    if not office:
        return None
    home = "-env:UserInstallation=file://" + os.path.join(folder, "office")
    subprocess.run([office, home, "--headless", "--convert-to", "xlsx", "--outdir",
                    os.path.join(folder, "saved"), path], check=True,
                   stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    return os.path.join(folder, "saved", os.path.basename(path))


def check_sheet(program, folder, expected):
    path = os.path.join(folder, "visit", "survey.xlsx")
    fill_sheet(path)
    for form in [path, by_office(path, folder)]:
        if form:
            rows, err = results(program, os.path.join(folder, "by_sheet"), form)
            assert "finding" not in err, err
            assert rows == expected, [k for k in rows if rows[k] != expected[k]]


def check_mistakes(program, folder):
    """Each mistake has file, row and column."""
    form = os.path.join(folder, "wrong.csv")
    with open(form, "w", encoding="utf-8") as file:
        file.write("roof_id,place,kind,value,unit,who,when\n"
                   "0101,Q7,pullout,600,lbf,N. N.,2026-11-20\n"
                   "0101,P1,pullout,600,psf,N. N.,2026-11-20\n"
                   "0101,P2,pullout,600/620,lbf,N. N.,2026-11-20\n"
                   "0101,P3,pullout,600,lbf,N. N.,1900-01-00\n"
                   "0199,P3,pullout,600,lbf,N. N.,2026-11-20\n"
                   "0101,P99,pullout,600,lbf,N. N.,2026-11-20\n")
    results(program, os.path.join(folder, "wrong"), form)
    with open(os.path.join(folder, "wrong", "problems.csv"), encoding="utf-8") as file:
        said = file.read()
    for words in ["wrong.csv, row 2, column place", "wrong.csv, row 3, column unit",
                  "wrong.csv, row 4, column value", "wrong.csv, row 5, column when",
                  "wrong.csv, row 6, column roof_id", "wrong.csv, row 7, column place"]:
        assert words in said, words


def check_few_edges(program, folder):
    """A parapet read at one place of four doesn't yet run all around."""
    form = os.path.join(folder, "edges.csv")
    for places in (1, 4):
        with open(form, "w", encoding="utf-8") as file:
            file.write("roof_id,place,kind,value,unit,who,when\n")
            for i in range(1, places + 1):
                file.write(f"1501,E{i},edge,parapet,,N. N.,2026-11-20\n"
                           f"1501,E{i},parapet,42,in,N. N.,2026-11-20\n")
        rows, _ = results(program, os.path.join(folder, "edges"), form)
        assert ("parapet-around" in rows["1501"][1]) == (places < 4), rows["1501"]


def check_left(program, folder):
    """What was found isn't asked for again."""
    def rows(name, *more):
        outlay(program, "survey", "demo.geojson", "--job", "demo.yaml", "-o",
               os.path.join(folder, name), *more)
        with open(os.path.join(folder, name, "survey.csv"), encoding="utf-8",
                  newline="") as file:
            return {(r["roof_id"], r["place"], r["kind"]) for r in csv.DictReader(file)}
    before, filled = rows("visit"), set(findings())
    left = rows("left", "--findings", "findings.csv")
    assert filled <= before
    assert not left & filled and left < before
    assert ("0101", "P1", "pullout") not in left  # its deck has all its tests
    assert any(k[0] == "0401" and k[2] == "pullout" for k in left)  # its deck hasn't


def main():
    program = os.path.abspath(sys.argv[1])
    with tempfile.TemporaryDirectory() as folder:
        check_left(program, folder)
        expected, _ = results(program, os.path.join(folder, "by_text"),
                              os.path.join(DEMO, "findings.csv"))
        assert [r[0] for r in expected.values()].count("met") == 6
        check_sheet(program, folder, expected)
        check_points(program, folder, expected)
        check_mistakes(program, folder)
        check_few_edges(program, folder)
    print("the forms come back as they were filled in")


if __name__ == "__main__":
    main()
