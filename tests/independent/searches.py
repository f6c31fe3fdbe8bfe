"""The places at which published searches ask: one polynomial with two ends a line in, the places in
their order and the answer a line out.

Roots: ITP with k1 = 0.2/(b - a), k2 = 2 and n0 = 1 (I. Oliveira, R. Takahashi, ACM TOMS 47 (2020)
5). Tops: golden sections, one new place a step (J. Kiefer, Proc. Amer. Math. Soc. 4 (1953) 502).
"""
import json
import sys
from math import ceil, log2, sqrt


def value(of, x):
    total = 0.0
    for c in reversed(of["powers"]):
        total = total * x + c
    if of["step"] is not None:
        return total if x < of["step"] else total + of["jump"]
    return total


def root(of):
    a, b = of["ends"]
    e, asked = of["tolerance"], []

    def y(x):
        asked.append(x)
        return value(of, x)

    y_a, y_b = y(a), y(b)
    if y_a == 0 or y_b == 0:
        return asked, a if y_a == 0 else b
    if (y_a > 0) == (y_b > 0):
        return asked, None
    k1, n_max, j = 0.2 / (b - a), max(0, ceil(log2((b - a) / (2 * e)))) + 1, 0
    while b - a > 2 * e:
        half = (a + b) / 2
        r = e * 2.0 ** (n_max - j) - (b - a) / 2
        x_f = (y_b * a - y_a * b) / (y_b - y_a)
        sign = 1.0 if half >= x_f else -1.0
        delta = k1 * (b - a) ** 2
        x_t = x_f + sign * delta if delta <= abs(half - x_f) else half
        x = x_t if abs(x_t - half) <= r else half - sign * r
        y_x = y(x)
        if y_x == 0:
            return asked, x
        if (y_x > 0) == (y_b > 0):
            b, y_b = x, y_x
        else:
            a, y_a = x, y_x
        j += 1
    return asked, (a + b) / 2


def top(of):
    a, b = of["ends"]
    share, asked, seen = (sqrt(5) - 1) / 2, [], {}

    def y(x):
        asked.append(x)
        seen[x] = value(of, x)
        return seen[x]

    y(a), y(b)
    c, d = b - share * (b - a), a + share * (b - a)
    y_c, y_d = y(c), y(d)
    while b - a > of["tolerance"]:
        if y_c >= y_d:
            b, d, y_d = d, c, y_c
            c = b - share * (b - a)
            y_c = y(c)
        else:
            a, c, y_c = c, d, y_d
            d = a + share * (b - a)
            y_d = y(d)
    first, last = asked[:2]
    known = {x: seen[x] for x in (first, last, c, d)}
    best = max(known, key=known.get)
    return asked, [best, known[best]]


for line in sys.stdin:
    job = json.loads(line)
    places, found = {"root": root, "top": top}[job["what"]](job)
    print(json.dumps({"asked": places, "found": found}))
