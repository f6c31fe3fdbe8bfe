"""Random short programmes with what they come to, for `tests/checks/programmes/second.rs`.

A programme is drawn as moves first and written down afterwards, in one of many ways: nothing here
reads a text, so the way a word is written and what it means are two things. Meanings are those of
ISO 6983 as NISTIR 6556 has them. Arcs are worked out with complex numbers.

usage: programmes.py COUNT SEED > tests/cases/second/programmes.jsonl
       programmes.py --check FILE COUNT SEED    says whether a file is what this gives

One case a line: `text`, `job`, `codes` and `places` (`judged.py`), `drives` (fastest feed in mm/min
and acceleration in mm/s2 of each axis), `moves` (line, kind of 0 to 3, whether of a cycle, from,
to, length in mm, feed in mm/min or, below nothing, one over minutes, spindle speed, tool; a place
that was never stated is null), `cut` and `rapid` (mm), `time` (min), `least` and `most` of what is
cut, `wide` the same with the radius of the cutter, `uses` (tool, speed, feed, length, time, time
with acceleration, its share below the feed, lowest
feed got up to; summed), and `reach`, the time with acceleration: through a corner v2 = a d
s/(1 - s), s the sine of half of its angle and d 0.01 mm, on an arc v2 = a r, every move slow enough
to stop at the end, and a stop where a move cannot be timed. The standard library alone."""

import json
import math
import random
import sys

import judged
from machine import Machine
from pace import times


def case(rng):
    m = Machine(rng)
    text = m.run()
    fastest = [float(rng.randrange(6, 60) * 100) for _ in range(3)]
    acceleration = [float(rng.randrange(5, 90) * 10) for _ in range(3)]
    job = judged.drawn(rng, {v["tool"] for v in m.moves})
    timed = times(m.moves, fastest, acceleration)
    for number, v in enumerate(m.moves):
        v["number"] = number
    cut = [v for v in m.moves if v["kind"]]
    points = [p for v in cut for p in v["extent"]]

    # The same with the radius of each cutter to its sides.
    wide = {t["number"]: t["diameter_mm"] / 2 for t in job["tools"]}
    sides = [(p, [wide[v["tool"]]] * 2 + [0.0]) for v in cut for p in v["extent"]]

    def time(v):
        if not v["feed"]:
            return 0.0
        return v["length"] / v["feed"] if v["feed"] > 0 else -1.0 / v["feed"]

    uses = {}
    for v in cut:
        feed = v["feed"] if v["feed"] is not None and v["feed"] > 0 else None
        key = (v["tool"], v["speed"], round(feed, 6) if feed else None)
        own = uses.setdefault(key, [0.0, 0.0, 0.0, 0.0, math.inf])
        own[0] += v["length"]
        own[1] += time(v)
        seconds, slow, top = timed.get(v["number"], (0.0, 0.0, math.inf))
        own[2] += seconds / 60
        own[3] += slow / 60
        own[4] = min(own[4], top * 60)
    for own in uses.values():
        own[3] = own[3] / own[2] if own[2] else None
        own[4] = own[4] if own[2] else None
    told = ("line", "kind", "cycle", "start", "to", "length", "feed", "speed", "tool")
    moves = [[v[k] for k in told] for v in m.moves if v["length"] > 1e-9 or None in v["start"]]
    codes, places = judged.codes(m.moves, job, fastest)
    return {"text": text, "job": job, "codes": codes, "places": places,
            "moves": moves, "drives": [fastest, acceleration],
            "reach": sum(t[0] for t in timed.values()) / 60,
            "cut": sum(v["length"] for v in cut), "time": sum(map(time, cut)),
            "rapid": sum(v["length"] for v in m.moves if not v["kind"]),
            "least": [min(p[k] for p in points) for k in range(3)] if points else None,
            "most": [max(p[k] for p in points) for k in range(3)] if points else None,
            "wide": [[min(p[k] - r[k] for p, r in sides) for k in range(3)],
                     [max(p[k] + r[k] for p, r in sides) for k in range(3)]] if sides else None,
            "uses": [list(k) + v for k, v in sorted(uses.items(), key=str)]}


def rounded(value):
    if isinstance(value, float):
        return round(value, 8)
    if isinstance(value, dict):
        return {k: rounded(v) for k, v in value.items()}
    if isinstance(value, (list, tuple)):
        return [rounded(v) for v in value]
    return value


def cases(count, seed):
    rng = random.Random(seed)
    for _ in range(count):
        yield json.dumps(rounded(case(rng)), separators=(",", ":"))


def main():
    count, seed = map(int, sys.argv[-2:])
    lines = list(cases(count, seed))
    if sys.argv[1] != "--check":
        print("\n".join(lines))
        return
    if open(sys.argv[2]).read().splitlines() != lines:
        sys.exit(f"{sys.argv[2]} is not what this gives")
    print(len(lines))


main()
