"""A whole pass by other means than the program's: one fully specified pass a line in, one result out.

Engagement by triangles, coefficients from the row, class, hardness, edge radius and wear land or
given as linear ones, forces by Gauss quadrature along the engaged edge, bending by unit loads,
stress as an eigenvalue, limits, wanted margins and the feed to start with as the model states
them. Passes are worked out many at a time. numpy and scipy; units mm, N, N/mm2, HV, rad, turns a
minute; square ends only, a corner radius or ball goes through the slices of loads.py.
"""
import json
import sys

import numpy as np
from scipy.optimize import brentq

import loads
from engagement import effective_diameter, moments
from law import coefficients, floor_force
from start import arc_below, credit, least_chip, most_at_full_width, runout_gain

TURN = 2 * np.pi
X, W = np.polynomial.legendre.leggauss(14)
T = 0.5 * (X + 1)
# Smoothed at both ends, since sin^p is only a fractional power there.
SMOOTH = T**3 * (10 - 15 * T + 6 * T**2)
SMOOTH_W = 0.5 * W * 30 * T**2 * (1 - T) ** 2
INSIDE = 1e-10

WANTED = {"cautious": {"chip-floor": 0.1, "spindle-power": 0.3, "breakage": 0.2, "hold": 0.2,
                       "tipping": 0.2, "pull-out": 0.2, "plunge": 0.2},
          "production": {"spindle-power": 0.1}}
FLOORS = {"chip-floor", "spindle-speed-least", "feed-band-low"}
CLOSES = ["feed-band", "feed-speed", "spindle-power", "wall-error", "breakage", "hold", "tipping",
          "pull-out"]


# --- forces, many cases at a time -------------------------------------------------------------

class Cases:
    """Cases of one number of teeth: arrays, one entry a case."""

    def __init__(self, z, rows):
        self.z = z
        for key in rows[0]:
            setattr(self, key, np.array([r[key] for r in rows], float))
        self.lag = 2 * np.tan(self.helix) / self.d
        self.feeds = self.chips()
        # A tooth that takes less than a tenth of the feed presses with its edge in proportion.
        self.touch = np.minimum(1, 10 * self.feeds / self.f_z[:, None])

    def chips(self):
        """How far each tooth reaches beyond all before it, the most loaded first."""
        radius = 0.5 * self.tir[:, None] * np.sin(TURN * (np.arange(self.z) + 0.5) / self.z)
        reach = np.full(self.d.size, -np.inf)
        last = []
        for i in range(5 * self.z):
            tip = i * self.f_z + radius[:, i % self.z]
            last.append(np.maximum(0, tip - reach))
            reach = np.maximum(reach, tip)
        return np.stack(last[-self.z:], 1)

    def at(self, theta):
        """x, y, axial force and torque at the angles theta, one row of angles a case."""
        total = np.zeros((4, *theta.shape))
        row = np.broadcast_to(np.arange(self.d.size)[:, None], theta.shape)
        col = lambda a: a[:, None]
        turns = int(np.ceil((self.lag * self.a_p).max() / TURN)) + 1
        for q in range(self.z):
            first = (theta - q * TURN / self.z) % TURN
            self.add_end(total, first, q)
            for turn in range(turns):
                tip = first + turn * TURN
                low = np.clip((tip - col(self.end)) / col(self.lag), 0, col(self.a_p))
                high = np.clip((tip - col(self.start)) / col(self.lag), 0, col(self.a_p))
                on = (high > low) & (col(self.feeds[:, q]) > 0)
                if not on.any():
                    continue
                r, tip, low, span = row[on], tip[on], low[on], (high - low)[on]
                lag, feed = self.lag[r], self.feeds[r, q]
                k_t, k_r, k_a = self.cut[r].T
                e_t, e_r, e_a = self.edge[r].T * self.touch[r, q]
                x, y, a, m = np.zeros((4, r.size))
                for u, w in zip(SMOOTH, SMOOTH_W):
                    phi = np.clip(tip - lag * (low + u * span), 0, np.pi)
                    s, c = np.sin(phi), np.cos(phi)
                    chip = feed * s
                    f_t, f_r = k_t * chip + e_t, k_r * chip + e_r
                    x += w * (-f_t * c - f_r * s)
                    y += w * (f_t * s - f_r * c)
                    a += w * (k_a * chip + e_a)
                    m += w * f_t
                for i, f in enumerate((x, y, a, m * self.d[r] / 2)):
                    total[i][on] += f * span
        return total

    def add_end(self, total, tip, q):
        """The end edge of a tooth, at its tip and whatever its chip."""
        # One edge leaves a slot as another enters: on the very angle one of them is in.
        on = (tip >= self.start[:, None]) & (tip < self.end[:, None])
        touch = np.where(on & (self.feeds[:, q, None] > 0), self.touch[:, q, None], 0.0)
        along, axial = self.floor[:, 0, None] * touch, self.floor[:, 1, None] * touch
        total[0] -= along * np.cos(tip)
        total[1] += along * np.sin(tip)
        total[2] += axial
        total[3] += along * self.d[:, None] / 2

    def mean_torque(self):
        phi = self.start + np.outer(SMOOTH, self.end - self.start)
        total = 0
        for q in range(self.z):
            f = self.feeds[:, q]
            force = self.cut[:, 0] * (f * np.sin(np.clip(phi, 0, np.pi)))
            force = force + self.edge[:, 0] * self.touch[:, q]
            width = np.where(f > 0, SMOOTH_W @ force, 0) * self.a_p
            width = width + np.where(f > 0, self.floor[:, 0] * self.touch[:, q], 0)
            total = total + width * (self.end - self.start)
        return total * self.d / 2 / TURN

    def peaks(self, rounds=4):
        """Most lateral force, torque, lift and force along the feed over a turn."""
        period = TURN if (self.tir > 0).any() else TURN / self.z
        count = int(round(48 * period / TURN * self.z)) if self.z > 1 else 96
        step = period / count
        grid = np.broadcast_to(np.arange(count) * step, (self.d.size, count))
        kinks = [self.start, self.end, self.start + self.lag * self.a_p,
                 self.end + self.lag * self.a_p]
        kinks = [(k + q * TURN / self.z + e) % period for k in kinks for e in (-INSIDE, INSIDE)
                 for q in range(self.z if period == TURN else 1)]
        grid = np.concatenate([grid, np.stack(kinks, 1)], 1)
        loads_ = self.at(grid)
        tops = []
        for measure in (lambda f: np.hypot(f[0], f[1]), lambda f: f[3], lambda f: f[2],
                        lambda f: f[0]):
            values = measure(loads_)
            best = values.max(1)
            place = grid[np.arange(self.d.size), values.argmax(1)]
            reach = step
            for _ in range(rounds):
                fine = place[:, None] + reach * np.linspace(-1, 1, 9)
                v = measure(self.at(fine))
                i = v.argmax(1)
                better = v.max(1) > best
                best = np.where(better, v.max(1), best)
                place = np.where(better, fine[np.arange(self.d.size), i], place)
                reach /= 4
            tops.append(best)
        return tops


def climbs(cut):
    """Whether the cutter can pull the table: over a turn a slot and a face press it back."""
    return cut["direction"] == "down" and cut["path"] not in ("slot", "face")


def case(s, m, row, f_z):
    c = s["cutter"]
    start, end = {"slot": (0, np.pi), "up": (0, m["arc"]), "down": (np.pi - m["arc"], np.pi),
                  "centred": (np.pi / 2 - m["arc"] / 2, np.pi / 2 + m["arc"] / 2)}[m["path"]]
    cut, edge = coefficients(s, row)
    return {"d": c["diameter"], "helix": np.radians(c["helix"]), "a_p": m["a_p"], "start": start,
            "end": end, "f_z": f_z, "tir": s["machine"].get("runout") or 0.0, "cut": cut,
            "edge": edge, "floor": floor_force(s, edge)}


def round_peaks(s, m, f_z):
    """The same through fine slices, for a corner radius or ball."""
    k = case(s, m, "hardest", f_z)
    r = s["cutter"]["corner_radius"]
    along, axial = k["floor"]
    t = {"d": k["d"], "z": s["cutter"]["edges"], "helix": k["helix"], "a_p": k["a_p"], "r_e": r,
         "arc": m["arc"], "path": m["path"], "m_c": 0.0, "cut": k["cut"], "edge": k["edge"],
         "end": [along, 0.0, axial], "tir": k["tir"], "f_z": f_z}
    feeds = loads.chips(t["z"], f_z, k["tir"])
    period = TURN if k["tir"] > 0 else TURN / t["z"]
    theta = np.linspace(0, period, int(240 * period / TURN * t["z"]), endpoint=False)
    f = loads.round_end(t, theta, feeds, 1500)
    cut, edge = coefficients(s, "mean")
    tm = dict(t, cut=cut, edge=edge)
    lag = 2 * np.tan(k["helix"]) / k["d"]
    walls = loads.round_end(t, np.array([1e-6, 1e-6 + lag * k["a_p"], np.pi - 1e-6,
                                         np.pi - 1e-6 + lag * k["a_p"]]), feeds, 4000)[1]
    return ([np.hypot(f[0], f[1]).max(), f[3].max(), f[2].max(), f[0].max()],
            loads.mean(tm, feeds)[3], walls)


# --- bending ----------------------------------------------------------------------------------

G, GW = np.polynomial.legendre.leggauss(3)


def beam(c, a_p):
    """Segments from the holder: length and the diameter that bends, and where stress is asked."""
    length, fluted = c["stick_out"], min(c["flute_length"], c["stick_out"])
    neck = c.get("neck") or [c["diameter"], 0.0]
    out = length - fluted
    neck_l = min(neck[1], out)
    shank_l = out - neck_l
    core = c["core"]
    segments = [(shank_l, c["shank"]), (neck_l, neck[0]), (fluted, core * 0.80 / 0.65)]
    load = length - a_p / 2
    asked = [(length - fluted, core)]
    if neck_l > 0:
        asked.append((shank_l, neck[0]))
    if shank_l > 0:
        asked.append((0.0, c["shank"]))
    return segments, load, asked


def give(s, a_p, height):
    """Deflection per newton at a height above the tip: the work of the unit moments."""
    c = s["cutter"]
    segments, load, _ = beam(c, a_p)
    at, total, here = c["stick_out"] - height, 0.0, 0.0
    for length, d in segments:
        a, b = here, min(here + length, load, at)
        if b > a:
            x = 0.5 * ((b - a) * G + a + b)
            ei = c["modulus"] * np.pi * d**4 / 64
            total += 0.5 * (b - a) * (GW @ ((load - x) * (at - x))) / ei
        here += length
    stiffness = s["machine"].get("stiffness")
    return total + (1 / stiffness if stiffness else 0.0)


def stress(s, a_p, force, torque):
    """Largest principal stress: the eigenvalue of the plane stress at the surface."""
    _, load, asked = beam(s["cutter"], a_p)
    worst = 0.0
    for at, d in asked:
        sigma = force * max(0.0, load - at) * (d / 2) / (np.pi * d**4 / 64)
        tau = torque * (d / 2) / (np.pi * d**4 / 32)
        worst = max(worst, np.linalg.eigvalsh([[sigma, tau], [tau, 0.0]])[-1])
    return worst


# --- a whole pass -----------------------------------------------------------------------------

def work_out(jobs, rounds=4):
    """Loads of every moment of many (pass, turns a minute, feed) at a time, and their checks."""
    flat = []
    for j, (s, n, f_z) in enumerate(jobs):
        flat += [(j, m) for m in s["moments"]]
    results = [[] for _ in jobs]
    groups = {}
    for at, (j, m) in enumerate(flat):
        s, n, f_z = jobs[j]
        if s["cutter"].get("corner_radius"):
            peaks, mean, walls = round_peaks(s, m, f_z)
            results[j].append(loaded(s, m, n, peaks, mean, walls))
            continue
        key = (s["cutter"]["edges"], (s["machine"].get("runout") or 0) > 0)
        groups.setdefault(key, []).append(at)
    done = {}
    for (z, _), members in groups.items():
        for first in range(0, len(members), 400):
            part = members[first:first + 400]
            hard = Cases(z, [case(*spread(jobs, flat[i], "hardest")) for i in part])
            mean = Cases(z, [case(*spread(jobs, flat[i], "mean")) for i in part])
            peaks, torque = hard.peaks(rounds), mean.mean_torque()
            lag = hard.lag * hard.a_p
            walls = hard.at(np.stack([0 * lag + INSIDE, lag + INSIDE, 0 * lag + np.pi - INSIDE,
                                      lag + np.pi - INSIDE], 1))[1]
            for k, i in enumerate(part):
                done[i] = ([p[k] for p in peaks], torque[k], walls[k])
    for i, (peaks, torque, walls) in sorted(done.items()):
        j, m = flat[i]
        results[j].append(loaded(jobs[j][0], m, jobs[j][1], peaks, torque, walls))
    return [{"moments": r, "checks": checks(s, n, f_z, r)}
            for (s, n, f_z), r in zip(jobs, results)]


def spread(jobs, entry, pair):
    j, m = entry
    return jobs[j][0], m, pair, jobs[j][2]


def loaded(s, m, n, peaks, torque, walls):
    lateral, top, lift, along = (float(max(0.0, p)) for p in peaks)
    path, direction = s["cut"]["path"], s["cut"]["direction"]
    up, down = (-walls[0], -walls[1]), (walls[2], walls[3])
    bottom, upper = give(s, m["a_p"], 0.0), give(s, m["a_p"], m["a_p"])
    off = [up, down][direction == "down"]
    if path == "slot":
        off = [max((a, b), key=abs) for a, b in zip(up, down)]
    if path in ("face", "ball-finish"):
        off = (0.0, 0.0)
    return {"moment": m["moment"], "arc": m["arc"], "a_p": m["a_p"], "chip": m["chip"],
            "lead": m["lead"], "lateral": lateral, "torque": top / 1000, "lift": lift,
            "along": along, "power": torque / 1000 * TURN * n / 60, "tip": lateral * bottom,
            "wall_bottom": off[0] * bottom, "wall_top": off[1] * upper,
            "start": m["start"], "end": m["end"], "stress": stress(s, m["a_p"], lateral, top)}


def specific_force(s):
    """Of the chip that is the mean over the arc at the nominal engagement."""
    m = s["moments"][0]
    mean = s["f_z"] * m["lead"] * (np.cos(m["start"]) - np.cos(m["end"])) / m["arc"]
    cut, edge = coefficients(s, "mean")
    return cut[0] + edge[0] / mean


def power_at(machine, n):
    points = machine["power"]
    if n <= points[0][0]:
        return points[0][1] * n / points[0][0]
    return float(np.interp(n, *zip(*points)))


def plunge_stress(s, f_z):
    """Thrust and torque of end edges that cut from the rim to the centre, in the core."""
    c = s["cutter"]
    cut, edge = coefficients(s, "hardest")
    down = max(0.3 * f_z, 2 * least_chip(s))
    half = c["diameter"] / 2
    thrust = c["edges"] * half * (cut[1] * down + edge[1])
    # The force along an edge acts at its middle.
    torque = c["edges"] * half * (cut[0] * down + edge[0]) * half / 2
    sigma = thrust / (np.pi / 4 * c["core"] ** 2)
    tau = torque * (c["core"] / 2) / (np.pi * c["core"] ** 4 / 32)
    return np.linalg.eigvalsh([[sigma, tau], [tau, 0.0]])[-1]


def checks(s, n, f_z, results):
    """Every limit that is known: value, bound, and the moment at which it is tightest."""
    c, stock, machine, hold, cut = (s[k] for k in ("cutter", "stock", "machine", "hold", "cut"))
    found = {}

    def put(name, value, bound, moment="nominal"):
        margin = 1 - bound / value if name in FLOORS else 1 - value / bound
        if name not in found or margin < found[name]["margin"]:
            found[name] = {"value": value, "bound": bound, "margin": margin, "moment": moment}

    v_f = f_z * c["edges"] * n
    if machine.get("v_f_max"):
        put("feed-speed", v_f, machine["v_f_max"])
    put("spindle-speed-most", n, machine["n_max"])
    put("spindle-speed-least", n, machine["n_min"])
    v_c = np.pi * effective_diameter(c, cut["a_p"]) * n / 1000
    put("cutting-speed", v_c, stock["v_c"][1])
    put("flute-length", cut["a_p"], c["flute_length"])
    gain = runout_gain(s)
    if cut.get("tolerance") and cut["path"] not in ("face", "ball-finish"):
        circled = cut["path"] == "bore"
        play = [machine.get("runout"), machine.get("backlash") if circled else 0.0]
        if None not in play:
            put("play", play[0] / 2 + play[1], cut["tolerance"])
    if machine.get("runout") is not None:
        put("runout", gain, f_z / 2)
    put("feed-band-low", f_z / credit(s, results[0]), stock["f_z"][0])
    if (cut.get("entry") or [""])[0] == "plunge":
        put("plunge", plunge_stress(s, f_z), c["rupture"] / 3)
    feeds_ = loads.chips(c["edges"], f_z, machine.get("runout") or 0.0)
    for m in results:
        at = m["moment"]
        put("chip-floor", f_z * m["chip"], least_chip(s), at)
        put("feed-band", f_z / credit(s, m), most_at_full_width(s), at)
        idle = np.mean(feeds_ * m["chip"] < least_chip(s) * (1 - 1e-9))
        put("rubbing", max(idle, arc_below(m, f_z, least_chip(s))), 0.5, at)
        put("tip-deflection", m["tip"], 0.01 * c["diameter"], at)
        put("breakage", m["stress"], c["rupture"] / 3, at)
        put("rupture", m["stress"], c["rupture"], at)
        if cut["path"] not in ("face", "ball-finish"):
            wall = max(abs(m["wall_bottom"]), abs(m["wall_top"]))
            put("wall-error", wall, cut.get("tolerance") or 0.02, at)
        if machine.get("power"):
            put("spindle-power", m["power"] / machine["efficiency"], power_at(machine, n), at)
        if machine.get("collet_grip"):
            put("pull-out", m["lift"], machine["collet_grip"] / 2, at)
        if climbs(cut) and machine.get("backlash") and machine.get("drag"):
            loose = 2 * machine["backlash"] >= f_z
            put("backlash", m["along"] if loose else 0.0, machine["drag"], at)
        if hold.get("clamp_force"):
            friction = hold["friction"] * hold["faces"] * hold["clamp_force"]
            put("hold", float(np.hypot(m["lateral"], m["lift"])), friction / 2, at)
            if hold.get("grip"):
                put("tipping", m["lateral"] * hold["height"] / 1000,
                    hold["clamp_force"] * hold["grip"] / 4 / 1000, at)
    return found


def interval(s, n):
    """Both ends of the feed with the check and moment that close them, by root finding."""
    wanted = WANTED[s["intent"]]
    chip = min(m["chip"] for m in s["moments"])
    lowest = least_chip(s) / (1 - wanted.get("chip-floor", 0))
    least = {"f_z": lowest / chip, "limit": "chip-floor",
             "moment": min(s["moments"], key=lambda m: m["chip"])["moment"]}

    def tightest(found):
        name = min((k for k in CLOSES if k in found),
                   key=lambda k: found[k]["margin"] - wanted.get(k, 0.0))
        return found[name]["margin"] - wanted.get(name, 0.0), name, found[name]["moment"]

    def at(log):
        return tightest(work_out([(s, n, float(np.exp(log)))])[0]["checks"])

    # Every feed of a fine ladder is tried: no shape of the margins is taken for granted.
    d = s["cutter"]["diameter"]
    ladder = np.linspace(np.log(1e-7 * d), np.log(d), 200)
    tried = [tightest(a["checks"]) for a in work_out([(s, n, float(np.exp(x))) for x in ladder])]
    kept = [i for i, t in enumerate(tried) if t[0] >= 0]
    if not kept:
        _, name, moment = max(tried)
        return {"least": least, "most": {"f_z": 0.0, "limit": name, "moment": moment}}
    first = last = kept[-1]
    while first - 1 in kept:
        first -= 1
    log = brentq(lambda x: at(x)[0], ladder[last], ladder[last + 1], xtol=1e-10)
    _, name, moment = at(log + 1e-9)
    most = {"f_z": float(np.exp(log)), "limit": name, "moment": moment}
    if first > 0:
        log = brentq(lambda x: at(x)[0], ladder[first - 1], ladder[first], xtol=1e-10)
        if np.exp(log) > least["f_z"]:
            _, name, moment = at(log - 1e-9)
            least = {"f_z": float(np.exp(log)), "limit": name, "moment": moment}
    return {"least": least, "most": most}


def short(s, found):
    """How far each check that bounds the cut is below its wanted margin."""
    bounds = set(CLOSES) | {"chip-floor", "cutting-speed", "flute-length", "spindle-speed-most",
                            "spindle-speed-least", "backlash", "rupture"}
    wanted = WANTED[s["intent"]]
    spare = {k: f["margin"] - wanted.get(k, 0.0) for k, f in found.items() if k in bounds}
    return {k: v for k, v in spare.items() if v < 0}


def plain(value):
    if isinstance(value, dict):
        return {k: plain(v) for k, v in value.items()}
    if isinstance(value, (list, tuple)):
        return [plain(v) for v in value]
    return float(value) if isinstance(value, (np.floating, float)) else value


if __name__ == "__main__":
    for line in sys.stdin:
        s = json.loads(line)
        s["moments"] = moments(s)
        result = work_out([(s, s["n"], s["f_z"])])[0]
        result["interval"] = interval(s, s["n"])
        result["k_c"] = specific_force(s)
        print(json.dumps(plain(result)))
