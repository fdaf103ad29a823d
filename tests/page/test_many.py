#!/usr/bin/env python3
"""The portfolio page of 2,100 roofs, of which 2,000 are shown, in a headless Chromium.

    tests/page/test_many.py --outlay PROGRAM
"""

import json
import sys

import test_page

MANY = 2100


class Many(test_page.Page):
    @classmethod
    def setUpClass(cls):
        features = [test_page.roof(f"R{i:04}", -90 + 0.002 * (i % 60),
                                   40 + 0.002 * (i // 60), height_ft=15 + i % 45)
                    for i in range(MANY)]
        cls.path = test_page.report("many", features)
        cls.backwards = test_page.report("many_backwards", features[::-1],
                                         "--threads", "1")
        super().setUpClass()

    def test_shows_the_most_exposed_and_says_so(self):
        text = self.run_script("return document.getElementById('shown').textContent")
        self.assertIn("all 2,100 roofs in squares of 0.2 mi, the table the first", text)
        self.assertEqual(self.run_script(
            "return Number(document.getElementById('roofs').ariaRowCount)"), 2001)

    def test_says_the_order_and_tells_nobody_to_type_options(self):
        self.assertNotIn(" --", self.run_script("return document.body.innerText"))
        self.assertIn("the order by exposure is that of the heights", self.run_script(
            "return document.getElementById('order').textContent"))

    def test_opens_soon_and_stays_fluid(self):
        frames = self.browser.run("""
            const done = arguments[0];
            const map = document.getElementById('canvas');
            const times = [];
            let last = performance.now();
            map.focus();
            function step() {
              times.push(performance.now() - last);
              last = performance.now();
              if (times.length === 40) return done(times.slice(1));
              map.dispatchEvent(new KeyboardEvent('keydown', {key:
                times.length % 2 ? '+' : 'ArrowLeft'}));
              requestAnimationFrame(step);
            }
            requestAnimationFrame(step)""", wait=True)
        size = self.path.stat().st_size
        print(f"2,000 roofs: opened in {self.seconds:.2f} s, a frame in "
              f"{sorted(frames)[len(frames) // 2]:.0f} ms (median), {size / 1e6:.1f} MB",
              file=sys.stderr)
        self.assertLess(self.seconds, 20)

    def test_rows_come_as_they_are_scrolled_to(self):
        count = "return document.querySelectorAll('#roofs tbody tr').length"
        before = self.run_script(count)
        self.browser.run("const done = arguments[0];"
                         "const box = document.getElementById('scroll');"
                         "box.addEventListener('scroll', () => setTimeout(done));"
                         "box.scrollTop = box.scrollHeight", wait=True)
        self.assertGreater(self.run_script(count), before)

    def test_order_of_the_input_changes_nothing(self):
        def shown(path):
            text = path.read_text(encoding="utf-8").split('id="data">')[1]
            return json.loads(text.split("</script>")[0])["roofs"]
        self.assertEqual(shown(self.path), shown(self.backwards))


if __name__ == "__main__":
    test_page.main()
