"""Where milling begins to chatter, by other means than the program's: one tip a line in.

Zero order: at a spindle speed the depth b of a tooth that cuts on its own wave solves

    det(1 - b/(4 pi) z K_t (1 - exp(-i w T)) A G(i w)) = 0,

so at every frequency w the eigenvalues of the matrix behind b are looked at, and b is one over
those that are real and above nothing (Y. Altintas, E. Budak, Annals of the CIRP 44 (1995) 357). A
is the mean over the arc by quadrature of the force along (-cos - K_r sin, sin - K_r cos) from the
chip (sin, cos).

Followed wave: the whole map of a tooth period is put together as one matrix, with exponentials and
eigenvalues by scipy (T. Insperger, G. Stepan, Int. J. Numer. Meth. Engng 61 (2004) 117). The force
factors of a step are their mean over as many places as it is said: only so are two discretisations
the same to the last digits.
"""
import json
import sys

import numpy as np
from scipy.linalg import expm
from scipy.optimize import brentq

TURN = 2 * np.pi


def window(s):
    arc = np.arccos(1 - 2 * s["ratio"])
    half = np.arcsin(s["ratio"])
    return {"slot": (0.0, np.pi), "up": (0.0, arc), "down": (np.pi - arc, np.pi),
            "centred": (np.pi / 2 - half, np.pi / 2 + half)}[s["path"]]


def directions(s, phi):
    """What a move along x and y takes of force along x and y, at each angle."""
    force = np.stack([-np.cos(phi) - s["k_r"] * np.sin(phi), np.sin(phi) - s["k_r"] * np.cos(phi)])
    return force[:, None] * np.stack([np.sin(phi), np.cos(phi)])[None]


def mean_directions(s):
    start, end = window(s)
    x, w = np.polynomial.legendre.leggauss(60)
    phi = 0.5 * ((end - start) * x + start + end)
    return 2 * directions(s, phi) @ (0.5 * (end - start) * w)


def responses(s, f):
    return [sum(1 / (k * (1 - (f / fn) ** 2 + 2j * ze * f / fn)) for k, ze, fn in axis)
            for axis in s["modes"]]


def shares(s, f, n=None):
    """One over the depth in m at each frequency, complex.

    Without a speed exp(-i w T) may be any number of size 1, so 1 less it is any on a circle through
    nothing; where the phase makes the product real it is twice the real part of the eigenvalue.
    """
    alpha = mean_directions(s)
    matrix = alpha[None] * np.stack(responses(s, f), -1)[:, None, :]
    eigen = np.linalg.eigvals(matrix) * s["z"] * s["k_t"] * 1e6 / (4 * np.pi)
    if n is None:
        return 2 * eigen.real
    return eigen * (1 - np.exp(-1j * TURN * f * 60 / (s["z"] * n)))[:, None]


def span(s):
    fn = [mode[2] for axis in s["modes"] for mode in axis]
    return 0.3 * min(fn), 4 * max(fn)


def least(s):
    """The least depth of all speeds, mm, and its frequency."""
    f = np.linspace(*span(s), 20001)
    for _ in range(4):
        most = shares(s, f).max(1)
        i = int(np.argmax(most))
        best, at = most[i], f[i]
        f = np.linspace(f[max(i - 1, 0)], f[min(i + 1, f.size - 1)], 201)
    return [1000 / best, at] if best > 0 else None


def at_speed(s, n):
    """The least depth at a speed, mm."""
    f = np.linspace(*span(s), 40001)
    v = shares(s, f, n)
    # Each eigenvalue is followed from one frequency to the next.
    kept = np.abs(np.diff(v, axis=0)).sum(1)
    crossed = np.abs(v[1:] - v[:-1, ::-1]).sum(1)
    turned = np.append(0, np.cumsum(crossed < kept)) % 2 == 1
    v = np.where(turned[:, None], v[:, ::-1], v)
    best = 0.0
    for branch in (0, 1):
        turns = np.flatnonzero(np.sign(v[:-1, branch].imag) != np.sign(v[1:, branch].imag))
        for i in turns:
            near = v[i, branch]
            if max(v[i, branch].real, v[i + 1, branch].real) <= best:
                continue

            def one(x):
                both = shares(s, np.array([x]), n)[0]
                return both[np.argmin(abs(both - near))]

            if np.sign(one(f[i]).imag) == np.sign(one(f[i + 1]).imag):
                continue
            root = brentq(lambda x: one(x).imag, f[i], f[i + 1], xtol=1e-10, rtol=1e-15)
            # A change of sign of what leaps is no root.
            if abs(one(root).imag) < 1e-6 * abs(one(root)):
                best = max(best, one(root).real)
    return 1000 / best if best > 0 else None


class Period:
    """A tooth period in steps: what a place of the tip and the wave behind it become."""

    def __init__(self, s, n, steps, within):
        self.modes = [(axis, *mode) for axis in (0, 1) for mode in s["modes"][axis]]
        self.steps, self.s = steps, s
        self.dt = 60 / (s["z"] * n) / steps
        start, end = window(s)
        pitch = TURN / s["z"]
        self.factors = []
        for i in range(steps):
            inner = (np.arange(within) + 0.5) / within
            base = pitch * (i + inner) / steps
            total = np.zeros((2, 2))
            for q in range(s["z"]):
                phi = base + q * pitch
                on = (phi >= start) & (phi <= end)
                total += (directions(s, phi) * on).mean(-1)
            self.factors.append(total)

    def growth(self, depth):
        """The size of the largest eigenvalue of the period at a depth in mm."""
        m, p = len(self.modes), self.steps
        b = depth * 1e-3 * self.s["k_t"] * 1e6
        size = 2 * m + 2 * (p + 1)
        pick = np.zeros((2, 2 * m))
        for i, (axis, *_) in enumerate(self.modes):
            pick[axis, i] = 1
        whole = np.eye(size)
        for h in self.factors:
            a, w = np.zeros((2 * m, 2 * m)), np.zeros((2 * m, 2))
            for i, (axis, k, zeta, fn) in enumerate(self.modes):
                omega = TURN * fn
                a[i, m + i] = 1
                a[m + i, i] -= omega**2
                a[m + i, m + i] -= 2 * zeta * omega
                row = omega**2 / k * b * h[axis]
                a[m + i, :2 * m] += row @ pick
                w[m + i] = -row
            both = np.zeros((2 * m + 2, 2 * m + 2))
            both[:2 * m, :2 * m], both[:2 * m, 2 * m:] = a, w
            both = expm(both * self.dt)
            # State, then the tip now, a step ago, ... a period ago.
            step = np.zeros((size, size))
            step[:2 * m, :2 * m] = both[:2 * m, :2 * m]
            for last in (p, p - 1):
                at = 2 * m + 2 * last
                step[:2 * m, at:at + 2] += 0.5 * both[:2 * m, 2 * m:]
            step[2 * m:2 * m + 2] = pick @ step[:2 * m]
            step[2 * m + 2:, 2 * m:-2] = np.eye(size - 2 * m - 2)
            whole = step @ whole
        return float(np.abs(np.linalg.eigvals(whole)).max())

    def first(self, start):
        """The first depth that grows, from a depth upwards by a twenty-fifth."""
        low, high = 0.0, start
        while self.growth(high) < 1:
            low, high = high, high * 1.04
            if high > 100 * start:
                return None
        return brentq(lambda d: self.growth(d) - 1, low, high, xtol=1e-9)


def answered(s):
    found = least(s)
    out = {"least": found, "at": [at_speed(s, n) for n in s["speeds"]]}
    followed = s["followed"]
    period = Period(s, followed["n"], followed["steps"], followed["within"])
    out["growth"] = [period.growth(share * found[0]) for share in followed["shares"]]
    out["first"] = period.first(0.5 * found[0])
    return out


if __name__ == "__main__":
    for line in sys.stdin:
        print(json.dumps(answered(json.loads(line))), flush=True)
