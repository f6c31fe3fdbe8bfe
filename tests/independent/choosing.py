"""Choosing one row among rows that disagree, by the rule at the head of `choice.rs`.

Used by `speeds.py` and `forces.py`; states are those of `states.py`. A row is a dictionary:
`value` (a list of numbers: least, start, most, or a pair of Kienzle with its chips), `source`,
`subject`, `printed`, `basis`, `weak`, `reach`, `series`, `span`, `cut` (whether it is for this kind
of cut alone). By the doc comments of `choice.rs`, `scope.rs` and `softer.rs`.

Learnt from the code, and said in the doc comments since: how far a row reaches (`reach`), which
rows of a series hold in a gap (`holding`), what a blend of two rows is called, which hardnesses
softer states are looked at.
"""

from states import (
    HARDENED, NEAR, SOURCES, Refused, State, beyond, condition_span, measured, nearest, read,
    softest, span,
)

NARROW = 120.0  # HB: a wider row is for a class, not for a hardness
FAR = 50.0  # HB: a row of the own group that is further off is weak
BESIDE = 1e-6  # HB: how close to an end either side of it is looked at
FITS = ("alloy", "hardness", "group", "class", "every")
BASES = ("printed", "memory", "common practice")


def number(x):
    text = repr(float(x))
    return text[:-2] if text.endswith(".0") else text


def said(figure):
    """A figure as it is printed."""
    if "value" in figure:
        text = number(figure["value"])
    else:
        text = f"{number(figure['min'])}-{number(figure['max'])}"
    if figure.get("unit"):
        text += " " + figure["unit"]
    if "start" in figure:
        text += ", start " + number(figure["start"])
    return text


def band(figure, times=1.0):
    low, high = (figure["value"],) * 2 if "value" in figure else (figure["min"], figure["max"])
    return [low * times, figure.get("start", (low + high) / 2) * times, high * times]


def states_hardness(row):
    """Whether a row is printed for a hardness: firmly, and for 120 HB at most."""
    figure = row.get("hardness")
    own = span(figure)
    return own is not None and not figure.get("weak", False) and own[1] - own[0] <= NARROW


def families():
    """Which family each group of VDI 3323 belongs to, by the first row that says so."""
    found = {}
    for row in read("kienzle"):
        for group in row.get("groups", []):
            if row.get("family"):
                found.setdefault(group, row["family"])
    return found


FAMILY = families()


def reach(row, st, unsafe=None):
    """How a row reaches a stock: fit, whether it covers the condition, weak, unsafe; or not."""
    by_class = "hardness" if states_hardness(row) else "class"
    for group in row.get("groups", []):
        read = st.reads(group)
        if read:
            own, covers = read
            return {
                "fit": "group", "covers": covers, "weak": own.get("weak", False),
                "unsafe": bool(own.get(unsafe, False)),
            }
    plain = {"covers": False, "weak": False, "unsafe": False}
    if st.stock["id"] in row.get("stocks", []):
        plain["fit"] = "alloy" if row.get("named") else by_class
        plain["covers"] = bool(st.condition) and st.condition["name"] in row.get("conditions", [])
        return plain
    if st.cls in row.get("classes", []):
        return {**plain, "fit": by_class}
    if row.get("every_stock"):
        return {**plain, "fit": "every", "weak": st.hardened or st.cls == "laminate"}
    own = [FAMILY.get(g["group"]) for c in st.stock["conditions"] for g in c["groups"]]
    if row.get("groups") and row.get("family") in own:
        return {**plain, "fit": "group"}
    return None


def between(a, b, t):
    return [x + (y - x) * t for x, y in zip(a, b)]


def frailty(row):
    return row["weak"], BASES.index(row["basis"])


def blend(a, b, t):
    """A row between two of a series; it is cited as the weaker of them, in both their words."""
    weaker = b if frailty(a) < frailty(b) else a
    row = {**weaker, "value": between(a["value"], b["value"], t), "cut": a["cut"]}
    for key, mark in (("printed", " and "), ("subject", "; ")):
        row[key] = a[key] if a[key] == b[key] else a[key] + mark + b[key]
    ra, rb = a["reach"], b["reach"]
    row["reach"] = {
        "fit": min(ra["fit"], rb["fit"], key=FITS.index),
        **{k: ra[k] or rb[k] for k in ("covers", "weak", "unsafe")},
    }
    return row


def gap(row, hb):
    return max(row["span"][0] - hb, hb - row["span"][1])


def holding(series, hb):
    """The rows of one series that hold at a hardness, each with whether it is merely near."""
    silent = [(r, False) for r in series if r["span"] is None]
    spanned = [r for r in series if r["span"] is not None]
    if hb is None:
        return silent
    inside = [(r, False) for r in spanned if gap(r, hb) <= 0.0]
    if inside:
        return inside
    below = [r for r in spanned if r["span"][1] < hb]
    above = [r for r in spanned if r["span"][0] > hb]
    if below and above:
        # Of rows that end alike the later softer one and the first harder one.
        top = max(r["span"][1] for r in below)
        low = [r for r in below if r["span"][1] == top][-1]
        high = min(above, key=lambda r: r["span"][0])
        t = (hb - low["span"][1]) / (high["span"][0] - low["span"][1])
        return [(blend(low, high, t), False)]
    taken = [r for r in spanned if r["reach"]["covers"] or gap(r, hb) <= NEAR]
    if not taken:
        return silent
    least = min(gap(r, hb) for r in taken)
    found = []
    for r in taken:
        if gap(r, hb) <= least:
            weak = r["reach"]["weak"] or gap(r, hb) > FAR
            near = {**r, "reach": {**r["reach"], "weak": weak}}
            found.append((near, not r["reach"]["covers"]))
    return found


def choose(rows, st, careful):
    """The row that is taken and those kept beside it; `careful` is less for the more careful."""
    names = list(dict.fromkeys(r["series"] for r in rows))
    held = []
    for name in names:
        held += holding([r for r in rows if r["series"] == name], st.hb)
    if not held:
        raise Refused(nearest_row(rows, st))

    def key(pair):
        row, near = pair
        r = row["reach"]
        year = SOURCES[row["source"]].get("year")
        return (
            r["unsafe"], row["weak"] or r["weak"], BASES.index(row["basis"]),
            FITS.index(r["fit"]), near, not row["cut"], careful(row["value"]),
            -(year if year is not None else -10**6),
        )

    held = [row for row, _ in sorted(held, key=key)]
    first = held[0]
    return {
        "value": first["value"], "row": cite(first),
        "weak": first["weak"] or first["reach"]["weak"], "capped": False,
        "kept": [(r["value"], cite(r)) for r in held[1:]], "series": first["series"],
    }


def cite(row):
    return {k: row[k] for k in ("source", "subject", "printed")}


def nearest_row(rows, st):
    """The row nearest in hardness, one that states none before all others, in words."""
    hb = st.hb or 0.0
    if not rows:
        return None
    row = min(rows, key=lambda r: gap(r, hb) if r["span"] else 0.0)
    text = row["subject"]
    if row["span"]:
        low, high = row["span"]
        text += f" ({low:.0f}-{high:.0f} HB)" if low < high else f" ({low:.0f} HB)"
    return f"{text}: {row['printed']}"


def rungs(st, soft, spans):
    """The softer states at which another row may be chosen, the hardest first."""
    ranges = [(c, condition_span(c)) for c in st.stock["conditions"]]
    ranges = [(c, r) for c, r in ranges if r]
    marks = {soft, HARDENED}
    for low, high in list(spans) + [r for _, r in ranges]:
        marks |= {low - NEAR, low, high, high + NEAR}
    marks = {m + d for m in marks for d in (-BESIDE, 0.0, BESIDE)}
    for hb in sorted((m for m in marks if soft <= m <= st.hb), reverse=True):
        unnamed = nearest(st.stock, hb)
        for c, r in ranges:
            if beyond(r, hb) <= 0.0 and not (unnamed and unnamed["name"] == c["name"]):
                yield State(st.stock, c, hb)
        yield State(st.stock, unnamed, hb)


def instead(choice, own):
    """A choice in place of a stock's own, which is kept first beside it."""
    kept = [k for k in choice["kept"] if k[1] != own["row"]]
    return {
        **choice, "weak": choice["weak"] or own["weak"],
        "kept": [(own["value"], own["row"])] + kept,
    }


def capped(st, spans, ask):
    """No harder stock takes more than a softer one of its kind."""
    soft = softest(st.stock)
    if st.hb is None or soft is None:
        return ask(st)
    if st.hb < soft:
        return ask(measured(st.stock, soft))
    own = ask(st)
    least = None
    for other in rungs(st, soft, spans):
        try:
            choice = ask(other)
        except Refused:
            continue
        if choice["value"][2] < (own if least is None else least)["value"][2]:
            least = choice
    if least is None:
        return own
    low = [min(a, b) for a, b in zip(least["value"][:2], own["value"][:2])]
    return {**instead({**least, "value": low + [least["value"][2]]}, own), "capped": True}


def item(row, found, figure, value, printed, series, cut=False):
    return {
        "value": value, "source": figure["source"], "basis": figure["basis"],
        "weak": figure.get("weak", False), "subject": row["subject"], "printed": printed,
        "reach": found, "series": series, "span": span(row.get("hardness")), "cut": cut,
    }
