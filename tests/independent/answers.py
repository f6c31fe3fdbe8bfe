"""The answers of whole passes by the means of whole.py alone: one pass a line in, one answer a line
out. Nothing of the program's answer is read.

The highest feed is looked for on a ladder of feeds, from the least chip up to what chips and feed
speed leave; the rung that is kept and the next that is not are then closed in on by the rule of
Illinois. Passes with a round end have none: their loads take too long.
"""
import json
import sys

import numpy as np

import limits
import sweep
import whole

RUNGS = 24


def proportional(s):
    """The least and the most feed by chips and feed speed alone, which go with the feed."""
    h_min, c = whole.least_chip(s), s["cutter"]
    low, high = 1e-7 * c["d"], c["d"]
    floored, capped = False, None
    for m in s["moments"]:
        if h_min:
            low = max(low, h_min / (1 - limits.wanted(s, "chip-floor")) / m["chip"])
            floored = True
        if s["stock"]["f_z"]:
            top = max(s["stock"]["f_z"][2],
                      2.2 * s["stock"]["chip_floor"] * (c["r_usual"] or 0.0))
            if top * limits.credit(s, m) < high:
                high, capped = top * limits.credit(s, m), "feed-band"
    if s["machine"] and s["machine"]["v_f_max"]:
        top = s["machine"]["v_f_max"] / (c["z"] * s["n"])
        if top < high:
            high, capped = top, "feed-speed"
    return low, high, floored, capped


def tight(s, feeds):
    """The largest share of what the loads may use at each feed, and the limit that uses it."""
    jobs = [{**s, "f_z": float(f), "moments": whole.moments(s)} for f in feeds]
    whole.load(jobs)
    found = []
    for job in jobs:
        shares = limits.shares_of(job, whole.least_chip(s))
        shares = {k: v for k, v in shares.items() if k in limits.CLOSES}
        name = max(shares, key=shares.get) if shares else None
        found.append((shares[name] if name else 0.0, name))
    return found


def highest(s):
    """The highest feed that keeps every wanted margin and what closes it; None where it is not
    plain: a round end, feeds that are kept in two places, or none."""
    if s["cutter"]["r"] > 0:
        return None
    low, high, _, capped = proportional(s)
    if low >= high:
        return None
    ladder = np.exp(np.linspace(np.log(low), np.log(high), RUNGS))
    shares = np.array([share for share, _ in tight(s, ladder)])
    kept = np.flatnonzero(shares <= 1)
    if not kept.size or (np.diff(kept) > 1).any():
        return None
    last = kept[-1]
    if last == RUNGS - 1:
        return [high, capped] if shares[-1] < 1 - 1e-6 else None
    a, b = np.log(ladder[last]), np.log(ladder[last + 1])
    g_a, g_b = np.log(shares[last]), np.log(shares[last + 1])
    side, at, name = 0, a, None
    for _ in range(60):
        at = (a * g_b - b * g_a) / (g_b - g_a)
        (share, name), = tight(s, [np.exp(at)])
        g = np.log(share)
        if abs(g) < 1e-9 or b - a < 1e-12:
            break
        if g < 0:
            a, g_a, g_b = at, g, g_b / 2 if side < 0 else g_b
            side = -1
        else:
            b, g_b, g_a = at, g, g_a / 2 if side > 0 else g_a
            side = 1
    return [float(np.exp(at)), name]


def limits_of(s, v_f, plunge):
    """Each limit: its value and bound, its margin, where it may be tightest, what it comes to."""
    end = "round" if s["cutter"]["r"] > 0 else "square"
    tie = limits.TIE[end]
    answer, verdicts, unsure = {}, [], False
    for name, theirs in limits.all_of(s, whole.least_chip(s), v_f, plunge).items():
        known = theirs["used"] is not None
        margin = 1 - theirs["used"] if known else None
        near, comes_to, state = limits.come_to(s, name, margin, tie)
        place = limits.place(name, comes_to, margin)
        one = {"margin": margin, "state": None if near else state,
               "comes_to": None if near else comes_to, "by_loads": name in limits.LOADS,
               "place": [int(part) for part in place], "used": theirs["used"]}
        if known:
            scale = max(theirs["used"], 1.0)
            if name in ("pull-out", "backlash") and theirs["value"] > 0:
                lateral = max(m["loads"][0] for m in s["moments"])
                scale = max(scale, theirs["used"] * lateral / theirs["value"])
            one.update(value=theirs["value"], bound=theirs["bound"], scale=scale,
                       moments=limits.rivals_of(theirs, tie))
        answer[name] = one
        unsure |= near
        verdicts.append(comes_to)
    worst = max(verdicts, key=["RUN", "CARE", "STOP"].index)
    return answer, None if unsure else worst


def answered(s):
    whole.load([s])
    found = whole.quantities(s)
    h_min, m, f_z = found["h_min"], s["moments"][0], np.array([s["f_z"]])
    found["rubbing"] = limits.arc_below(m, s["f_z"], h_min) if h_min else None
    found["edges"] = sweep.chips(s["cutter"]["z"], f_z, np.array([whole.runout(s)]))[0]
    found["plunge"] = plunge = whole.plunged(s)
    found["limits"], found["verdict"] = limits_of(s, found["v_f"], plunge)
    found["moments"] = s["moments"]
    found["most"] = highest(s)
    return found


def plain(value):
    if isinstance(value, dict):
        return {k: plain(v) for k, v in value.items()}
    if isinstance(value, (list, tuple, np.ndarray)):
        return [plain(v) for v in value]
    if isinstance(value, np.bool_):
        return bool(value)
    return float(value) if isinstance(value, np.floating) else value


if __name__ == "__main__":
    for line in sys.stdin:
        job = json.loads(line)
        job["moments"] = whole.moments(job)
        print(json.dumps(plain(answered(job))), flush=True)
