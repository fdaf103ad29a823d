#!/usr/bin/env python3
"""What the portfolio page says of edges, in a headless Chromium, against `explain`.

    tests/page/test_edges.py --outlay PROGRAM
"""

import collections
import re
import subprocess

import test_page


class Edges(test_page.Page):
    """A low section beside a high one, and a roof with a parapet."""

    @classmethod
    def setUpClass(cls):
        cls.path = test_page.report("edges", [
            test_page.roof("low", -90, 40, building="Mill"),
            test_page.roof("high", -89.9995, 40, building="Mill", height_ft=40),
            test_page.roof("walled", -89, 40, parapet_ft=2, edge="parapet")],
            "--field", "building=building")
        super().setUpClass()

    def lengths(self, roof):
        """By kind and source, as explain lists them, ft."""
        said = subprocess.run(
            [test_page.program, "explain", test_page.folder / "edges.geojson", roof,
             "--wind-speed", "115mph", "--field", "building=building"],
            check=True, capture_output=True, text=True)
        sums = collections.Counter()
        for kind, length, source in re.findall(
                r"^   (\w+) edge: ([\d.]+) ft\b.*\(([^()]*)\)$", said.stdout, re.M):
            sums[kind, source] += float(length)
        return sums

    def test_a_panel_lists_them_by_kind_and_source(self):
        kinds = set()
        for row, roof in enumerate(self.column("roof_id"), 1):
            self.browser.click(f"#roofs tbody tr:nth-child({row}) button")
            shown = self.run_script(
                "return [...document.querySelectorAll('#panel dt')].find((each) => "
                "each.textContent === 'Edges').nextSibling.textContent")
            found = {(kind, source): int(length) for kind, length, source in
                     re.findall(r"(\w+) (\d+) ft \(([^()]*)\)", shown)}
            expected = self.lengths(roof.split()[0])
            self.assertEqual(set(found), set(expected))
            for key, length in found.items():
                self.assertAlmostEqual(length, expected[key], delta=0.6)
            kinds.update(found)
        self.assertEqual(kinds, {("metal", "assumed"),
                                 ("wall", "by the heights of the sections"),
                                 ("parapet", "by the roof's columns")})


if __name__ == "__main__":
    test_page.main()
