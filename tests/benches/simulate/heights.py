"""The same programme carried out with numpy: heights alone, nearest node, one block of
nodes a move. Prints the processor time a move takes, engagement and removal, in seconds."""

import math
import sys
import time

import numpy as np

R, X, Y, DEPTH, STATIONS = 1.5, 40.0, 20.0, 10.0, 3


def moves():
    for level in (1, 2):
        z, v = -level * DEPTH * 0.4, -R + 0.15
        while v < Y - 3.5:

            def place(i):
                s = 3 + i * 0.25
                return s, v + 0.3 * math.sin(s * 0.3)

            for i in range(int((X - 6.0) / 0.25)):
                yield (*place(i), *place(i + 1), z)
            v += 0.15


def main(cell, most):
    xs, ys = np.arange(-0.2, X + 0.2 + cell, cell), np.arange(-0.2, Y + 0.2 + cell, cell)
    field = np.full((len(ys), len(xs)), -DEPTH, np.float32)
    field[np.ix_((ys >= 0) & (ys <= Y), (xs >= 0) & (xs <= X))] = 0.0
    phi = np.linspace(0, math.pi, 33)
    sin, cos = np.sin(phi), np.cos(phi)
    total, count = 0.0, 0
    begin = time.process_time()
    for ax, ay, bx, by, z in moves():
        if count == most:
            break
        count += 1
        dx, dy = bx - ax, by - ay
        length = math.hypot(dx, dy)
        ux, uy = dx / length, dy / length
        t = (np.arange(STATIONS) + 0.5) / STATIONS
        px = (ax + dx * t)[:, None] + R * (sin * ux - cos * uy)
        py = (ay + dy * t)[:, None] + R * (sin * uy + cos * ux)
        i, j = np.rint((px + 0.2) / cell).astype(int), np.rint((py + 0.2) / cell).astype(int)
        ok = (i >= 0) & (j >= 0) & (i < len(xs)) & (j < len(ys))
        at = field[np.clip(j, 0, len(ys) - 1), np.clip(i, 0, len(xs) - 1)]
        depth = np.where(ok, at - z, 0).clip(0)
        total += float((depth * R * sin).sum() * math.pi / 32)
        i0, i1 = np.searchsorted(xs, [min(ax, bx) - R, max(ax, bx) + R])
        j0, j1 = np.searchsorted(ys, [min(ay, by) - R, max(ay, by) + R])
        gx, gy = xs[i0:i1][None, :] - ax, ys[j0:j1][:, None] - ay
        q = np.clip(gx * ux + gy * uy, 0, length)
        inside = (gx - q * ux) ** 2 + (gy - q * uy) ** 2 <= R * R
        block = field[j0:j1, i0:i1]
        np.minimum(block, np.float32(z), out=block, where=inside)
    print((time.process_time() - begin) / count)


if __name__ == "__main__":
    main(float(sys.argv[1]), int(sys.argv[2]))
