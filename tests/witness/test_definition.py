#!/usr/bin/python3
"""Closed forms for the witness itself: a witness that errs proves nothing."""

import math
import unittest

import numpy as np

from definition import Zones, covered_area, mitre, strip_pieces


def ring(*points):
    return np.array(points, float)


def box(x0, y0, x1, y1):
    return ring((x0, y0), (x1, y0), (x1, y1), (x0, y1))


class Definition(unittest.TestCase):
    def near(self, found, expected):
        for a, b in zip(found, expected):
            self.assertAlmostEqual(a, b, places=6)

    def test_square_low(self):
        # L = 50, h = 10: corners 4 x 0.20 h2; strips by difference of squares.
        corner, inner, core = 4 * 0.20 * 100, (50 - 12) ** 2, (50 - 24) ** 2
        self.near(Zones("asce7-22", 10, [box(0, 0, 50, 50)]).areas(),
                  (corner, 2500 - inner - corner, inner - core, core))

    def test_narrow_has_no_interior(self):
        # 8 m wide, h = 10: the strips of 6 m meet; legs 2 m deep, 6 m long.
        corner = 2 * (6 * 2 * 2 + (8 - 4) * 2)
        areas = Zones("asce7-22", 10, [box(0, 0, 60, 8)]).areas()
        self.near(areas, (corner, 480 - corner, 0, 0))

    def test_tall(self):
        # LHD 30: a = 3; L-shaped corners of 3 a2; no interior.
        inner = (50 - 6) * (30 - 6)
        self.near(Zones("asce7-22", 30, [box(0, 0, 50, 30)]).areas(),
                  (4 * 27, 1500 - inner - 108, inner, 0))

    def test_crossed(self):
        # 7-10: a = min(3, 0.4 x 6) = 2.4; corners a x a.
        inner = (50 - 4.8) * (30 - 4.8)
        corner = 4 * 2.4 ** 2
        self.near(Zones("asce7-10", 6, [box(0, 0, 50, 30)]).areas(),
                  (corner, 1500 - inner - corner, inner, 0))

    def test_crossed_acute_is_cut(self):
        # A rhombus of 30 degrees: strips cross in a rhombus of side a / sin 30 = 2 a,
        # which reaches 2 a + 2 a cos 30 along each edge before the cut at 2 a.
        angle, side = math.radians(30), 100
        c, s = math.cos(angle), math.sin(angle)
        plan = ring((0, 0), (side, 0), (side + side * c, side * s), (side * c, side * s))
        zones = Zones("asce7-10", 6, [plan])
        a = zones.depth
        kept = [p for p in zones.corner if p.min() < 5 and p.max() < 30]
        self.assertEqual(len(kept), 1)
        self.assertLessEqual(kept[0][:, 0].max(), 2 * a + 1e-9)
        self.assertLessEqual((kept[0] @ (c, s)).max(), 2 * a + 1e-9)

    def test_reentrant_mitre(self):
        # An L: the strip's inner line is mitred at the re-entrant vertex as well.
        plan = ring((0, 0), (40, 0), (40, 20), (20, 20), (20, 40), (0, 40))
        strip = covered_area([plan], strip_pieces([plan], 3))
        inner = 34 * 14 + 14 * 20
        self.assertAlmostEqual(strip, 1200 - inner, places=6)

    def test_court(self):
        plan, court = box(0, 0, 60, 60), box(20, 20, 40, 40)[::-1]
        areas = Zones("asce7-22", 5, [plan, court]).areas()
        # 0.6 h = 3: inset of the outside 54, of the court 26, mitred outward.
        strip = 3600 - 54 ** 2 + 26 ** 2 - 400
        corner = 4 * 0.20 * 25
        self.near(areas[:2], (corner, strip - corner))

    def test_bevel(self):
        # A spike of nothing (turn of 180 degrees): a bevel square to it at two depths.
        piece = mitre(np.zeros(2), np.array((0.0, 1.0)), np.array((1e-9, -1.0)), 1.0)
        self.assertAlmostEqual(piece[:, 1].max(), 2.0, places=6)
        self.assertAlmostEqual(np.ptp(piece[:, 0]), 2.0, places=6)

    def test_octagon_has_corners_dodecagon_none(self):
        for count, corners in ((8, True), (12, False)):
            turn = 2 * np.pi * np.arange(count) / count
            plan = 40 * np.column_stack((np.cos(turn), np.sin(turn)))
            self.assertEqual(bool(Zones("asce7-22", 10, [plan]).corner), corners)

    def test_leg_runs_through_small_bend(self):
        # The wall bends by 10 degrees outward 3 m from the corner: the leg goes on.
        c, s = math.cos(math.radians(10)), math.sin(math.radians(10))
        plan = ring((0, 0), (3, 0), (3 + 40 * c, -40 * s), (50, 40), (0, 40))
        points = np.array(((3 + 2.5 * c, -2.5 * s + 0.3), (3 + 3.5 * c, -3.5 * s + 0.3)))
        self.assertEqual(list(Zones("asce7-22", 10, [plan]).roles(points)), [0, 1])

    def test_leg_ends_at_reentrant(self):
        plan = ring((0, 0), (3, 0), (3, -30), (40, -30), (40, 40), (0, 40))
        points = np.array(((2.5, 1.0), (3.5, 1.0)))
        self.assertEqual(list(Zones("asce7-22", 10, [plan]).roles(points)), [0, 1])

    def test_roles_agree_with_areas(self):
        plan = ring((0, 0), (55, 3), (70, 40), (38, 31), (21, 60), (-8, 33))
        zones = Zones("asce7-22", 9, [plan])
        side = np.arange(-10, 72, 0.1)
        x, y = np.meshgrid(side, side)
        roles = zones.roles(np.column_stack((x.ravel(), y.ravel())))
        for role, area in enumerate(zones.areas()):
            self.assertAlmostEqual((roles == role).sum() * 0.01, area, delta=2.0)


if __name__ == "__main__":
    unittest.main()
