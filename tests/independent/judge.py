"""Whether recommended feeds are those that the rule for the start of the feed gives, and what margins
they leave: one pass with its recommendation a line in, one verdict a line out.

Nothing is searched for: a feed is tried where it is, a step higher, at the start of the table and at
a few between. Where a check is too near its margin to tell, either answer is right.
"""
import json
import sys

import numpy as np

import plan
from engagement import moments
from plan import CLOSES, WANTED
from start import floor, least_chip, most_at_full_width, rounded, start, step, thinning, turns

# Beyond what the search for the peak may miss, a check is lost or kept for certain.
SURE = 2e-3
PULLED = 1e-2

# What breaks the cutter, or frees it or the part.
FIRST = ["rupture", "hold", "tipping", "pull-out"]
ALWAYS = ["feed-band", "feed-speed", "chip-floor"]


def spares(s, found, intent, names):
    """How far inside its wanted margin each check is that bounds the feed."""
    names = [k for k in names + ALWAYS if k in found]
    return {k: found[k]["margin"] - WANTED[intent].get(k, 0.0) for k in names}


def asked(s):
    """The checks that a careful feed is lowered for: no bound that nobody gave."""
    given = s["cut"].get("tolerance")
    return [k for k in CLOSES if k != "wall-error" or given]


def sure(spare):
    """1 where every check is kept, -1 where one is lost, 0 where it is too near to tell."""
    near = {k: PULLED if k == "pull-out" else SURE for k in spare}
    if any(v < -near[k] for k, v in spare.items()):
        return -1
    return 1 if all(v > near[k] for k, v in spare.items()) else 0


def judge(passes):
    """Whether each recommendation is the one that the rule for the start of the feed gives."""
    faults = [[] for _ in passes]
    questions, answers = [], {}

    def ask(i, name, n, f_z):
        questions.append((i, name, n, f_z))

    def work():
        found = plan.work_out([(passes[i], n, f_z) for i, _, n, f_z in questions], 3)
        for (i, name, _, _), a in zip(questions, found):
            answers[i, name] = a["checks"]
        questions.clear()

    for i, s in enumerate(passes):
        s["slow"] = turns(s, 0)
        ask(i, "here", s["n"], s["f_z"])
        if s["intent"] == "cautious":
            ask(i, "start", s["slow"], start(s))
        else:
            n, c = s["n"], s["cautious"]
            ask(i, "more", n, s["f_z"] + step(s, n)(s["f_z"]) * (1 + 1e-6))
            ask(i, "carried", n, c)
            ask(i, "faster", n + 2, c)
            top = most_at_full_width(s) * thinning(s)
            for k, f in enumerate(np.geomspace(c, max(c, top), 6)):
                ask(i, f"up{k}", n, f)
    work()
    for i, s in enumerate(passes):
        if s["intent"] == "cautious" and lowered(s, answers[i, "start"]):
            least = least_chip(s) / 0.9 / min(m["chip"] for m in s["moments"])
            for k, f in enumerate(np.geomspace(least * (1 + 1e-9), start(s), 8)):
                ask(i, f"up{k}", s["slow"], f)
            ask(i, "more", s["slow"], s["f_z"] + step(s, s["slow"])(s["f_z"]) * (1 + 1e-6))
    work()
    for i, s in enumerate(passes):
        get = lambda name: answers[i, name]
        ups = [answers[i, f"up{k}"] for k in range(8) if (i, f"up{k}") in answers]
        (cautious if s["intent"] == "cautious" else production)(s, get, ups, faults[i].append)
    return [answers[i, "here"] for i in range(len(passes))], faults


def lowered(s, found):
    """Whether the start of the table, above the floor, breaks something that was asked for."""
    return start(s) > floor(s) and sure(spares(s, found, "cautious", asked(s))) < 1


def near(a, b):
    return abs(a - b) <= 1e-9 * abs(b)


def cautious(s, get, ups, fault):
    n, f_z = s["n"], s["f_z"]
    if not near(n, s["slow"]):
        return fault(f"{n} is not the slowest, {s['slow']}")
    up = lambda f: rounded(s, n, f, True)
    if not lowered(s, get("start")):
        wanted = up(max(start(s), floor(s)))
        if not near(f_z, wanted):
            fault(f"{f_z} is not the start or the floor, {wanted}")
        return
    # Where no feed keeps all, what breaks or frees something is kept; else it is the floor.
    for names in (asked(s), FIRST):
        keeps = lambda found: sure(spares(s, found, "cautious", names))
        known = [keeps(a) for a in ups]
        if keeps(get("start")) == 1:
            wanted = up(start(s))
            return None if near(f_z, wanted) else fault(f"{f_z} is not the start {wanted}")
        if 1 in known:
            break
        if 0 in known or keeps(get("start")) == 0 or keeps(get("here")) >= 0:
            # Too near to tell, or kept between the feeds that were tried.
            break
    else:
        wanted = up(floor(s))
        return None if near(f_z, wanted) else fault(f"{f_z} is not the floor {wanted}")
    if f_z > up(start(s)) * (1 + 1e-9):
        return fault(f"{f_z} is above the start {start(s)}")
    if f_z < floor(s) * (1 - 1e-9):
        return fault(f"{f_z} is below the floor {floor(s)}")
    if near(f_z, up(floor(s))):
        # Less would be kept, or nothing is: more is not.
        if keeps(get("more")) > 0:
            fault(f"{f_z} is the floor, and more keeps {names}")
        return
    if keeps(get("here")) < 0 and 1 in known:
        fault(f"{f_z} was lowered from {start(s)} and still breaks")
    if keeps(get("more")) > 0:
        fault(f"{f_z} was lowered more than it had to be")


def production(s, get, ups, fault):
    n, f_z, c = s["n"], s["f_z"], s["cautious"]
    if f_z < c * (1 - 1e-9):
        return fault(f"{f_z} is below the cautious {c}")
    carried = ("feed-speed", "spindle-power")
    of = lambda name: sure({k: v for k, v in spares(s, get(name), "production", CLOSES).items()
                            if k in carried})
    fast = turns(s, 1)
    if n > fast * (1 + 1e-9) or not near(n, fast) and of("faster") > 0:
        fault(f"{n} is not the fastest that carries the feed, {fast}")
    if of("carried") < 0 and n > s["slow"] * (1 + 1e-9):
        fault(f"{n} does not carry the cautious feed, {s['slow']} is the slowest")
    known = [sure(spares(s, a, "production", CLOSES)) for a in ups]
    here = sure(spares(s, get("here"), "production", CLOSES))
    if here < 0:
        if not near(f_z, rounded(s, n, c, True)):
            fault(f"{f_z} breaks and is not the cautious {c}")
        elif 1 in known:
            fault(f"{f_z} breaks and more would not, {known}")
    elif sure(spares(s, get("more"), "production", CLOSES)) > 0:
        fault(f"{f_z} keeps all, and so does more")


if __name__ == "__main__":
    passes = [json.loads(line) for line in sys.stdin]
    for s in passes:
        s["moments"] = moments(s)
    for first in range(0, len(passes), 2000):
        for answer, faults in zip(*judge(passes[first:first + 2000])):
            margins = {k: v["margin"] for k, v in answer.items()}
            print(json.dumps(plan.plain({"margins": margins, "faults": faults})))
