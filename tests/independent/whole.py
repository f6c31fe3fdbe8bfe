"""Whole passes worked out a second time, from the published law and mechanics: one pass with the
program's answer a line in, how far apart each quantity is a line out.

Law: the tangent of the printed row at 0.1 mm with the cap by hardness, edge terms by class, the
land of a worn edge. Mechanics: engagement by widths and corners, forces over a turn (sweep.py),
bending by unit loads, stress as an eigenvalue, limits with their wanted margins, ranks of harm.
Of the tables only what is printed is taken: rows, bands, hardness, edge radii, strengths.
"""
import json
import sys

import numpy as np

import limits
import sweep
from sweep import TURN

# Exact but for rounding; by quadrature or roots; peaks of a round end, which our bands find.
EXACT, ROOT, BANDS = 1e-9, 1e-6, 1e-2

STEEL = ("mild steel", "carbon steel", "high-carbon steel", "low-alloy steel", "tool steel",
         "martensitic stainless", "precipitation-hardening stainless", "austenitic stainless")
COPPER = ("brass", "bronze", "nickel silver", "copper")
# Share across the cut, edge along and across (N/mm), the hardness these are at (HV; none where it
# does not count), modulus (N/mm2).
CLASSES = {
    **{name: (0.35, 46, 68, None, 210e3) for name in STEEL},
    "austenitic stainless": (0.35, 46, 68, None, 200e3),
    "nickel": (0.35, 46, 68, None, 200e3),
    "titanium": (0.25, 25, 43, 349, 114e3),
    "aluminium": (0.28, 18, 16, 120, 70e3),
    **{name: (0.30, 18, 16, 120, 105e3) for name in COPPER},
    "laminate": (0.40, None, None, None, None),
}
HARD = 446  # HV of 45 HRC, ASTM E140
WEAR = {"fresh": (0.0, 0.0, 1.0), "used": (0.1, 0.03, 1.5), "worn": (0.3, 0.08, 2.5)}


# --- the law ----------------------------------------------------------------------------------

def coefficients(s, which):
    """Three of the chip and three of the edge, by the mean row (0) or the hardest layer's (1)."""
    stock, c = s["stock"], s["cutter"]
    points = stock["hardness"]
    k_r, along, across, at, modulus = CLASSES[stock["class"]]
    pressure = 9.81 * points if points else None
    hard = stock["class"] in STEEL and points >= HARD - 0.5
    if stock["linear"]:
        cut, edge = stock["linear"]
        edge = list(edge)
    else:
        kc11, m_c = stock["rows"][which]
        k_tc = (1 - m_c) * kc11 * 0.1**-m_c
        if stock["class"] in STEEL:
            k_tc = min(k_tc, 1080 + 0.61 * pressure)
        cut = [k_tc, k_r * k_tc, 0.25 * k_tc]
        if hard:
            flow = 300 + 0.17 * pressure
            edge = [4 * flow * c["r_edge"], 7 * flow * c["r_edge"], 0.0]
        elif along is None:
            kc11, m_c = stock["rows"][1]
            edge = [0.3 * kc11 * 0.02**-m_c * 0.02] * 2 + [0.0]
        else:
            rho = c["r_edge"] / c["r_usual"] if c["r_edge"] and c["r_usual"] else 1.0
            scale = points / at if at else 1.0
            edge = [along * rho * scale, across * rho * scale, 0.0]
    land = worn(s)[0]
    if pressure and modulus:
        p_w = min(0.62 * pressure * np.sqrt(43 * pressure / modulus), 0.7 * pressure)
        edge = [edge[0] + 0.25 * p_w * land, edge[1] + p_w * land, edge[2]]
    return cut, edge


def worn(s):
    land, share, growth = WEAR[s["stock"]["wear"]]
    return min(land, share * s["cutter"]["d"]), growth


def least_chip(s):
    r_edge = s["cutter"]["r_edge"]
    return s["stock"]["chip_floor"] * r_edge * worn(s)[1] if r_edge else None


def end_edge(s, edge):
    c, cut = s["cutter"], s["cut"]
    shallow = c["d"] < 1 or cut["a_p"] < 0.1
    if not shallow or c["end"] == "ball" or cut["path"] in ("bore", "ball-finish"):
        return [0.0, 0.0]
    if not c["r_edge"]:
        return [0.0, 0.0]
    long = s["stock"]["chip_floor"] * c["r_edge"] / np.tan(np.radians(2.5))
    return [edge[0] * long, -edge[1] * long]


# --- engagement -------------------------------------------------------------------------------

def width(s):
    d, cut = s["cutter"]["d"], s["cut"]
    if cut["path"] == "slot":
        return d
    return cut["a_e"] if cut["a_e"] else d * (1 - np.cos(cut["angle"])) / 2


def effective_diameter(s):
    c, a_p, tilt = s["cutter"], s["cut"]["a_p"], s["cut"]["tilt"]
    d, r = c["d"], c["r"]
    if c["end"] == "square" or c["end"] == "corner" and a_p >= r:
        return d
    if c["end"] == "corner":
        return d - 2 * r + 2 * np.sqrt(a_p * (2 * r - a_p))
    angle = tilt + np.arccos(max(-1.0, 1 - 2 * a_p / d))
    return d if a_p >= d / 2 or angle >= np.pi / 2 else d * np.sin(angle)


def lead(s, a_p):
    """Sine of the angle between the edge and the axis at the top of what is in the cut."""
    r = s["cutter"]["r"]
    if r == 0 or a_p >= r:
        return 1.0
    return np.sin(min(np.arccos(1 - a_p / r) + s["cut"]["tilt"], np.pi / 2))


def corner(a_e, d, before):
    """The most that a sharp right corner engages, after a cutter of another diameter."""
    r, p = d / 2, before / 2
    if r * (1 + np.sin(np.arccos(1 - a_e / r))) < a_e + p:
        off = a_e + p - r
        cos = (p**2 - r**2 - 2 * off**2) / (2 * np.sqrt(2) * off * r)
        return np.pi / 4 + np.arccos(np.clip(cos, -1, 1))
    return np.pi / 2 + np.arccos(1 - a_e / r)


def moments(s):
    """What one feed has to survive: name, arc, width and circle it is of, part, depth."""
    d, a_p, cut = s["cutter"]["d"], s["cut"]["a_p"], s["cut"]
    a_e, path = width(s), cut["path"]

    def of(name, arc, part, depth, circle=d):
        if part == "side":
            part = "slot" if arc >= np.pi else cut["direction"]
        share = {"slot": 1.0, "centred": np.sin(arc / 2)}.get(part, (1 - np.cos(arc)) / 2)
        radial = 1.0 if part in ("slot", "centred") else np.sin(min(arc, np.pi / 2))
        kappa = lead(s, depth)
        return {"moment": name, "arc": arc, "part": part, "a_p": depth, "circle": circle,
                "width": circle * share, "chip": radial * kappa, "lead": kappa}

    if path == "slot":
        list_ = [of("nominal", np.pi, "slot", a_p)]
    elif path == "face":
        list_ = [of("nominal", 2 * np.arcsin(min(1.0, a_e / d)), "centred", a_p)]
    else:
        straight = a_e
        if cut["wall"] and not cut["angle"]:
            side, r_w = cut["wall"]
            if side == "inside":
                straight = min(a_e * (2 * r_w - a_e) / (2 * r_w - d), d)
            else:
                straight = a_e * (2 * r_w + a_e) / (2 * r_w + d)
        list_ = [of("nominal", np.arccos(max(-1.0, 1 - 2 * straight / d)), "side", a_p)]
    m = list_[0]
    if s["cutter"]["end"] == "ball" and m["part"] != "centred":
        # A ball meets the same width on the circle it has at that depth.
        circle = effective_diameter(s)
        wide = min(m["width"], circle)
        part = m["part"] if wide < circle else "slot"
        at = np.arccos(max(-1.0, 1 - 2 * wide / circle))
        list_ = [dict(of("nominal", at, part, a_p, circle), width=wide)]
    entry = cut["entry"] or [""]
    if entry[0] == "ramp":
        list_.append(of("entry", np.pi, "slot", a_p))
    if entry[0] == "helix":
        list_.append(of("entry", np.pi, "slot", min(entry[2], a_p)))
    if path == "pocket" and not cut["angle"] and a_e < d:
        list_.append(of("first full-width cut", np.pi, "slot", a_p))
    if path not in ("slot", "face"):
        if cut["corner"]:
            list_.append(of("sharp corner", min(corner(a_e, d, d), np.pi), "side", a_p))
        if cut["previous"]:
            arc = min(corner(a_e, d, cut["previous"]), np.pi)
            list_.append(of("left by the cutter before", arc, "side", a_p))
    return list_


def row(s, m, which):
    """A moment as the sweep over a turn takes it."""
    c = s["cutter"]
    cut, edge = coefficients(s, which)
    d, part = c["d"], m["part"]
    if part in ("up", "down"):
        arc = np.arccos(max(-1.0, 1 - 2 * m["width"] / d)) if m["circle"] != d else m["arc"]
        start, end = (0.0, arc) if part == "up" else (np.pi - arc, np.pi)
        wide = d / 2 * (1 - np.cos(arc))
    elif part == "slot":
        start, end, wide = 0.0, np.pi, d
    else:
        start, end = np.pi / 2 - m["arc"] / 2, np.pi / 2 + m["arc"] / 2
        wide = d * np.sin(m["arc"] / 2)
    return {"d": d, "helix": c["helix"], "r": c["r"], "a_p": m["a_p"], "start": start, "end": end,
            "width": wide, "part": ["slot", "up", "down", "centred"].index(part),
            "f_z": s["f_z"], "tir": runout(s), "cut": cut, "edge": edge,
            "tip": end_edge(s, edge)}


def runout(s):
    return (s["machine"] or {}).get("runout") or 0.0


# --- bending ----------------------------------------------------------------------------------

X, W = np.polynomial.legendre.leggauss(3)


def core(c):
    return c["core"] or 0.65 * c["d"]


def lengths(c):
    """Of the shank, the neck and the flutes out of the holder."""
    flutes = min(c["flutes"], c["stick_out"])
    out = c["stick_out"] - flutes
    neck = min(c["neck"][1], out) if c["neck"] else 0.0
    return out - neck, neck, flutes


def give(s, a_p, height):
    """Deflection per newton at a height above the tip: the work of the unit moments."""
    c, total, here = s["cutter"], 0.0, 0.0
    load, at = c["stick_out"] - a_p / 2, c["stick_out"] - height
    thick = (c["shank"], (c["neck"] or [c["d"]])[0], core(c) * 0.80 / 0.65)
    for long, d in zip(lengths(c), thick):
        a, b = here, min(here + long, load, at)
        if b > a:
            x = 0.5 * ((b - a) * X + a + b)
            ei = c["modulus"] * np.pi * d**4 / 64
            total += 0.5 * (b - a) * (W @ ((load - x) * (at - x))) / ei
        here += long
    stiffness = (s["machine"] or {}).get("stiffness")
    return total + (1 / stiffness if stiffness else 0.0)


def principal(sigma, tau):
    return np.linalg.eigvalsh([[sigma, tau], [tau, 0.0]])[-1]


def stress(s, a_p, force, torque):
    c = s["cutter"]
    shank, neck, _ = lengths(c)
    asked = [(shank + neck, core(c))]
    asked += [(shank, c["neck"][0])] if neck > 0 else []
    asked += [(0.0, c["shank"])] if shank > 0 else []
    of = lambda at, d: principal(32 * force * max(0.0, c["stick_out"] - a_p / 2 - at)
                                 / (np.pi * d**3), 16 * torque / (np.pi * d**3))
    return max(of(at, d) for at, d in asked)


def loaded(s, m, peaks, torque, walls):
    """Lateral force, torque, lift, along the feed, power, tip, wall at bottom and top, stress."""
    lateral, turning, lift, along = peaks
    path, direction = s["cut"]["path"], s["cut"]["direction"]
    bottom, top = give(s, m["a_p"], 0.0), give(s, m["a_p"], m["a_p"])
    up, down = walls[:2], walls[2:]
    off = {"up": up, "down": down}[direction]
    if path == "slot":
        off = [max(pair, key=abs) for pair in zip(down, up)]
    if path in ("face", "ball-finish"):
        off = (0.0, 0.0)
    return [lateral, turning / 1000, lift, along, torque / 1000 * TURN * s["n"] / 60,
            lateral * bottom, off[0] * bottom, off[1] * top, stress(s, m["a_p"], lateral, turning)]


def work_out(jobs):
    """The moments of each pass with their loads; of some with those at the highest feed kept."""
    fast = []
    for k, s in enumerate(jobs):
        s["moments"], s["fast"] = moments(s), None
        most = s["answer"]["most"]
        if k % 4 == 0 and s["cutter"]["r"] == 0 and most and not s["answer"]["empty"]:
            s["fast"] = {**s, "f_z": most[0], "moments": moments(s)}
            fast.append(s["fast"])
    load([*jobs, *fast])


def load(jobs):
    """Works out the loads of every moment of passes at their feeds, many at a time."""
    groups = {}
    for s in jobs:
        for m in s["moments"]:
            kind = s["cutter"]["z"], s["cutter"]["r"] > 0, runout(s) > 0, m["part"]
            groups.setdefault(kind, []).append((s, m))
    for (z, round_, *_), members in groups.items():
        size = 40 if round_ else 400
        for first in range(0, len(members), size):
            part = members[first:first + size]
            hard = sweep.Sweep(z, [row(*of, 1) for of in part])
            mean = sweep.Sweep(z, [row(*of, 0) for of in part])
            for (s, m), *found in zip(part, hard.peaks(), mean.mean_torque(), hard.walls()):
                m["loads"] = loaded(s, m, *found)


# --- beside the program's ---------------------------------------------------------------------

LOADS = ["lateral", "torque", "lift", "along", "power", "tip", "wall bottom", "wall top", "stress"]


class Beside:
    """How far apart the quantities of one pass are, and what is wrong with it."""

    def __init__(self):
        self.apart, self.faults = {}, []

    def near(self, what, ours, theirs, allowed=EXACT, scale=None):
        if ours is None or theirs is None:
            if (ours is None) != (theirs is None):
                self.faults.append(f"{what}: {ours}, by Python {theirs}")
            return
        scale = abs(theirs) if scale is None else scale
        off = abs(ours - theirs) / scale if scale > 0 else abs(ours - theirs)
        off = off if np.isfinite(off) else 9e99
        if off >= self.apart.get(what, (0.0, 0.0))[0]:
            self.apart[what] = (float(off), allowed)

    def same(self, what, ours, theirs):
        if ours != theirs:
            self.faults.append(f"{what}: {ours}, by Python {theirs}")


def quantities(s):
    """What one pass comes to, but for its loads; of the same names as the program has."""
    cut, n, f_z, z = s["cut"], s["n"], s["f_z"], s["cutter"]["z"]
    m, d_eff = s["moments"][0], effective_diameter(s)
    s["d_eff"], s["wide"] = d_eff, width(s)
    v_f = f_z * z * n
    h_max = f_z * m["chip"]
    h_m = 2 * f_z * m["lead"] * m["width"] / (m["circle"] * m["arc"])
    k, e = coefficients(s, 0)
    return {
        "v_c": np.pi * d_eff * n / 1000, "v_f": v_f, "q": cut["a_p"] * width(s) * v_f,
        "d_eff": d_eff, "phi_s": m["arc"], "h_max": h_max, "h_m": h_m, "thinning": f_z / h_max,
        "h_min": least_chip(s), "k_c": k[0] + e[0] / h_m,
        "force_mean": (k[0] * h_m + e[0]) * cut["a_p"], "cusp": cusp(s),
    }


def compare(s):
    a, b, f_z, z = s["answer"], Beside(), s["f_z"], s["cutter"]["z"]
    m, h_min = s["moments"][0], least_chip(s)
    found = quantities(s)
    for what, theirs in found.items():
        b.near(what, a[what], theirs)
    if h_min:
        b.near("rubbing", a["rubbing"], limits.arc_below(m, f_z, h_min), scale=1.0)
    feeds = sweep.chips(z, np.array([f_z]), np.array([runout(s)]))[0]
    for ours, theirs in zip(a["edges"], feeds):
        b.near("feed of each edge", ours, theirs, scale=f_z)
    plunge = plunged(s)
    b.same("plunges", a["plunge"] is None, plunge is None)
    for what, ours, theirs in zip(("feed", "thrust", "torque", "stress"), a["plunge"] or [],
                                  plunge or []):
        b.near(f"plunge {what}", ours, theirs)
    b.same("moments", [x["moment"] for x in a["moments"]], [x["moment"] for x in s["moments"]])
    for ours, m in zip(a["moments"], s["moments"]):
        for key in ("arc", "circle", "width", "a_p", "chip", "lead"):
            b.near(f"moment {key}", ours[key], m[key])
        compare_loads(b, s, ours["loads"], m["loads"])
    limits.compare(b, s, h_min, found["v_f"], plunge)
    return {"apart": b.apart, "faults": b.faults}


def compare_loads(b, s, ours, theirs):
    end = "round" if s["cutter"]["r"] > 0 else "square"
    peak = BANDS if end == "round" else ROOT
    forces = max(theirs[0], abs(theirs[2]), 1e-300)
    wall = max(abs(theirs[6]), abs(theirs[7])) or 1.0
    if end == "round":
        # The end of an edge that has just come in takes little: held to what bends the tip.
        wall = max(wall, theirs[5])
    scales = {"lift": forces, "along": forces, "wall bottom": wall, "wall top": wall}
    for what, mine, other in zip(LOADS, ours, theirs):
        smooth = what in ("power", "wall bottom", "wall top") and end == "square"
        allowed = EXACT if smooth else ROOT if what == "power" else peak
        b.near(f"{end} {what}", mine, other, allowed, scales.get(what))


def cusp(s):
    if s["cut"]["path"] != "ball-finish" or s["cutter"]["end"] != "ball":
        return None
    r, step = s["cutter"]["d"] / 2, width(s) / np.cos(s["cut"]["slope"])
    if step >= 2 * r:
        return None
    # R - sqrt(R^2 - s^2/4), without the difference of two that are alike.
    height = step**2 / 4 / (r + np.sqrt(r**2 - step**2 / 4))
    return height if height <= s["cut"]["a_p"] else None


def plunged(s):
    """Feed straight down, thrust, torque (N m) and stress of the whole end in the work."""
    if (s["cut"]["entry"] or [""])[0] != "plunge":
        return None
    c = s["cutter"]
    k, e = coefficients(s, 1)
    down = max(s["guides"]["plunge"] * s["f_z"], 2 * (least_chip(s) or 0.0))
    half = c["d"] / 2
    thrust = c["z"] * half * (k[1] * down + e[1])
    torque = c["z"] * half * (k[0] * down + e[0]) * half / 2
    d = core(c)
    return [down, thrust, torque / 1000,
            principal(thrust / (np.pi / 4 * d**2), torque * 16 / (np.pi * d**3))]


if __name__ == "__main__":
    jobs = [json.loads(line) for line in sys.stdin]
    work_out(jobs)
    for job in jobs:
        print(json.dumps(compare(job)))
