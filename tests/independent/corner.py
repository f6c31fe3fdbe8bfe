"""Largest engagement in a sharp right-angled inside corner, by a cloud of points on the cutter's
circle: a point is engaged if neither the cutter before nor this one's own way has cleared it.
Written apart from the formulas; its figures are cases EN-17 to EN-24 of
cases/formula/engagement-and-surface.json.
"""

from math import cos, pi, sin


def largest(radius, width, before, points=3600, steps=150):
    """Engaged angle in degrees: cutter radius, width of cut, radius of the cutter before."""
    stride = 0.002 * radius
    centre = width + before  # of the rounding the cutter before has left
    ways = [0.5 * radius * k / steps for k in range(steps, -1, -1)]
    path = [(radius, radius + way, False) for way in ways]
    path += [(radius + way, radius, True) for way in reversed(ways[:-1])]
    just = radius * (1 - 1e-9)
    circle = [(cos(2 * pi * k / points) * just, sin(2 * pi * k / points) * just)
              for k in range(points)]
    reach = radius * radius * (1 - 1e-9)
    most = 0
    for x0, y0, turned in path:
        count = 0
        for dx, dy in circle:
            x, y = x0 + dx, y0 + dy
            rounding = x < centre and y < centre
            rounded = rounding and (x - centre) ** 2 + (y - centre) ** 2 > before * before
            if x > width and y > width and not rounded:
                continue
            down_to = radius if turned else y0 + stride
            if (x - radius) ** 2 + (y - max(y, down_to)) ** 2 < reach:
                continue
            if turned:
                along = min(max(x, radius), max(radius, x0 - stride))
                if (x - along) ** 2 + (y - radius) ** 2 < reach:
                    continue
            count += 1
        most = max(most, count)
    return most * 360 / points


if __name__ == "__main__":
    for width, before in [(0.1, 3), (0.1, 4), (0.05, 5), (0.1, 6), (0.5, 2), (0.1, 1.3),
                          (0.1, 0.8), (0.9, 1.5)]:
        print(f"R 1, a_e {width}, R_p {before}: {largest(1, width, before):.1f} deg")
