"""The small tables of `reference-tables/data`.

Used by `lookups.py`. By the doc comments of `edge_radius.rs`, `chip_floor.rs`,
`depth_width.rs`, `strength.rs`, `entry.rs`, `life.rs`, `corrections.rs`, `wear.rs`,
and by the data files.

Learnt from the code, and said in the doc comments since: where the band between two rows of edge
radii starts, and the order of what is kept beside the least chip.
"""

from choosing import BASES, band, said
from states import Refused, read

LAWS = read("force_law")
EDGES = read("edge_radius")
FLOORS = read("chip_floor")
DEPTHS = read("depth_width")
STRENGTHS = read("strength")
LIVES = read("life")
ENTRY = read("entry")
CORRECTIONS = read("corrections")
SIZE = {
    "": 1.0, "x D": 1.0, "mm": 1.0, "um": 1e-3, "GPa": 1e3, "N/mm2": 1.0, "N/mm": 1.0, "deg": 1.0,
    "%": 0.01,
}


def scaled(figure):
    return band(figure, SIZE[figure.get("unit", "")]) if "start" not in figure else [
        x * SIZE[figure.get("unit", "")] for x in band(figure)
    ]


def cite(row, figure=None):
    figure = figure or row
    return {"source": figure["source"], "subject": row["subject"], "printed": said(figure)}


def first(rows):
    """The first row, with the others kept beside it."""
    if not rows:
        return None
    return {
        "value": scaled(rows[0]), "row": cite(rows[0]), "weak": rows[0].get("weak", False),
        "capped": False, "kept": [(scaled(r), cite(r)) for r in rows[1:]],
    }


# Cutters.


def edge_radius(material, coated, d):
    """Planning rows first; between two ranges of diameters the band of both, from its middle."""
    coat = {"any": True, "coated": coated, "uncoated": not coated, "honed": False}
    rows = [r for r in EDGES["rows"] if r["cutter"] == material and coat[r["coating"]]]
    held = [r for r in rows if r["diameter"]["min"] <= d <= r["diameter"]["max"]]
    held.sort(key=lambda r: not r.get("planning", False))
    if held:
        return {
            "value": scaled(held[0]["r_edge"]), "row": cite(held[0], held[0]["r_edge"]),
            "weak": held[0]["r_edge"].get("weak", False), "capped": False,
            "kept": [(scaled(r["r_edge"]), cite(r, r["r_edge"])) for r in held[1:]],
        }
    above = [r for r in rows if r["diameter"]["min"] > d]
    below = [r for r in rows if r["diameter"]["max"] < d]
    # Of equals the last, planning rows after the others.
    below.sort(key=lambda r: (r["diameter"]["max"], r.get("planning", False)))
    if not above:
        low = below[-1] if below else None
        raise Refused(low and f"{low['subject']}: {said(low['r_edge'])}")
    high = min(above, key=lambda r: r["diameter"]["min"])
    near = below[-1:] + [high]
    least = min(scaled(r["r_edge"])[0] for r in near)
    most = max(scaled(r["r_edge"])[2] for r in near)
    return {
        "value": [least, (least + most) / 2, most], "row": cite(high, high["r_edge"]),
        "weak": True, "capped": False,
        "kept": [(scaled(r["r_edge"]), cite(r, r["r_edge"])) for r in near],
    }


def of_grade(rows, material):
    """The usual grade of the material first, its other grades kept."""
    rows = [r for r in rows if material in r["grade"]]
    return first(sorted(rows, key=lambda r: r["grade"] != material))


def taylor(material, coated):
    """The planning value first, then milling, then printed rows."""
    coat = {"any": True, "coated": coated, "uncoated": not coated}
    rows = [r for r in LIVES["exponent"] if r["cutter"] == material and coat[r["coating"]]]
    return first(sorted(rows, key=lambda r: (
        not r.get("planning", False), not r.get("milling", False), r["basis"] != "printed",
    )))


# Stocks.


def chip_floor(st):
    """Planning values first, of them that for the class; measured ones are kept."""
    rows = [
        r for r in FLOORS
        if st.stock["id"] in r.get("stocks", []) or st.cls in r.get("classes", [])
        or r.get("every_stock")
    ]
    return first(sorted(rows, key=lambda r: (
        not r.get("planning", False), not r.get("classes"), r.get("weak", False),
    )))


def depth_width(st, machine, cut):
    """Rows of the machine alone, those for hardened steel before those for the class."""
    rows = [
        r for r in DEPTHS
        if r["path"] == cut and r["machine"] == machine
        and (st.hardened if r.get("hardened") else True)
        and (r.get("every_stock") or st.cls in r.get("classes", []))
    ]

    def worse(r):
        """The weaker of both figures."""
        figures = [r[k] for k in ("a_p", "a_e") if k in r]
        return max((f.get("weak", False), BASES.index(f["basis"])) for f in figures)

    def key(r):
        return not r.get("hardened", False), r.get("every_stock", False), worse(r)

    rows.sort(key=key)
    if not rows:
        raise Refused

    def value(r):
        return [x for k in ("a_p", "a_e") for x in (band(r[k]) if k in r else [None] * 3)]

    def cited(r):
        keys = [k for k in ("a_p", "a_e") if k in r]
        text = ", ".join(f"{k} {said(r[k])}" for k in keys)
        return {"source": r[keys[0]]["source"], "subject": r["subject"], "printed": text}

    return {
        "value": value(rows[0]), "row": cited(rows[0]), "weak": worse(rows[0])[0], "capped": False,
        "kept": [(value(r), cited(r)) for r in rows[1:]],
    }


def ramp(st):
    """Hardened steel of any class has a row of its own, and no other."""
    rows = [
        r for r in ENTRY["ramp_angle"]
        if (r.get("hardened", False) if st.hardened else st.cls in r.get("classes", []))
    ]
    return first(rows)


def feed_factor(f_z):
    """Straight lines between the rows; the end rows hold beyond."""
    rows = sorted((r["f_z"]["value"], r["value"]) for r in CORRECTIONS["feed_factor"])
    if f_z <= rows[0][0]:
        return rows[0][1]
    for (x0, y0), (x1, y1) in zip(rows, rows[1:]):
        if f_z <= x1:
            return y0 + (y1 - y0) * (f_z - x0) / (x1 - x0)
    return rows[-1][1]


def worn(word, d):
    """The smaller of the land and of the share of the diameter; growth of the edge radius."""
    row = next(r for r in LAWS["wear"] if r["word"] == word)
    land = min(row["land"]["value"], row["over_diameter"]["value"] * d)
    return [land, row["growth"]["value"]]
