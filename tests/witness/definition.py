"""The zones' definition, evaluated by brute force; shares no code with outlay or GEOS.

A region is a list of open rings (arrays of x, y in m) with the inside on the left of
every edge: outer rings anticlockwise, courts clockwise. A strip or a leg is a heap of
convex pieces: the rectangle on every edge and the mitre at every re-entrant vertex.
"""

import math

import numpy as np

CORNER_ANGLE = 137.5  # degrees; interior angles up to this are corners
LEG_BEND = 30.0       # degrees; legs run through bends below this
MITRE_REACH = 2.0     # depths; re-entrant mitres reach this far, then a bevel
LOW_LIMIT = 60 * 0.3048
LEAST_A = 3 * 0.3048
ROLES = ("corner", "perimeter", "field", "interior")


# ---- plane geometry ---------

def left_normal(vector):
    return np.array((-vector[1], vector[0]))


def edges_of(ring):
    """start, unit direction, length of every edge."""
    out = []
    for a, b in zip(ring, np.roll(ring, -1, axis=0)):
        length = float(np.hypot(*(b - a)))
        if length > 0:
            out.append((a, (b - a) / length, length))
    return out


def bend(before, after):
    """Degrees turned to the left from one direction to the next, -180 to 180."""
    return math.degrees(math.atan2(before[0] * after[1] - before[1] * after[0],
                                   float(np.dot(before, after))))


def rectangle(start, along, length, depth):
    far, inward = start + along * length, left_normal(along) * depth
    return np.array((start, far, far + inward, start + inward))


def mitre(vertex, before, after, depth):
    """The piece that fills the gap between two rectangles at a re-entrant vertex."""
    half = math.radians(-bend(before, after)) / 2
    first, last = left_normal(before), left_normal(after)
    if 1 / max(math.cos(half), 1e-12) <= MITRE_REACH:
        tip = (first + last) / np.hypot(*(first + last)) * depth / math.cos(half)
        return np.array((vertex, vertex + last * depth, vertex + tip,
                         vertex + first * depth))
    run = depth * (MITRE_REACH - math.cos(half)) / math.sin(half)
    return np.array((vertex, vertex + last * depth,
                     vertex + last * depth - after * run,
                     vertex + first * depth + before * run, vertex + first * depth))


def inside_pieces(pieces, points):
    """Which points lie in any of the convex pieces."""
    found = np.zeros(len(points), bool)
    for piece in pieces:
        within = np.ones(len(points), bool)
        for a, b in zip(piece, np.roll(piece, -1, axis=0)):
            within &= ((b[0] - a[0]) * (points[:, 1] - a[1])
                       - (b[1] - a[1]) * (points[:, 0] - a[0])) >= 0
        found |= within
    return found


def inside_rings(rings, points):
    """Which points lie inside, by the parity of the crossings to their right."""
    odd = np.zeros(len(points), bool)
    x, y = points[:, 0], points[:, 1]
    for ring in rings:
        for a, b in zip(ring, np.roll(ring, -1, axis=0)):
            if a[1] == b[1]:
                continue
            crosses = (a[1] > y) != (b[1] > y)
            odd ^= crosses & (x < a[0] + (y - a[1]) * (b[0] - a[0]) / (b[1] - a[1]))
    return odd


# ---- the definition ---------

def strip_pieces(rings, depth):
    pieces = []
    for ring in rings:
        edges = edges_of(ring)
        for (start, along, length), before in zip(edges, edges[-1:] + edges[:-1]):
            pieces.append(rectangle(start, along, length, depth))
            if bend(before[1], along) < -1e-9:
                pieces.append(mitre(start, before[1], along, depth))
    return pieces


def corner_vertices(ring):
    """Indices into edges_of(ring): edges that start at a corner vertex."""
    edges = edges_of(ring)
    return [i for i in range(len(edges))
            if 180 - bend(edges[i - 1][1], edges[i][1]) <= CORNER_ANGLE]


def one_leg(ring, first, length, depth):
    """Pieces of the leg that runs forward from the start of edge `first`."""
    edges, pieces, left, i = edges_of(ring), [], length, first
    while left > 0:
        start, along, size = edges[i]
        pieces.append(rectangle(start, along, min(size, left), depth))
        left -= size
        after = edges[(i + 1) % len(edges)][1]
        turn = bend(along, after)
        i = (i + 1) % len(edges)
        if abs(turn) >= LEG_BEND or i == first:
            break
        if turn < -1e-9 and left > 0:
            pieces.append(mitre(edges[i][0], along, after, depth))
    return pieces


def mirrored(ring):
    return ring[::-1] * (-1, 1)


def leg_pieces(rings, length, depth):
    """Both legs of every corner: the second is the first of the mirrored ring."""
    pieces = []
    for ring in rings:
        for i in corner_vertices(ring):
            pieces += one_leg(ring, i, length, depth)
        back = mirrored(ring)
        for i in corner_vertices(back):
            pieces += [mirrored(p) for p in one_leg(back, i, length, depth)]
    return pieces


def cut(piece, knife):
    """The part of a convex piece inside another, both anticlockwise."""
    for a, b in zip(knife, np.roll(knife, -1, axis=0)):
        inward, kept = left_normal(b - a), []
        for p, q in zip(piece, np.roll(piece, -1, axis=0)):
            at_p, at_q = float((p - a) @ inward), float((q - a) @ inward)
            if at_p >= 0:
                kept.append(p)
            if at_p * at_q < 0:
                kept.append(p + (q - p) * at_p / (at_p - at_q))
        if len(kept) < 3:
            return None
        piece = np.array(kept)
    return piece


def crossed_pieces(rings, a):
    """Where a corner's two strips cross, each cut at 2 a along its edge."""
    pieces = []
    for ring in rings:
        back, count = mirrored(ring), len(edges_of(ring))
        for i in corner_vertices(ring):
            # The vertex that starts edge i of the ring starts edge count - 1 - i of the
            # mirrored one.
            behind = [mirrored(p) for p in one_leg(back, count - 1 - i, 2 * a, a)]
            for one in one_leg(ring, i, 2 * a, a):
                shared = [cut(one, other) for other in behind]
                pieces += [p for p in shared if p is not None]
    return pieces


def least_dimension(rings):
    """Shorter side of the rectangle of least area around the points; of rectangles of
    the same area (a triangle has three) the largest shorter side."""
    points = np.concatenate(rings)
    found = []
    hull = hull_of(points)
    for a, b in zip(hull, np.roll(hull, -1, axis=0)):
        along = (b - a) / np.hypot(*(b - a))
        u, v = np.ptp(points @ along), np.ptp(points @ left_normal(along))
        found.append((u * v, min(u, v)))
    least = min(found)[0]
    return max(side for size, side in found if size < least * (1 + 1e-9))


def hull_of(points):
    def chain(ordered):
        out = []
        for p in ordered:
            while len(out) > 1 and np.cross(out[-1] - out[-2], p - out[-2]) <= 0:
                out.pop()
            out.append(p)
        return out[:-1]

    ordered = sorted(points, key=tuple)
    return np.array(chain(ordered) + chain(ordered[::-1]))


class Zones:
    """Zones of one level by one standard.

    rings    the level's rings with free edges
    openings rings of openings: they bound the roof but have no strips
    smooth   the regularised rings, where they differ from rings
    """

    def __init__(self, standard, height, rings, openings=(), smooth=None):
        smooth = smooth or rings
        self.outline = list(rings) + list(openings)
        self.field_depth = math.inf
        least = least_dimension(rings)
        if height > LOW_LIMIT:
            self.depth = max(0.1 * least, LEAST_A)
            depth = self.depth
            self.corner = leg_pieces(smooth, 2 * depth, depth)
        elif standard == "asce7-10":
            a = max(min(0.1 * least, 0.4 * height), 0.04 * least, LEAST_A)
            self.depth = depth = a
            self.corner = crossed_pieces(smooth, a)
        else:
            self.depth, self.field_depth = 0.6 * height, 1.2 * height
            depth = 0.2 * height
            self.corner = leg_pieces(smooth, 0.6 * height, depth)
        # Length of the legs' ends, m: where they meet one another or the perimeter.
        self.leg_edge = 2 * depth * sum(len(corner_vertices(r)) for r in smooth)
        self.perimeter = self.corner + strip_pieces(rings, self.depth)
        self.field = None
        if math.isfinite(self.field_depth):
            self.field = self.perimeter + strip_pieces(rings, self.field_depth)

    def roles(self, points):
        """Index into ROLES for each point; -1 outside the outline."""
        found = np.full(len(points), 2 if self.field is None else 3)
        if self.field is not None:
            found[inside_pieces(self.field, points)] = 2
        found[inside_pieces(self.perimeter, points)] = 1
        found[inside_pieces(self.corner, points)] = 0
        found[~inside_rings(self.outline, points)] = -1
        return found

    def areas(self):
        """Exact area of each role, m2, by slabs."""
        whole = covered_area(self.outline, None)
        corner = covered_area(self.outline, self.corner)
        strip = covered_area(self.outline, self.perimeter)
        wide = whole if self.field is None else covered_area(self.outline, self.field)
        return (corner, strip - corner, wide - strip, whole - wide)


# ---- exact areas of unions, slab by slab ---------

def segments_of(polygons):
    """Every edge as a row x0, y0, x1, y1."""
    return np.concatenate([np.hstack((p, np.roll(p, -1, axis=0))) for p in polygons])


def event_heights(segments):
    """Heights where an edge begins, ends or crosses another."""
    x0, y0, x1, y1 = segments.T
    dx, dy = x1 - x0, y1 - y0
    cross = dx[:, None] * dy[None, :] - dy[:, None] * dx[None, :]
    gap_x, gap_y = x0[None, :] - x0[:, None], y0[None, :] - y0[:, None]
    with np.errstate(divide="ignore", invalid="ignore"):
        t = (gap_x * dy[None, :] - gap_y * dx[None, :]) / cross
        u = (gap_x * dy[:, None] - gap_y * dx[:, None]) / cross
    meet = (t >= 0) & (t <= 1) & (u >= 0) & (u <= 1)
    rows, columns = np.nonzero(meet)
    heights = y0[rows] + t[rows, columns] * dy[rows]
    return np.unique(np.concatenate((y0, y1, heights)))


def crossings(polygon, y):
    """Where a horizontal line crosses a polygon's edges, from left to right."""
    a, b = polygon, np.roll(polygon, -1, axis=0)
    hit = (a[:, 1] > y) != (b[:, 1] > y)
    a, b = a[hit], b[hit]
    return np.sort(a[:, 0] + (y - a[:, 1]) * (b[:, 0] - a[:, 0]) / (b[:, 1] - a[:, 1]))


def covered_length(spans, covers):
    """Length of the spans (sorted, apart) that lies under covers (any order)."""
    merged = []
    for low, high in sorted(covers):
        if merged and low <= merged[-1][1]:
            merged[-1][1] = max(merged[-1][1], high)
        else:
            merged.append([low, high])
    total = 0.0
    for low, high in spans:
        for cover_low, cover_high in merged:
            total += max(0.0, min(high, cover_high) - max(low, cover_low))
    return total


def covered_area(rings, pieces):
    """Area inside the rings and in any piece (None: all). Between two neighbouring
    event heights lengths are linear, so the middle's length times the slab is exact."""
    shapes = list(rings) + list(pieces or ())
    heights = event_heights(segments_of(shapes))
    tops = None
    if pieces:
        tops = [(p, p[:, 1].min(), p[:, 1].max()) for p in pieces]
    total = 0.0
    for low, high in zip(heights, heights[1:]):
        if high - low < 1e-10:
            continue
        y = (low + high) / 2
        xs = np.sort(np.concatenate([crossings(r, y) for r in rings]))
        spans = list(zip(xs[::2], xs[1::2]))
        if pieces is None:
            total += sum(b - a for a, b in spans) * (high - low)
        elif tops:
            covers = [crossings(p, y)[[0, -1]] for p, bottom, top in tops
                      if bottom < y < top]
            total += covered_length(spans, [tuple(c) for c in covers]) * (high - low)
    return total
