"""Sizes of features by plain polygons: no closed form of the program is used.

Reads one JSON object a line, writes one number a line (mm, mm2, mm3, s). Outlines are polygons with
arcs of many short chords, areas come from the shoelace sum, ways from the chords of the path that is
drawn, volumes from strips, times from small steps of a trapezoid of speed.
"""

import json
import math
import sys

CHORDS = 20000


def arc(cx, cy, r, a, b, n=CHORDS // 4):
    return [(cx + r * math.cos(a + (b - a) * i / n), cy + r * math.sin(a + (b - a) * i / n))
            for i in range(n + 1)]


def shoelace(points):
    total = 0.0
    for (x0, y0), (x1, y1) in zip(points, points[1:] + points[:1]):
        total += x0 * y1 - x1 * y0
    return abs(total) / 2


def length(points):
    return sum(math.dist(a, b) for a, b in zip(points, points[1:]))


def rounded(l, w, r):
    h = math.pi / 2
    return (arc(l - r, w - r, r, 0, h) + arc(r, w - r, r, h, 2 * h)
            + arc(r, r, r, 2 * h, 3 * h) + arc(l - r, r, r, 3 * h, 4 * h))


def slot(l, w, ends):
    """Open at the left, closed at the right; or both; about the middle line y = 0."""
    r = w / 2
    right = arc(l - r, 0, r, -math.pi / 2, math.pi / 2) if ends >= 1 else [(l, -r), (l, r)]
    left = arc(r, 0, r, math.pi / 2, 3 * math.pi / 2) if ends == 2 else [(0, r), (0, -r)]
    return right + left


def cleared(c):
    d, e, kind = c.get("d", 0), c.get("left", 0), c["outline"]
    if kind == "slot":
        return shoelace(slot(c["length"] - c["ends"] * e, c["width"] - 2 * e, c["ends"]))
    if kind == "rectangle":
        r = max(d / 2, c["corner"] - e, 0)
        return shoelace(rounded(c["length"] - 2 * e, c["width"] - 2 * e, max(r, 1e-12)))
    if kind == "round":
        return shoelace(arc(0, 0, c["diameter"] / 2 - e, 0, 2 * math.pi, CHORDS))
    if kind == "ring":
        outer = shoelace(arc(0, 0, c["diameter"] / 2 - e, 0, 2 * math.pi, CHORDS))
        return outer - shoelace(arc(0, 0, c["hole"] / 2, 0, 2 * math.pi, CHORDS))
    if kind == "along":
        return shoelace([(0, 0), (c["length"], 0), (c["length"], c["width"] - e), (0, c["width"] - e)])
    return shoelace([(0, 0), (c["length"], 0), (c["length"], c["width"]), (0, c["width"])])


def ceil(x):
    return max(1, math.ceil(x - 1e-9))


def clearing(c):
    """The whole way of one level, drawn as one list of points or several."""
    d, e, a, kind = c["d"], c["left"], c["a_e"], c["outline"]
    if kind == "rectangle":
        l, w = c["length"] - 2 * e - d, c["width"] - 2 * e - d
        if w <= 0:
            return length([(0, 0), (l, 0)])
        n = ceil(w / 2 / a)
        s = w / 2 / n
        total = length([(w / 2, w / 2), (l - w / 2, w / 2)])
        for k in range(n):
            o = k * s
            box = [(o, o), (l - o, o), (l - o, w - o), (o, w - o), (o, o), (o + s, o)]
            total += length(box)
        return total
    if kind in ("round", "ring"):
        inner = (c["hole"] - d) / 2 if kind == "ring" else 0
        outer = c["diameter"] / 2 - e - d / 2
        n = ceil((outer - inner) / a)
        s = (outer - inner) / n
        total = 0.0
        for k in range(1, n + 1):
            r = inner + k * s
            total += length([(r - s, 0)] + arc(0, 0, r, 0, 2 * math.pi, CHORDS))
        return total
    if kind == "along":
        n = ceil((c["width"] - e) / a)
        lead = length(arc(0, 0, d / 2, 0, math.pi, CHORDS))
        return n * (length([(0, 0), (c["length"], 0)]) + lead)
    if kind == "open":
        n = ceil(c["width"] / a)
        s = c["width"] / n
        points = []
        for k in range(n):
            ends = [(-d / 2, k * s), (c["length"] + d / 2, k * s)]
            points += ends if k % 2 == 0 else ends[::-1]
        return length(points)
    # A slot: along its middle, then round after round to the walls.
    total = along(c)
    room = (c["width"] - d) / 2 - e
    if room > 0:
        n = ceil(room / a)
        for k in range(1, n + 1):
            total += round_in_slot(c, room * k / n)
    return total


def along(c):
    start = c["d"] / 2 + c["left"] if c["ends"] == 2 else -c["d"] / 2
    end = c["length"] - c["d"] / 2 - c["left"] if c["ends"] >= 1 else c["length"] + c["d"] / 2
    return length([(start, 0), (end, 0)])


def round_in_slot(c, off):
    """There beside one wall and back beside the other; round a closed end, across an open one."""
    l, r, d = c["length"], c["width"] / 2, c["d"]
    right = (arc(l - r, 0, off, -math.pi / 2, math.pi / 2) if c["ends"] >= 1
             else [(l + d / 2, -off), (l + d / 2, off)])
    left = (arc(r, 0, off, math.pi / 2, 3 * math.pi / 2) if c["ends"] == 2
            else [(-d / 2, off), (-d / 2, -off)])
    points = right + left
    return length(points + points[:1])


def loops(c):
    middle = along(c)
    n = ceil(middle / c["a_e"])
    r = (c["width"] - 2 * c["left"] - c["d"]) / 2
    return middle + n * length(arc(0, 0, r, 0, 2 * math.pi, CHORDS))


def wall(c):
    d, kind, lead = c["d"], c["outline"], c["lead"]
    arcs = 2 * length(arc(0, 0, lead, 0, math.pi / 2))
    if kind == "rectangle":
        r = max(c["corner"] - d / 2, 1e-12)
        points = rounded(c["length"] - d, c["width"] - d, r)
        return length(points + points[:1]) + arcs
    if kind in ("round", "ring"):
        return length(arc(0, 0, (c["diameter"] - d) / 2, 0, 2 * math.pi, CHORDS)) + arcs
    if kind == "along":
        return length([(0, 0), (c["length"], 0)]) + arcs
    return round_in_slot(c, (c["width"] - d) / 2) + arcs


def corners(c):
    big = max(c["before"] / 2, c["corner"] - c["left"])
    small = max(c["d"] / 2, c["corner"] - c["left"])
    # The corner at the origin: from the arc of the larger cutter to that of the smaller one.
    gap = math.dist((big, big), (small, small)) - (big - small)
    n = ceil(gap / c["a_e"])
    return 4 * n * length([(small, big), (small, small), (big, small)])


def helix(c):
    turns = c["depth"] / c["pitch"]
    r = (c["hole"] - c["d"]) / 2
    n = 200000
    total, last = 0.0, None
    for i in range(n + 1):
        a = 2 * math.pi * turns * i / n
        point = (r * math.cos(a), r * math.sin(a), -c["depth"] * i / n)
        if last:
            total += math.dist(point, last)
        last = point
    return total


def ramp(c):
    angle = math.radians(c["angle"])
    plan = c["depth"] / math.tan(angle)
    return math.dist((0, 0), (plan, c["depth"]))


def half_at(c, z):
    """Half the width at a depth below its top of the dome and what is left on it, by halving."""
    left = c.get("left", 0.0)
    low, high = 0.0, c["radius"] + left
    for _ in range(100):
        x = (low + high) / 2
        drop = c["radius"] - math.sqrt((c["radius"] + left) ** 2 - x * x)
        low, high = (x, high) if drop < z else (low, x)
    return (low + high) / 2


def dome(c):
    n, total, w, r = 200000, 0.0, c["width"], c["radius"]
    for i in range(n):
        x = -w / 2 + (i + 0.5) * w / n
        total += (r - math.sqrt(r * r - x * x)) * w / n
    return total * c["length"]


def stairs(c):
    top = c["radius"] - math.sqrt(c["radius"] ** 2 - c["width"] ** 2 / 4)
    t = top / c["levels"]
    halves = [half_at(c, k * t) for k in range(1, c["levels"])]
    area = sum(2 * max(0.0, c["width"] / 2 - half) * t for half in halves)
    return area * c["length"]


def seconds(c):
    """Legs of equal length, each from rest to rest, in steps of the speed."""
    leg, feed, a = c["length"] / c["legs"], c["feed"] / 60, c["acceleration"] * 1000
    peak = min(feed, math.sqrt(leg * a))
    n, time = 20000, 0.0
    for i in range(n):
        time += 2 * peak / n / a
    return c["legs"] * (time + (leg - peak * peak / a) / peak)


def leaves(c):
    """What a circle of the cutter does not reach in four corners, by strips."""
    big, small = max(c["d"] / 2, c["corner"]), c["corner"]
    n, total = 200000, 0.0
    for i in range(n):
        x = (i + 0.5) * big / n
        def floor(r):
            return r - math.sqrt(r * r - (r - x) ** 2) if x < r else 0.0
        total += (floor(big) - floor(small)) * big / n
    return 4 * total


WHAT = {
    "cleared": cleared, "leaves": leaves, "clearing": clearing, "along": along, "loops": loops,
    "wall": wall, "corners": corners, "helix": helix, "ramp": ramp, "dome": dome,
    "stairs": stairs, "time": seconds,
}

if __name__ == "__main__":
    for line in sys.stdin:
        case = json.loads(line)
        print(json.dumps(WHAT[case["what"]](case)))
