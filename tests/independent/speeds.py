"""Cutting speed and feed per tooth, for `lookups.py`: a kind of cutter is its material and whether
it is coated; speeds are in m/min, feeds in mm. By the doc comments of `speed.rs` and `feed.rs`.

Learnt from the code, and said in the doc comments since: what a series is, which rule of thumb is
tried, what is kept beside a speed that it changes, and how a column of diameters is told from
another.
"""

import sys

from choosing import band, capped, choose, item, reach, said
from states import STOCKS, Refused, layers, measured, read, span

SPEEDS = read("speed")
FEEDS = read("feed")
CORRECTIONS = read("corrections")


def is_coated(row, coated):
    return {"any": True, "coated": coated, "uncoated": not coated, "honed": False}[row["coating"]]


def holds_cut(cut, asked):
    """A finish is a side cut of little width."""
    return "any" in (cut, asked) or cut == asked or (cut, asked) == ("side", "finish")


def spread(value):
    """A single printed value is a recommendation: its ends are a quarter below and above."""
    if value[0] < value[2]:
        return value
    low, _, high = band(CORRECTIONS["single_value"][0])
    return [value[1] * low, value[1], value[1] * high]


def by_start(value):
    return value[1]


# Cutting speed.


def own_speed(st, kind, cut):
    material, coated = kind
    items = []
    for row in SPEEDS["rows"]:
        fits = row["cutter"] == material and is_coated(row, coated)
        if not fits or row["operation"] != "end milling":
            continue
        found = reach(row, st, "force_only")
        if not found:
            continue
        found["unsafe"] |= row.get("overstates", False)
        v = row["v_c"]
        series = (v["source"], row.get("family") or row["subject"], row["cut"])
        one = item(row, found, v, spread(band(v)), said(v), series, row["cut"] == cut)
        items.append((holds_cut(row["cut"], cut), one))
    try:
        return choose([i for holds, i in items if holds], st, by_start)
    except Refused:
        refusal = sys.exc_info()[1]
    try:
        # A row for another kind of cut is better than none.
        return {**choose([i for _, i in items], st, by_start), "weak": True}
    except Refused:
        raise refusal from None


def share_of(relation, choice):
    """A speed changed by a rule of thumb; what it is changed from is kept first beside it."""
    low, start, high = band(relation["factor"])
    a, b, c = choice["value"]
    base = choice["row"]
    text = f"{said(relation['factor'])} of {base['subject']} ({base['printed']})"
    row = {
        "source": relation["factor"]["source"], "subject": relation["subject"], "printed": text,
    }
    share = [a * low, b * start, c * high]
    # What stands beside it is a speed of the same share.
    kept = [([x * low, y * start, z * high], k) for (x, y, z), k in choice["kept"]]
    return {
        "value": share, "row": row, "weak": True, "capped": choice["capped"],
        "kept": [(share, base)] + kept,
    }


def related_speed(st, kind, cut):
    try:
        return own_speed(st, kind, cut)
    except Refused:
        refusal = sys.exc_info()[1]
    material, coated = kind
    for r in SPEEDS["relations"]:
        serves = st.stock["id"] in r.get("stocks", []) or st.cls in r.get("classes", [])
        if not serves or r["cutter"] not in ("any", material) or not is_coated(r, coated):
            continue
        of = r.get("of_coating")
        other = (material, of == "coated" if of else coated)
        try:
            base = st if "of_stock" not in r else at_hardness(r["of_stock"], st)
            return share_of(r, own_speed(base, other, cut))
        except Refused:
            continue
    raise refusal


def at_hardness(stock, st):
    if stock not in STOCKS or st.hb is None:
        raise Refused
    return measured(STOCKS[stock], st.hb)


def speed_at(st, kind, cut):
    """The slowest of the layers of a layered stock, by its rule of thumb."""
    parts = [related_speed(layer, kind, cut) for layer, _ in layers(st)]
    if not parts:
        return related_speed(st, kind, cut)
    parts.sort(key=lambda c: c["value"][1])
    slowest = parts[0]
    slowest["kept"] = slowest["kept"] + [(c["value"], c["row"]) for c in parts[1:]]
    for r in SPEEDS["relations"]:
        if st.stock["id"] in r.get("stocks", []):
            return share_of(r, slowest)
    return slowest


def related_states(st):
    """The stocks whose rows a speed may come from beside its own."""
    names = [layer["stock"] for layer in st.stock.get("layers", [])]
    for r in SPEEDS["relations"]:
        if st.stock["id"] in r.get("stocks", []) and "of_stock" in r:
            names.append(r["of_stock"])
    for name in names:
        try:
            yield at_hardness(name, st)
        except Refused:
            pass


def spans_for(rows, states):
    for row in rows:
        for st in states:
            own = reach(row, st) and span(row.get("hardness"))
            if own:
                yield own
                break


def speed(st, kind, cut):
    spans = list(spans_for(SPEEDS["rows"], list(related_states(st)) + [st]))
    return capped(st, spans, lambda s: speed_at(s, kind, cut))


# Feed per tooth.

TO_MM = {"mm": 1.0, "in": 25.4}


def at_diameter(column, d):
    """The feed of rows that differ in diameter alone, and whether it lies below the smallest."""
    rows = []
    for r in column:
        low, _, high = band(r["diameter"], TO_MM[r["diameter"]["unit"]])
        feed = band(r["f_z"], TO_MM[r["f_z"]["unit"]])
        rows.append((low, high, feed, f"{said(r['f_z'])} at D {said(r['diameter'])}"))
    for low, high, feed, text in rows:
        if low <= d <= high:
            return feed, text, False
    above = [r for r in rows if r[0] > d]
    below = [r for r in rows if r[1] < d]
    if not above:
        return None
    low, _, feed, text = min(above, key=lambda r: r[0])
    if not below:
        return [x * (d / low) for x in feed], text + ", in proportion to D", True
    top = max(r[1] for r in below)
    _, top, feed0, text0 = [r for r in below if r[1] == top][-1]
    t = (d - top) / (low - top)
    return [x + (y - x) * t for x, y in zip(feed0, feed)], f"{text0} and {text}", False


def column_key(row):
    figure = row.get("f_z") or row.get("f_z_over_d")
    return figure["source"], row["subject"], row["cut"], row["coating"], row["cutter"]


def own_feed(st, kind, d, cut, ball):
    material, coated = kind
    fits = [
        r for r in FEEDS
        if (r.get("end") == "ball") == ball and r["cutter"] == material and is_coated(r, coated)
    ]
    items, columns = [], set()
    for row in fits:
        if not holds_cut(row["cut"], cut):
            continue
        weak = False
        if "f_z_over_d" in row:
            figure = row["f_z_over_d"]
            if "diameter" in row:
                low, _, high = band(row["diameter"], TO_MM[row["diameter"]["unit"]])
                if not low <= d <= high:
                    continue
            value, text = band(figure, d), said(figure)
        else:
            key = column_key(row)
            if key in columns:
                continue
            columns.add(key)
            figure = row["f_z"]
            column = [r for r in fits if "f_z" in r and column_key(r) == key]
            found = at_diameter(column, d)
            if not found:
                continue
            value, text, weak = found
        how = reach(row, st)
        if not how:
            continue
        how["weak"] |= weak
        series = (figure["source"], row.get("family") or row["subject"], row["cut"])
        items.append(item(row, how, figure, spread(value), text, series, row["cut"] == cut))
    return choose(items, st, by_start)


def feed_at(st, kind, d, cut, ball):
    """Uncoated carbide without a row of its own takes those of coated carbide, weak."""
    try:
        return own_feed(st, kind, d, cut, ball)
    except Refused:
        if kind != ("carbide", False):
            raise
        refusal = sys.exc_info()[1]
    try:
        return {**own_feed(st, ("carbide", True), d, cut, ball), "weak": True}
    except Refused:
        raise refusal from None


def feed(st, kind, d, cut, end):
    spans = list(spans_for(FEEDS, [st]))

    def of(ball):
        choice = capped(st, spans, lambda s: feed_at(s, kind, d, cut, ball))
        return {**choice, "thinned": ball}

    if end == "ball":
        try:
            return of(True)
        except Refused:
            pass
    return of(False)
