"""The cut that removes most by other means: a grid over depth and width that closes in on its best.

At each depth and width the feed is capped by trying a ladder of feeds, and the turns are tried
out over their whole range: nothing here knows in which order limits bind. The loads are those of
plan.py. One problem with our answer a line in, one verdict a line out.
"""
import copy
import json
import sys

import numpy as np

import plan
import start
from engagement import effective_diameter, moments

TURN = 2 * np.pi
LEAST = (0.005, 0.002)
WANTED = plan.WANTED["production"]


def area(s, free):
    """Least and most depth and width: flutes, and the guidelines of a light mill."""
    c, cut = s["cutter"], s["cut"]
    d, path = c["diameter"], cut["path"]
    deep = {"slot": 0.25, "pocket": 0.25, "side": 0.75, "bore": 0.75, "face": 0.15}[path] * d
    if path in ("slot", "pocket"):
        deep = min(deep, d if c["edges"] <= 3 else d / 2)
    wide = {"slot": 1.0, "pocket": 0.5, "side": 0.3, "bore": 0.3, "face": 1.0}[path] * d
    if cut.get("corner") or cut.get("previous"):
        wide = min(wide, d / 2)
    deep = min(deep, c["flute_length"], c["stick_out"])
    a_p = (LEAST[0] * d, deep) if "a_p" in free else (cut["a_p"],) * 2
    a_e = (LEAST[1] * d, wide) if "a_e" in free else (cut["a_e"] or d,) * 2
    return a_p, a_e


def at(s, a_p, a_e):
    """The pass at another depth and width."""
    there = dict(s, cut=dict(s["cut"], a_p=float(a_p),
                             a_e=None if s["cut"]["path"] == "slot" else float(a_e)))
    there["moments"] = moments(there)
    return there


def tightest(spots, feeds):
    """Largest value over what is allowed, loads only; and the largest pull along the feed."""
    jobs = [(s, 1000.0, float(f)) for s, f in zip(spots, feeds)]
    ratio, pull = [], []
    for s, answer in zip(spots, plan.work_out(jobs, rounds=3)):
        found = answer["checks"]
        names = ["breakage", "wall-error", "hold", "tipping", "pull-out", "tip-deflection"]
        ratio.append(max(found[k]["value"] / (found[k]["bound"] * (1 - WANTED.get(k, 0)))
                         for k in names if k in found))
        pull.append(max(m["along"] for m in answer["moments"]))
    return np.array(ratio), np.array(pull)


def beyond(s, spots, feeds):
    """Logarithm of the tightest ratio; a pulled table counts as well, below twice its backlash."""
    machine = s["machine"]
    ratio, pull = tightest(spots, feeds)
    if plan.climbs(s["cut"]) and machine.get("backlash") and machine.get("drag"):
        pulled = np.asarray(feeds) <= 2 * machine["backlash"]
        ratio = np.where(pulled, np.maximum(ratio, pull / machine["drag"]), ratio)
    return np.log(np.maximum(ratio, 1e-12))


def given(s):
    """The turns and the feed that are not free."""
    return s.get("given") or {}


def caps(s, spots):
    """Least and most feed of each spot; most is 0 where there is none.

    Feeds of a ladder are tried from the least to the most of the table: the highest that is kept
    is followed up to where it is lost. No shape is taken for granted.
    """
    stock, machine = s["stock"], s["machine"]
    least = np.array([start.floor(p) for p in spots])
    top = np.array([start.most_at_full_width(p) * start.thinning(p) for p in spots])
    most = np.zeros(len(spots))
    if "f_z" in given(s):
        # What is given is kept where it is no less than the floor and every load allows it.
        f_z = np.full(len(spots), given(s)["f_z"])
        kept = (f_z >= least) & (beyond(s, spots, f_z) <= 0) & (not too_steep(s))
        return f_z, np.where(kept, f_z, 0.0)
    able = np.flatnonzero(top >= least)
    if not able.size or too_steep(s):
        return least, most
    kept = beyond(s, [spots[k] for k in able], top[able]) <= 0
    most[able[kept]] = top[able[kept]]
    open_ = able[~kept]
    if not open_.size:
        return least, most
    ladder = np.geomspace(least[open_], top[open_], LADDER, axis=1)
    unpulled = 2 * (machine.get("backlash") or 0) * (1 + 1e-12)
    inside = np.clip(unpulled, least[open_], top[open_])
    ladder = np.sort(np.concatenate([ladder, inside[:, None]], 1), 1)
    flat = [spots[k] for k in open_ for _ in range(ladder.shape[1])]
    tried = beyond(s, flat, ladder.ravel()).reshape(ladder.shape)
    any_ = (tried <= 0).any(1)
    last = ladder.shape[1] - 1 - np.argmax((tried <= 0)[:, ::-1], 1)
    row = np.arange(len(open_))[any_ & (last < ladder.shape[1] - 1)]
    low, high = np.log(ladder[row, last[row]]), np.log(ladder[row, last[row] + 1])
    g_low, g_high = tried[row, last[row]], tried[row, last[row] + 1]
    # Regula falsi that halves the weight of an end that stays (Illinois), then bisection.
    w_low, w_high = g_low.copy(), g_high.copy()
    for step in range(14):
        with np.errstate(divide="ignore", invalid="ignore"):
            middle = (low * w_high - high * w_low) / (w_high - w_low)
        fair = np.isfinite(middle) & (middle > low) & (middle < high) & (step % 3 != 2)
        middle = np.where(fair, middle, (low + high) / 2)
        still = np.flatnonzero(high - low > 1e-7)
        if not still.size:
            break
        g = np.full(len(row), 1.0)
        g[still] = beyond(s, [spots[open_[row[k]]] for k in still], np.exp(middle[still]))
        down = np.zeros(len(row), bool)
        down[still] = g[still] <= 0
        up = np.zeros(len(row), bool)
        up[still] = g[still] > 0
        w_high = np.where(down, w_high / 2, w_high)
        w_low = np.where(up, w_low / 2, w_low)
        low, w_low = np.where(down, middle, low), np.where(down, g, w_low)
        high, w_high = np.where(up, middle, high), np.where(up, g, w_high)
    most[open_[any_]] = ladder[np.arange(len(open_)), last][any_]
    most[open_[row]] = np.exp(low)
    return least, most


# Feeds tried before the highest that is kept is followed up.
LADDER = 8


def too_steep(s):
    """Whether the way down is steeper than an end that cuts to its centre can go, 5 degrees, or
    its hole wider than two cutters (common practice, as in the checks)."""
    entry, d = s["cut"].get("entry"), s["cutter"]["diameter"]
    if not entry:
        return False
    if entry[0] == "plunge":
        return False
    if entry[0] == "ramp":
        return entry[1] > 5
    hole, pitch = entry[1], entry[2]
    return np.degrees(np.arctan(pitch / (np.pi * (hole - d)))) > 5 or hole > 2 * d


def paced(s, spots, least, most):
    """Most turns times feed of each spot, over all turns."""
    machine, z = s["machine"], s["cutter"]["edges"]
    top = []
    for spot in spots:
        d_eff = effective_diameter(spot["cutter"], spot["cut"]["a_p"])
        top.append(min(machine["n_max"], s["stock"]["v_c"][1] * 1000 / (np.pi * d_eff)))
    top, low = np.array(top), np.full(len(spots), machine["n_min"])
    if "n" in given(s):
        top = low = np.full(len(spots), given(s)["n"])
    usable = machine["efficiency"] * (1 - WANTED["spindle-power"])
    power = np.vectorize(lambda n: plan.power_at(machine, n) * usable)
    z_key = s["cutter"]["edges"]

    def torque(feed):
        """Mean torque of the heaviest moment, N mm."""
        rows, of = [], []
        for k, (spot, f) in enumerate(zip(spots, feed)):
            for m in spot["moments"]:
                rows.append(plan.case(spot, m, "mean", max(f, 1e-9)))
                of.append(k)
        means = plan.Cases(z_key, rows).mean_torque()
        worst = np.zeros(len(spots))
        np.maximum.at(worst, of, means)
        return worst

    table = [np.maximum(least, 1e-9) * (np.maximum(most, 1e-9) / np.maximum(least, 1e-9)) ** x
             for x in np.linspace(0, 1, 25)]
    torques = np.stack([torque(f) for f in table], 1)
    logs = np.log(np.stack(table, 1))
    held = unpulled(s, spots, table, logs)

    def product(n):
        """Feed times turns at these turns a minute, and the feed."""
        allowed = power(n) / (TURN * n / 60) * 1000
        f = np.empty(len(spots))
        for k in range(len(spots)):
            t = torques[k]
            if allowed[k] >= t[-1]:
                f[k] = most[k]
            elif allowed[k] < t[0]:
                f[k] = 0.0
            else:
                f[k] = np.exp(np.interp(np.log(allowed[k]), np.log(t), logs[k]))
        f = np.minimum(f, machine["v_f_max"] / (z * n)) if machine.get("v_f_max") else f
        # What power leaves of a feed may no longer be more than twice the backlash.
        f = np.where(f <= 2 * (machine.get("backlash") or 0), np.minimum(f, held), f)
        f = np.where((f < least) | (most <= 0), 0.0, f)
        return f * n, f

    best = np.zeros((3, len(spots)))
    points = [p[0] for p in machine.get("power", [])]
    reach = np.linspace(0, 1, 41)
    ns = [low * (top / low) ** x for x in reach]
    ns += [np.clip(p, low, top) for p in points]
    if machine.get("v_f_max"):
        ns.append(np.clip(machine["v_f_max"] / (z * np.maximum(most, 1e-9)), low, top))
    for n in ns:
        value, f = product(n)
        best = np.where(value > best[0], [value, n, f], best)
    width = np.log(top / low) / 40
    for _ in range(6):
        around = best[1].copy()
        for x in np.linspace(-1, 1, 9):
            n = np.clip(np.maximum(around, 1) * np.exp(x * width), low, top)
            value, f = product(n)
            best = np.where(value > best[0], [value, n, f], best)
        width = width / 4
    return best


def unpulled(s, spots, table, logs):
    """Most feed of each spot at which the pull is below the drag; no bound where none counts."""
    machine = s["machine"]
    if not plan.climbs(s["cut"]) or not (machine.get("backlash") and machine.get("drag")):
        return np.full(len(spots), np.inf)
    pulls = np.stack([tightest(spots, f)[1] for f in table], 1) / machine["drag"]
    held = np.full(len(spots), np.inf)
    for k, pull in enumerate(np.maximum(pulls, 1e-12)):
        over = np.flatnonzero(pull > 1)
        if over.size and over[0] == 0:
            held[k] = 0.0
        elif over.size:
            i = over[0]
            held[k] = np.exp(np.interp(0.0, np.log(pull[i - 1:i + 1]), logs[k, i - 1:i + 1]))
    return held


def removal(s, points):
    """Most removal rate at each (depth, width), mm3/min."""
    spots = [at(s, *p) for p in points]
    least, most = caps(s, spots)
    value, n, f = paced(s, spots, least, most)
    a_p, a_e = np.array(points).T
    return a_p * a_e * s["cutter"]["edges"] * value, n, f


def best(s, free, nodes, ours):
    """Most over the area: a grid, then smaller ones around the best of it and around our answer."""
    (p0, p1), (e0, e1) = area(s, free)

    def axis(a, b, count):
        return np.exp(np.linspace(np.log(a), np.log(b), count)) if b > a else np.array([b])

    def grid(around, reach, count):
        p = axis(max(p0, around[0] / reach), min(p1, around[0] * reach), count)
        e = axis(max(e0, around[1] / reach), min(e1, around[1] * reach), count)
        return [(a, b) for a in p for b in e]

    points = [(a, b) for a in axis(p0, p1, nodes) for b in axis(e0, e1, nodes)]
    q, n, f = removal(s, points)
    ranked = np.argsort(-q)
    found = tuple(of[ranked[0]] for of in (q, points, n, f))
    # With nothing to start from but the grid it is looked at twice as closely, from two places.
    seeds = [found[1], ours] if ours else [points[i] for i in ranked[:2]]
    rounds, closer = (5, 2.2) if ours else (11, 1.7)
    for seed in seeds:
        here, reach = seed, max((p1 / p0) ** (1.3 / (nodes - 1)), (e1 / e0) ** (1.3 / (nodes - 1)))
        top = 0.0
        for _ in range(rounds):
            points = grid(here, reach, 5)
            q, n, f = removal(s, points)
            i = int(np.argmax(q))
            if q[i] > top:
                here, top = points[i], q[i]
            if q[i] > found[0]:
                found = (q[i], points[i], n[i], f[i])
            reach = 1 + (reach - 1) / closer
    return found


if __name__ == "__main__":
    nodes = int(sys.argv[1])
    for line in sys.stdin:
        problem = json.loads(line)
        s, ours = problem["pass"], problem["ours"]
        s["intent"] = "production"
        s["given"] = problem.get("given")
        s = copy.deepcopy(s)
        seed = (ours["a_p"], ours["a_e"]) if ours else None
        q, place, n, f = best(s, problem["free"], nodes, seed)
        verdict = {"q": q, "a_p": place[0], "a_e": place[1], "n": n, "f_z": f, "short": {}}
        if ours:
            # What this model removes where our answer is: tells a lost search from other loads.
            verdict["q_there"] = removal(s, [seed])[0][0]
            there = at(s, ours["a_p"], ours["a_e"])
            answer = plan.work_out([(there, ours["n"], ours["f_z"])])[0]
            found = answer["checks"]
            verdict["short"] = plan.short(there, found)
            tip = found["tip-deflection"]["margin"]
            if tip < 0:
                verdict["short"]["tip-deflection"] = tip
        print(json.dumps(plan.plain(verdict)), flush=True)
