#!/usr/bin/env python3
"""The portfolio page of roofs of which some aren't ranked, in a headless Chromium.

    tests/page/test_apart.py --outlay PROGRAM
"""

import test_page


class Apart(test_page.Page):
    """Roofs with long ids, of which two aren't ranked."""

    @classmethod
    def setUpClass(cls):
        at = ((40, 30, 0), (40.002, 15, 0), (40.004, 59, 40), (40, 29, 0))
        cls.path = test_page.report("apart", [
            test_page.roof(f"an-id-of-forty-one-characters-in-all-{i:04}", -90, y,
                           height_ft=height, slope_pct=slope)
            for i, (y, height, slope) in enumerate(at)])
        super().setUpClass()

    def test_those_apart_stand_last_with_their_reason(self):
        self.assertIn("2 roofs are apart, without a rank", self.run_script(
            "return document.querySelector('#order').textContent"))
        self.assertEqual([cell.replace("\n", "") for cell in self.column("index")],
                         ["1", "2", "\u2013apart", "\u2013apart"])
        self.run_script("document.querySelectorAll('#roofs tbody tr')[2].click()")
        self.assertIn("degrees, steeper than 7", self.run_script(
            "return document.getElementById('panel').textContent"))

    def test_the_map_gives_them_no_class(self):
        legend = self.run_script("return document.querySelector('#legend').textContent")
        self.assertRegex(legend, r"apart, or unknown: no wind speed or no height \(2\)")


if __name__ == "__main__":
    test_page.main()
