"""A whole pass by other means than the program's: one fully specified pass a line in, one result out.

Engagement by triangles, forces by Gauss quadrature along the engaged edge by Kienzle's law or by
linear coefficients, bending by unit loads, stress as an eigenvalue, limits and wanted margins as
the model states them. Passes are worked out many at a time. numpy and scipy; units mm, N, N/mm2, rad, turns a minute; square ends only, a
corner radius or ball goes through the slices of loads.py.
"""
import json
import sys

import numpy as np
from scipy.optimize import brentq

import loads

TURN = 2 * np.pi
X, W = np.polynomial.legendre.leggauss(14)
T = 0.5 * (X + 1)
# Smoothed at both ends, since sin^p is only a fractional power there.
SMOOTH = T**3 * (10 - 15 * T + 6 * T**2)
SMOOTH_W = 0.5 * W * 30 * T**2 * (1 - T) ** 2
INSIDE = 1e-10

WANTED = {"cautious": {"chip-floor": 0.1, "spindle-power": 0.3, "breakage": 0.2, "hold": 0.2,
                       "tipping": 0.2, "pull-out": 0.2},
          "production": {"spindle-power": 0.1}}
FLOORS = {"chip-floor", "spindle-speed-least", "backlash"}
CLOSES = ["feed-band", "feed-speed", "spindle-power", "wall-error", "breakage", "hold", "tipping",
          "pull-out"]


# --- engagement -------------------------------------------------------------------------------

def straight(d, a_e):
    return 2 * np.arcsin(np.sqrt(min(1.0, a_e / d)))


def curved(d, a_e, side, wall):
    """Angle between the wall and where the tooth leaves the stock: a triangle of centres."""
    r = d / 2
    centre, before = (wall - r, wall - a_e) if side == "inside" else (wall + r, wall + a_e)
    sign = 1 if side == "inside" else -1
    cos = sign * (before**2 - centre**2 - r**2) / (2 * centre * r)
    return float(np.arccos(np.clip(cos, -1, 1)))


def left_over(d, a_e, previous):
    """Largest engaged angle in a right corner that a larger cutter left round: by bisection at
    each place of the centre along the wall y = 0, coming towards the wall x = 0."""
    r, p = d / 2, previous / 2
    c = a_e + p

    def stock(x, y):
        # Cleared is whatever lies within p of the quadrant its centre ran in.
        return np.hypot(np.maximum(c - x, 0), np.maximum(c - y, 0)) > p

    def engaged(at):
        # From the wall below, turning towards the other wall and up.
        phi = np.linspace(0, np.pi, 4001)
        inside = stock(at - r * np.sin(phi), r - r * np.cos(phi))
        if inside.all():
            return np.pi
        i = int(np.argmin(inside))
        if i == 0:
            return 0.0
        low, high = phi[i - 1], phi[i]
        for _ in range(60):
            mid = 0.5 * (low + high)
            if stock(at - r * np.sin(mid), r - r * np.cos(mid)):
                low = mid
            else:
                high = mid
        return low

    places = np.linspace(r, r + 2 * d, 801)
    best = int(np.argmax([engaged(x) for x in places]))
    low, high = places[max(best - 1, 0)], places[min(best + 1, 800)]
    for _ in range(60):
        a, b = low + (high - low) / 3, high - (high - low) / 3
        if engaged(a) < engaged(b):
            low = a
        else:
            high = b
    return max(engaged(low), engaged(high), engaged(places[best]))


def moments(s):
    """Name, engaged angle, where it lies, depth and the largest chip over the feed."""
    c, cut = s["cutter"], s["cut"]
    d, a_e, a_p = c["diameter"], cut.get("a_e") or c["diameter"], cut["a_p"]
    kappa = lead(c, a_p)

    def side(arc):
        return "slot" if arc >= np.pi - 1e-12 else cut["direction"]

    def of(name, arc, path, depth):
        radial = 1.0 if path in ("slot", "centred") else np.sin(min(arc, np.pi / 2))
        return {"moment": name, "arc": arc, "path": path, "a_p": depth,
                "chip": radial * lead(c, depth), "lead": lead(c, depth)}

    if cut["path"] == "slot":
        list_ = [of("nominal", np.pi, "slot", a_p)]
    elif cut["path"] == "face":
        list_ = [of("nominal", 2 * np.arcsin(min(1.0, a_e / d)), "centred", a_p)]
    else:
        wall = cut.get("wall")
        arc = curved(d, a_e, *wall) if wall else straight(d, a_e)
        list_ = [of("nominal", arc, side(arc), a_p)]
    entry = cut.get("entry")
    if entry:
        depth = a_p if entry[0] == "ramp" else min(entry[2], a_p)
        list_.append(of("entry", np.pi, "slot", depth))
    if cut["path"] == "pocket" and a_e < d:
        list_.append(of("first full-width cut", np.pi, "slot", a_p))
    if cut["path"] not in ("slot", "face"):
        if cut.get("corner"):
            arc = min(np.pi / 2 + straight(d, a_e), np.pi)
            list_.append(of("sharp corner", arc, side(arc), a_p))
        if cut.get("previous"):
            arc = min(left_over(d, a_e, cut["previous"]), np.pi)
            list_.append(of("left by the cutter before", arc, side(arc), a_p))
    assert kappa > 0
    return list_


def lead(cutter, a_p):
    r = cutter.get("corner_radius") or 0.0
    if r == 0 or a_p >= r:
        return 1.0
    return float(np.sqrt(1 - (1 - a_p / r) ** 2))


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
            for turn in range(turns):
                tip = first + turn * TURN
                low = np.clip((tip - col(self.end)) / col(self.lag), 0, col(self.a_p))
                high = np.clip((tip - col(self.start)) / col(self.lag), 0, col(self.a_p))
                on = (high > low) & (col(self.feeds[:, q]) > 0)
                if not on.any():
                    continue
                r, tip, low, span = row[on], tip[on], low[on], (high - low)[on]
                lag, feed, p = self.lag[r], self.feeds[r, q], 1 - self.m_c[r]
                k_t, k_r, k_a = self.cut[r].T
                e_t, e_r, e_a = self.edge[r].T * self.touch[r, q]
                x, y, a, m = np.zeros((4, r.size))
                for u, w in zip(SMOOTH, SMOOTH_W):
                    phi = np.clip(tip - lag * (low + u * span), 0, np.pi)
                    s, c = np.sin(phi), np.cos(phi)
                    chip = (feed * s) ** p
                    f_t, f_r = k_t * chip + e_t, k_r * chip + e_r
                    x += w * (-f_t * c - f_r * s)
                    y += w * (f_t * s - f_r * c)
                    a += w * (k_a * chip + e_a)
                    m += w * f_t
                for i, f in enumerate((x, y, a, m * self.d[r] / 2)):
                    total[i][on] += f * span
        return total

    def mean_torque(self):
        phi = self.start + np.outer(SMOOTH, self.end - self.start)
        total = 0
        for q in range(self.z):
            f = self.feeds[:, q]
            force = self.cut[:, 0] * (f * np.sin(np.clip(phi, 0, np.pi))) ** (1 - self.m_c)
            force = force + self.edge[:, 0] * self.touch[:, q]
            total = total + np.where(f > 0, SMOOTH_W @ force, 0) * (self.end - self.start)
        return total * self.a_p * self.d / 2 / TURN

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


def law(stock, pair):
    """Exponent, and what a chip of 1 mm and the edge alone take: tangential, radial, axial."""
    wear = stock["wear"]
    if stock.get("linear"):
        # In proportion to the chip; the edge has coefficients of its own.
        return 0.0, *([wear * k for k in stock["linear"][part]] for part in ("cut", "edge"))
    kc11, m_c = stock[pair]
    # The share of the force on a chip of 0.02 mm that an edge takes without cutting.
    edge = stock["edge_share"] * 0.3 * kc11 * 0.02 ** (1 - m_c)
    return (m_c, [wear * kc11 * share for share in (1, stock["k_r"], stock["k_a"])],
            [wear * edge, wear * edge, 0.0])


def case(s, m, pair, f_z):
    c = s["cutter"]
    start, end = {"slot": (0, np.pi), "up": (0, m["arc"]), "down": (np.pi - m["arc"], np.pi),
                  "centred": (np.pi / 2 - m["arc"] / 2, np.pi / 2 + m["arc"] / 2)}[m["path"]]
    m_c, cut, edge = law(s["stock"], pair)
    return {"d": c["diameter"], "helix": np.radians(c["helix"]), "a_p": m["a_p"], "start": start,
            "end": end, "f_z": f_z, "tir": s["machine"].get("runout") or 0.0, "m_c": m_c,
            "cut": cut, "edge": edge}


def round_peaks(s, m, f_z):
    """The same through fine slices, for a corner radius or ball."""
    k = case(s, m, "hardest", f_z)
    r = s["cutter"]["corner_radius"]
    t = {"d": k["d"], "z": s["cutter"]["edges"], "helix": k["helix"], "a_p": k["a_p"], "r_e": r,
         "arc": m["arc"], "path": m["path"], "m_c": k["m_c"], "cut": k["cut"], "edge": k["edge"],
         "tir": k["tir"], "f_z": f_z}
    feeds = loads.chips(t["z"], f_z, k["tir"])
    period = TURN if k["tir"] > 0 else TURN / t["z"]
    theta = np.linspace(0, period, int(240 * period / TURN * t["z"]), endpoint=False)
    f = loads.round_end(t, theta, feeds, 1500)
    m_c, cut, edge = law(s["stock"], "mean")
    tm = dict(t, m_c=m_c, cut=cut, edge=edge)
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
            "stress": stress(s, m["a_p"], lateral, top)}


def effective_diameter(c, a_p):
    r = c.get("corner_radius") or 0.0
    depth = min(a_p, r)
    return c["diameter"] - 2 * r + 2 * np.sqrt(depth * (2 * r - depth))


def power_at(machine, n):
    points = machine["power"]
    if n <= points[0][0]:
        return points[0][1] * n / points[0][0]
    return float(np.interp(n, *zip(*points)))


def checks(s, n, f_z, results):
    """Every limit that is known: value, bound, and the moment at which it is tightest."""
    c, stock, machine, hold, cut = (s[k] for k in ("cutter", "stock", "machine", "hold", "cut"))
    found = {}

    def put(name, value, bound, moment="nominal"):
        margin = 1 - bound / value if name in FLOORS and value else 1 - value / bound if bound else 0
        if name in FLOORS and bound == 0:
            margin = 1.0
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
    for m in results:
        at = m["moment"]
        put("chip-floor", f_z * m["chip"], c["edge_radius"] * stock["chip_floor"], at)
        full = f_z if s["intent"] == "cautious" else f_z * m["chip"] / m["lead"]
        put("feed-band", full, stock["f_z"][1], at)
        put("tip-deflection", m["tip"], 0.01 * c["diameter"], at)
        put("breakage", m["stress"], c["rupture"] / 3, at)
        if cut["path"] not in ("face", "ball-finish"):
            wall = max(abs(m["wall_bottom"]), abs(m["wall_top"]))
            put("wall-error", wall, cut.get("tolerance") or 0.02, at)
        if machine.get("power"):
            put("spindle-power", m["power"] / machine["efficiency"], power_at(machine, n), at)
        if machine.get("collet_grip"):
            put("pull-out", m["lift"], machine["collet_grip"] / 2, at)
        if cut["direction"] == "down" and machine.get("backlash") and machine.get("drag"):
            pulled = 2 * machine["backlash"] if m["along"] > machine["drag"] else 0.0
            put("backlash", f_z, pulled, at)
        if hold.get("clamp_force"):
            friction = hold["friction"] * hold["faces"] * hold["clamp_force"]
            put("hold", float(np.hypot(m["lateral"], m["lift"])), friction / 2, at)
            if hold.get("grip"):
                put("tipping", m["lateral"] * hold["height"] / 1000,
                    hold["clamp_force"] * hold["grip"] / 4 / 1000, at)
    return found


def short(s, found):
    """How far each check is below its wanted margin: those beyond rounding only."""
    wanted = WANTED[s["intent"]]
    spare = {name: f["margin"] - wanted.get(name, 0.0) for name, f in found.items()}
    return {name: v for name, v in spare.items() if v < 0 and name != "tip-deflection"}


def interval(s, n):
    """Both ends of the feed with the check and moment that close them, by root finding."""
    wanted = WANTED[s["intent"]]
    chip = min(m["chip"] for m in s["moments"])
    floor = s["cutter"]["edge_radius"] * s["stock"]["chip_floor"] / (1 - wanted.get("chip-floor", 0))
    least = {"f_z": floor / chip, "limit": "chip-floor",
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


def feeds(s):
    """Feeds from the least that cuts to the most of the table's band."""
    wanted = WANTED[s["intent"]].get("chip-floor", 0)
    chip = min(m["chip"] for m in s["moments"])
    least = s["cutter"]["edge_radius"] * s["stock"]["chip_floor"] / (1 - wanted) / chip
    least *= 1 + 1e-9
    return np.geomspace(least, max(least, s["stock"]["f_z"][1] * 3), 8)


def plain(value):
    if isinstance(value, dict):
        return {k: plain(v) for k, v in value.items()}
    if isinstance(value, (list, tuple)):
        return [plain(v) for v in value]
    return float(value) if isinstance(value, (np.floating, float)) else value


if __name__ == "__main__":
    passes = [json.loads(line) for line in sys.stdin]
    for s in passes:
        s["moments"] = moments(s)
    what = sys.argv[1]
    if what == "whole":
        for s in passes:
            result = work_out([(s, s["n"], s["f_z"])])[0]
            result["interval"] = interval(s, s["n"])
            print(json.dumps(plain(result)))
    if what == "judge":
        answers = work_out([(s, s["n"], s["f_z"]) for s in passes], rounds=3)
        broken = [short(s, a["checks"]) for s, a in zip(passes, answers)]
        # A recommendation may break a bound only where no feed keeps all, from the least that
        # cuts up to the most of the table.
        again = [i for i, b in enumerate(broken) if set(b) - {"backlash"}]
        tried = [(i, f) for i in again for f in feeds(passes[i])]
        found = work_out([(passes[i], passes[i]["n"], f) for i, f in tried], 3)
        kept = {i: [] for i in again}
        for (i, f), a in zip(tried, found):
            if not set(short(passes[i], a["checks"])) - {"backlash"}:
                kept[i].append(f)
        for i, (a, b) in enumerate(zip(answers, broken)):
            margins = {k: v["margin"] for k, v in a["checks"].items()}
            print(json.dumps(plain({"margins": margins, "broken": b,
                                    "kept_at": kept.get(i, [])})))
