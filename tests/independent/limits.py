"""The limits of a whole pass worked out a second time: value and bound at every moment, the margin
that is wanted, what a pass comes to and in which order it is said, and the ends of its feeds.
"""
import numpy as np

import sweep

# Kind, what is harmed beyond it, the margins a first cut and a proven run want, and whether it is a
# floor. A bound stops; a warning asks for care; a minor one is a bound whose data few know; a guide
# and a mild one stop nothing.
PERSON, BILLET, CUTTER, MACHINE, BOOK, NOTHING = range(6)
LIMITS = {
    "spindle-speed-most": ("bound", MACHINE, 0, 0, False),
    "spindle-speed-least": ("bound", MACHINE, 0, 0, True),
    "cutting-speed": ("bound", CUTTER, 0, 0, False),
    "machine-limited": ("mild", NOTHING, 0, 0, True),
    "feed-band": ("bound", CUTTER, 0, 0, False),
    "feed-band-low": ("mild", NOTHING, 0, 0, True),
    "chip-floor": ("bound", BILLET, 0.1, 0, True),
    "rubbing": ("warning", CUTTER, 0, 0, False),
    "runout": ("guide", BOOK, 0, 0, False),
    "feed-speed": ("bound", MACHINE, 0, 0, False),
    "flute-length": ("bound", BILLET, 0, 0, False),
    "depth-guide": ("guide", BOOK, 0, 0, False),
    "width-guide": ("guide", BOOK, 0, 0, False),
    "chip-room": ("guide", BOOK, 0, 0, False),
    "stick-out": ("guide", BOOK, 0, 0, False),
    "ramp-angle": ("bound", CUTTER, 0, 0, False),
    "helix-hole": ("bound", BILLET, 0, 0, False),
    "corner": ("guide", BOOK, 0, 0, False),
    "spindle-power": ("bound", MACHINE, 0.3, 0.1, False),
    "tip-deflection": ("guide", BOOK, 0, 0, False),
    "wall-error": ("bound", BILLET, 0, 0, False),
    "play": ("warning", BILLET, 0, 0, False),
    "breakage": ("warning", PERSON, 0.2, 0, False),
    "rupture": ("bound", PERSON, 0, 0, False),
    "plunge": ("warning", PERSON, 0.2, 0, False),
    "hold": ("bound", PERSON, 0.2, 0, False),
    "tipping": ("bound", PERSON, 0.2, 0, False),
    "pull-out": ("minor", PERSON, 0.2, 0, False),
    "chatter": ("minor", BILLET, 0.3, 0.1, False),
    "backlash": ("minor", BILLET, 0, 0, False),
}
LOADS = {"spindle-power", "tip-deflection", "wall-error", "breakage", "rupture", "hold", "tipping",
         "pull-out", "backlash"}
CLOSES = ["spindle-power", "wall-error", "breakage", "rupture", "hold", "tipping", "pull-out"]
# Nearer than this to what decides, either answer is right.
TIE = {"square": 1e-5, "round": 1e-2}
SLACK = 1e-9


def wanted(s, name):
    return LIMITS[name][2 if s["intent"] == "cautious" else 3]


def arc_below(m, f_z, h_min):
    """Share of the engaged arc over which the chip is thinner than h_min."""
    top = f_z * m["lead"]
    if top <= h_min:
        return 1.0
    thin, arc = np.arcsin(h_min / top), m["arc"]
    start = {"down": np.pi - arc, "centred": (np.pi - arc) / 2}.get(m["part"], 0.0)
    end = start + arc
    below = max(0.0, min(end, thin) - start) + max(0.0, end - max(start, np.pi - thin))
    return below / arc


def credit(s, m):
    if s["stock"]["f_z"] and s["stock"]["thinned"]:
        return 1.0
    return min(max(m["lead"] / m["chip"], 1.0), 2.3)


def power_at(machine, n):
    base, power = machine["power"]
    return power * min(1.0, n / base)


def fixed(s, h_min, v_f, plunge):
    """Limits of the pass as a whole: name, value and bound; None for a bound nobody knows."""
    c, cut, machine, guides = s["cutter"], s["cut"], s["machine"], s["guides"]
    d, n, f_z, a_p, path = c["d"], s["n"], s["f_z"], cut["a_p"], cut["path"]
    m = s["moments"][0]
    if machine:
        if machine["v_f_max"]:
            yield "feed-speed", v_f, machine["v_f_max"]
        yield "spindle-speed-most", n, machine["n_max"]
        yield "spindle-speed-least", n, machine["n_min"]
        if machine["runout"] is not None:
            yield "runout", machine["runout"] * np.sin(np.pi / c["z"]), f_z / 2
    else:
        yield "spindle-speed-most", None, None
    if s["stock"]["v_c"]:
        v_c = np.pi * s["d_eff"] * n / 1000
        yield "cutting-speed", v_c, s["stock"]["v_c"][1]
        yield "machine-limited", v_c, s["stock"]["v_c"][0]
    else:
        yield "cutting-speed", None, None
    if not h_min:
        yield "chip-floor", None, None
        yield "rubbing", None, None
    if s["stock"]["f_z"]:
        yield "feed-band-low", f_z / credit(s, m), s["stock"]["f_z"][0]
    else:
        yield "feed-band", None, None
    flutes = min(c["flutes"], c["stick_out"])
    yield "flute-length", a_p, flutes
    thin = min(flutes + (c["neck"] or [0, 0])[1], c["stick_out"]) / d
    slender = max(thin, c["stick_out"] / max(c["shank"], d))
    yield "stick-out", slender, guides["stick_out"]
    yield "depth-guide", a_p, guides["depth"] and guides["depth"] * d
    if path not in ("slot", "face"):
        usual = None
        if guides["width"]:
            usual, deeper = guides["width"]
            usual = deeper[1] if deeper and a_p / d > deeper[0] else usual
        yield "width-guide", s["wide"], usual and usual * d
    if path in ("slot", "pocket"):
        yield "chip-room", a_p, guides["chips"] and guides["chips"] * d
    entry = cut["entry"] or [""]
    if entry[0] == "ramp":
        yield "ramp-angle", entry[1], guides["steepest"]
    if entry[0] == "helix":
        angle = np.arctan(entry[2] / (np.pi * (entry[1] - d)))
        yield "ramp-angle", angle, guides["steepest"]
        yield "helix-hole", entry[1], 2 * d
    if entry[0] == "plunge":
        right = np.pi / 2
        steepest = {True: right, False: guides["steepest"], None: None}[c["centre"]]
        yield "ramp-angle", right, steepest
        yield "plunge", plunge[3], c["rupture"] / 3
    if cut["tolerance"] and path not in ("face", "ball-finish"):
        # An axis that turns back on a circle stands still for its backlash.
        circled = path == "bore"
        out = machine["runout"] if machine else None
        back = (machine["backlash"] if machine else None) if circled else 0.0
        if out is not None and back is not None:
            yield "play", out / 2 + back, cut["tolerance"]
        elif circled:
            yield "play", None, None
    yield "chatter", None, None


def at_moment(s, m, f_z, loads, h_min, feeds):
    """Limits of one moment at a feed."""
    c, stock, machine, hold, cut = (s[k] for k in ("cutter", "stock", "machine", "hold", "cut"))
    if h_min:
        yield "chip-floor", f_z * m["chip"], h_min
        idle = np.mean(feeds * m["chip"] < h_min * (1 - SLACK))
        yield "rubbing", max(idle, arc_below(m, f_z, h_min)), 0.5
    if stock["f_z"]:
        most = max(stock["f_z"][2], 2.2 * stock["chip_floor"] * (c["r_usual"] or 0.0))
        yield "feed-band", f_z / credit(s, m), most
    if m["moment"] in ("sharp corner", "left by the cutter before"):
        yield "corner", m["arc"], s["guides"]["corner"]
    lateral, _, lift, along, power, tip, bottom, top, stress = loads
    yield "tip-deflection", tip, 0.01 * c["d"]
    yield "breakage", stress, c["rupture"] / 3
    yield "rupture", stress, c["rupture"]
    if cut["path"] not in ("face", "ball-finish"):
        yield "wall-error", max(abs(bottom), abs(top)), cut["tolerance"] or 0.02
    if machine and machine["power"]:
        yield "spindle-power", power / machine["efficiency"], power_at(machine, s["n"])
    else:
        yield "spindle-power", None, None
    if machine and machine["collet"]:
        yield "pull-out", lift, machine["collet"] / 2
    elif lift > 1e-9 * lateral:
        yield "pull-out", None, None
    if cut["direction"] == "down" and cut["path"] not in ("slot", "face"):
        if machine and machine["backlash"] and machine["drag"]:
            pulled = along if 2 * machine["backlash"] >= f_z else 0.0
            yield "backlash", pulled, machine["drag"]
        else:
            yield "backlash", None, None
    if not hold or not hold["clamp"]:
        yield "hold", None, None
        yield "tipping", None, None
        return
    friction = hold["friction"] * hold["faces"] * hold["clamp"]
    yield "hold", float(np.hypot(lateral, lift)), friction / 2
    if hold["grip"] and hold["height"]:
        yield "tipping", lateral * hold["height"], hold["clamp"] * hold["grip"] / 4
    else:
        yield "tipping", None, None


def used(name, value, bound):
    share = bound / value if LIMITS[name][4] else value / bound
    return 1.0 if np.isnan(share) else min(share, 1e9)


def feeds_of(s):
    tir = (s["machine"] or {}).get("runout") or 0.0
    return sweep.chips(s["cutter"]["z"], np.array([s["f_z"]]), np.array([tir]))[0]


def shares_of(s, h_min):
    """What each limit that bounds the feed has used up of what it may, 1 at its wanted margin."""
    shares = {}
    if s["machine"] and s["machine"]["v_f_max"]:
        v_f = s["f_z"] * s["cutter"]["z"] * s["n"]
        shares["feed-speed"] = v_f / s["machine"]["v_f_max"]
    feeds = feeds_of(s)
    for m in s["moments"]:
        for name, value, bound in at_moment(s, m, s["f_z"], m["loads"], h_min, feeds):
            if name in (*CLOSES, "feed-band", "chip-floor") and bound is not None:
                share = used(name, np.float64(value), bound) / (1 - wanted(s, name))
                shares[name] = max(share, shares.get(name, 0.0))
    return shares


def compare_most(b, s, h_min):
    """The highest feed that keeps every wanted margin uses up just what is wanted of one."""
    if not s["fast"]:
        return
    fast, limit = s["fast"], s["answer"]["most"][1]
    shares = shares_of(fast, h_min)
    b.near("highest feed", shares[limit], 1.0, 1e-6)
    b.near("highest feed, all", max(shares.values()), 1.0, 1e-6)


def all_of(s, h_min, v_f, plunge):
    """Of each limit what is tightest: moment, value, bound and share used; None for not known."""
    feeds = feeds_of(s)
    found = {}

    def put(name, moment, value, bound):
        known = value is not None and bound is not None
        new = {"moment": moment, "value": value, "bound": bound,
               "used": used(name, np.float64(value), bound) if known else None}
        old = found.get(name)
        tighter = old is None or old["used"] is not None and (
            not known or new["used"] > old["used"])
        if tighter:
            rivals = [old] if old and known else []
            found[name] = {**new, "rivals": rivals + (old or {}).get("rivals", [])}
        else:
            old["rivals"].append(new)

    with np.errstate(divide="ignore", invalid="ignore"):
        for name, value, bound in fixed(s, h_min, v_f, plunge):
            put(name, "nominal", value, bound)
        for m in s["moments"]:
            for name, value, bound in at_moment(s, m, s["f_z"], m["loads"], h_min, feeds):
                put(name, m["moment"], value, bound)
    return found


def word(s, name, margin, guessed, slack):
    """What one check comes to."""
    kind, harm = LIMITS[name][:2]
    if harm >= BOOK or margin is None and kind == "minor":
        return "RUN"
    if margin is None:
        return "CARE"
    if margin >= wanted(s, name) - slack:
        return "RUN"
    stops = kind != "warning" and not (guessed and harm != PERSON)
    return "STOP" if margin < -slack and stops else "CARE"


def come_to(s, name, margin, tie):
    """Whether a check is too near its bound to tell, what it comes to, and how it stands."""
    guessed = name == "wall-error" and not s["cut"]["tolerance"]
    near = name in LOADS and margin is not None and min(
        abs(margin), abs(margin - wanted(s, name))) < tie * max(1.0, 1 - margin)
    hard = LIMITS[name][0] in ("bound", "minor") and not guessed
    state = ("unknown" if margin is None else "over" if margin < -SLACK and hard
             else "caution" if margin < wanted(s, name) - SLACK else "ok")
    return near, word(s, name, margin, guessed, SLACK), state


def rivals_of(theirs, tie):
    """The moments at which a limit is as tight, as far as anybody knows."""
    near = [r for r in theirs["rivals"]
            if r["used"] is not None and r["used"] > theirs["used"] * (1 - tie) - tie]
    return [theirs["moment"], *(r["moment"] for r in near)]


def compare(b, s, h_min, v_f, plunge):
    end = "round" if s["cutter"]["r"] > 0 else "square"
    tie = TIE[end]
    found = all_of(s, h_min, v_f, plunge)
    compare_most(b, s, h_min)
    ours = {c["limit"]: c for c in s["answer"]["checks"]}
    b.same("limits", sorted(ours), sorted(found))
    verdicts, places, unsure = [], [], False
    for check in s["answer"]["checks"]:
        name = check["limit"]
        theirs = found.get(name)
        if theirs is None:
            continue
        b.same(f"{name} is known", check["found"] is not None, theirs["used"] is not None)
        if theirs["used"] is None or check["found"] is None:
            margin = None
        else:
            margin = 1 - theirs["used"]
            allowed = 1e-9
            if name in LOADS:
                allowed = {"square": 1e-6, "round": 1e-2}[end]
            what = f"{end} margin by loads" if name in LOADS else "margin"
            # A margin is as exact as the share of what is allowed is, and that as its forces; a
            # pull is what is left of forces that are far larger.
            scale = max(theirs["used"], 1.0)
            if name in ("pull-out", "backlash") and theirs["value"] > 0:
                lateral = max(m["loads"][0] for m in s["moments"])
                scale = max(scale, theirs["used"] * lateral / theirs["value"])
            b.near(what, check["margin"], margin, allowed, scale)
            if check["moment"] not in rivals_of(theirs, tie):
                b.faults.append(f"{name} at {check['moment']}, by Python {theirs['moment']}")
        near, comes_to, state = come_to(s, name, margin, tie)
        if not near:
            b.same(f"{name} comes to", check["verdict"], comes_to)
            b.same(f"{name} stands", check["state"], state)
        unsure |= near
        verdicts.append(comes_to)
        places.append((place(name, comes_to, margin), (theirs["used"] or 0.0), name))
    if unsure:
        return
    worst = max(verdicts, key=["RUN", "CARE", "STOP"].index)
    b.same("verdict", s["answer"]["verdict"], worst)
    for (one, more, name), (two, less, other) in zip(places, places[1:]):
        if one > two or one == two and more < less * (1 - tie) - tie:
            b.faults.append(f"{name} is said before {other}")


def place(name, comes_to, margin):
    """Where a check stands before the share used is asked: beyond, near, not known, the rest."""
    harm = LIMITS[name][1]
    unknown = margin is None
    if comes_to != "RUN":
        if margin is not None and margin < -SLACK:
            return 0, harm, comes_to != "STOP"
        return 1 + unknown, harm, unknown
    if harm < BOOK:
        caps = ("spindle-speed-most", "spindle-speed-least", "feed-speed")
        return 3, int(name in caps), unknown
    return 4, harm, unknown
