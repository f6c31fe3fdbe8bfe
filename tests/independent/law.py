"""The force law of a stock on a cutter: coefficients from the row, class, hardness, edge radius and
wear land, or given as linear ones.

Units mm, N, N/mm2, HV.
"""
import numpy as np


def hardness(stock):
    """As a pressure."""
    return 9.81 * stock["hardness"] if stock.get("hardness") else None


def coefficients(s, row):
    """K_tc, K_rc, K_ac and K_te, K_re, K_ae of a stock on a cutter, the land of its edge counted in.

    `row` is the mean over the volume or the hardest layer; the edge is always the hardest's.
    """
    stock = s["stock"]
    pressure = hardness(stock)
    if stock.get("linear"):
        cut, edge = (list(stock["linear"][part]) for part in ("cut", "edge"))
    else:
        of = stock["class"]
        kc11, m_c = of[row]
        k_tc = (1 - m_c) * kc11 * 0.1**-m_c
        if of["capped"] and pressure:
            k_tc = min(k_tc, 1080 + 0.61 * pressure)
        cut = [k_tc, of["k_r"] * k_tc, of["k_a"] * k_tc]
        edge = [*new_edge(s, *of["edge"]), 0.0]
    if pressure and stock.get("modulus"):
        flank = min(0.62 * pressure * (43 * pressure / stock["modulus"]) ** 0.5, 0.7 * pressure)
        edge[0] += 0.25 * flank * stock["land"]
        edge[1] += flank * stock["land"]
    return cut, edge


def new_edge(s, kind, *of):
    """What an edge without a land takes, along and across."""
    stock, cutter = s["stock"], s["cutter"]
    if kind == "ploughing":
        shear = 300 + 0.17 * hardness(stock)
        return [times * shear * cutter["edge_radius"] for times in of]
    if kind == "of-row":
        kc11, m_c = stock["class"]["hardest"]
        return [of[0] * kc11 * 0.02**-m_c * 0.02] * 2
    along, across, at = of
    harder = stock["hardness"] / at if at else 1.0
    usual = cutter.get("usual_edge_radius")
    rounder = cutter["edge_radius"] / usual if usual else 1.0
    return [along * harder * rounder, across * harder * rounder]


def floor_force(s, edge):
    """What the end edge takes on a shallow floor: along, and on the axis."""
    c, cut = s["cutter"], s["cut"]
    r = c.get("corner_radius") or 0.0
    ball = r > 0 and abs(r - c["diameter"] / 2) < 1e-12
    if ball or cut["path"] in ("bore", "ball-finish"):
        return [0.0, 0.0]
    if c["diameter"] >= 1 and cut["a_p"] >= 0.1:
        return [0.0, 0.0]
    length = s["stock"]["chip_floor"] * c["edge_radius"] / np.tan(np.radians(2.5))
    return [edge[0] * length, -edge[1] * length]
