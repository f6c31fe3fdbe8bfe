"""Times of moves with the acceleration of the axes, for `programmes.py`: forwards and backwards
over whole runs of moves, with no look-ahead to bound. Lengths in mm, times in seconds."""

import math

TOLERANCE = 0.01


def unit(v):
    long = math.sqrt(sum(x * x for x in v))
    return [x / long for x in v]


def ways(v):
    """Where a move goes at its start and at its end."""
    step = [b - a for a, b in zip(v["start"], v["to"])]
    if not v["arc"]:
        return unit(step), unit(step)
    (a, b, c), centre, _, sweep = v["arc"]

    def tangent(p):
        t = (complex(p[a], p[b]) - centre) * (1j if sweep > 0 else -1j)
        d = [0.0] * 3
        d[a], d[b], d[c] = t.real, t.imag, step[c] / abs(sweep)
        return unit(d)

    return tangent(v["start"]), tangent(v["to"])


def along(limits, way):
    return min(most / abs(w) for most, w in zip(limits, way) if abs(w) > 1e-9)


def times(moves, fastest, acceleration):
    """Seconds, seconds below the feed, and most mm/s of each move that can be timed."""
    fast = [f / 60 for f in fastest]
    out, run = {}, []

    def stop():
        # The most speed at each place between moves: slow enough for what is before and behind.
        n = len(run)
        at = [0.0] * (n + 1)
        for k in range(1, n):
            before, here = run[k - 1], run[k]
            cos = sum(x * y for x, y in zip(before["end"], here["begin"]))
            s = math.sqrt(max(0.0, 1 + cos) / 2)
            a = min(before["a"], here["a"])
            corner = math.inf if s > 1 - 1e-9 else math.sqrt(a * TOLERANCE * s / (1 - s))
            at[k] = min(corner, before["cap"], here["cap"])
        for k in reversed(range(n)):
            at[k] = min(at[k], math.sqrt(at[k + 1] ** 2 + 2 * run[k]["a"] * run[k]["long"]))
        for k, m in enumerate(run):
            a, long = m["a"], m["long"]
            at[k + 1] = min(at[k + 1], math.sqrt(at[k] ** 2 + 2 * a * long))
            v0, v1 = at[k], at[k + 1]
            top = max(v0, v1, min(m["cap"], math.sqrt(a * long + (v0 * v0 + v1 * v1) / 2)))
            level = long - (2 * top * top - v0 * v0 - v1 * v1) / (2 * a)
            time = (2 * top - v0 - v1) / a + max(level, 0.0) / top
            wanted = 0.99 * m["wanted"]
            slow = time
            if top >= wanted:
                slow = (max(wanted - v0, 0.0) + max(wanted - v1, 0.0)) / a
            out[m["number"]] = (time, min(slow, time), top)
        run.clear()

    for number, v in enumerate(moves):
        if v["length"] <= 1e-9 and None not in v["start"]:
            # A move that goes nowhere is a stop; a leg of a hole that goes nowhere is none.
            if not v["cycle"]:
                stop()
            continue
        wanted = math.hypot(*fast) if v["kind"] == 0 else v["feed"] or 0.0
        if v["kind"]:
            wanted = wanted / 60 if wanted >= 0 else -wanted * v["length"] / 60
        if None in v["start"] or wanted <= 0:
            stop()
            continue
        begin, end = ways(v)
        cap, a = min(wanted, along(fast, begin)), along(acceleration, begin)
        if v["arc"]:
            (p, q, _), _, rho, _ = v["arc"]
            a = min(a, acceleration[p], acceleration[q])
            cap = min(cap, fast[p], fast[q], math.sqrt(a * rho))
        run.append(dict(number=number, begin=begin, end=end, cap=cap, a=a, long=v["length"],
                        wanted=wanted))
    stop()
    return out
