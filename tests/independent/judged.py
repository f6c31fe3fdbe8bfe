"""What is known of a job, drawn, and which findings its moves then have to have, for
`programmes.py`.

Each rule is what the list of findings says in words (`feeds audit --help`, `finding/kinds.rs`), put
down here once more; whether a finding is there is compared, not its text. Lengths in mm, feeds in
mm/min."""

import math

HAIR = 1e-6
# The findings that are told from moves and settings alone.
CODES = ["speed-outside-machine", "feed-outside-machine", "cutting-speed-over-band", "chip-absurd",
         "feed-below-floor", "feed-over-band", "feed-below-band", "plunge", "ramp-steep",
         "below-stock", "spindle-reversed", "tool-length-missing", "cut-without-feed",
         "feed-inherited", "rapid-into-stock", "rapid-below-zero", "rapid-at-depth",
         "rapid-below-clearance", "feed-absurd", "arc-tight", "arc-feed"]


def drawn(rng, tools):
    """A job: cutters, spindle, stock."""
    def some(value, share=0.7):
        return value if rng.random() < share else None

    known = []
    for number in sorted(tools):
        least = round(rng.uniform(0.005, 0.05), 4)
        known.append(dict(
            number=number, diameter_mm=round(rng.uniform(2, 20), 2), edges=rng.randrange(1, 6),
            centre=rng.random() < 0.6, ramp=some(round(rng.uniform(1, 30), 2)),
            floor=some(round(rng.uniform(0.002, 0.02), 4)),
            band=some([least, round(least + rng.uniform(0.005, 0.1), 4)]),
            v_c=some(round(rng.uniform(20, 250), 1))))
    stock = None
    if rng.random() < 0.6:
        low = [round(rng.uniform(-28, -8), 2), round(rng.uniform(-28, -8), 2),
               round(rng.uniform(-6, -2), 2)]
        high = [round(rng.uniform(8, 28), 2), round(rng.uniform(8, 28), 2),
                round(rng.uniform(-1, 1.5), 2)]
        stock = [low, high]
    speeds = some([float(rng.randrange(5, 30) * 100), float(rng.randrange(50, 95) * 100)])
    return dict(tools=known, speeds=speeds, stock=stock)


class Found:
    """Findings by code; of some also where they are, by tool: first and last line, at how many
    places, and the line that uses most of what is allowed, or the first."""

    def __init__(self):
        self.codes, self.places, self.met = set(), {}, {}

    def add(self, code, v=None, used=None):
        self.codes.add(code)
        if v is None:
            return
        line, met = v["line"], self.met.setdefault(code, set())
        new = line not in met
        met.add(line)
        own = self.places.get((code, v["tool"]))
        if own is None:
            own = dict(first=line, last=line, count=1, line=line, used=used)
            self.places[code, v["tool"]] = own
            return
        if new:
            own["count"] += 1
            own["first"], own["last"] = min(own["first"], line), max(own["last"], line)
        if used is not None and used > own["used"]:
            own["line"], own["used"] = line, used

    def told(self):
        return sorted([code, tool, p["first"], p["last"], p["count"], p["line"]]
                      for (code, tool), p in self.places.items())


def shares(v):
    """Which share of the way each axis goes at most."""
    step = [abs(b - a) / v["length"] for a, b in zip(v["start"], v["to"])]
    if v["arc"]:
        (a, b, _), centre, _, sweep = v["arc"]
        ends = [complex(p[a], p[b]) - centre for p in (v["start"], v["to"])]
        ways = [e / abs(e) * 1j for e in ends]
        far = abs(sweep) >= math.pi / 2
        step[a] = 1.0 if far else max(abs(w.real) for w in ways)
        step[b] = 1.0 if far else max(abs(w.imag) for w in ways)
    return step


class Heights:
    """Where the cutter went into the work, and what it has cut."""

    def __init__(self):
        self.entry, self.sideways, self.last, self.lowest = None, False, None, None

    def clear(self, z):
        if self.entry is not None and z >= self.entry - HAIR:
            self.entry, self.sideways = None, False

    def cut(self, v, sideways):
        a, b = v["start"][2], v["to"][2]
        if self.entry is None or not sideways and b < a and not self.sideways:
            self.entry = a
        self.sideways |= sideways
        self.last = v["to"]
        self.lowest = b if self.lowest is None else min(self.lowest, b)
        if v["cycle"] or b > a:
            self.clear(b)

    def rapid(self, v, sideways, stock, found):
        a, to = v["start"][2], v["to"]
        if a is not None and not v["cycle"] and sideways and None not in v["start"]:
            low = min(a, to[2])
            if self.entry is not None and low < self.entry - HAIR:
                deep = low <= self.last[2] + HAIR
                found.add("rapid-at-depth" if deep else "rapid-below-clearance", v)
        if a is None or to[2] < a:
            self.down(v, to, stock, found)
        self.clear(to[2])

    def down(self, v, to, stock, found):
        last = self.last
        if last and all(abs(last[k] - to[k]) < HAIR for k in (0, 1)) and last[2] <= to[2] + HAIR:
            return
        if stock:
            over = all(stock[0][k] <= to[k] <= stock[1][k] for k in (0, 1))
            if over and to[2] < stock[1][2] - HAIR:
                found.add("rapid-into-stock", v)
        elif to[2] < 0 and (self.lowest is None or to[2] < self.lowest - HAIR):
            found.add("rapid-below-zero", v)


def descent(v, tool, sideways, stock, found):
    """Straight down, or down a slope, into what stands there."""
    drop = v["start"][2] - v["to"][2]
    if v["cycle"] or drop <= 0:
        return
    if stock:
        r = tool["diameter_mm"] / 2
        beside = not v["arc"] and any(
            max(v["start"][k], v["to"][k]) + r <= stock[0][k]
            or min(v["start"][k], v["to"][k]) - r >= stock[1][k] for k in (0, 1))
        if beside or v["to"][2] >= stock[1][2] - 1e-6:
            return
    if not sideways:
        if not tool["centre"]:
            found.add("plunge", v)
        return
    run = math.dist(v["start"][:2], v["to"][:2])
    if v["arc"]:
        run = v["arc"][2] * abs(v["arc"][3])
    angle = math.degrees(math.atan2(drop, run))
    if tool["ramp"] is not None and angle > tool["ramp"] + 1e-6:
        found.add("ramp-steep", v, angle / tool["ramp"])


def chip(feed, n, tool, found):
    """The feed per tooth of a cut that goes sideways."""
    f_z = feed / tool["edges"] / n
    if f_z < 0.001 * (1 - 1e-9) or f_z > 0.25 * tool["diameter_mm"] * (1 + 1e-9):
        found.add("chip-absurd")
    elif tool["floor"] is not None and f_z <= tool["floor"]:
        found.add("feed-below-floor")
    elif tool["band"] is not None and f_z > tool["band"][1]:
        found.add("feed-over-band")
    elif tool["band"] is not None and f_z < tool["band"][0]:
        found.add("feed-below-band")


def corner(v, feed, before, tool, stock, found):
    """An arc along a wall on its outside, where stock stands: the wall on the right of the feed."""
    if not v["arc"] or not stock or v["kind"] != 3:
        return
    (a, b, c), centre, rho, sweep = v["arc"]
    if (a, b) != (0, 1) or abs(v["start"][2] - v["to"][2]) > 1e-9:
        return
    if not math.pi / 6 < sweep < 3.2:
        return
    start = complex(v["start"][0], v["start"][1]) - centre
    out = start / abs(start) * complex(math.cos(sweep / 2), math.sin(sweep / 2))
    wall = centre + (rho + tool["diameter_mm"] / 2) * out
    place = (wall.real, wall.imag, v["to"][2])
    if not all(stock[0][k] <= place[k] <= stock[1][k] for k in range(3)):
        return
    share = rho / (tool["diameter_mm"] / 2)
    if share <= 0.5:
        found.add("arc-tight", v, 1 / share)
    elif share <= 1 and feed is not None and before is not None and feed >= before:
        found.add("arc-feed", v, 1 + 1 / share)


def codes(moves, job, fastest):
    """Which of the findings there are, and where some of them are."""
    found, heights, tool_before, before = Found(), Heights(), None, None
    tools = {t["number"]: t for t in job["tools"]}
    stock = job["stock"]
    for v in moves:
        if v["length"] <= 1e-9 and None not in v["start"]:
            continue
        if v["tool"] != tool_before:
            heights.entry, tool_before = None, v["tool"]
        ends = zip(v["start"][:2], v["to"][:2])
        sideways = bool(v["arc"]) or any(a is None or abs(a - b) > 1e-9 for a, b in ends)
        if v["kind"] == 0:
            heights.rapid(v, sideways, stock, found)
            continue
        tool, n = tools[v["tool"]], v["speed"]
        feed = v["feed"] if v["feed"] is not None and v["feed"] > 0 else None
        if job["speeds"] and n > 0 and not job["speeds"][0] <= n <= job["speeds"][1]:
            found.add("speed-outside-machine")
        if v["feed"] is None:
            found.add("cut-without-feed")
        if v["counter"]:
            found.add("spindle-reversed")
        if not v["length_on"]:
            found.add("tool-length-missing")
        if feed is not None:
            if v["inherits"]:
                found.add("feed-inherited")
            if feed > 60_000:
                found.add("feed-absurd")
            if tool["v_c"] is not None and math.pi * tool["diameter_mm"] * n / 1000 > tool["v_c"]:
                found.add("cutting-speed-over-band")
            most = min(f / s if s > 0 else math.inf for f, s in zip(fastest, shares(v)))
            if feed > most * (1 + 1e-9):
                found.add("feed-outside-machine")
            if sideways:
                chip(feed, n, tool, found)
        descent(v, tool, sideways, stock, found)
        corner(v, feed, before, tool, stock, found)
        before = feed if v["kind"] == 1 else None
        heights.cut(v, sideways)
        if stock and min(p[2] for p in v["extent"]) < stock[0][2] - 1e-9:
            found.add("below-stock")
    return sorted(found.codes), found.told()
