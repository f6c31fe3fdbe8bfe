"""Small random cuts in a block or a bar, worked out from their definition: a place keeps the height
of the lowest place of the axis at which the end covered it. Nothing here knows of nodes, cells that
walls cross, or closed forms of a surface; the way is walked in short steps, and only the distance
from a line or a circle is taken in closed form.

usage: carve.py COUNT SEED > tests/cases/second/stock.jsonl
       carve.py --check FILE COUNT SEED    says whether every ninth case of a file is what this
                                           gives

One case a line: `shape`, `cell`, `end` (radius, corner), `steps` in order and `places` at the end.
A step `cut` has the piece and the volume left in mm3 with how far off it may be; a step `look` has
where the front is looked at, and its arc, section and depth, each with how far off it may be: what
a shift of the front by an eighth of a cell makes. A place has a height and how far off it may be:
what the surface bends within a cell and a half. Places where it bends more are left out, but
beside a wall that stands alone, a few micrometres on either side. numpy alone."""

import json
import math
import random
import sys

import numpy as np

WALK = 1000  # places of the axis along a piece
FAR = 2.5  # cells: what else stands nearer than this to a wall may move it


def distance(piece, p):
    a, b = np.array(piece["from"][:2]), np.array(piece["to"][:2])
    ends = np.minimum(np.hypot(*(p - a).T), np.hypot(*(p - b).T))
    if piece.get("centre"):
        o = np.array(piece["centre"])
        sense = math.copysign(1.0, piece["sweep"])
        first = math.atan2(*(a - o)[::-1])
        v = p - o
        turned = np.mod((np.arctan2(v[:, 1], v[:, 0]) - first) * sense, 2 * math.pi)
        beside = np.abs(np.hypot(*v.T) - math.hypot(*(a - o)))
        return np.where(turned <= abs(piece["sweep"]), np.minimum(beside, ends), ends)
    d = b - a
    long = float(d @ d)
    if long == 0.0:
        return ends
    t = np.clip((p - a) @ d / long, 0.0, 1.0)
    return np.hypot(*(p - a - t[:, None] * d).T)


def walk(piece, n=WALK):
    t = np.linspace(0.0, 1.0, n + 1)
    a, b = np.array(piece["from"]), np.array(piece["to"])
    z = a[2] + t * (b[2] - a[2])
    if piece.get("centre"):
        o = np.array(piece["centre"])
        v = a[:2] - o
        angle = math.atan2(v[1], v[0]) + piece["sweep"] * t
        return o + math.hypot(*v) * np.stack([np.cos(angle), np.sin(angle)], 1), z
    return a[:2] + t[:, None] * (b - a)[:2], z


def lift(far, end):
    r, c = end
    e = np.clip(far - (r - c), 0.0, c)
    return c - np.sqrt(np.maximum(c * c - e * e, 0.0))


def level(piece):
    return piece["from"][2] == piece["to"][2]


def cover(piece, end, p, n=WALK):
    """The height a piece leaves at each place, endless where it does not come."""
    far = distance(piece, p)
    out = np.full(len(p), np.inf)
    near = np.flatnonzero(far <= end[0])
    if level(piece):
        out[near] = piece["from"][2] + lift(far[near], end)
        return out
    xy, z = walk(piece, n)
    for part in np.array_split(near, max(1, len(near) * n // 4_000_000)):
        d = np.hypot(p[part, 0, None] - xy[None, :, 0], p[part, 1, None] - xy[None, :, 1])
        h = np.where(d <= end[0] * (1 + 1e-9), z + lift(d, end), np.inf)
        out[part] = h.min(1)
    return out


class Stock:
    def __init__(self, shape):
        self.shape, self.cuts = shape, []
        self.floor, self.top = shape["z"]

    def outside(self, p):
        """How far a place is beyond the outline; below nothing inside."""
        s = self.shape
        if "radius" in s:
            return np.hypot(*(p - np.array(s["centre"])).T) - s["radius"]
        low, high = np.array(s["least"]), np.array(s["most"])
        return np.maximum(low - p, p - high).max(1)

    def height(self, p, n=WALK):
        h = np.full(len(p), self.top)
        for piece, end in self.cuts:
            h = np.minimum(h, cover(piece, end, p, n))
        return np.where(self.outside(p) > 0, self.floor, np.maximum(h, self.floor))

    def bounds(self):
        s = self.shape
        if "radius" in s:
            o = np.array(s["centre"])
            return o - s["radius"], o + s["radius"]
        return np.array(s["least"]), np.array(s["most"])


class Field:
    """Heights at places of a fine lattice, for volumes alone. It lies askew, so that no wall runs
    along it."""

    def __init__(self, stock, fine):
        low, high = stock.bounds()
        half = float(np.hypot(*(high - low))) / 2 + fine
        u = np.arange(-half, half, fine)
        x, y = np.meshgrid(u, u)
        sin, cos = math.sin(0.53), math.cos(0.53)
        p = np.stack([(x * cos - y * sin).ravel(), (x * sin + y * cos).ravel()], 1)
        p = p + (low + high) / 2
        self.p = p[stock.outside(p) <= 0]
        self.area = fine * fine
        self.h = np.full(len(self.p), stock.top)
        self.floor = stock.floor

    def cut(self, piece, end):
        self.h = np.minimum(self.h, np.maximum(cover(piece, end, self.p, 400), self.floor))

    def volume(self):
        return float((self.h - self.floor).sum()) * self.area


def front(stock, at, heading, end):
    """Arc in stock at full radius, or of the widest ring; section; depth."""
    r, c = end
    n = 1440
    phi = (np.arange(n) + 0.5) * math.pi / n
    way = heading + math.pi / 2 - phi
    out = np.stack([np.cos(way), np.sin(way)], 1)
    z = at[2]
    side = stock.height(np.array(at[:2]) + r * out) - max(z + c, stock.floor)
    side = np.where(side > 0.002, side, 0.0)
    step = math.pi / n
    section = float((side * np.sin(phi)).sum() * r * step)
    arc, depth = float((side > 0).sum() * step), float(side.max())
    if c == 0.0:
        return arc, section, depth
    depth = depth + c if depth > 0 else 0.0
    widest = 0.0
    parts = 24
    for k in range(parts):
        low, high = c * k / parts, c * (k + 1) / parts
        middle = (low + high) / 2
        q = r - c + math.sqrt(middle * (2 * c - middle))
        stands = stock.height(np.array(at[:2]) + q * out, 300) > max(z + middle, stock.floor)
        section += float((stands * np.sin(phi)).sum() * step * q * (high - low))
        widest = max(widest, float(stands.sum() * step))
        if stands.any() and side.max() == 0:
            depth = max(depth, high)
    return (arc if side.max() > 0 else widest), section, depth


def look(stock, at, heading, end, cell):
    own = front(stock, at, heading, end)
    off = [0.0] * 3
    for way in range(4):
        by = 0.125 * cell
        moved = [at[0] + by * math.cos(heading + way * math.pi / 2),
                 at[1] + by * math.sin(heading + way * math.pi / 2), at[2]]
        off = [max(o, abs(a - b)) for o, a, b in zip(off, front(stock, moved, heading, end), own)]
    return own, off


def spot(rng, low, high):
    return round(rng.uniform(low, high), 4)


def piece_of(rng, at, z, size, tight):
    """A piece from a place to a height: a line, or an arc either way round."""
    if rng.random() < 0.55:
        to = [spot(rng, 0.3, size[0] - 0.3), spot(rng, 0.3, size[1] - 0.3), z]
        if rng.random() < 0.2:
            axis = rng.randrange(2)
            to[axis] = at[axis]
        return {"from": at, "to": to}
    rho = rng.uniform(*tight)
    first = rng.uniform(0, 2 * math.pi)
    sweep = rng.uniform(0.15, math.pi / 6) * rng.choice([-1, 1])
    o = [at[0] - rho * math.cos(first), at[1] - rho * math.sin(first)]
    to = [o[0] + rho * math.cos(first + sweep), o[1] + rho * math.sin(first + sweep), z]
    return {"from": at, "to": to, "centre": o, "sweep": sweep}


def split(piece, share):
    """Two pieces for one."""
    a, b = piece["from"], piece["to"]
    if piece.get("centre"):
        o, v = np.array(piece["centre"]), np.array(a[:2]) - np.array(piece["centre"])
        angle = math.atan2(v[1], v[0]) + piece["sweep"] * share
        m = list(o + math.hypot(*v) * np.array([math.cos(angle), math.sin(angle)]))
    else:
        m = [a[k] + share * (b[k] - a[k]) for k in (0, 1)]
    m = [float(v) for v in m] + [a[2] + share * (b[2] - a[2])]
    one, two = dict(piece, to=m), dict(piece, **{"from": m})
    if piece.get("centre"):
        one["sweep"], two["sweep"] = piece["sweep"] * share, piece["sweep"] * (1 - share)
    return one, two


def heading_of(piece, at):
    if piece.get("centre"):
        out = math.atan2(at[1] - piece["centre"][1], at[0] - piece["centre"][0])
        return out + math.copysign(math.pi / 2, piece["sweep"])
    return math.atan2(piece["to"][1] - piece["from"][1], piece["to"][0] - piece["from"][0])


def long(piece):
    d = [b - a for a, b in zip(piece["from"], piece["to"])]
    flat = math.hypot(d[0], d[1])
    if piece.get("centre"):
        flat = math.dist(piece["from"][:2], piece["centre"]) * abs(piece["sweep"])
    return math.hypot(flat, d[2])


def smooth_places(rng, stock, cell, low, high, even):
    p = np.array([[rng.uniform(low[k] - 0.2, high[k] + 0.2) for k in (0, 1)] for _ in range(60)])
    h = stock.height(p)
    bend = np.zeros(len(p))
    for far in (0.75, 1.5):
        for k in range(8):
            by = far * cell * np.array([math.cos(k * math.pi / 8), math.sin(k * math.pi / 8)])
            bend = np.maximum(bend, np.abs(stock.height(p + by) + stock.height(p - by) - 2 * h))
    keep = (bend < 0.004) & (np.abs(stock.outside(p)) > 1e-6)
    return [[float(x), float(y), float(z), float(even + b)]
            for (x, y), z, b in zip(p[keep], h[keep], bend[keep])]


def wall_places(rng, stock, cell, end):
    """A few micrometres on either side of walls that stand alone."""
    out, r = [], end[0]
    for at, (piece, _) in enumerate(stock.cuts):
        for _ in range(8):
            xy, _ = walk(piece, 1000)
            o = xy[rng.randrange(1001)]
            angle = rng.uniform(0, 2 * math.pi)
            n = np.array([math.cos(angle), math.sin(angle)])
            if abs(distance(piece, (o + r * n)[None])[0] - r) > 1e-9:
                continue
            # Such a wall lies within h2/8R of its place.
            round_ = r
            if piece.get("centre"):
                rho = math.dist(piece["from"][:2], piece["centre"])
                round_ = min(r, abs(rho - r))
                if round_ < 0.4:
                    continue
            by = 0.002 + cell * cell / (4 * round_)
            pair = np.array([o + (r - by) * n, o + (r + by) * n])
            alone = stock.outside(pair).max() < -FAR * cell
            for other, (q, _) in enumerate(stock.cuts):
                if other == at:
                    continue
                alone &= abs(distance(q, pair[:1])[0] - r) > FAR * cell
            # The round of the own end, where it meets the side, is a wall like any other.
            h = stock.height(pair)
            if alone and abs(h[0] - h[1]) > 0.05:
                out += [[float(p[0]), float(p[1]), float(z), 0.0006] for p, z in zip(pair, h)]
    return out


def case(kind, rng):
    size = [spot(rng, 3.0, 5.5), spot(rng, 3.0, 4.5)]
    least = [spot(rng, -0.3, 0.3), spot(rng, -0.3, 0.3)]
    shape = {"z": [-2.0, 0.0]}
    if rng.random() < 0.2:
        shape.update(centre=[least[0] + size[0] / 2, least[1] + size[1] / 2],
                     radius=min(size) / 2)
    else:
        shape.update(least=least, most=[least[0] + size[0], least[1] + size[1]])
    r = spot(rng, 0.5, 1.2)
    corner = {"flat": 0.0, "sloped": 0.0, "ball": r, "corner": round(r * rng.uniform(0.2, 0.7), 4)}
    end = [r, corner[kind]]
    cell = rng.choice([0.04, 0.05, 0.06])
    stock, steps = Stock(shape), []
    field = Field(stock, 0.02)
    base = math.pi * shape["radius"] ** 2 if "radius" in shape else size[0] * size[1]
    whole, counted = 2.0 * base, field.volume()
    at = [spot(rng, 0.5, size[0] - 0.5), spot(rng, 0.5, size[1] - 0.5), spot(rng, -1.0, -0.3)]

    slack = [0.002]

    def cut(piece):
        stock.cuts.append((piece, end))
        before = whole - counted + field.volume()
        field.cut(piece, end)
        # Of the lattice only what is gone counts, where the outline is known in closed form.
        left = whole - counted + field.volume()
        deep = -min(piece["from"][2], piece["to"][2])
        # A cell of the walls, each way by chance, and the walk down a slope.
        around = 2 * long(piece) + 2 * math.pi * r
        own = 4 * 0.02 * math.sqrt(around * 0.02) * deep * 0.3 + 0.002 * (before - left)
        slack[0] = math.hypot(slack[0], own)
        steps.append({"cut": piece, "left": left, "slack": slack[0]})

    for k in range(rng.randrange(2, 5)):
        z = at[2]
        if kind == "sloped" or kind in ("ball", "corner") and rng.random() < 0.5:
            z = max(-1.8, min(-0.2, z + rng.choice([-0.5, -0.2, 0.3, 0.1]) * rng.uniform(0.5, 1)))
        elif rng.random() < 0.3:
            z = at[2] = spot(rng, -1.4, -0.3)
        piece = piece_of(rng, at, z, size, (0.5 * r, 7 * r))
        if long(piece) < 0.4:
            continue
        share = rng.uniform(0.35, 0.8)
        ahead = cell / long(piece)
        one, rest = split(piece, share)
        cut(one)
        to_look, _ = split(piece, share + ahead)
        place = to_look["to"]
        if kind != "sloped" and level(piece):
            heading = heading_of(piece, place)
            own, off = look(stock, place, heading, end, cell)
            steps.append({"look": [place, heading], "met": own, "off": off})
        cut(rest)
        at = list(piece["to"])
        if rng.random() < 0.3:
            at = [spot(rng, 0.5, size[0] - 0.5), spot(rng, 0.5, size[1] - 0.5), at[2]]
    low, high = stock.bounds()
    # On a slope a step of the floor below 5 um is no wall, but runs over a cell, from either side.
    even = 0.0006 if kind == "flat" else 0.0106
    places = smooth_places(rng, stock, cell, low, high, even)
    if kind == "flat":
        places += wall_places(rng, stock, cell, end)
    return {"kind": kind, "shape": shape, "cell": cell, "end": end, "steps": steps,
            "places": places, "whole": whole}


def rounded(value):
    if isinstance(value, float):
        return round(value, 7)
    if isinstance(value, dict):
        return {k: rounded(v) for k, v in value.items()}
    if isinstance(value, (list, tuple)):
        return [rounded(v) for v in value]
    return value


def text(k, seed):
    kind = ["flat", "sloped", "ball", "corner"][k % 4]
    return json.dumps(rounded(case(kind, random.Random(1000 * seed + k))), separators=(",", ":"))


def main():
    check = sys.argv[1] == "--check"
    count, seed = map(int, sys.argv[-2:])
    if not check:
        for k in range(count):
            print(text(k, seed))
        return
    kept = open(sys.argv[2]).read().splitlines()

    def same(a, b):
        if isinstance(a, dict):
            return a.keys() == b.keys() and all(same(a[k], b[k]) for k in a)
        if isinstance(a, list):
            return len(a) == len(b) and all(map(same, a, b))
        return abs(a - b) < 1e-5 if isinstance(a, float) else a == b

    # Nine is odd, so that there are some of each kind.
    some = range(0, count, 9)
    wrong = [k for k in some if not same(json.loads(text(k, seed)), json.loads(kept[k]))]
    if wrong or count != len(kept):
        sys.exit(f"{sys.argv[2]} is not what this gives: {wrong}, {len(kept)} cases")
    print(count)


main()
