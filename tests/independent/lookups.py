"""Answers what the crate `reference-tables` looks up, from its data files alone.

usage: lookups.py < questions    one JSON list a line: what, and what it is asked for
       lookups_asked.py draws the questions that are kept in `cases/second/lookups.jsonl`

Answers: `value` (numbers), `row` (source, subject, printed), `kept` (the same of the rows beside
it, best first, with their values), `weak`, `capped` and `thinned` where they hold; or `refused`
with the nearest row. Written from the data files and the doc comments of the crate; what had to be
learnt from its code stands at the heads of `states.py`, `choosing.py`, `speeds.py`, `forces.py` and
`short_tables.py`. The standard library alone.
"""

import json
import sys

import forces
import short_tables
import speeds
from states import STOCKS, Refused, brinell, rockwell_c, state, vickers

KINDS = {
    "coated carbide": ("carbide", True),
    "uncoated carbide": ("carbide", False),
    "coated HSS": ("HSS", True),
    "HSS": ("HSS", False),
}


def stock_state(stock, condition, hardness):
    if hardness is None:
        return state(STOCKS[stock], condition)
    number, scale = hardness.split()
    return state(STOCKS[stock], condition, (float(number), scale))


def plain_state(st):
    return {"condition": st.condition and st.condition["name"], "hb": st.hb, "hard": st.hardened}


OF_STATES = {
    "state": plain_state,
    "speed": lambda st, kind, cut: speeds.speed(st, KINDS[kind], cut),
    "feed": lambda st, kind, *of: speeds.feed(st, KINDS[kind], *of),
    "force": lambda st: forces.forces(st)[0],
    "mean force": lambda st: forces.forces(st)[1],
    "unit power": forces.unit_power,
    "force law": forces.force_law,
    "chip floor": short_tables.chip_floor,
    "depth and width": short_tables.depth_width,
    "ramp": short_tables.ramp,
}
OTHERS = {
    "brinell": lambda text: brinell((float(text.split()[0]), text.split()[1])),
    "vickers": lambda hb: vickers(hb) if hb <= 722 else None,
    "rockwell": rockwell_c,
    "edge radius": lambda kind, d: short_tables.edge_radius(*KINDS[kind], d),
    "taylor": lambda kind: short_tables.taylor(*KINDS[kind]),
    "modulus": lambda m: short_tables.of_grade(short_tables.STRENGTHS["modulus"], m),
    "rupture": lambda m: short_tables.of_grade(short_tables.STRENGTHS["rupture"], m),
    "feed factor": short_tables.feed_factor,
    "worn": short_tables.worn,
}


def answer(question):
    what, *of = question
    try:
        if what in OTHERS:
            found = OTHERS[what](*of)
        else:
            st = stock_state(*of[:3])
            found = OF_STATES[what](st, *of[3:])
    except Refused as refusal:
        return {"refused": refusal.nearest}
    if not isinstance(found, dict) or "value" not in found:
        return found
    told = {"value": found["value"], "row": list(found["row"].values())}
    told["kept"] = [[*row.values(), value] for value, row in found["kept"]]
    for flag in ("weak", "capped", "thinned"):
        if found.get(flag):
            told[flag] = True
    return told


if __name__ == "__main__":
    for text in sys.stdin:
        print(json.dumps(answer(json.loads(text))))
