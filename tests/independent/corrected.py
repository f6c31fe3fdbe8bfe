"""The cut along a programme on plain fine cells, for `tests/tests/independent`: which lateral force
each line comes to, before and after a correction.

One JSON object a line: programme (its text), block [[x, y, z], [x, y, z]], cell (mm), tools by
number (diameter, edges, helix in degrees, runout in mm, cut [K_tc, K_rc] in N/mm2, edge [K_te,
K_re] in N/mm). Answers the largest force in N by line, and the volume taken out in mm3.

Heights are those of the middles of square cells and nothing else is known of a wall. A look goes
half a step ahead of what is taken off: every half degree of the front the height that stands there
tells how much of an edge is in the stock. The edge is a helix of short pieces; each takes
(K_tc h + K_te) along and (K_rc h + K_re) across its way, h = f_z sin(phi), phi from the left of the
feed; a tooth that runs out takes what those before it have left. numpy alone."""

import json
import math
import sys

import numpy as np

STEP = 0.08  # mm between two looks
ANGLES = 360  # looks along the front, a half turn
PIECES = 48  # of an edge over the depth of cut
TURNS = 180  # angles of the spindle over the way of a tooth


def read(text):
    """Moves as (line, tool, rapid, feed, speed, places): lines, and arcs in short chords."""
    at, code, feed, speed, tool = np.zeros(3), 0, 0.0, 0.0, 0
    for number, line in enumerate(text.splitlines(), 1):
        line = line.split("(")[0].strip()
        if not line or line == "%":
            continue
        to, centre, moves = at.copy(), np.zeros(2), False
        for word in line.replace("G", " G").split():
            letter, value = word[0], float(word[1:])
            if letter == "G" and value in (0, 1, 2, 3):
                code = int(value)
            elif letter in "XYZ":
                to["XYZ".index(letter)], moves = value, True
            elif letter in "IJ":
                centre["IJ".index(letter)], moves = value, True
            elif letter == "F":
                feed = value
            elif letter == "S":
                speed = value
            elif letter == "T":
                tool = int(value)
        if moves:
            yield number, tool, code == 0, feed, speed, places(at, to, centre, code)
        at = to


def places(start, end, centre, code):
    if code in (2, 3) and centre.any():
        o = start[:2] + centre
        first = math.atan2(*(start[:2] - o)[::-1])
        last = math.atan2(*(end[:2] - o)[::-1])
        sweep = (last - first) % (2 * math.pi) if code == 3 else -((first - last) % (2 * math.pi))
        if abs(sweep) < 1e-9:
            sweep = 2 * math.pi if code == 3 else -2 * math.pi
        rho = math.hypot(*centre)
        n = max(1, math.ceil(abs(sweep) * rho / STEP))
        t = np.linspace(0, 1, n + 1)
        xy = o + rho * np.stack([np.cos(first + sweep * t), np.sin(first + sweep * t)], 1)
        return np.column_stack([xy, start[2] + t * (end[2] - start[2])])
    n = max(1, math.ceil(float(np.linalg.norm(end - start)) / STEP))
    return start + np.linspace(0, 1, n + 1)[:, None] * (end - start)


class Stock:
    def __init__(self, block, cell):
        self.low, high = np.array(block[0], float), np.array(block[1], float)
        self.cell = cell
        shape = np.ceil((high - self.low)[:2] / cell).astype(int)
        self.z = np.full(shape, float(high[2]))
        self.floor = self.low[2]

    def heights(self, x, y):
        i = np.floor((x - self.low[0]) / self.cell).astype(int)
        j = np.floor((y - self.low[1]) / self.cell).astype(int)
        inside = (i >= 0) & (j >= 0) & (i < self.z.shape[0]) & (j < self.z.shape[1])
        out = np.full(x.shape, -np.inf)
        out[inside] = self.z[i[inside], j[inside]]
        return out

    def take(self, place, radius):
        """Takes off all above the tip within the radius; the volume."""
        lo = np.floor((place[:2] - radius - self.low[:2]) / self.cell).astype(int)
        hi = np.ceil((place[:2] + radius - self.low[:2]) / self.cell).astype(int)
        lo, hi = np.maximum(lo, 0), np.minimum(hi, self.z.shape)
        if (hi <= lo).any():
            return 0.0
        x = self.low[0] + (np.arange(lo[0], hi[0]) + 0.5) * self.cell - place[0]
        y = self.low[1] + (np.arange(lo[1], hi[1]) + 0.5) * self.cell - place[1]
        under = x[:, None] ** 2 + y[None, :] ** 2 <= radius * radius
        part = self.z[lo[0]:hi[0], lo[1]:hi[1]]
        new = np.where(under, np.minimum(part, max(place[2], self.floor)), part)
        gone = float((part - new).sum()) * self.cell**2
        self.z[lo[0]:hi[0], lo[1]:hi[1]] = new
        return gone


def shares(edges, f_z, runout):
    """How far each tooth reaches beyond all before it, its centre off by half of the runout."""
    off = 0.5 * runout * np.sin(2 * math.pi * (np.arange(edges) + 0.5) / edges)
    reach, out = -math.inf, []
    for i in range(8 * edges):
        tip = i * f_z + off[i % edges]
        out.append(max(0.0, tip - reach))
        reach = max(reach, tip)
    return np.array(out[-edges:])


def lateral(depths, tool, f_z):
    """The largest force across the axis while the edges go through a front of these depths."""
    deep = float(depths.max())
    if deep <= 0 or f_z <= 0:
        return 0.0
    height = (np.arange(PIECES) + 0.5) * deep / PIECES
    db = deep / PIECES
    lag = 2 * math.tan(math.radians(tool["helix"])) / tool["diameter"] * height
    edges = tool["edges"]
    period = 2 * math.pi if tool["runout"] > 0 else 2 * math.pi / edges
    theta = (np.arange(round(TURNS * edges * period / (2 * math.pi))) + 0.5)
    theta = theta * period / theta.size
    along, across = np.zeros(theta.size), np.zeros(theta.size)
    for tooth, feed in enumerate(shares(edges, f_z, tool["runout"])):
        if feed <= 0:
            continue
        phi = (theta[:, None] - 2 * math.pi * tooth / edges - lag[None, :]) % (2 * math.pi)
        place = np.minimum((phi / math.pi * ANGLES).astype(int), ANGLES - 1)
        on = (phi < math.pi) & (depths[place] > height[None, :])
        h = feed * np.sin(phi)
        touch = min(1.0, 10 * feed / f_z)
        f_t = np.where(on, tool["cut"][0] * h + tool["edge"][0] * touch, 0.0) * db
        f_r = np.where(on, tool["cut"][1] * h + tool["edge"][1] * touch, 0.0) * db
        # phi from the left, turning ahead and to the right: along the feed goes sin, to the right
        # goes -cos; the edge moves along the one turned by a quarter.
        along += (-f_t * np.cos(phi) - f_r * np.sin(phi)).sum(1)
        across += (-f_t * np.sin(phi) + f_r * np.cos(phi)).sum(1)
    return float(np.hypot(along, across).max())


def answer(case):
    stock, most, gone = Stock(case["block"], case["cell"]), {}, 0.0
    phi = (np.arange(ANGLES) + 0.5) * math.pi / ANGLES
    for number, of, rapid, feed, speed, way in read(case["programme"]):
        tool = case["tools"].get(str(of))
        if tool is None:
            continue
        radius = tool["diameter"] / 2
        for before, here in zip(way, way[1:]):
            step = here - before
            flat = math.hypot(step[0], step[1])
            if flat > 1e-9 and not rapid:
                # Half a step ahead of what is gone, where no cell is cut through any more.
                ahead = here
                left = math.atan2(step[1], step[0]) + math.pi / 2
                angle = left - phi
                x = ahead[0] + radius * np.cos(angle)
                y = ahead[1] + radius * np.sin(angle)
                depths = np.maximum(stock.heights(x, y) - ahead[2], 0.0)
                force = lateral(depths, tool, feed / (tool["edges"] * speed))
                most[number] = max(most.get(number, 0.0), force)
            middle = (before + here) / 2
            gone += stock.take(middle if flat > 1e-9 else here, radius)
    return {"force": most, "removed": gone}


if __name__ == "__main__":
    for line in sys.stdin:
        print(json.dumps(answer(json.loads(line))), flush=True)
