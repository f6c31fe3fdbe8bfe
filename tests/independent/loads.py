"""Reference loads by other means than the program's: one JSON setup a line in, one result a line out.

Forces by Gauss quadrature along the engaged edge, the arc table by the incomplete beta function,
beams by transfer matrices, lobes by eigenvalues on a fine scan, teeth by counting. numpy and scipy.
Units mm, N, N/mm2, rad; phi from +y clockwise, x the feed, forces on the cutter.
"""
import json
import sys

import numpy as np
from scipy.special import beta, betainc

TURN = 2 * np.pi
NODES, WEIGHTS = np.polynomial.legendre.leggauss(24)
T = 0.5 * (NODES + 1)
# Smoothed at both ends, since sin^p is only a fractional power there.
SMOOTH = T**3 * (10 - 15 * T + 6 * T**2)
SMOOTH_W = 0.5 * WEIGHTS * 30 * T**2 * (1 - T) ** 2


def chips(z, f_z, tir):
    """Feed share of each successive tooth: how far it reaches beyond all teeth before it."""
    radius = 0.5 * tir * np.sin(TURN * (np.arange(z) + 0.5) / z)
    reach, last = -np.inf, []
    for i in range(6 * z):
        tip = i * f_z + radius[i % z]
        last.append(max(0.0, tip - reach))
        reach = max(reach, tip)
    return np.array(last[-z:])


def window(s, radius):
    """Start and end of the engaged arc at a radius, stock left a_e wide at every height."""
    radius = np.asarray(radius, float)
    full = s["d"] / 2
    if s["path"] == "slot":
        return 0 * radius, np.pi + 0 * radius
    if s["path"] == "centred":
        half = np.arcsin(np.minimum(1, full * np.sin(s["arc"] / 2) / radius))
        return np.pi / 2 - half, np.pi / 2 + half
    a_e = full - full * np.cos(s["arc"])
    arc = np.arccos(np.maximum(-1, 1 - a_e / radius))
    return (0 * arc, arc) if s["path"] == "up" else (np.pi - arc, np.pi + 0 * arc)


def local(s, phi, h, kappa, feed):
    """Tangential, inward and axial force per mm of edge (axial positive out of the holder).

    A tooth that takes less than a tenth of the feed presses with its edge in proportion.
    """
    p = 1 - s["m_c"]
    chip = np.maximum(h, 0) ** p
    touch = min(1.0, 10 * feed / s["f_z"])
    t, r, a = (c * chip + e * touch for c, e in zip(s["cut"], s["edge"]))
    return t, r * np.sin(kappa) + a * np.cos(kappa), a * np.sin(kappa) - r * np.cos(kappa)


def components(t, r, a, phi, radius):
    s, c = np.sin(phi), np.cos(phi)
    return np.stack([-t * c - r * s, t * s - r * c, a, t * radius])


def at_tip(s):
    """Where the end edge drags: out from the corner, or from where a corner radius begins."""
    return s["d"] / 2 - s["r_e"]


def end_edge(s, tip, feed):
    """What the end edge of one tooth takes with its tip at the angles: it has no chip."""
    t, r, a = s.get("end") or [0.0, 0.0, 0.0]
    start, end = window(s, at_tip(s))
    on = (tip > start) & (tip < end) & (feed > 0)
    touch = on * min(1.0, 10 * feed / s["f_z"])
    return components(t * touch, r * touch, a * touch, tip, at_tip(s))


def square(s, theta, feeds):
    """Loads at the angles theta of a square end: quadrature over each engaged height."""
    theta = np.atleast_1d(theta)
    z, k = s["z"], 2 * np.tan(s["helix"]) / s["d"]
    start, end = window(s, s["d"] / 2)
    turns = int(np.ceil(k * s["a_p"] / TURN)) + 1
    total = np.zeros((4, theta.size))
    for q in range(z):
        total += end_edge(s, (theta - q * TURN / z) % TURN, feeds[q])
        for turn in range(turns + 1):
            tip = (theta - q * TURN / z) % TURN + turn * TURN
            if k * s["a_p"] < 1e-12:
                low = np.zeros_like(tip)
                high = np.where((tip > start) & (tip < end), s["a_p"], 0.0)
            else:
                low = np.clip((tip - end) / k, 0, s["a_p"])
                high = np.clip((tip - start) / k, 0, s["a_p"])
            on = (high > low) & (feeds[q] > 0)
            if not on.any():
                continue
            height = low[on] + np.outer(SMOOTH, high[on] - low[on])
            phi = tip[on] - k * height
            # Rounding must not carry an end across 0 or pi.
            chip = feeds[q] * np.sin(np.clip(phi, 0, np.pi))
            f = components(*local(s, phi, chip, np.pi / 2, feeds[q]), phi, s["d"] / 2)
            total[:, on] += np.einsum("i,cij->cj", SMOOTH_W, f) * (high[on] - low[on])
    return total


def round_end(s, theta, feeds, slices=4000):
    """Loads of a corner radius or ball by plain fine slices."""
    theta = np.atleast_1d(theta)
    k = 2 * np.tan(s["helix"]) / s["d"]
    r_e = s["r_e"]
    top = np.arccos(1 - min(s["a_p"], r_e) / r_e)
    kappa = (np.arange(slices) + 0.5) * top / slices
    height, width = r_e * (1 - np.cos(kappa)), np.full(slices, r_e * top / slices)
    radius = s["d"] / 2 - r_e + r_e * np.sin(kappa)
    if s["a_p"] > r_e:
        dz = (s["a_p"] - r_e) / slices
        kappa = np.append(kappa, np.full(slices, np.pi / 2))
        height = np.append(height, r_e + (np.arange(slices) + 0.5) * dz)
        width = np.append(width, np.full(slices, dz))
        radius = np.append(radius, np.full(slices, s["d"] / 2))
    start, end = window(s, radius)
    total = np.zeros((4, theta.size))
    for i, angle in enumerate(theta):
        for q in range(s["z"]):
            total[:, i] += end_edge(s, (angle - q * TURN / s["z"]) % TURN, feeds[q])
            phi = (angle - q * TURN / s["z"] - k * height) % TURN
            on = (phi > start) & (phi < end)
            if feeds[q] > 0 and on.any():
                chip = feeds[q] * np.sin(kappa[on]) * np.sin(phi[on])
                f = components(*local(s, phi[on], chip, kappa[on], feeds[q]), phi[on], radius[on])
                total[:, i] += f @ width[on]
    return total


def mean(s, feeds, panels=400):
    """Mean over the turn: heights and angles may be summed in either order."""
    edges = []
    if s["r_e"] > 0:
        top = np.arccos(1 - min(s["a_p"], s["r_e"]) / s["r_e"])
        x, w = np.polynomial.legendre.leggauss(6)
        cuts = np.linspace(0, top, panels + 1)
        kappa = np.concatenate([0.5 * ((b - a) * x + a + b) for a, b in zip(cuts, cuts[1:])])
        width = np.tile(0.5 * w * s["r_e"] * top / panels, panels)
        edges.append((kappa, s["d"] / 2 - s["r_e"] + s["r_e"] * np.sin(kappa), width))
    if s["a_p"] > s["r_e"]:
        edges.append((np.array([np.pi / 2]), np.array([s["d"] / 2]),
                      np.array([s["a_p"] - s["r_e"]])))
    total = np.zeros(4)
    for kappa, radius, width in edges:
        start, end = window(s, radius)
        phi = start + np.outer(SMOOTH, end - start)
        for feed in feeds[feeds > 0]:
            chip = feed * np.sin(kappa) * np.sin(phi)
            f = components(*local(s, phi, chip, kappa, feed), phi, radius)
            total += np.einsum("i,cij,j,j->c", SMOOTH_W, f, end - start, width) / TURN
    start, end = window(s, at_tip(s))
    phi = start + SMOOTH * (end - start)
    for feed in feeds[feeds > 0]:
        total += end_edge(s, phi, feed) @ SMOOTH_W * (end - start) / TURN
    return total


MEASURES = [lambda f: f[0], lambda f: -f[0], lambda f: f[1], lambda f: -f[1], lambda f: f[2],
            lambda f: -f[2], lambda f: f[3], lambda f: -f[3], lambda f: np.hypot(f[0], f[1])]


def extremes(s, feeds):
    """Most of each measure: a grid with every angle at which an edge's end meets the arc, zoomed."""
    period = TURN if s["tir"] > 0 else TURN / s["z"]
    lag = 2 * np.tan(s["helix"]) / s["d"] * s["a_p"]
    start, end = window(s, s["d"] / 2)
    meets = np.array([start, end, start + lag, end + lag])
    meets = np.concatenate([meets + q * TURN / s["z"] for q in range(s["z"])])
    meets = np.unique(meets % period)
    grid = np.linspace(0, period, int(160 * period / TURN * s["z"]) + 1)
    # Meetings may lie close together: look between them, too.
    between = [np.linspace(a, b, 9) for a, b in zip(meets, meets[1:])]
    grid = np.unique(np.concatenate([grid, *between]))
    # A straight edge jumps there: it is asked on either side, never at the meeting itself.
    grid = grid[np.abs(grid[:, None] - np.append(meets, [0, period])).min(1) > 1e-11]
    grid = np.concatenate([grid] + [(meets + e) % period for e in (-1e-10, 1e-10)])
    grid = np.unique(np.round(grid, 11))
    around = np.concatenate([[grid[-1] - period], grid, [grid[0] + period]])
    values = square(s, grid, feeds)
    best = []
    for measure in MEASURES:
        v = measure(values)
        peak = v.max()
        # Every crest of the grid that might hide the peak is zoomed into.
        crest = (v >= np.roll(v, 1)) & (v >= np.roll(v, -1)) & (v > peak - 0.02 * np.abs(v).max())
        rank = np.flatnonzero(crest)
        for i in rank[np.argsort(-v[rank])][:4]:
            low, high = around[i], around[i + 2]
            for _ in range(6):
                fine = np.linspace(low, high, 17)
                w = measure(square(s, fine, feeds))
                i = int(np.argmax(w))
                peak = max(peak, w[i])
                low, high = fine[max(i - 1, 0)], fine[min(i + 1, 16)]
        best.append(float(peak))
    return best


def turn(s):
    feeds = chips(s["z"], s["f_z"], s["tir"])
    m = mean(s, feeds)
    out = {"mean": m.tolist(), "power": float(m[3] / 1000 * TURN * s["n"] / 60),
           "feeds": feeds.tolist()}
    lag = 2 * np.tan(s["helix"]) / s["d"] * s["a_p"]
    if s["r_e"] > 0:
        out["at"] = round_end(s, s["theta"], feeds).T.tolist()
        period = TURN if s["tir"] > 0 else TURN / s["z"]
        start, end = window(s, s["d"] / 2)
        meets = np.array([start, end, start + lag, end + lag])
        meets = np.concatenate([meets + q * TURN / s["z"] for q in range(s["z"])])
        count = round(100 * period / TURN * s["z"])
        theta = (np.arange(count) + 0.5) * period / count
        meets = np.unique(np.round(meets % period, 9))
        if "near" in s:
            # One angle is said to be that of the peak.
            theta = np.concatenate([theta, s["near"] + np.linspace(-0.03, 0.03, 61)])
        theta = np.concatenate([theta, meets - 1e-8, meets + 1e-8])
        loads = round_end(s, theta, feeds, 1000)
        if "near" not in s:
            # Closer about the highest of each.
            step = period / count
            tops = [theta[np.argmax(v)] for v in (np.hypot(*loads[:2]), loads[3], loads[2])]
            fine = np.concatenate([at + step * np.linspace(-1, 1, 41) for at in tops])
            loads = np.concatenate([loads, round_end(s, fine, feeds, 1000)], 1)
        out["peaks"] = [float(np.hypot(loads[0], loads[1]).max()), float(loads[3].max()),
                        float(loads[2].max())]
    else:
        out["at"] = square(s, s["theta"], feeds).T.tolist()
        out["extremes"] = extremes(s, feeds)
        walls = np.array([1e-10, 1e-10 + lag, np.pi - 1e-10, np.pi - 1e-10 + lag])
        out["wall"] = (square(s, walls, feeds)[1] * [-1, -1, 1, 1]).tolist()
    return out


def beam(s):
    """State (deflection, slope, moment, shear) carried through the segments from the clamp."""
    length = sum(l for l, _ in s["segments"])
    load = length - s["load_from_tip"]
    marks = np.cumsum([0] + [l for l, _ in s["segments"]])

    def state(at):
        v = np.array([0, 0, s["force"] * load, -s["force"]])
        here = 0.0
        for x in sorted({*marks[1:], load, at}):
            if x > at:
                break
            step = x - here
            i = min(int(np.searchsorted(marks, here, side="right")) - 1, len(marks) - 2)
            ei = s["E"] * np.pi * s["segments"][i][1] ** 4 / 64
            v = np.array([
                v[0] + v[1] * step + v[2] * step**2 / (2 * ei) + v[3] * step**3 / (6 * ei),
                v[1] + v[2] * step / ei + v[3] * step**2 / (2 * ei),
                v[2] + v[3] * step,
                v[3],
            ])
            here = x
            if x == load:
                v[2:] = 0
        return v

    stress = [32 * max(0.0, s["force"] * (load - x)) / (np.pi * d**3)
              for x, (_, d) in zip(marks, s["segments"])]
    tip, there = state(length), state(s["at"])
    return {"tip": tip[0], "at": there[0], "slope": there[1], "stress": stress}


def arc_table(s):
    """Integrals of sin^a by the incomplete beta function."""
    phi, p = np.array(s["phi"]), 1 - s["m_c"]

    def integral(a):
        half = 0.5 * beta((a + 1) / 2, 0.5)
        low = half * betainc((a + 1) / 2, 0.5, np.sin(phi) ** 2)
        return np.where(phi > np.pi / 2, 2 * half - low, low)

    return {"cos": (np.sin(phi) ** (p + 1) / (p + 1)).tolist(), "sin": integral(p + 1).tolist(),
            "one": integral(p).tolist()}


def lobes(s):
    """Least depth by eigenvalues of the oriented response on ever finer scans."""
    start, end = window({"d": 2, "path": s["path"], "arc": np.arccos(1 - 2 * s["ratio"])}, 1.0)
    x, w = np.polynomial.legendre.leggauss(60)
    phi, w = 0.5 * ((end - start) * x + start + end), 0.5 * (end - start) * w
    # Forces (-cos - K_r sin, sin - K_r cos) from the chip (sin, cos) swept over the arc.
    force = np.stack([-np.cos(phi) - s["k_r"] * np.sin(phi), np.sin(phi) - s["k_r"] * np.cos(phi)])
    chip = np.stack([np.sin(phi), np.cos(phi)])
    alpha = 2 * np.einsum("in,jn,n->ij", force, chip, w)

    def depth(f):
        g = [1 / (k * (1 - (f / fn) ** 2 + 2j * ze * f / fn)) for k, ze, fn in s["modes"]]
        matrix = alpha[None] * np.stack(g, -1)[:, None, :]
        big = -1 / np.linalg.eigvals(matrix)
        a = -TURN * big.real / (s["z"] * s["k_t"] * 1e6) * (1 + (big.imag / big.real) ** 2)
        return 1000 * np.where(a > 0, a, np.inf).min(1)

    f = np.linspace(0.3 * min(m[2] for m in s["modes"]), 4 * max(m[2] for m in s["modes"]), 60001)
    for _ in range(4):
        a = depth(f)
        i = int(np.argmin(a))
        best, at = a[i], f[i]
        f = np.linspace(f[max(i - 1, 0)], f[min(i + 1, f.size - 1)], 201)
    return {"a_p": float(best), "f_c": float(at)}


def teeth(s):
    """Teeth in cut by counting at many angles. An edge that winds more than once round the cutter
    is one tooth still."""
    lag = 2 * s["a_p"] * np.tan(s["helix"]) / s["d"]
    theta = (np.arange(20000) + 0.5) * TURN / 20000
    count = np.zeros(theta.size, int)
    for q in range(s["z"]):
        count += (theta + q * TURN / s["z"]) % TURN < s["arc"] + lag
    return {"min": int(count.min()), "max": int(count.max()), "mean": float(count.mean())}


def taylor(s):
    v, t = np.log(np.array(s["points"])).T
    slope, constant = np.polyfit(v, t, 1)
    return {"n": -1 / slope, "c": float(np.exp(-constant / slope))}


KINDS = {"turn": turn, "beam": beam, "arc": arc_table, "lobes": lobes, "teeth": teeth,
         "taylor": taylor}

if __name__ == "__main__":
    for line in sys.stdin:
        setup = json.loads(line)
        print(json.dumps(KINDS[setup["kind"]](setup)))
