"""How the cutter is engaged at each moment of a pass: triangles, and bisection in corners.

Units mm and rad.
"""
import numpy as np


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
        start = {"down": np.pi - arc, "centred": (np.pi - arc) / 2}.get(path, 0.0)
        return {"moment": name, "arc": arc, "path": path, "a_p": depth, "start": start,
                "end": start + arc,
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
        # Straight down has a check of its own.
        if entry[0] == "ramp":
            list_.append(of("entry", np.pi, "slot", a_p))
        if entry[0] == "helix":
            list_.append(of("entry", np.pi, "slot", min(entry[2], a_p)))
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


def effective_diameter(c, a_p):
    r = c.get("corner_radius") or 0.0
    depth = min(a_p, r)
    return c["diameter"] - 2 * r + 2 * np.sqrt(depth * (2 * r - depth))
