"""Random levels for the witness: outlines whose corners nobody can argue about.

Left out on purpose: angles within half a degree of a limit (a corner's 137.5, a bend's
30) and vertices that regularising might or might not remove. What regularising must
remove (jogs of 5 cm) is put in knowingly, with the smooth ring kept beside it.
"""

import math

import numpy as np

from definition import bend, edges_of

JOG = 0.05          # m
SURE_MOVE = 1.6     # m; removing any vertex moves the boundary by at least this


class Level:
    """One roof level: its rings, how it is traced, how high it is."""

    def __init__(self, kind, rings, height, openings=(), smooth=None, sections=None):
        self.kind, self.rings, self.height = kind, rings, height
        self.openings, self.smooth = list(openings), smooth
        # Regions as traced: one section a roof; each a list of rings.
        self.sections = sections or [list(rings) + self.openings]


def turned(ring, angle):
    c, s = math.cos(angle), math.sin(angle)
    return ring @ np.array(((c, s), (-s, c)))


def unquestionable(rings):
    for ring in rings:
        edges = edges_of(ring)
        for (start, after, _), (before_start, before, _) in zip(
                edges, edges[-1:] + edges[:-1]):
            turn = bend(before, after)
            if min(abs(abs(turn) - 30), abs(turn - 42.5), abs(abs(turn) - 42.5)) < 0.5:
                return False
        for a, b, c in zip(np.roll(ring, 1, axis=0), ring, np.roll(ring, -1, axis=0)):
            chord = (c - a) / np.hypot(*(c - a))
            off = b - a
            if abs(chord[0] * off[1] - chord[1] * off[0]) < SURE_MOVE:
                return False
    return True


# ---- rectilinear: cells of an uneven grid ---------

def cell_rings(cells, xs, ys):
    """Rings around a set of (column, row) cells, the cells on the left; None where two
    cells meet in a point only."""
    step = {}
    for i, j in cells:
        for near, a, b in (((i, j - 1), (i, j), (i + 1, j)),
                           ((i + 1, j), (i + 1, j), (i + 1, j + 1)),
                           ((i, j + 1), (i + 1, j + 1), (i, j + 1)),
                           ((i - 1, j), (i, j + 1), (i, j))):
            if near not in cells:
                if a in step:
                    return None
                step[a] = b
    rings = []
    while step:
        start = min(step)
        ring, at = [], start
        while True:
            ring.append(at)
            at = step.pop(at)
            if at == start:
                break
        bends = [b for a, b, c in zip(ring[-1:] + ring[:-1], ring, ring[1:] + ring[:1])
                 if not a[0] == b[0] == c[0] and not a[1] == b[1] == c[1]]
        rings.append(np.array([(xs[i], ys[j]) for i, j in bends], float))
    return rings


def connected(cells):
    seen, todo = set(), [min(cells)]
    while todo:
        cell = todo.pop()
        if cell in cells and cell not in seen:
            seen.add(cell)
            i, j = cell
            todo += [(i + 1, j), (i - 1, j), (i, j + 1), (i, j - 1)]
    return len(seen) == len(cells)


def rectilinear(rng, sections=1):
    while True:
        columns, rows = rng.integers(1, 6, 2)
        xs = np.concatenate(([0], np.cumsum(rng.uniform(6, 30, columns))))
        ys = np.concatenate(([0], np.cumsum(rng.uniform(6, 30, rows))))
        cells = {(i, j) for i in range(columns) for j in range(rows)
                 if rng.random() < 0.75}
        if not cells or not connected(cells):
            continue
        rings = cell_rings(cells, xs, ys)
        if rings is None:
            continue
        parts = split(cells, columns, sections, rng)
        if parts is None:
            continue
        traced = [cell_rings(part, xs, ys) for part in parts]
        if any(r is None for r in traced):
            continue
        angle, middle = rng.uniform(0, 2 * math.pi), (xs[-1] / 2, ys[-1] / 2)
        place = [[turned(r - middle, angle) for r in region]
                 for region in [rings] + traced]
        kind = "rectilinear" if sections == 1 else "sections"
        return Level(kind, place[0], any_height(rng), sections=place[1:])


def split(cells, columns, sections, rng):
    """Cells cut along grid columns into connected sections; None where it can't be."""
    if sections == 1:
        return [cells]
    cuts = sorted(rng.choice(np.arange(1, columns), min(sections - 1, columns - 1),
                             replace=False)) if columns > 1 else []
    parts = []
    for low, high in zip([0] + list(cuts), list(cuts) + [columns]):
        part = {c for c in cells if low <= c[0] < high}
        if not part or not connected(part):
            return None
        parts.append(part)
    return parts if len(parts) > 1 else None


# ---- general ---------

def star(rng, count, size, even=0.35, deep=0.5):
    angles = 2 * math.pi * (np.arange(count) + rng.uniform(-even, even, count)) / count
    radii = size * rng.uniform(deep, 1.0, count)
    return np.column_stack((radii * np.cos(angles), radii * np.sin(angles)))


def general(rng):
    while True:
        ring = star(rng, rng.integers(3, 13), rng.uniform(12, 60))
        rings = [ring]
        if rng.random() < 0.3:
            room = min(abs(float(np.cross(along, start)))
                       for start, along, _ in edges_of(ring))
            court = star(rng, rng.integers(3, 7), 0.7 * room)[::-1]
            if abs(np.cross(court, np.roll(court, -1, axis=0)).sum()) / 2 > 60 \
                    and np.ptp(court, axis=0).min() > 8:
                rings.append(court)
        if simple(ring) and unquestionable(rings):
            return Level("general", rings, any_height(rng))


def simple(ring):
    """Whether a star around 0 goes round it once: then no two edges cross."""
    turn = np.unwrap(np.arctan2(ring[:, 1], ring[:, 0]))
    gaps = np.append(np.diff(turn), turn[0] + 2 * math.pi - turn[-1])
    return bool((gaps > 0.05).all() and (gaps < math.pi - 0.05).all())


def sheared(rng):
    """A rectilinear plan whose second direction isn't square to the first."""
    while True:
        level = rectilinear(rng)
        lean = rng.uniform(-0.9, 0.9)
        rings = [r @ np.array(((1.0, 0.0), (lean, 1.0))) for r in level.rings]
        if unquestionable(rings):
            return Level("sheared", rings, level.height)


def bowed(rng):
    """Walls of three stretches with bends of 8 to 25 degrees between square corners."""
    while True:
        x, y = rng.uniform(25, 70, 2)
        plan, corners = [], [(0, 0), (x, 0), (x, y), (0, y)]
        for (ax, ay), (bx, by) in zip(corners, corners[1:] + corners[:1]):
            bow = rng.uniform(2, 6) * rng.choice((-1, 1))
            ux, uy = bx - ax, by - ay
            length = math.hypot(ux, uy)
            nx, ny = uy / length * bow, -ux / length * bow
            first, second = rng.uniform(0.2, 0.4), rng.uniform(0.6, 0.8)
            plan += [(ax, ay), (ax + first * ux + nx, ay + first * uy + ny),
                     (ax + second * ux + nx, ay + second * uy + ny)]
        ring = turned(np.array(plan) - (x / 2, y / 2), rng.uniform(0, 6.3))
        if unquestionable([ring]):
            return Level("bowed", [ring], any_height(rng))


def with_opening(rng):
    """A hole too small for a court: it has no strips of its own."""
    x, y = rng.uniform(25, 60, 2)
    u, v = rng.uniform(6, x - 9), rng.uniform(6, y - 9)
    plan = np.array(((0, 0), (x, 0), (x, y), (0, y)), float)
    hole = np.array(((u, v), (u, v + 2.5), (u + 2, v + 2.5), (u + 2, v)), float)
    angle = rng.uniform(0, 6.3)
    return Level("opening", [turned(plan, angle)], any_height(rng),
                 openings=[turned(hole, angle)])


def small(rng):
    """Boxes, triangles and other convex plans no wider than their strips."""
    while True:
        count = int(rng.integers(3, 7))
        ring = star(rng, count, rng.uniform(5, 14), even=0.15, deep=0.8)
        if count == 4 and rng.random() < 0.5:
            x, y = rng.uniform(4, 18, 2)
            ring = np.array(((0, 0), (x, 0), (x, y), (0, y)), float)
        if unquestionable([ring]) and (count == 4 or simple(ring)):
            return Level("small", [turned(ring, rng.uniform(0, 6.3))], any_height(rng))


def jogged(rng):
    """A box with a jog of 5 cm in each wall, which recognising corners must ignore."""
    x, y = rng.uniform(25, 70, 2)
    smooth, plan = np.array(((0, 0), (x, 0), (x, y), (0, y)), float), []
    for a, b in zip(smooth, np.roll(smooth, -1, axis=0)):
        along = (b - a) / np.hypot(*(b - a))
        out = np.array((along[1], -along[0])) * JOG
        p, q = a + (b - a) * rng.uniform(0.1, 0.4), a + (b - a) * rng.uniform(0.6, 0.9)
        plan += [a, p, p + out, q + out, q]
    angle = rng.uniform(0, 6.3)
    return Level("jogged", [turned(np.array(plan), angle)], any_height(rng),
                 smooth=[turned(smooth, angle)])


def any_height(rng):
    """3 to 17 m mostly; one in four 28 to 60 m: nothing between 60 and 90 ft, where the
    standards' readings part."""
    return round(float(rng.uniform(28, 60) if rng.random() < 0.25
                       else rng.uniform(3, 17)), 3)


def levels(seed, count):
    """count levels of all kinds in turn; the same for the same seed."""
    rng = np.random.default_rng(seed)
    makers = (rectilinear, general, sheared, bowed,
              lambda r: rectilinear(r, sections=int(r.integers(2, 4))),
              with_opening, jogged, small)
    return [makers[i % len(makers)](rng) for i in range(count)]
