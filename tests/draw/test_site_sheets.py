#!/usr/bin/env python3
"""Site sheets as poppler reads them, of roofs with made-up surveys.

    tests/draw/test_site_sheets.py --program draw_site_sheets
"""

import argparse
import itertools
import pathlib
import re
import subprocess
import sys
import tempfile
import unittest
import xml.etree.ElementTree

PROGRAM = None
MM = 72 / 25.4
LETTER, A4 = (8.5 * 72, 11 * 72), (210 * MM, 297 * MM)
WHITE = 5 * MM          # what printers leave around at the least
FIELD = 7 * MM          # height of a field to write in
SMALLEST = 8.0          # of letters, pt


class Place:
    def __init__(self, line):
        (self.roof, self.name, self.task, placed, edge, entries, x, y) = line.split()
        self.placed, self.at_edge = placed == "placed", edge == "edge"
        self.entries, self.at = int(entries), (float(x), float(y))


class Word:
    def __init__(self, element):
        self.text = element.text
        self.box = tuple(float(element.get(name))
                         for name in ("xMin", "yMin", "xMax", "yMax"))

    def meets(self, other):
        """Boxes of words are as high as the font, so only those of one line are held
        against each other, and touching is free."""
        a, b = self.box, other.box
        return (min(a[2], b[2]) - max(a[0], b[0]) > 0.3 and
                min(a[3], b[3]) - max(a[1], b[1]) > 0.45 * (a[3] - a[1]))


def said(*command):
    return subprocess.run(list(map(str, command)), check=True, capture_output=True,
                          text=True).stdout


class Sheets:
    """A drawn PDF: size of its paper, words of each page, which pages are whose."""

    def __init__(self, folder, units, paper):
        self.path = folder / f"{units}-{paper}.pdf"
        self.places = [Place(line) for line in
                       said(PROGRAM, self.path, units, paper).splitlines()]
        boxes = said("pdftotext", "-bbox", self.path, "-")
        root = xml.etree.ElementTree.fromstring(boxes)
        name = "{http://www.w3.org/1999/xhtml}"
        found = list(root.iter(name + "page"))
        self.size = float(found[0].get("width")), float(found[0].get("height"))
        self.words = [[Word(word) for word in page.iter(name + "word")] for page in found]
        self.texts = [" ".join(text.split()) for text in
                      said("pdftotext", "-layout", self.path, "-").split("\f")[:-1]]
        self.roofs = list(dict.fromkeys(place.roof for place in self.places))

    def pages_of(self, roof):
        return [k for k, text in enumerate(self.texts) if re.search(rf"\b{roof} ", text)]


class SiteSheets(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.scratch = tempfile.TemporaryDirectory()
        cls.folder = pathlib.Path(cls.scratch.name)
        cls.all = {(units, paper): Sheets(cls.folder, units, paper)
                   for units in ("us", "si") for paper in ("units", "letter", "a4")}

    @classmethod
    def tearDownClass(cls):
        cls.scratch.cleanup()

    def each(self):
        return [(*key, sheets) for key, sheets in self.all.items()]

    def test_paper(self):
        for units, paper, sheets in self.each():
            letter = paper == "letter" or (paper == "units" and units == "us")
            for got, wanted in zip(sheets.size, LETTER if letter else A4):
                self.assertAlmostEqual(got, wanted, delta=0.01)

    def test_nothing_is_lost_on_the_other_paper(self):
        """Whatever side or middle a printer puts one paper on the other by."""
        for _, _, sheets in self.each():
            for other in (LETTER, A4):
                for shares in itertools.product((0, 0.5, 1), repeat=2):
                    moved = [share * (there - here) for share, there, here
                             in zip(shares, other, sheets.size)]
                    for word in itertools.chain(*sheets.words):
                        left, top, right, bottom = word.box
                        self.assertGreaterEqual(left + moved[0], WHITE, word.text)
                        self.assertGreaterEqual(top + moved[1], WHITE, word.text)
                        self.assertLessEqual(right + moved[0], other[0] - WHITE)
                        self.assertLessEqual(bottom + moved[1], other[1] - WHITE)

    def test_lines_stay_within_too(self):
        """Nothing is black outside of what both papers have in common."""
        sheets = self.all["us", "units"]
        data = subprocess.run(["pdftoppm", "-gray", "-r", "72", sheets.path], check=True,
                              capture_output=True).stdout
        x = int((sheets.size[0] - 190 * MM) / 2 - 2)
        y = int((sheets.size[1] - 250 * MM) / 2 - 2)
        pages = 0
        while data:
            head = re.match(rb"P5\s(\d+)\s(\d+)\s255\s", data)
            width, height = int(head[1]), int(head[2])
            end = head.end() + width * height
            rows = [data[k:k + width] for k in range(head.end(), end, width)]
            for k, row in enumerate(rows):
                if k < y or k >= height - y:
                    self.assertEqual(min(row), 255)
                self.assertEqual(min(row[:x] + row[width - x:]), 255)
            data = data[end:]
            pages += 1
        self.assertEqual(pages, len(sheets.words))

    def test_no_word_covers_another(self):
        for _, _, sheets in self.each():
            for number, words in enumerate(sheets.words, 1):
                for a, b in itertools.combinations(words, 2):
                    self.assertFalse(a.meets(b), (number, a.text, b.text))

    def test_letters_are_large_enough(self):
        """The box of a word is as high as its font: 1.164 of DejaVu Sans' size."""
        for _, _, sheets in self.each():
            for word in itertools.chain(*sheets.words):
                size = (word.box[3] - word.box[1]) / 1.164
                self.assertGreaterEqual(size, SMALLEST, word.text)

    def test_every_place_has_its_name_and_rows(self):
        """Once on the plan, once a row; the first at the edge also in the key. The lines
        at the heads of the pages are held by the next test."""
        for _, _, sheets in self.each():
            for roof in sheets.roofs:
                names = [word.text for page in sheets.pages_of(roof)
                         for word in below_title(sheets.words[page])]
                places = [place for place in sheets.places if place.roof == roof]
                shown = next((place for place in places if place.at_edge), None)
                for place in places:
                    self.assertEqual(names.count(place.name),
                                     place.entries + place.placed + (place is shown),
                                     (roof, place.name))

    def test_places_at_the_edge_head_every_page(self):
        for _, _, sheets in self.each():
            for roof in sheets.roofs:
                wanted = [place.name for place in sheets.places
                          if place.roof == roof and place.at_edge]
                for page in sheets.pages_of(roof):
                    said_there = re.search(r"only with fall protection: ([^.]*)\.",
                                           sheets.texts[page])
                    listed = []
                    for part in said_there[1].split(", ") if said_there else []:
                        first, _, last = part.partition(" to ")
                        numbers = range(int(first[1:]), int((last or first)[1:]) + 1)
                        listed += [f"{first[0]}{number}" for number in numbers]
                    self.assertEqual(listed, wanted, roof)

    def test_names_stand_near_their_places(self):
        """On the plan, once metres are fitted to points by all places of the roof."""
        sheets = self.all["us", "units"]
        for roof in ("A-1", "B-1", "D-1"):
            page = sheets.pages_of(roof)[0]
            found = {word.text: word.box
                     for word in reversed(below_title(sheets.words[page]))}
            pairs = [(place.at, found[place.name]) for place in sheets.places
                     if place.roof == roof and place.placed]
            spots = [((box[0] + box[2]) / 2, (box[1] + box[3]) / 2) for _, box in pairs]
            scale, origin = fit([at for at, _ in pairs], spots)
            away = sorted(distance(spot, (origin[0] + scale * at[0],
                                          origin[1] - scale * at[1]))
                          for (at, _), spot in zip(pairs, spots))
            self.assertLess(away[len(away) // 2], 30, roof)
            self.assertLess(away[-1], 75, roof)

    def test_every_page_has_the_caution_and_its_roof(self):
        for _, _, sheets in self.each():
            pages = [page for roof in sheets.roofs for page in sheets.pages_of(roof)]
            self.assertEqual(pages, list(range(len(sheets.texts))))
            for text in sheets.texts:
                self.assertIn("Planning figures, not a design", text)
                self.assertIn("needs fall protection", text)
            for roof in sheets.roofs:
                first, *further = [sheets.texts[k] for k in sheets.pages_of(roof)]
                for words in ("What to bring", "Repair every core and test hole"):
                    self.assertIn(words, first)
                for text in further:
                    self.assertIn("Site sheet, continued", text)
                whole = " ".join([first, *further])
                for words in ("Date", "Weather", "Names", "Signature",
                              "trial weld: at the start of each half day"):
                    self.assertEqual(whole.count(words), 1, (roof, words))

    def test_units(self):
        for units, _, sheets in self.each():
            text = " ".join(sheets.texts)
            self.assertEqual(" lbf" in text, units == "us")
            self.assertEqual("29'-6 1/2\"" in text, units == "us")
            self.assertEqual(" mm " in text, units == "si")
            self.assertEqual("9.00 m" in text, units == "si")

    def test_fields_are_high_enough(self):
        """Names of rows that follow each other on a page are a field apart."""
        for _, _, sheets in self.each():
            for page, words in enumerate(sheets.words):
                head = [word for word in words if word.text == "place"]
                rows = sorted(word.box[1] for word in words if head and
                              word.box[1] > head[0].box[1] and
                              word.box[0] < head[0].box[2] and
                              re.fullmatch(r"[A-Z]\d+", word.text))
                for a, b in zip(rows, rows[1:]):
                    self.assertGreaterEqual(b - a, FIELD, page)

    def test_greys_alone(self):
        sheets = self.all["us", "units"]
        data = subprocess.run(["pdftoppm", "-r", "50", sheets.path], check=True,
                              capture_output=True).stdout
        while data:
            head = re.match(rb"P6\s(\d+)\s(\d+)\s255\s", data)
            end = head.end() + 3 * int(head[1]) * int(head[2])
            pixels = data[head.end():end]
            self.assertEqual(pixels[0::3], pixels[1::3])
            self.assertEqual(pixels[0::3], pixels[2::3])
            data = data[end:]

    def test_bookmarks_and_no_date(self):
        sheets = self.all["us", "units"]
        self.assertNotIn("CreationDate", said("pdfinfo", sheets.path))
        raw = sheets.path.read_bytes()
        for title in ("Works", "A-1  Machine hall", "B-1  Warehouse"):
            self.assertIn(title.encode(), raw)

    def test_same_bytes_again(self):
        again = Sheets(self.folder, "us", "units")
        copy = again.path.read_bytes()
        self.assertEqual(copy, Sheets(self.folder, "us", "units").path.read_bytes())


def below_title(words):
    """Words below the title, the first line that is larger than the caution."""
    title = next(word for word in words
                 if word.box[3] - word.box[1] > 1.3 * (words[0].box[3] - words[0].box[1]))
    return [word for word in words if word.box[1] > title.box[1]]


def distance(a, b):
    return ((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5


def fit(metres, points):
    """Scale and origin of points = origin + scale (x, -y), by least squares."""
    count = len(metres)
    flipped = [(x, -y) for x, y in metres]
    mean_a = [sum(p[k] for p in flipped) / count for k in (0, 1)]
    mean_b = [sum(p[k] for p in points) / count for k in (0, 1)]
    dot = sum((a[k] - mean_a[k]) * (b[k] - mean_b[k])
              for a, b in zip(flipped, points) for k in (0, 1))
    norm = sum((a[k] - mean_a[k]) ** 2 for a in flipped for k in (0, 1))
    scale = dot / norm
    return scale, [mean_b[k] - scale * mean_a[k] for k in (0, 1)]


def main():
    global PROGRAM
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--program", required=True)
    options, rest = parser.parse_known_args()
    PROGRAM = options.program
    unittest.main(argv=[sys.argv[0], *rest])


if __name__ == "__main__":
    main()
