"""Stocks in the state they lie on the bench, read from `reference-tables/data`.

Used by `choosing.py` and `lookups.py`. By the doc comments of `state.rs` and `hardness.rs` of the
crate `reference-tables`: hardness is compared in Brinell (ASTM E140, tables 1 and 2); a measured
hardness wins over the name of a condition; without one the hard end of the condition counts; 25 HB
beside a condition still belongs to it; from 45 HRC on steel counts as hardened. The standard
library alone.

Learnt from the code, and said in the doc comments since: a Brinell number above 739 is refused;
a hardness that several conditions have belongs to the first of them. The code of the states and of
the layers was read before this was written, so that a misreading of a rule may be shared.
"""

import json
import math
import os

DATA = os.path.join(os.path.dirname(os.path.abspath(__file__)), "../../reference-tables/data")
NEAR = 25.0  # HB beside a condition or a row that still belong to it
HARDEST = 739.0  # HB, 68 HRC
UNKNOWN = ("", "unknown", "as forged", "forged")
WORDS = {
    "annealed": ("soft", "spheroidised", "spheroidized", "spheroidised annealed"),
    "normalised": ("normalized",),
    "hardened": ("ht",),
    "hot rolled": ("hr",),
    "cold drawn": ("cd",),
}
STEELS = (
    "mild steel", "carbon steel", "high-carbon steel", "low-alloy steel", "tool steel",
    "martensitic stainless", "austenitic stainless", "precipitation-hardening stainless",
)


class Refused(Exception):
    """A question that no row answers, with the nearest row where there is one."""

    def __init__(self, nearest=None):
        super().__init__(nearest)
        self.nearest = nearest


def filled(value, defaults):
    """A value with what it takes from the defaults of its file; its own keys win."""
    if isinstance(value, list):
        return [filled(v, defaults) for v in value]
    if not isinstance(value, dict):
        return value
    value = {k: filled(v, defaults) for k, v in value.items()}
    if "as" in value:
        common = {k: v for k, v in defaults[value.pop("as")].items() if k != "called"}
        value = {**common, **value}
    return value


def read(name):
    with open(os.path.join(DATA, name + ".json"), encoding="utf-8") as file:
        data = json.load(file)
    if isinstance(data, dict) and "defaults" in data:
        defaults = {d["called"]: d for d in data.pop("defaults")}
        data = filled(data, defaults)
        if list(data) == ["rows"]:
            return data["rows"]
    return data


STOCKS = {m["id"]: m for m in read("materials")}
CONVERSION = read("hardness")
SOURCES = {s["id"]: s for s in read("sources")}


def line(points, x):
    """On the straight line through the points beside x; nothing outside all of them."""
    points = sorted(points)
    for (x0, y0), (x1, y1) in zip(points, points[1:]):
        if x0 <= x <= x1:
            return y0 + (y1 - y0) * ((x - x0) / (x1 - x0))
    return None


def curve():
    """Brinell and Vickers numbers that go together: table 2, and table 1 above its end."""
    low = [(r["hbw"], r["hv"]) for r in CONVERSION["rockwell_b"]]
    end = max(low)[0]
    high = [(r["hbw"], r["hv"]) for r in CONVERSION["rockwell_c"] if r.get("hbw", 0) > end]
    return low + high


CURVE = curve()


def vickers(hb):
    return hb if hb < min(CURVE)[0] else line(CURVE, hb)


def brinell(hardness):
    number, scale = hardness
    if scale == "HB":
        return number if number <= HARDEST else None
    if scale == "HRC":
        return line([(r["hrc"], r["hbw"]) for r in CONVERSION["rockwell_c"] if "hbw" in r], number)
    if scale == "HRB":
        return line([(r["hrb"], r["hbw"]) for r in CONVERSION["rockwell_b"]], number)
    if scale == "HV":
        back = [(hv, hb) for hb, hv in CURVE]
        return number if number < min(back)[0] else line(back, number)
    return None


def rockwell_c(hb):
    return line([(r["hbw"], r["hrc"]) for r in CONVERSION["rockwell_c"] if "hbw" in r], hb)


HARDENED = brinell((45.0, "HRC"))


def ends(figure):
    """Least and most as printed."""
    return (figure["value"],) * 2 if "value" in figure else (figure["min"], figure["max"])


def span(figure):
    """Least and most of a printed hardness in Brinell."""
    if figure is None:
        return None
    both = [brinell((float(e), figure["unit"])) for e in ends(figure)]
    return None if None in both else tuple(both)


def condition_span(condition):
    """Softest and hardest Brinell number over all sources of a condition."""
    spans = [s for s in map(span, condition["hardness"]) if s]
    return (min(s[0] for s in spans), max(s[1] for s in spans)) if spans else None


class State:
    def __init__(self, stock, condition, hb):
        self.stock, self.condition, self.hb = stock, condition, hb
        self.hardened = hb is not None and hb >= HARDENED
        self.cls = stock["class"]

    def reads(self, group):
        """How the condition, or else another one of the stock, is read in a group of VDI 3323."""
        own = self.condition["groups"] if self.condition else []
        for g in own:
            if g["group"] == group:
                return g, True
        for c in self.stock["conditions"]:
            for g in c["groups"]:
                if g["group"] == group:
                    return g, False
        return None


def plain(text):
    return " ".join(text.lower().replace("-", " ").split())


def named(stock, word):
    """The one condition that is called so, in the words of the trade; or refused."""
    wanted = plain(word)
    known = False
    for own, others in WORDS.items():
        if wanted == own or wanted in others:
            wanted, known = own, True
    exact = [c for c in stock["conditions"] if plain(c["name"]) == wanted]
    if exact:
        return exact[0]
    tokens = f" {wanted} "
    part = [c for c in stock["conditions"] if tokens in f" {plain(c['name'])} "]
    if known or len(part) != 1:
        raise Refused
    return part[0]


def beyond(reach, hb):
    """How far a hardness lies beyond a range; a laminate has neither, and fits."""
    if reach is None or hb is None:
        return 0.0 if reach is None and hb is None else math.inf
    return max(reach[0] - hb, hb - reach[1], 0.0)


def nearest(stock, hb):
    """The condition that has a hardness, the first of several, or the nearest within 25 HB."""
    best = None
    for c in stock["conditions"]:
        gap = beyond(condition_span(c), hb)
        if gap <= NEAR and (best is None or gap < best[0]):
            best = (gap, c)
    return best and best[1]


def in_scale(stock, hardness):
    """Its Brinell number, which only a laminate in Rockwell M does without."""
    hb = brinell(hardness)
    if hb is None and not (hardness[1] == "HRM" and stock["class"] == "laminate"):
        raise Refused
    return hb


def state(stock, condition=None, hardness=None):
    known = condition is not None and plain(condition) not in UNKNOWN
    own = named(stock, condition) if known else None
    if hardness is not None:
        hb = in_scale(stock, hardness)
        if own is None or beyond(condition_span(own), hb) > 0.0:
            own = nearest(stock, hb)
        return State(stock, own, hb)
    if own is None:
        if condition is not None or len(stock["conditions"]) != 1:
            raise Refused
        own = stock["conditions"][0]
    tops = [(float(ends(h)[1]), h["unit"]) for h in own["hardness"]]
    # Only what cannot be converted, the first printed, is not compared.
    hardest = tops[0]
    for top in tops[1:]:
        a, b = brinell(hardest), brinell(top)
        if a is not None and b is not None and a < b:
            hardest = top
    return State(stock, own, in_scale(stock, hardest))


def measured(stock, hb):
    return state(stock, None, (hb, "HB"))


def softest(stock):
    spans = [condition_span(c) for c in stock["conditions"]]
    spans = [s for s in spans if s]
    return min(s[0] for s in spans) if spans else None


def layers(st):
    """The constituents at the hardness of the billet, with their shares by volume."""
    found = []
    for layer in st.stock.get("layers", []):
        low, high = ends(layer["share"])
        share = layer["share"].get("start", (low + high) / 2)
        hardness = None if st.hb is None else (st.hb, "HB")
        found.append((state(STOCKS[layer["stock"]], None, hardness), share))
    return found
