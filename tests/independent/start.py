"""Where the feed of a pass starts: thinning, the floor of the chip, and what is left of arc and edges.

Units mm, rad, turns a minute.
"""
import numpy as np

from engagement import effective_diameter


def credit(s, m):
    """What a narrow cut may be fed over a full one: chi."""
    if s["stock"].get("thinned"):
        return 1.0
    return min(max(m["lead"] / m["chip"], 1.0), 2.3)


def least_chip(s):
    """h_min of the edge as worn as it is."""
    return s["stock"]["chip_floor"] * s["cutter"]["edge_radius"] * s["cutter"]["rounding"]


def most_at_full_width(s):
    """The table's high end, or twice the least chip of a sharp edge where that is more.

    A tenth is added, so that a feed can be a round number.
    """
    sharp = s["cutter"].get("usual_edge_radius") or 0.0
    return max(s["stock"]["f_z"][2], 2.2 * s["stock"]["chip_floor"] * sharp)


def runout_gain(s):
    return (s["machine"].get("runout") or 0.0) * np.sin(np.pi / s["cutter"]["edges"])


def arc_below(m, f_z, h_min):
    """Share of the engaged arc over which the chip is thinner than h_min."""
    top = f_z * m["lead"]
    if top <= h_min:
        return 1.0
    thin = np.arcsin(h_min / top)
    start, end = m["start"], m["end"]
    below = max(0.0, min(end, thin) - start) + max(0.0, end - max(start, np.pi - thin))
    return below / (end - start)


def thinning(s):
    """One feed serves every moment: the least thinning of all."""
    return min(credit(s, m) for m in s["moments"])


def floor(s):
    """The feed below which the edge would rub."""
    h_min = least_chip(s)
    # Twice the least chip, thinning counted up to its bound; and everywhere a chip that cuts.
    clear = max(h_min * max(2 * credit(s, m), 1 / (0.9 * m["chip"])) for m in s["moments"])
    with_gain = clear + runout_gain(s)
    return with_gain if with_gain <= most_at_full_width(s) * thinning(s) else clear


def start(s):
    return s["stock"]["f_z"][1] * thinning(s)


def turns(s, which):
    """The end of the band of cutting speeds, as the machine can set it."""
    v_c = s["stock"]["v_c"][which]
    n = v_c * 1000 / (np.pi * effective_diameter(s["cutter"], s["cut"]["a_p"]))
    n = min(max(whole(n, which), s["machine"]["n_min"]), s["machine"]["n_max"])
    # Going down from the fastest it is a whole number that is set.
    return n if which == 0 else whole(n, 1)


def whole(n, which):
    """The whole number above or below; one that is whole but for rounding stays."""
    return np.floor(n * (1 + 1e-9)) if which else np.ceil(n * (1 - 1e-9))


def step(s, n):
    """What a round feed speed is rounded to, as a feed per tooth: 1 or 0.1 mm a minute."""
    def of(f_z):
        per_tooth = s["cutter"]["edges"] * n
        return (0.1 if f_z * per_tooth < 20 else 1.0) / per_tooth
    return of


def rounded(s, n, f_z, up):
    by = step(s, n)(f_z)
    steps = np.ceil(f_z / by * (1 - 1e-9)) if up else np.floor(f_z / by * (1 + 1e-9))
    return steps * by if steps >= 1 else f_z
