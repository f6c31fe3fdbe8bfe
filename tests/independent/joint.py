"""What readings make of several unknown factors, apart from the program.

Reads one JSON object a line: standard deviations of the logarithms of the factors about nought, and
readings of quantities that follow them. Writes for each line the most likely place and the standard
deviations about it.

The place is the lowest point of the negative log-posterior, found by scipy without our derivatives;
the spread is the inverse of the Hessian there: that of the prior, plus for each reading the
slopes of the logarithm of what is read, by fine central steps, weighed with the curvature of its
likelihood (linearised: no second derivative of the quantity itself).
"""

import json
import sys

import numpy as np
from scipy.optimize import minimize
from scipy.stats import norm

STEP = 1e-5


def quantity(of, x):
    """The logarithm of what is read: two forces over two springs, or a force times a speed."""
    cut, edge, across, stiff, radius = np.exp(x)
    force = of["cut"] * cut + of["edge"] * edge * radius ** of["power"]
    if of["what"] == "wall":
        push = of["share"] * across * force
        return np.log(push / of["cutter"] + push / (of["machine"] * stiff))
    if of["what"] == "power":
        return np.log(force * of["speed"])
    return np.log(of["chip"] / (of["least"] * radius))


def cost(x, case):
    total = 0.5 * np.sum((x / case["sd"]) ** 2)
    for r in case["readings"]:
        value = quantity(r["of"], x)
        if r["kind"] == "value":
            total += 0.5 * ((np.log(r["at"]) - value) / r["sd"]) ** 2
        else:
            side = value if r["above"] else -value
            total -= norm.logcdf(side / r["sd"])
    return total


def slopes(of, x):
    out = np.zeros(len(x))
    for k in range(len(x)):
        up, down = x.copy(), x.copy()
        up[k] += STEP
        down[k] -= STEP
        out[k] = (quantity(of, up) - quantity(of, down)) / (2 * STEP)
    return out


def curvature(r, value):
    if r["kind"] == "value":
        return 1 / r["sd"] ** 2
    t = (value if r["above"] else -value) / r["sd"]
    mills = np.exp(norm.logpdf(t) - norm.logcdf(t))
    return mills * (mills + t) / r["sd"] ** 2


def solved(case):
    case["sd"] = np.array(case["sd"])
    x = np.zeros(len(case["sd"]))
    for method in ("Nelder-Mead", "BFGS", "Nelder-Mead"):
        options = {"xatol": 1e-10, "fatol": 1e-14, "maxiter": 40000, "maxfev": 40000}
        if method == "BFGS":
            options = {"gtol": 1e-9}
        x = minimize(cost, x, args=(case,), method=method, options=options).x
    information = np.diag(1 / case["sd"] ** 2)
    for r in case["readings"]:
        row = slopes(r["of"], x)
        information += curvature(r, quantity(r["of"], x)) * np.outer(row, row)
    covariance = np.linalg.inv(information)
    return {"at": list(x), "sd": list(np.sqrt(np.diag(covariance))),
            "first_with_last": covariance[0, -1]}


for line in sys.stdin:
    print(json.dumps(solved(json.loads(line))), flush=True)
