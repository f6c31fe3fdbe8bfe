"""Draws what is looked up in the tables, for `cases/second/lookups.jsonl`.

usage: lookups_asked.py COUNT SEED > tests/cases/second/lookups.jsonl
       lookups_asked.py COUNT < seeds    all that are drawn, a list for each seed

COUNT questions are drawn for each kind of lookup: a stock, a condition or none, a hardness at, just
inside or just outside an end of a row, a condition or a scale, a cutter, a cut, a diameter. One is
kept in the file where its answer has a row chosen, a row kept beside, a refusal or a flag that no
question before it had. The standard library alone."""

import json
import random
import sys

import lookups
from choosing import reach
from forces import FORCES, POWERS
from speeds import FEEDS, SPEEDS
from states import NEAR, STOCKS, State, condition_span, span

TABLES = {"speed": SPEEDS["rows"], "feed": FEEDS, "force": FORCES, "unit power": POWERS}
SCALES = {
    "HB": (29, 95, 226, 240, 420.5, 500, 615, 700, 721, 722, 722.5, 739, 739.5),
    "HRC": (19.9, 20, 21, 34.9, 35, 44.9, 45, 45.1, 50, 55, 58, 60, 62, 64, 64.1, 66),
    "HRB": (59.9, 60, 72.5, 85, 100, 100.1),
    "HV": (80, 106.5, 107, 180, 239, 240, 250, 392, 640, 800, 800.5),
    "HRM": (100, 112),
}
DIAMETERS = (0.1, 0.3, 0.5, 0.8, 1, 1.5, 2, 2.7, 3, 3.175, 4, 5, 6, 6.35, 8, 10, 12, 16, 20, 25)
CUTS = ("slot", "side", "finish", "any")
CONDITIONS = ("as forged", "soft", "HT", "cold-drawn", "H1150", "C954", "tempered", "polished")
OFF = (-NEAR - 0.5, -NEAR, -0.5, 0.0, 0.5, NEAR, NEAR + 0.5)


def marks(what, stock):
    """Hardnesses at which another row may hold for a stock."""
    st = State(stock, stock["conditions"][0], None)
    found = [condition_span(c) for c in stock["conditions"]]
    found += [span(r.get("hardness")) for r in TABLES.get(what, []) if reach(r, st)]
    return sorted({round(e, 1) for s in found if s for e in s})


def question(rng, what):
    stock = rng.choice(list(STOCKS.values()))
    conditions = [c["name"] for c in stock["conditions"]]
    condition = rng.choice(conditions + [None]) if rng.random() < 0.95 else rng.choice(CONDITIONS)
    ends = marks(what, stock)
    pick, hardness = rng.random(), None
    if pick < 0.5 and ends:
        a, b = rng.choice(ends), rng.choice(ends)
        number = (a + b) / 2 if rng.random() < 0.4 else a + rng.choice(OFF)
        hardness = f"{max(number, 5.0):.6g} HB"
    elif pick < 0.65:
        scale = rng.choice(list(SCALES))
        hardness = f"{rng.choice(SCALES[scale])} {scale}"
    asked = [what, stock["id"], condition, hardness]
    kind = rng.choice(("coated carbide",) * 3 + ("uncoated carbide",) * 2 + ("HSS", "coated HSS"))
    if what == "speed":
        asked += [kind, rng.choice(CUTS)]
    elif what == "feed":
        d = rng.choice(DIAMETERS) if rng.random() < 0.7 else round(rng.uniform(0.2, 26), 3)
        end = "ball" if rng.random() < 0.2 else "square"
        asked += [kind, d, rng.choice(CUTS), end]
    elif what == "depth and width":
        asked += [rng.choice(("light", "rigid")), rng.choice(("slot", "side", "finish"))]
    return asked


def fixed():
    """What does not ask for a stock."""
    for scale, numbers in SCALES.items():
        yield from (["brinell", f"{n} {scale}"] for n in numbers)
    for hb in (60, 107, 116, 200, 226, 237, 240, 242, 247, 248, 400, 615, 655.5, 722, 722.5):
        yield ["vickers", hb]
        yield ["rockwell", hb]
    for kind in lookups.KINDS:
        yield ["taylor", kind]
        for d in (0.05, 0.1, 0.3, 0.5, 1, 1.01, 2, 2.99, 3, 7, 12, 12.1, 25, 25.1):
            yield ["edge radius", kind, d]
    for material in ("carbide", "HSS"):
        yield ["modulus", material]
        yield ["rupture", material]
    for f_z in (0.001, 0.025, 0.03, 0.05, 0.06, 0.1, 0.12, 0.15, 0.22, 0.3, 0.35, 0.4, 0.5, 0.6):
        yield ["feed factor", f_z]
    for word in ("fresh", "used", "worn"):
        for d in (0.5, 3, 3.4, 3.75, 3.8, 12):
            yield ["worn", word, d]


def traits(asked, told):
    """What a question shows: rows, refusals, flags, and each condition of each stock."""
    what = asked[0]
    if isinstance(told, dict) and "row" in told:
        yield what, "chosen", *told["row"]
        for kept in told["kept"]:
            yield what, "kept", *kept[:3]
        flags = tuple(k for k in ("weak", "capped", "thinned") if k in told)
        yield what, flags, told["row"][0], len(told["kept"]) > 0
    elif isinstance(told, dict) and "refused" in told:
        yield what, "refused", told["refused"]
    elif isinstance(told, dict):
        yield what, asked[1], told["condition"], asked[3] is None, told["hard"]
    else:
        yield (what, *map(str, asked)) if told is not None or len(asked) < 4 else (what,)


def cases(count, seed):
    rng = random.Random(seed)
    drawn = [question(rng, what) for what in lookups.OF_STATES for _ in range(count)]
    for asked in list(fixed()) + drawn:
        yield {"case": asked, "answer": lookups.answer(asked)}


def telling(drawn):
    """Those that show what no case before them did."""
    seen = set()
    for case in drawn:
        new = set(traits(case["case"], case["answer"])) - seen
        if new:
            seen |= new
            yield case


if __name__ == "__main__":
    if len(sys.argv) == 3:
        for one in telling(cases(int(sys.argv[1]), int(sys.argv[2]))):
            print(json.dumps(one))
    else:
        for line in sys.stdin:
            print(json.dumps(list(cases(int(sys.argv[1]), int(line)))))
