"""Volumes a cutter takes out of a block, on fine cells of its own, for `tests/tests/independent`.

One JSON object a line: block [[x, y, z], [x, y, z]], radius, corner, pieces (each `from`, `to` and,
for an arc, `centre` and `sweep`), cell. Answers the volume each piece removes in mm3.

A piece is followed in short steps; every cell keeps the lowest
surface that passes over its middle. Nothing here knows of walls or closed forms."""

import json
import math
import sys

import numpy as np

# mm between two places of a piece; on a ramp a cell keeps the height of the last one over it, which
# is too high by half of what the cutter goes down in a step.
STEP = 0.004


def way(piece):
    """Places of the tip along a piece."""
    start, end = np.array(piece["from"]), np.array(piece["to"])
    if "centre" in piece:
        o = np.array(piece["centre"])
        v = start[:2] - o
        rho, first = math.hypot(*v), math.atan2(v[1], v[0])
        n = max(2, math.ceil(rho * abs(piece["sweep"]) / STEP))
        t = np.linspace(0.0, 1.0, n + 1)
        angle = first + piece["sweep"] * t
        xy = o + rho * np.stack([np.cos(angle), np.sin(angle)], axis=1)
    else:
        n = max(2, math.ceil(float(np.linalg.norm(end - start)) / STEP))
        t = np.linspace(0.0, 1.0, n + 1)
        xy = start[:2] + t[:, None] * (end - start)[:2]
    return xy, start[2] + t * (end - start)[2]


def lift(d, radius, corner):
    e = np.clip(d - (radius - corner), 0.0, corner)
    return corner - np.sqrt(np.maximum(corner * corner - e * e, 0.0))


def answer(problem):
    (x0, y0, z0), (x1, y1, z1) = problem["block"]
    cell = problem["cell"]
    nx, ny = round((x1 - x0) / cell), round((y1 - y0) / cell)
    xs = x0 + (np.arange(nx) + 0.5) * (x1 - x0) / nx
    ys = y0 + (np.arange(ny) + 0.5) * (y1 - y0) / ny
    field = np.full((ny, nx), z1)
    radius, corner = problem["radius"], problem["corner"]
    area = (x1 - x0) / nx * (y1 - y0) / ny
    volumes = []
    for piece in problem["pieces"]:
        before = field.sum()
        for (x, y), z in zip(*way(piece)):
            i0, i1 = np.searchsorted(xs, [x - radius, x + radius])
            j0, j1 = np.searchsorted(ys, [y - radius, y + radius])
            if i0 == i1 or j0 == j1:
                continue
            d2 = (xs[i0:i1] - x)[None, :] ** 2 + (ys[j0:j1] - y)[:, None] ** 2
            block = field[j0:j1, i0:i1]
            inside = d2 <= radius * radius
            if corner == 0.0:
                surface = max(z, z0)
            else:
                surface = np.maximum(z + lift(np.sqrt(d2), radius, corner), z0)
            np.minimum(block, surface, out=block, where=inside)
        volumes.append((before - field.sum()) * area)
    return volumes


for line in sys.stdin:
    print(json.dumps(answer(json.loads(line))), flush=True)
