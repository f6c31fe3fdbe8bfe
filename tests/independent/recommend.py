"""The speed and feed that the rule for the start of the feed gives, by the means of plan.py alone:
a free pass a line in, its cautious and its production settings a line out.

A feed is looked for on a ladder from the least that is kept up to where it is asked, and closed in
on by halving; turns likewise, over all whole numbers. A setting says whether its feed is exact (the
start of a table, or a floor) or the root of a load.
"""
import json
import sys

import numpy as np

import plan
from engagement import moments
from judge import FIRST, asked, spares
from plan import CLOSES, WANTED
from start import floor, least_chip, most_at_full_width, rounded, start, thinning, turns

RUNGS = 20


def kept(s, n, feeds, intent, names):
    """How far inside its wanted margin the tightest check is at each feed."""
    found = plan.work_out([(s, n, float(f)) for f in feeds])
    return np.array([min(spares(s, a["checks"], intent, names).values()) for a in found])


def highest(s, n, low, high, intent, names):
    """The highest feed that is kept from a low one up to a high one; None where none is."""
    ladder = np.geomspace(low, high, RUNGS)
    spare = kept(s, n, ladder, intent, names)
    good = np.flatnonzero(spare >= 0)
    if not good.size:
        return None
    if good[-1] == RUNGS - 1:
        return high
    a, b = np.log(ladder[good[-1]]), np.log(ladder[good[-1] + 1])
    while b - a > 1e-9:
        # Four places at a time, for plan.py works out many at once.
        x = np.linspace(a, b, 6)[1:-1]
        inside = kept(s, n, np.exp(x), intent, names) >= 0
        last = np.flatnonzero(inside)
        a, b = (a, x[0]) if not last.size else (x[last[-1]], [*x, b][last[-1] + 1])
    return float(np.exp(a))


def careful(s):
    n, at, least = turns(s, 0), start(s), floor(s)
    up = lambda f: rounded(s, n, f, True)
    exact = lambda f: {"n": n, "f_z": up(f), "exact": True}
    if at <= least:
        return exact(least)
    chip = least_chip(s) / 0.9 / min(m["chip"] for m in s["moments"]) * (1 + 1e-9)
    for names in (asked(s), FIRST):
        most = highest(s, n, min(chip, at), at, "cautious", names)
        if most is None:
            continue
        if most >= at:
            return exact(at)
        if most <= least:
            return exact(least)
        down = rounded(s, n, most, False)
        return exact(least) if least > down else {"n": n, "f_z": down, "exact": False}
    return exact(least)


def carries(s, n, f_z):
    found = plan.work_out([(s, n, f_z)])[0]["checks"]
    names = [k for k in ("feed-speed", "spindle-power") if k in found]
    return all(found[k]["margin"] >= WANTED["production"].get(k, 0.0) for k in names)


def quick(s, slow):
    slowest, fastest, f_z = turns(s, 0), turns(s, 1), slow["f_z"]
    n = slowest
    if carries(s, fastest, f_z):
        n = fastest
    elif carries(s, slowest, f_z):
        a, b = slowest, fastest
        while b - a > 1e-3:
            middle = 0.5 * (a + b)
            a, b = (middle, b) if carries(s, middle, f_z) else (a, middle)
        n = max(np.floor(a), slowest)
    top = most_at_full_width(s) * max(1.0, thinning(s)) * 1.001
    low = least_chip(s) / min(m["chip"] for m in s["moments"]) * (1 + 1e-9)
    most = highest(s, n, min(low, f_z), max(top, f_z), "production", CLOSES)
    if most is None or most < f_z:
        return {"n": n, "f_z": rounded(s, n, f_z, True), "exact": slow["exact"], "held": True}
    down = rounded(s, n, most, False)
    if down < f_z:
        return {"n": n, "f_z": rounded(s, n, f_z, True), "exact": slow["exact"], "held": True}
    return {"n": n, "f_z": down, "exact": False, "held": False}


if __name__ == "__main__":
    for line in sys.stdin:
        job = json.loads(line)
        job["moments"] = moments(job)
        slow = careful({**job, "intent": "cautious"})
        fast = quick({**job, "intent": "production"}, slow)
        print(json.dumps(plan.plain({"cautious": slow, "production": fast})), flush=True)
