"""Forces on a cutter over a turn, many cuts at a time: the straight law of an edge, by closed
integrals along a helical edge at full diameter and by Gauss quadrature along a rounded one.

    F_t = K_t h + E_t    F_r = K_r h + E_r    F_a = K_a h + E_a    for every mm of edge
    h = f sin(kappa) sin(phi);   x = -F_t cos - F_r sin,  y = F_t sin - F_r cos

phi runs from +y clockwise, x is the feed; units mm, N, N/mm2, rad. A cut is a row: d, z, helix,
r (of the corner), a_p, start and end of the engaged arc at full diameter, width (what is left of
the stock, a_e), part (0 slot, 1 up, 2 down, 3 centred), f_z, tir, cut and edge (three each), tip
(two: what the end edge takes along and on the axis, N).
"""
import numpy as np

TURN = 2 * np.pi
INSIDE = 1e-10
SLOT, UP, DOWN, CENTRED = range(4)
KEYS = ["d", "helix", "r", "a_p", "start", "end", "width", "f_z", "tir"]
# Two-point Gauss on each of the cells along a round end, closer where the arc begins to narrow.
G = 0.5 + np.array([-0.5, 0.5]) / np.sqrt(3)
CELLS = (6, 12)
# Samples of a stretch between two angles at which an end of an edge enters or leaves, how many
# stretches are looked at closer, and how many times, of a square end and of a round one.
CLOSELY = {False: (20, 2, 4), True: (7, 3, 3)}


def chips(z, f_z, tir):
    """How far each tooth reaches beyond all before it, the most loaded first."""
    radius = 0.5 * tir[:, None] * np.sin(TURN * (np.arange(z) + 0.5) / z)
    reach, last = np.full(f_z.size, -np.inf), []
    for i in range(5 * z):
        tip = i * f_z + radius[:, i % z]
        last.append(np.maximum(0, tip - reach))
        reach = np.maximum(reach, tip)
    return np.stack(last[-z:], 1)


class Sweep:
    """Cuts of one number of teeth in one part of the turn, all square or all round."""

    def __init__(self, z, rows):
        self.z, self.count, self.part = z, len(rows), rows[0]["part"]
        for key in KEYS:
            setattr(self, key, np.array([r[key] for r in rows], float))
        self.cut, self.edge, self.tip = (np.array([r[k] for r in rows], float)
                                         for k in ("cut", "edge", "tip"))
        self.lag = 2 * np.tan(self.helix) / self.d
        self.round = (self.r > 0).any()
        self.feeds = chips(z, self.f_z, self.tir) if z > 1 else self.f_z[:, None]
        # A tooth that takes less than a tenth of the feed presses with its edge in proportion.
        self.touch = np.minimum(1, 10 * self.feeds / self.f_z[:, None])

    # --- what one tooth takes ------------------------------------------------------------------

    def flank(self, tip, row, feed, touch):
        """The part of an edge at full diameter with its end at the angles, which are flat."""
        d, lag, low_z = self.d[row], self.lag[row], np.minimum(self.r, self.a_p)[row]
        depth = self.a_p[row] - low_z
        foot = tip - lag * low_z
        lead = lag * depth
        low = np.maximum(foot - lead, self.start[row])
        high = np.minimum(foot, self.end[row])
        straight = lead < 1e-9
        on = np.where(straight, (foot > self.start[row]) & (foot < self.end[row]), high > low)
        on = on & (depth > 0)
        with np.errstate(divide="ignore", invalid="ignore"):
            per = np.where(straight, depth, 1 / lag)
        s0, c0, s1, c1 = np.sin(low), np.cos(low), np.sin(high), np.cos(high)
        whole = lambda v, at: np.where(straight, at, v)
        s, c = np.sin(foot), np.cos(foot)
        one = whole(high - low, 1.0)
        sin = whole(c0 - c1, s)
        cos = whole(s1 - s0, c)
        square = whole(0.5 * (high - low - s1 * c1 + s0 * c0), s * s)
        cross = whole(0.5 * (s1 * s1 - s0 * s0), s * c)
        k, e = self.cut[row].T * feed, self.edge[row].T * touch
        per = np.where(on, per, 0.0)
        return per * np.stack([
            -(k[0] * cross + e[0] * cos) - (k[1] * square + e[1] * sin),
            (k[0] * square + e[0] * sin) - (k[1] * cross + e[1] * cos),
            k[2] * sin + e[2] * one,
            (k[0] * sin + e[0] * one) * d / 2])

    def window(self, radius, row):
        """Start and end of the engaged arc at a radius: the stock is as wide at every height."""
        none = np.zeros(np.shape(radius))
        if self.part == SLOT:
            return none, none + np.pi
        with np.errstate(divide="ignore"):
            share = np.minimum(self.width[row] / radius, 2)
        if self.part == CENTRED:
            half = np.arcsin(np.minimum(0.5 * share, 1))
            return np.pi / 2 - half, np.pi / 2 + half
        arc = np.arccos(1 - share)
        start, end = (none, arc) if self.part == UP else (np.pi - arc, none + np.pi)
        return start, end

    def cells(self):
        """Ends of the cells along each round end, as angles of the edge from the axis."""
        top = np.arccos(1 - np.minimum(self.a_p, self.r) / self.r)
        half = self.d / 2 if self.part == SLOT else self.width / 2
        split = np.arcsin(np.clip(1 - (self.d / 2 - half) / self.r, 0, 1))
        split = np.minimum(split, top)[:, None]
        first = split * np.linspace(0, 1, CELLS[0] + 1) ** 2
        second = split + (top[:, None] - split) * np.linspace(0, 1, CELLS[1] + 1) ** 2
        return np.concatenate([first, second[:, 1:]], 1)

    def on_round(self, kappa, row):
        r = self.r[row]
        return self.d[row] / 2 - r + r * np.sin(kappa), r * (1 - np.cos(kappa))

    def corner(self, tip, row, feed, touch):
        """The rounded part of an edge: where it enters and leaves is looked for in each cell."""
        ends = self.cells()[row]
        lag = self.lag[row][:, None]
        wide = np.broadcast_to(row[:, None], ends.shape)

        def inside(kappa, row, tip):
            """How far behind its start and before its end a place on the edge is."""
            radius, height = self.on_round(kappa, row)
            phi = tip - self.lag[row] * height
            start, end = self.window(radius, row)
            return np.stack([phi - start, end - phi])

        g = inside(ends, wide, tip[:, None])
        from_, to = ends[:, :-1].copy(), ends[:, 1:].copy()
        a, b = g[:, :, :-1], g[:, :, 1:]
        out = ((a <= 0) & (b <= 0)).any(0)
        for side in (0, 1):
            at = np.nonzero(((a[side] > 0) != (b[side] > 0)) & ~out)
            lo, hi, of = ends[:, :-1][at], ends[:, 1:][at], (row[at[0]], tip[at[0]])
            rising = b[side][at] > 0
            # Halved and by false position in turn: it may meet the window at a flat angle.
            g_lo, g_hi = a[side][at], b[side][at]
            for step in range(22):
                share = g_lo / (g_lo - g_hi) if step % 2 else 0.5
                mid = lo + share * (hi - lo)
                g_mid = inside(mid, *of)[side]
                low = (g_mid > 0) == (g_lo > 0)
                lo, g_lo = np.where(low, mid, lo), np.where(low, g_mid, g_lo)
                hi, g_hi = np.where(low, hi, mid), np.where(low, g_hi, g_mid)
            from_[at] = np.where(rising, np.maximum(from_[at], mid), from_[at])
            to[at] = np.where(rising, to[at], np.minimum(to[at], mid))
        long = np.where(out, 0.0, np.maximum(to - from_, 0.0))
        total = np.zeros((4, tip.size))
        k, e = self.cut[row].T * feed, self.edge[row].T * touch
        for g_at in G:
            kappa = from_ + g_at * long
            radius, height = self.on_round(kappa, wide[:, 1:])
            phi = tip[:, None] - lag * height
            s, c, sk, ck = np.sin(phi), np.cos(phi), np.sin(kappa), np.cos(kappa)
            f = [k[i][:, None] * sk * s + e[i][:, None] for i in range(3)]
            inward, axial = f[1] * sk + f[2] * ck, f[2] * sk - f[1] * ck
            w = 0.5 * long * self.r[row][:, None]
            total += np.stack([(w * v).sum(1) for v in (
                -f[0] * c - inward * s, f[0] * s - inward * c, axial, f[0] * radius)])
        return total

    def end_edge(self, tip, row, touch):
        """The end edge: at the tip of a tooth whatever its chip."""
        radius = self.d[row] / 2 - self.r[row]
        start, end = self.window(radius, row) if self.round else (self.start[row], self.end[row])
        on = (tip > start) & (tip < end)
        along, axial = self.tip[row].T * np.where(on, touch, 0.0)
        return np.stack([-along * np.cos(tip), along * np.sin(tip), axial, along * radius])

    # --- over a turn ---------------------------------------------------------------------------

    def at(self, theta):
        """x, y, axial force and torque at the angles theta, so many a row."""
        shape = theta.shape
        row = np.repeat(np.arange(self.count), shape[1])
        flat = theta.ravel()
        total = np.zeros((4, flat.size))
        turns = int(np.ceil((self.lag * self.a_p).max() / TURN)) + 1
        for q in range(self.z):
            first = (flat - q * TURN / self.z) % TURN
            feed, touch = self.feeds[row, q], self.touch[row, q]
            some = np.nonzero((feed > 0) & (self.tip[row] != 0).any(1))[0]
            total[:, some] += self.end_edge(first[some], row[some], touch[some])
            for turn in range(turns):
                tip = first + turn * TURN
                # Its end has come in, and its top has not gone out.
                met = (tip > 0) & (tip < np.pi + (self.lag * self.a_p)[row]) & (feed > 0)
                some = np.nonzero(met)[0]
                of = tip[some], row[some], feed[some], touch[some]
                total[:, some] += self.flank(*of)
                if self.round:
                    total[:, some] += self.corner(*of)
        return total.reshape(4, *shape)

    def mean_torque(self):
        """About the axis, N mm: the helix has no part in it."""
        arc = lambda start, end: (np.cos(start) - np.cos(end), end - start)
        sin, one = arc(self.start, self.end)
        depth = self.a_p - np.minimum(self.r, self.a_p)
        chip = depth * self.cut[:, 0] * sin * self.d / 2
        edge = depth * self.edge[:, 0] * one * self.d / 2
        tip = self.tip[:, 0] * one * self.d / 2
        if self.round:
            ends, row = self.cells(), np.arange(self.count)[:, None]
            for x, w in zip(*np.polynomial.legendre.leggauss(20)):
                kappa = ends[:, :-1] + 0.5 * (x + 1) * np.diff(ends)
                wide = np.broadcast_to(row, kappa.shape)
                radius, _ = self.on_round(kappa, wide)
                sin, one = arc(*self.window(radius, wide))
                db = 0.5 * w * np.diff(ends) * self.r[:, None] * radius
                chip = chip + (db * sin * np.sin(kappa)).sum(1) * self.cut[:, 0]
                edge = edge + (db * one).sum(1) * self.edge[:, 0]
            at_tip = self.d / 2 - self.r
            _, one = arc(*self.window(at_tip, row[:, 0]))
            tip = self.tip[:, 0] * one * at_tip
        worked = np.where(self.feeds > 0, self.touch, 0.0).sum(1)
        return (chip * self.feeds.sum(1) + (edge + tip) * worked) / TURN

    def walls(self):
        """The force off the walls cut up and cut down, at the bottom and at the top."""
        lead = self.lag * self.a_p
        theta = np.stack([0 * lead + INSIDE, lead + INSIDE,
                          0 * lead + np.pi - INSIDE, lead + np.pi - INSIDE], 1)
        return self.at(theta)[1] * [-1, -1, 1, 1]

    def kinks(self, teeth, period):
        """Angles within a period at which an end of an edge enters or leaves, ascending."""
        lead, row = self.lag * self.a_p, np.arange(self.count)
        kinks = [self.start + lead, self.end + lead, self.start, self.end]
        if self.round:
            # Where the arc narrows fast a load has crests that are narrow, too.
            ends = self.cells()
            for place in (0, *range(CELLS[0], sum(CELLS) + 1, 3)):
                radius, height = self.on_round(ends[:, place], row)
                kinks += [at + self.lag * height for at in self.window(radius, row)]
        kinks = np.stack([k + q * TURN / self.z for k in kinks for q in range(teeth)], 1)
        return np.sort(kinks % period, 1)

    def peaks(self):
        """The most of lateral force, torque, lift and force along the feed over a turn."""
        teeth = self.z if (self.tir > 0).any() else 1
        period = TURN if teeth > 1 else TURN / self.z
        k, looked, rounds = CLOSELY[self.round]
        kinks = self.kinks(teeth, period)
        kinks = np.concatenate([kinks, kinks[:, :1] + period], 1)
        long = np.diff(kinks) - 2 * INSIDE
        place = 0.5 * (1 - np.cos(np.pi * np.arange(k) / (k - 1)))
        theta = kinks[:, :-1, None] + INSIDE + np.maximum(long, 0)[:, :, None] * place
        real = np.broadcast_to((long > 0)[:, :, None], theta.shape)
        flat = theta.reshape(self.count, -1)
        loads = np.where(real.reshape(flat.shape), self.at(flat), -np.inf)
        measures = [lambda f: np.hypot(f[0], f[1]), lambda f: f[3], lambda f: f[2], lambda f: f[0]]
        every = np.arange(self.count)
        tops = []
        for measure in measures:
            v = np.where(real.reshape(flat.shape), measure(loads), -np.inf).reshape(theta.shape)
            best = v.max((1, 2))
            # The top of the parabola through the best sample of each stretch ranks it.
            i = np.clip(v.argmax(2), 1, k - 2)
            take = lambda a, j: np.take_along_axis(a, j[:, :, None], 2)[:, :, 0]
            x0, x1, x2 = (take(theta, i + j) for j in (-1, 0, 1))
            y0, y1, y2 = (take(v, i + j) for j in (-1, 0, 1))
            with np.errstate(divide="ignore", invalid="ignore"):
                rise, fall = (y1 - y0) / (x1 - x0), (y2 - y1) / (x2 - x1)
                bend = (fall - rise) / (x2 - x0)
                slope = rise + bend * (x1 - x0)
                at = x1 - slope / (2 * bend)
                peaked = (bend < 0) & (at > x0) & (at < x2)
                height = np.where(peaked & ~self.round, y1 - slope**2 / (4 * bend), v.max(2))
            for which in np.argsort(-height, 1)[:, :looked].T:
                low, high = x0[every, which], x2[every, which]
                for _ in range(rounds):
                    fine = low[:, None] + (high - low)[:, None] * np.linspace(0, 1, 9)
                    w = measure(self.at(fine))
                    w = np.where((high > low)[:, None], w, -np.inf)
                    best = np.maximum(best, w.max(1))
                    j = w.argmax(1)
                    low, high = fine[every, np.maximum(j - 1, 0)], fine[every, np.minimum(j + 1, 8)]
            tops.append(np.maximum(best, 0))
        return np.stack(tops, 1)
