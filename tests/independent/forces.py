"""Specific cutting force, unit power and what a class adds to its force, for `lookups.py`, in
N/mm2 and mm. By the doc comments of `kienzle.rs`, `unit_power.rs` and `force_law.rs`.

Learnt from the code, and said in the doc comments since: what a series is, which neighbours in
hardness a force is held against, and what layers keep beside each other. The code of these and of
`force_law.rs` was read before this was written, so that a misreading of a rule may be shared.
"""

from choosing import (
    band, choose, frailty, instead, item, reach, said, states_hardness,
)
from states import Refused, layers, measured, read, span, vickers

FORCES = read("kienzle")
POWERS = read("unit_power")
LAWS = read("force_law")
CORRECTIONS = read("corrections")
IN_MM = {"mm": 1.0}


# Specific cutting force: value is k_c1.1, m_c and the chips it was fitted for.


def force(value, h=0.03):
    return value[0] * h ** -value[1]


def harder_first(value):
    return -force(value)


def series_of(row):
    return row["k_c1_1"]["source"], row.get("family") or row["subject"]


def unused(row, cls):
    why = row.get("unused")
    return why is not None and (not why.get("classes") or cls in why["classes"])


def force_at(st):
    items, beside = [], []
    for row in FORCES:
        if row.get("hardened") and not st.hardened:
            continue
        found = reach(row, st, "understates")
        if not found:
            continue
        found["unsafe"] |= row.get("understates", False)
        k, m = row["k_c1_1"], row["m_c"]
        # Cited by the source of the force, as weak as the weaker of both figures.
        worse = m if frailty({"weak": k.get("weak", False), "basis": k["basis"]}) < frailty(
            {"weak": m.get("weak", False), "basis": m["basis"]}
        ) else k
        cited = dict(worse)
        if worse["source"] != k["source"]:
            cited["source"], cited["basis"] = k["source"], k["basis"]
        value = [k["value"], m["value"]] + band(row["h"], IN_MM[row["h"]["unit"]])
        text = f"k_c1.1 {said(k)}, m_c {said(m)}"
        one = item(row, found, cited, value, text, series_of(row))
        (beside if unused(row, st.cls) else items).append(one)
    choice = choose(items, st, harder_first)
    try:
        other = choose(beside, st, harder_first)
        choice["kept"] = choice["kept"] + [(other["value"], other["row"])] + other["kept"]
    except Refused:
        pass
    return choice


def neighbour(st, marks):
    """What is chosen at the nearest hardness at which the row of that series is chosen."""
    for series, hb in sorted(marks, key=lambda mark: abs(mark[1] - st.hb)):
        try:
            choice = force_at(measured(st.stock, hb))
        except Refused:
            continue
        if choice["series"] == series:
            return choice
    return None


def own_force(st):
    """A step from one series to another neither raises the force of a softer state nor lowers it
    for a harder one; what one series prints stands."""
    own = force_at(st)
    if st.hb is None:
        return own
    printed = []
    for row in FORCES:
        if states_hardness(row) and not unused(row, st.cls) and reach(row, st):
            printed.append((series_of(row), span(row["hardness"])))
    others = [(s, r) for s, r in printed if s != own["series"]]
    softer = neighbour(st, [(s, r[1]) for s, r in others if r[1] < st.hb])
    if softer and force(softer["value"]) > force(own["value"]):
        return instead(softer, own)
    if len(others) < len(printed):
        return own
    harder = neighbour(st, [(s, r[0]) for s, r in others if r[0] > st.hb])
    if harder and force(harder["value"]) < force(own["value"]):
        return instead(harder, own)
    return own


def no_less(st):
    """The pair of the hardest row softer than a layer that is harder than all its rows."""
    if st.hb is None:
        return None
    tops = [
        span(r["hardness"])[1] for r in FORCES
        if not r.get("hardened") and not unused(r, st.cls) and reach(r, st)
        and span(r.get("hardness"))
    ]
    tops = [t for t in tops if t < st.hb]
    try:
        return {**own_force(measured(st.stock, max(tops))), "weak": True} if tops else None
    except Refused:
        return None


def answered(ask, *of):
    try:
        return ask(*of), None
    except Refused as refusal:
        return None, refusal


def forces(st):
    """The pair of the hardest layer, and of a layered stock the mean by volume."""
    own, refusal = answered(own_force, st)
    parts = [(layer, share, answered(own_force, layer)[0]) for layer, share in layers(st)]
    if own is None and not any(pair for _, _, pair in parts):
        raise refusal
    parts = [(pair or no_less(layer), share) for layer, share, pair in parts]
    hard = own
    for pair, _ in parts:
        if pair is None or hard is None:
            hard = hard or pair
            continue
        a, b = (pair, hard) if force(pair["value"]) > force(hard["value"]) else (hard, pair)
        hard = {**a, "kept": [(b["value"], b["row"])] + a["kept"]}
    if not parts:
        return hard, None
    if any(pair is None for pair, _ in parts):
        return hard, own
    k = sum(share * force(pair["value"]) for pair, share in parts)
    m_c = sum(share * force(pair["value"]) * pair["value"][1] for pair, share in parts) / k
    first = parts[0][0]
    value = [k / sum(share for _, share in parts) * 0.03 ** m_c, m_c] + first["value"][2:]
    rest = [(pair["value"], pair["row"]) for pair, _ in parts[1:]]
    kept = [(first["value"], first["row"])] + first["kept"] + rest
    weak = any(pair["weak"] for pair, _ in parts)
    return hard, {**first, "value": value, "weak": weak, "kept": kept}


def unit_power(st):
    """1 J/mm3 is 1000 N/mm2; the larger is the careful one."""
    items = []
    for row in POWERS:
        found = reach(row, st, "understates")
        if found:
            u = row["u"]
            series = (u["source"], row["subject"])
            items.append(item(row, found, u, band(u, 1000.0), said(u), series))
    return choose(items, st, lambda value: -value[1])


# What a class adds to its force.


def law_value(row, hv):
    edge = [0.0, 0.0, 1.0]
    if row.get("of_row"):
        edge = [band(CORRECTIONS["edge_force"][0])[1]] * 2 + [1.0]
    elif "ploughing_along" in row:
        edge = [row["ploughing_along"]["value"], row["ploughing_across"]["value"], 1.0]
    else:
        scale = hv / row["hardness"]["value"] if row.get("scales") else 1.0
        edge = [row["k_te"]["value"], row["k_re"]["value"], scale]
    hardness = None if hv is None else 9.81 * hv
    modulus = 1000.0 * band(row["modulus"])[0] if "modulus" in row else None
    spreads = [row["spread"][k]["value"] for k in ("cut", "edge", "across", "land")]
    return [row["k_r"]["value"], *edge, hardness, modulus, *spreads]


def law_row(row):
    names = (
        ("k_r", "k_r"), ("K_te", "k_te"), ("K_re", "k_re"),
        ("K_te over k r_edge", "ploughing_along"), ("K_re over k r_edge", "ploughing_across"),
    )
    had = [(name, row[key]) for name, key in names if key in row]
    text = ", ".join(f"{name} {said(figure)}" for name, figure in had)
    # The edge terms, the last that are printed, tell the source.
    last = had[-1][1]
    weak = last.get("weak", False) or row["k_r"].get("weak", False)
    return {"source": last["source"], "subject": row["subject"], "printed": text}, weak


def own_law(st):
    hv = None if st.hb is None else vickers(st.hb)
    if hv is None and st.cls != "laminate":
        raise Refused
    own = next((r for r in LAWS["classes"] if st.cls in r["classes"]), None)
    if own is None:
        raise Refused
    row, kept = own, []
    if own.get("capped") and st.hardened:
        row = next(r for r in LAWS["classes"] if r.get("hardened"))
        kept = [(law_value(own, hv), law_row(own)[0])]
    cited, weak = law_row(row)
    value = law_value(row, hv)
    ploughs = "ploughing_along" in row
    return {
        "value": value, "row": cited, "weak": weak, "capped": False, "kept": kept,
        "along": 0.0 if ploughs or row.get("of_row") else value[1] * value[3],
    }


def force_law(st):
    """Of a layered stock that of its hardest layer, of equals that with the larger edge force."""
    hardest = None
    for layer, _ in layers(st):
        choice = own_law(layer)
        if hardest is None:
            hardest = choice
            continue
        a, b = hardest, choice
        if (b["value"][4] or 0.0, b["along"]) > (a["value"][4] or 0.0, a["along"]):
            a, b = b, a
        hardest = {**a, "kept": a["kept"] + [(b["value"], b["row"])]}
    return hardest or own_law(st)
