#!/usr/bin/env python3
"""Opens report.html in a headless Chromium and uses it as a person would.

    tests/page/test_page.py --outlay PROGRAM

The pages are those of the demo portfolio and of roofs whose names attack the page.
Without a browser the tests are skipped, but not
where CI is set.
"""

import argparse
import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile
import unittest

import browser
from tables import dollars, rows_of

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
DEMO = ROOT / "testdata" / "demo" / "demo.geojson"
SKIPPED = 77
HOSTILE = [
    "<script>window.hit = 1</script>",
    "</script><script>window.hit = 2</script>",
    "<!-- <script>",
    "<img src=x onerror=window.hit=3>",
    "\" onmouseover=\"window.hit=4\" '`${window.hit=5}`",
    "line\u2028and\u2029paragraph & &lt;b&gt; \\u003c",
]
ARROW_LEFT, ESCAPE = "\ue012", "\ue00c"
program = None
folder = None


def square(west, south, size):
    ring = [[west, south], [west + size, south], [west + size, south + size],
            [west, south + size], [west, south]]
    return {"type": "Polygon", "coordinates": [ring]}


def roof(name, west, south, size=0.0005, **fields):
    return {"type": "Feature", "geometry": square(west, south, size),
            "properties": {"id": name, "name": name, "height_ft": 20, **fields}}


def report(name, features, *options, write="page"):
    """Runs outlay on features (or a file) and returns the page's path."""
    source = features
    if isinstance(features, list):
        source = folder / f"{name}.geojson"
        source.write_text(json.dumps({"type": "FeatureCollection", "name": name,
                                      "features": features}), encoding="utf-8")
    out = folder / name
    done = subprocess.run([program, "run", source, "-o", out, "-q", "--write", write,
                           "--wind-speed", "115mph", *options], check=False)
    if done.returncode > 1:
        raise RuntimeError(f"outlay ended with {done.returncode}")
    return out / "report.html"


def planned(name):
    """The demo with a plan and its scenarios."""
    return report(name, DEMO, "--methods", "seam-fastened,induction-welded",
                  "--actions", DEMO.parent / "actions.csv", "--start", "2027",
                  "--cap", "1500000",
                  write="page,materials,comparison,budget,plan,visits,scenarios")


class Page(unittest.TestCase):
    """A browser on one page; what it writes to its console fails the test."""

    size = (1280, 800)

    @classmethod
    def setUpClass(cls):
        cls.browser = cls.enterClassContext(browser.Browser(*cls.size))
        cls.browser.requests()

    def setUp(self):
        self.seconds = self.browser.open(self.path)

    def tearDown(self):
        self.assertEqual(self.browser.logs(), [])

    def run_script(self, script, *arguments):
        return self.browser.run(script, *arguments)

    def column(self, key):
        """Cells of a column of the table, as shown."""
        return self.run_script(
            "const at = [...document.querySelectorAll('#roofs thead th')].findIndex("
            "  (cell) => cell.dataset.key === arguments[0]);"
            "return [...document.querySelectorAll('#roofs tbody tr')].map("
            "  (row) => row.children[at].innerText)", key)

    def pixels(self):
        return self.run_script("return document.getElementById('canvas').toDataURL()")

    def settle(self):
        self.browser.run("const done = arguments[0]; requestAnimationFrame(() =>"
                         " requestAnimationFrame(() => done()))", wait=True)


class Demo(Page):
    size = (1400, 900)

    @classmethod
    def setUpClass(cls):
        cls.path = planned("demo")
        super().setUpClass()

    def test_asks_the_network_for_nothing(self):
        self.browser.requests()
        self.browser.open(self.path)
        self.assertEqual(self.browser.requests(), [self.path.resolve().as_uri()])
        self.assertEqual(re.findall(r"(?:src|href)=.?https?:|url\([^#]|@import",
                                    self.path.read_text(encoding="utf-8")), [])

    def test_sorts_by_a_header(self):
        for key in ("area", "roof_id"):
            self.browser.click(f"#roofs th[data-key={key}] button")
            first = self.column(key)
            self.browser.click(f"#roofs th[data-key={key}] button")
            self.assertEqual(sorted(first), sorted(self.column(key)))
            self.assertEqual(len(first), 41)
            self.assertNotEqual(first, self.column(key))
        areas = [float(text.replace(",", "")) for text in self.column("area")]
        self.browser.click("#roofs th[data-key=area] button")
        falling = [float(text.replace(",", "")) for text in self.column("area")]
        self.assertEqual(falling, sorted(areas, reverse=True))
        self.assertEqual(self.run_script(
            "return document.querySelector('[data-key=area]').ariaSort"), "descending")

    def test_filters_by_words_and_state(self):
        self.browser.type("#words", "school hall")
        self.assertTrue(self.column("roof_id"))
        for text in self.column("roof_id"):
            self.assertIn("school", text.lower())
            self.assertIn("hall", text.lower())
        self.browser.click("#filters button[type=reset]")
        self.settle()
        self.run_script("const box = document.getElementById('state');"
                        "box.value = 'not met';"
                        "box.dispatchEvent(new Event('input', {bubbles: true}))")
        self.assertEqual(len(self.column("state")), 1)
        self.assertIn("not met", self.column("state")[0])
        self.assertIn("1 roof of 41", self.run_script(
            "return document.getElementById('count').textContent"))

    def test_a_row_opens_the_roof_and_marks_the_map(self):
        before = self.pixels()
        self.browser.click("#roofs tbody tr:nth-child(2) button")
        self.settle()
        panel = self.run_script("return document.getElementById('panel').innerText")
        self.assertIn(self.column("roof_id")[1].split("\n")[0], panel)
        self.assertIn("Why rank 2 of", panel)
        self.assertGreater(self.run_script(
            "return document.querySelectorAll('#panel figure path').length"), 3)
        self.assertNotEqual(before, self.pixels())
        self.browser.keys(ESCAPE)
        self.assertTrue(self.run_script("return document.getElementById('panel').hidden"))

    def test_a_click_on_the_map_chooses_the_row(self):
        box = self.run_script(
            "const box = document.getElementById('canvas').getBoundingClientRect();"
            "return [box.left, box.top, box.width, box.height]")
        chosen = None
        spots = [(x / 24, y / 24) for y in range(1, 24) for x in range(1, 24)]
        for x, y in spots:
            if box[1] + y * box[3] > self.size[1] - 4:
                break
            self.browser.pointer(box[0] + x * box[2], box[1] + y * box[3])
            chosen = self.run_script("const row = document.querySelector("
                                     "'#roofs tr[aria-selected=true] button');"
                                     "return row && row.textContent")
            if chosen:
                break
        self.assertTrue(chosen)
        self.assertIn(chosen, self.run_script(
            "return document.querySelector('#panel h2').textContent"))

    def test_the_map_moves_by_keys_mouse_and_wheel(self):
        self.run_script("document.getElementById('canvas').focus()")
        self.browser.pointer(2, 2, press=False)  # over no roof
        self.settle()
        seen = [self.pixels()]
        for keys in (ARROW_LEFT, "+", "+", "-", "0"):
            self.browser.keys(keys)
            self.settle()
            seen.append(self.pixels())
        self.assertEqual(len(set(seen[:4])), 4)
        self.assertEqual(seen[5], seen[0])
        pictures = set(seen)
        kinds = len(pictures)
        self.browser.pointer(300, 500, (40, 0), (40, 10))
        self.settle()
        pictures.add(self.pixels())
        self.run_script("document.getElementById('canvas').dispatchEvent("
                        "new WheelEvent('wheel', {deltaY: -300, cancelable: true}))")
        self.settle()
        pictures.add(self.pixels())
        self.assertEqual(len(pictures), kinds + 2)

    def test_keys_step_through_the_roofs(self):
        self.run_script("document.getElementById('canvas').focus()")
        titles = []
        for key in "nnp":
            self.browser.keys(key)
            titles.append(self.run_script(
                "return document.querySelector('#panel h2').textContent"))
        self.assertEqual(titles[0], titles[2])
        self.assertNotEqual(titles[0], titles[1])

    def test_each_measure_colours_the_map(self):
        keys = self.run_script("return [...document.querySelectorAll('#measure option')]"
                               ".map((option) => option.value)")
        for key in ("exposure_pressure", "demand_over_capacity", "total_rate", "year"):
            self.assertIn(key, keys)
        pictures = set()
        for key in keys:
            self.run_script("const box = document.getElementById('measure');"
                            "box.value = arguments[0];"
                            "box.dispatchEvent(new Event('change'))", key)
            self.settle()
            pictures.add(self.pixels())
            self.assertGreater(self.run_script(
                "return document.querySelectorAll('#legend li').length"), 3)
        self.assertEqual(len(pictures), len(keys))

    def choose(self, select, value, event="change"):
        self.run_script(
            "const box = document.getElementById(arguments[0]);"
            "box.value = arguments[1];"
            "box.dispatchEvent(new Event(arguments[2], {bubbles: true}))",
            select, value, event)

    def charts(self):
        """Title to the rows of each chart's table."""
        return dict(self.run_script(
            "return [...document.querySelectorAll('.chart')].map((each) => ["
            "each.querySelector('h3').textContent, [...each.querySelectorAll('tbody tr')]"
            ".map((row) => [...row.children].map((cell) => cell.textContent))])"))

    def test_charts_have_their_numbers_as_tables(self):
        charts = self.charts()
        self.assertEqual(list(charts), ["Budget by year", "Condition",
                                        "Facility condition index", "Backlog",
                                        "Cost by method", "Exposure to wind, psf"])
        self.assertIn("induction-welded", [row[0] for row in charts["Cost by method"]])

    def test_each_scenario_is_that_of_its_table(self):
        """Budget, condition, FCI and backlog of every year, against scenarios.csv."""
        scenarios = {}
        for row in rows_of(self.path.parent / "scenarios.csv"):
            if row["year"] != "all years":
                scenarios.setdefault(row["plan"], []).append(row)
        self.assertGreater(len(scenarios), 7)
        for name, years in scenarios.items():
            self.choose("scenario", name)
            charts = self.charts()
            self.assertEqual(
                [(year, roofs, cost, cap) for year, _, roofs, cost, cap, _ in
                 charts["Budget by year"]],
                [(row["year"], row["roofs"], dollars(row["cost_usd"]),
                  dollars(row["cap_usd"])) for row in years], name)
            self.assertEqual([row[1] for row in charts["Condition"]],
                             [row["mean_condition"] for row in years])
            for shown, row in zip(charts["Facility condition index"], years, strict=True):
                self.assertAlmostEqual(
                    float(shown[1]), float(row["facility_condition_index"]), delta=6e-4)
            self.assertEqual([row[1] for row in charts["Backlog"]],
                             [dollars(row["backlog_usd"]) for row in years])

    def test_lines_differ_by_more_than_their_colour(self):
        marks = self.run_script(
            "return [...document.querySelectorAll('.key')].map((key) =>"
            " [...key.children].map((each) => [each.textContent,"
            "  each.querySelector('path').getAttribute('stroke-dasharray'),"
            "  each.querySelector('circle, rect').tagName]))")
        self.assertEqual(len(marks), 3)
        for (own, solid, circle), (other, dashed, square_mark) in marks:
            self.assertEqual((own, other), ("this plan", "going worst first"))
            self.assertEqual((solid, circle, square_mark), (None, "circle", "rect"))
            self.assertTrue(dashed)

    def test_what_is_dearer_is_never_a_saving(self):
        totals = {row["plan"]: row for row in rows_of(self.path.parent / "scenarios.csv")
                  if row["year"] == "all years"}
        shown = self.run_script(
            "return [...document.querySelectorAll('#scenarios tbody tr')].map((row) =>"
            " [...row.children].map((cell) => cell.textContent))")
        own = float(totals["this plan"]["total_present_cost_usd"])
        told = 0
        for row in shown:
            plan = row[0][0].lower() + row[0][1:]
            total = totals.get(plan, {}).get("total_present_cost_usd")
            if not total:
                continue
            if plan == "this plan":
                self.assertEqual(row[6], "–")
                continue
            more = float(total) - own
            word = "dearer" if more > 0 else "cheaper"
            self.assertEqual(row[6], f"${abs(more):,.0f} {word}")
            told += 1
        self.assertGreater(told, 6)
        self.assertNotRegex(self.run_script("return document.body.innerText"), r"\$-|-\$")

    def test_a_plan_dearer_than_worst_first_says_so(self):
        """The page's data with the sign of what is saved turned round."""
        text = self.path.read_text(encoding="utf-8")
        head, rest = text.split('id="data">', 1)
        block, tail = rest.split("</script>", 1)
        data = json.loads(block)
        at = data["budget"]["columns"].index("saved_usd")
        whole = next(row for row in data["budget"]["rows"] if row[1] == "all years")
        whole[at] = -10426
        turned = folder / "dearer.html"
        turned.write_text(head + 'id="data">' + json.dumps(data).replace("<", "\\u003c") +
                          "</script>" + tail, encoding="utf-8")
        self.browser.open(turned)
        words = self.run_script("return document.body.innerText")
        self.assertIn("$10,426 dearer at present cost than going worst first", words)
        self.assertNotIn("saves", words)

    def test_lists_what_is_not_met_or_unknown(self):
        plan = rows_of(self.path.parent / "plan.csv")
        wanted = {row["roof_id"] for row in plan if row["state"] == "not met" or
                  row["action"] in ("replace", "recover") and row["state"] == "unknown"}
        self.assertGreater(len(wanted), 3)
        listed = self.run_script("return [...document.querySelectorAll('#weak tbody tr')]"
                                 ".map((row) => row.innerText)")
        for name in wanted:
            self.assertTrue([line for line in listed if line.startswith(name)], name)
        self.browser.click("#weak button")
        self.assertIn(listed[0].split("\t")[0], self.run_script(
            "return document.querySelector('#panel h2').textContent"))

    def test_finds_roofs_by_year_and_building(self):
        plan = rows_of(self.path.parent / "plan.csv")
        before = self.pixels()
        for year in ("2027", "2029", ""):
            wanted = sorted(row["roof_id"] for row in plan if row["year"] == year)
            self.choose("year", year or "none", "input")
            self.assertEqual(sorted(text.split()[0] for text in self.column("roof_id")),
                             wanted)
            self.settle()
            self.assertNotEqual(before, self.pixels())
        self.choose("year", "", "input")
        self.choose("building", "Town Hall", "input")
        self.assertEqual(len(self.column("roof_id")),
                         sum(row["building"] == "Town Hall" for row in plan))

    def test_visits_are_those_of_their_table(self):
        visits = rows_of(self.path.parent / "visits.csv")
        shown = self.run_script(
            "return [...document.querySelectorAll('#visits tbody tr')].map((row) =>"
            " [...row.children].slice(1, 4).map((cell) => cell.textContent))")
        self.assertEqual(shown, [[row["year"], row["roofs"],
                                  dollars(row["total_usd"])] for row in visits])

    def test_nothing_stands_in_the_way_of_anyone(self):
        """axe-core, with a roof chosen too."""
        self.assertEqual(self.browser.complaints(), [])
        self.browser.click("#roofs tbody tr:nth-child(2) button")
        self.assertEqual(self.browser.complaints(), [])

    def test_says_its_cautions(self):
        text = self.run_script("return document.body.innerText")
        for words in ("Planning figures, not a design", "licensed engineer",
                      "pull-out resistance", "moisture", "Suspect materials", "fall",
                      "Ratings are invented", "Prices are invented"):
            self.assertIn(words.lower(), text.lower())

    def test_everything_has_a_name(self):
        self.browser.click("#roofs tbody tr:nth-child(2) button")
        nameless = self.run_script(
            "return [...document.querySelectorAll('button, select, input, [role=img],"
            " [role=application], [role=region], section')].filter((each) =>"
            " !each.hidden && !each.textContent.trim() && !each.ariaLabel &&"
            " !(each.labels && each.labels.length)).map((each) => each.outerHTML)")
        self.assertEqual(nameless, [])

    def test_words_stand_out_from_their_ground(self):
        """4.5 to 1, as the accessibility guidelines ask for at level AA."""
        weak = self.run_script("""
            const light = (rgb) => rgb.map((c) => c / 255).map((c) =>
              c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4)
              .reduce((sum, c, i) => sum + c * [0.2126, 0.7152, 0.0722][i], 0);
            const parts = (text) => text.match(/[\\d.]+/g).map(Number);
            const ground = (node) => {
              if (node.matches('.light')) // words in a bar
                return parts(getComputedStyle(node.previousElementSibling).fill);
              for (; node; node = node.parentElement) {
                const [r, g, b, a = 1] = parts(getComputedStyle(node).backgroundColor);
                if (a > 0) return [r, g, b];
              }
              return [255, 255, 255];
            };
            return [...document.querySelectorAll('body *')].filter((node) =>
              [...node.childNodes].some((each) => each.nodeType === 3 &&
                each.data.trim()) && node.checkVisibility()).map((node) => {
              const style = getComputedStyle(node);
              const ink = parts(node.namespaceURI.includes('svg') ? style.fill
                : style.color).slice(0, 3);
              const pair = [light(ink), light(ground(node))].sort((a, b) => b - a);
              return [(pair[0] + 0.05) / (pair[1] + 0.05), node.outerHTML.slice(0, 90)];
            }).filter(([contrast]) => contrast < 4.5)""")
        self.assertEqual(weak, [])

    def test_prints_every_planned_roof_with_the_caution(self):
        """Whatever the filter; each with its year and its cost, on a line of its own."""
        self.browser.type("#words", "school")
        paper = folder / "report.pdf"
        paper.write_bytes(self.browser.paper())
        pages = subprocess.run(["pdftotext", "-layout", paper, "-"], check=True,
                               stdout=subprocess.PIPE, text=True).stdout.split("\f")[:-1]
        self.assertIn(len(pages), range(4, 9))
        for page in pages:
            self.assertIn("Planning figures, not a design", page)
        planned = [row for row in rows_of(self.path.parent / "plan.csv") if row["year"]]
        listed = "\n".join(pages).split(
            f"Every planned roof, by year ({len(planned)})")[1]
        for row in planned:
            self.assertRegex(listed, rf"{row['roof_id']} .*{row['year']} .*" +
                             re.escape(dollars(row["nominal_cost_usd"])))


class Alone(Page):
    """Nothing but the page was asked for, by the built-in actions."""

    @classmethod
    def setUpClass(cls):
        cls.path = report("alone", [roof(f"R{i}", -90 + 0.002 * i, 40) for i in range(3)],
                          "--start", "2027", "--cap", "1500000")
        super().setUpClass()

    def test_shows_the_plan_and_its_scenarios(self):
        shown = self.run_script("return document.getElementById('scenarios').innerText")
        for words in ("This plan", "Caps +20 %", "Nothing in the first year"):
            self.assertIn(words, shown)

    def test_says_that_actions_are_invented(self):
        caution = self.run_script(
            "return document.getElementById('plan-caution').innerText")
        for words in ("What can be done to a roof, and what it gives, is invented",
                      "planning choices, not measured"):
            self.assertIn(words, caution)


class Phone(Page):
    size = (390, 844)

    @classmethod
    def setUpClass(cls):
        cls.path = report("phone", DEMO, "--units", "si")
        cls.planned = planned("phone_planned")
        super().setUpClass()

    def test_year_and_cost_are_in_sight(self):
        self.browser.open(self.planned)
        places = self.run_script(
            "const box = document.getElementById('scroll');"
            "box.scrollIntoView();"
            "return [...document.querySelectorAll('#roofs thead th')].filter((each) =>"
            " ['year', 'nominal_cost'].includes(each.dataset.key)).map((each) => {"
            " const { left, right } = each.getBoundingClientRect();"
            " return [left, right]; })")
        self.assertEqual(len(places), 2)
        for left, right in places:
            self.assertGreaterEqual(left, 0)
            self.assertLessEqual(right, self.size[0])
        self.assertLessEqual(self.run_script(
            "return document.documentElement.scrollWidth"), self.size[0])

    def test_nothing_stands_in_the_way_of_anyone(self):
        self.browser.open(self.planned)
        self.assertEqual(self.browser.complaints(), [])

    def test_fits_the_width(self):
        self.browser.click("#roofs tbody tr:nth-child(3) button")
        self.assertLessEqual(self.run_script(
            "return document.documentElement.scrollWidth"), self.size[0])
        self.assertIn("m²", self.run_script("return document.body.innerText"))


class Hostile(Page):
    @classmethod
    def setUpClass(cls):
        features = [roof(name, -90 + 0.002 * i, 40, building=name)
                    for i, name in enumerate(HOSTILE)]
        cls.path = report("</title><script>window.hit = 6</script>".replace("/", "_"),
                          features)
        super().setUpClass()

    def test_names_are_shown_and_never_run(self):
        shown = " ".join(self.column("roof_id"))
        for name in HOSTILE:
            words = " ".join(name.split())
            self.assertIn(words, " ".join(shown.split()))
        for row in range(1, len(HOSTILE) + 1):
            self.browser.click(f"#roofs tbody tr:nth-child({row}) button")
            self.browser.pointer(200 + 20 * row, 500, press=False)
        self.assertIsNone(self.run_script("return window.hit ?? null"))
        self.assertEqual(self.run_script("return document.scripts.length"), 2)
        self.assertEqual(self.run_script("return document.images.length"), 0)

    def test_the_file_holds_no_tag_from_the_data(self):
        text = self.path.read_text(encoding="utf-8")
        block = text.split('id="data">')[1].split("</script>")[0]
        self.assertNotIn("<", block)
        names = [each["s"][1] for each in json.loads(block)["roofs"]]
        self.assertEqual(sorted(names), sorted(HOSTILE))


def main():
    global program, folder
    parser = argparse.ArgumentParser()
    parser.add_argument("--outlay", required=True)
    options, rest = parser.parse_known_args()
    program = options.outlay
    lacking = browser.missing()
    if lacking and not os.environ.get("CI"):
        print(f"skipped: {', '.join(lacking)} missing; scripts/deps test installs them")
        sys.exit(SKIPPED)
    with tempfile.TemporaryDirectory(prefix="page-") as name:
        folder = pathlib.Path(name)
        unittest.main(argv=[sys.argv[0], *rest], exit=True)


if __name__ == "__main__":
    main()
