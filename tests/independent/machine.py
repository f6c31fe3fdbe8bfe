"""A machine that draws moves and has them written down, for `programmes.py`: where the cutter is,
how it moves and what it did. Meanings are those of ISO 6983 as NISTIR 6556 has them."""

import cmath
import math

from written import Writer

INCH = 25.4


class Machine:
    """Where the cutter is, and what it did."""

    def __init__(self, rng):
        self.rng = rng
        self.w = Writer(rng)
        self.at, self.known = [0.0] * 3, [False] * 3
        self.unit, self.inc, self.plane = 1.0, False, 17
        self.mode, self.per, self.feed, self.speed = None, 94, None, 0.0
        self.turns, self.tool, self.arc_abs = False, None, False
        # How far the zero has been moved from the first one.
        self.shift = [0.0] * 3
        self.counter, self.length_on, self.tools_in, self.renewed = False, False, 0, True
        # Some programmes forget their F.
        self.forgets = rng.random() < 0.15
        self.moves = []

    def rate(self, length, f=None):
        if self.per == 93:
            return -f if f else None
        if self.feed is None:
            return None
        return self.feed * (self.spindle() if self.per == 95 else 1.0)

    def spindle(self):
        return self.speed if self.turns else 0.0

    def note(self, line, kind, to, length, cycle=False, f=None, extent=None, arc=None):
        start = [v if k else None for v, k in zip(self.at, self.known)]
        feed = None if kind == 0 else self.rate(length, f)
        self.moves.append(dict(line=line, kind=kind, cycle=int(cycle), start=start, to=list(to),
                               length=length, feed=feed, speed=self.spindle(), tool=self.tool,
                               extent=self.from_first(extent or [self.at, to]), arc=arc,
                               counter=self.counter,
                               length_on=self.length_on,
                               inherits=self.tools_in > 1 and not self.renewed))
        self.at, self.known = list(to), [True] * 3

    def from_first(self, places):
        return [[v + by for v, by in zip(p, self.shift)] for p in places]

    # Settings.

    def start(self):
        r, w = self.rng, self.w
        if r.random() < 0.3:
            w.lines.append("%")
        if r.random() < 0.3:
            w.lines.append(f"O{r.randrange(1, 9999):04d}")
        self.unit = r.choice([1.0, 1.0, INCH])
        codes = [("G", 21 if self.unit == 1.0 else 20, True), ("G", 90, True), ("G", 54, True)]
        if r.random() < 0.5:
            codes.append(("G", 17, True))
        if r.random() < 0.3:
            codes.append(("G", 40, True))
        w.block(codes)
        self.change(r.randrange(1, 20))
        self.at_rapid([self.spot(), self.spot(), self.up()])

    def change(self, tool):
        r, w = self.rng, self.w
        if r.random() < 0.5:
            w.block([("T", tool, True)])
            w.block([("M", 6, True)])
        else:
            w.block([("T", tool, True), ("M", 6, True)])
        if tool != self.tool:
            self.tools_in, self.length_on, self.renewed = self.tools_in + 1, False, False
        self.tool, self.turns = tool, False
        self.speed = float(r.randrange(10, 200) * 50)
        self.counter = r.random() < 0.1
        w.block([("S", self.speed), ("M", 4 if self.counter else 3, True)])
        self.turns = True
        if r.random() < 0.8:
            w.block([("G", 43, True), ("H", tool, True)])
            self.length_on = True

    def spot(self):
        return round(self.rng.uniform(-20, 20), 2)

    def up(self):
        return round(self.rng.uniform(1, 9), 2)

    def axes(self, to, which=None):
        """Axis words from where it is to a place, in the units and the way that are on."""
        out = []
        for k, letter in enumerate("XYZ"):
            changed = abs(to[k] - self.at[k]) > 1e-9 or not self.known[k]
            if changed or (which and letter in which):
                v = to[k] - self.at[k] if self.inc else to[k]
                out.append((letter, v / self.unit))
        return out

    def settle(self, to):
        """The place that is written, to the digits that are written."""
        out = []
        for k in range(3):
            v = to[k] - self.at[k] if self.inc else to[k]
            v = round(v / self.unit, 5) * self.unit
            out.append(v + self.at[k] if self.inc else v)
        return out

    def motion(self, code):
        """The code of a motion, left out where it is on."""
        if self.mode == code and self.rng.random() < 0.6:
            return []
        self.mode = code
        return [("G", code, True)]

    def feeds(self, words, cut=True):
        """Sometimes another feed; always one under G93, and at the first cut."""
        r = self.rng
        if self.per == 93:
            f = round(r.uniform(0.5, 20), 2)
            words.append(("F", f))
            self.renewed = True
            return f
        if self.feed is None and self.forgets and r.random() < 0.5:
            return None
        if cut and (self.feed is None or r.random() < 0.25):
            f = round(r.uniform(5, 900), 1) if self.per == 94 else round(r.uniform(0.02, 0.4), 3)
            if self.unit == INCH:
                f = round(f / 25, 4)
            self.feed, self.renewed = f * self.unit, True
            words.append(("F", f))
        return None

    # Moves.

    def at_rapid(self, to):
        to = self.settle(to)
        words = self.axes(to)
        if not words:
            return
        line = self.w.block(self.motion(0) + words)
        steps = [b - a for a, b, k in zip(self.at, to, self.known) if k]
        self.note(line, 0, to, math.sqrt(sum(d * d for d in steps)))

    def line(self):
        r = self.rng
        to = list(self.at)
        for k in r.sample(range(3), r.choice([1, 2, 2, 3])):
            to[k] = self.spot() if k < 2 else round(r.uniform(-5, 1), 3)
        to = self.settle(to)
        words = self.axes(to)
        if not words:
            return
        words = self.motion(1) + words
        f = self.feeds(words)
        if r.random() < 0.05:
            self.speed = float(r.randrange(10, 200) * 50)
            words.append(("S", self.speed))
        line = self.w.block(words)
        self.note(line, 1, to, math.dist(self.at, to), f=f)

    def arc(self):
        r = self.rng
        a, b, c = {17: (0, 1, 2), 18: (2, 0, 1), 19: (1, 2, 0)}[self.plane]
        cw = r.random() < 0.5
        radius = round(r.uniform(0.5, 12) if r.random() < 0.6 else r.uniform(0.5, 4), 2)
        start = complex(self.at[a], self.at[b])
        first = r.uniform(0, 2 * math.pi)
        centre = start - cmath.rect(radius, first)
        turn = 2 * math.pi if r.random() < 0.15 else r.uniform(0.05, 6.1)
        end = centre + cmath.rect(radius, first - turn if cw else first + turn)
        if turn == 2 * math.pi:
            end = start
        to = list(self.at)
        to[a], to[b] = end.real, end.imag
        if r.random() < 0.3:
            to[c] = round(to[c] + r.uniform(-1, 1), 3)
        to = self.settle(to)
        if turn == 2 * math.pi:
            to[a], to[b] = self.at[a], self.at[b]
        end = complex(to[a], to[b])
        words = self.motion(2 if cw else 3) + self.axes(to)
        by_radius = turn < 6 and abs(turn - math.pi) > 0.05 and turn > 0.3 and r.random() < 0.35
        if by_radius:
            size = round(radius / self.unit, 5) * (1 if turn < math.pi else -1)
            words.append(("R", size))
            chord = abs(end - start)
            up = math.sqrt(max((size * self.unit) ** 2 - chord * chord / 4, 0.0))
            # To the left of the chord for a short arc counter-clockwise and a long one clockwise.
            left = (turn < math.pi) != cw
            n = 1j * (end - start) / chord
            centre = (start + end) / 2 + (n if left else -n) * up
        else:
            o = [centre.real, centre.imag]
            if not self.arc_abs:
                o = [o[0] - start.real, o[1] - start.imag]
            o = [round(v / self.unit, 5) for v in o]
            words += [("IJK"[a], o[0]), ("IJK"[b], o[1])]
            centre = complex(*o) * self.unit + (0 if self.arc_abs else start)
        f = self.feeds(words)
        line = self.w.block(words)
        if turn == 2 * math.pi:
            sweep = turn
        else:
            sweep = cmath.phase((end - centre) / (start - centre)) * (-1 if cw else 1)
            sweep = sweep % (2 * math.pi)
        rho = (abs(start - centre) + abs(end - centre)) / 2
        length = math.hypot(rho * sweep, to[c] - self.at[c])
        # Where it goes farthest: the quarters it passes.
        extent = [list(self.at), list(to)]
        begun = cmath.phase(start - centre)
        for quarter in range(4):
            angle = quarter * math.pi / 2
            passed = ((begun - angle) if cw else (angle - begun)) % (2 * math.pi)
            if passed <= sweep:
                p = centre + cmath.rect(rho, angle)
                q = list(to)
                q[a], q[b] = p.real, p.imag
                extent.append(q)
        self.note(line, 2 if cw else 3, to, length, f=f, extent=extent,
                  arc=((a, b, c), centre, rho, -sweep if cw else sweep))

    def holes(self):
        """Holes along the axis that stands on the plane."""
        r, w = self.rng, self.w
        if self.per != 94:
            return
        a, b, c = {17: (0, 1, 2), 18: (2, 0, 1), 19: (1, 2, 0)}[self.plane]
        cycle = r.choice([81, 82, 83, 73, 85, 86, 89])
        level = r.choice([98, 99])
        if self.inc:
            r_word, z_word = -r.uniform(0.5, 2) / self.unit, -r.uniform(1, 4) / self.unit
        else:
            r_word, z_word = r.uniform(0.5, 3) / self.unit, -r.uniform(1, 6) / self.unit
        r_word, z_word = round(r_word, 3), round(z_word, 3)
        before = self.at[c]
        r_at = r_word * self.unit + (before if self.inc else 0.0)
        z_at = z_word * self.unit + (r_at if self.inc else 0.0)
        top = max(before, r_at) if level == 98 else r_at
        self.mode = None
        for k in range(r.randrange(1, 4)):
            to = list(self.at)
            to[a], to[b] = self.spot(), self.spot()
            to = self.settle(to)
            words = [("XYZ"[i], ((to[i] - self.at[i]) if self.inc else to[i]) / self.unit)
                     for i in (a, b)]
            if k == 0:
                words += [("G", cycle, True), ("G", level, True), ("XYZ"[c], z_word), ("R", r_word)]
                if cycle in (73, 83):
                    words.append(("Q", 0.5))
                if cycle in (82, 89):
                    words.append(("P", 0.2))
                self.feeds(words)
            times = r.choice([1, 1, 1, 2, 3]) if self.inc else 1
            if times > 1:
                words.append((r.choice("LK"), times, True))
            line = w.block(words)
            by = [to[a] - self.at[a], to[b] - self.at[b]]
            for _ in range(times):
                self.hole(line, (a, b, c), by, (r_at, z_at, top), cycle)
        w.block([("G", 80, True)])

    def hole(self, line, axes, by, heights, cycle):
        """One hole: over it, to the level, down, and out."""
        a, b, c = axes
        r_at, z_at, top = heights

        def leg(kind, height, sideways=False):
            to = list(self.at)
            to[c] = height
            if sideways:
                to[a], to[b] = to[a] + by[0], to[b] + by[1]
            self.leg(line, kind, to)

        if self.at[c] < r_at:
            leg(0, r_at)
        leg(0, self.at[c], True)
        leg(0, r_at)
        leg(1, z_at)
        if cycle in (85, 89):
            leg(1, r_at)
        leg(0, top)

    def leg(self, line, kind, to):
        self.note(line, kind, to, math.dist(self.at, to), cycle=True)

    # What changes a mode.

    def modes(self):
        r, w = self.rng, self.w
        what = r.randrange(8)
        if what == 0:
            self.inc = not self.inc
            w.block([("G", 91 if self.inc else 90, True)])
        elif what == 1:
            self.plane = r.choice([17, 18, 19])
            w.block([("G", self.plane, True)])
        elif what == 2:
            self.per = r.choice([93, 94, 95])
            self.feed = None
            w.block([("G", self.per, True)])
        elif what == 3:
            self.arc_abs = not self.arc_abs
            w.block([("G", 90.1 if self.arc_abs else 91.1, True)])
        elif what == 4:
            w.block([("G", 4, True), ("P", 0.5)])
        elif what == 5:
            to = [round(r.uniform(-9, 9), 2) for _ in range(3)]
            which = r.sample(range(3), r.randrange(1, 4))
            words = [("XYZ"[k], round(to[k] / self.unit, 5)) for k in which]
            w.block([("G", 92, True)] + words)
            for k in which:
                new = round(to[k] / self.unit, 5) * self.unit
                self.shift[k] += self.at[k] - new
                self.at[k] = new
        elif what == 6:
            w.block([("M", r.choice([8, 9, 7]), True)])
        elif r.random() < 0.5:
            self.turns = False
            w.block([("M", 5, True)])
            self.speed = float(r.randrange(10, 200) * 50)
            w.block([("S", self.speed), ("M", 3, True)])
            self.turns, self.counter = True, False

    def home(self):
        """To the reference point: from there on those axes are not known."""
        r = self.rng
        which = r.sample(range(3), r.randrange(1, 4))
        inc, self.inc = self.inc, False
        words = [("XYZ"[k], 0.0) for k in which]
        self.w.block([("G", r.choice([28, 30]), True), ("G", 91, True)] + words)
        self.w.block([("G", 90, True)])
        for k in which:
            self.known[k] = False
        self.at_rapid([self.spot(), self.spot(), self.up()])
        if inc:
            self.inc = True
            self.w.block([("G", 91, True)])

    def loop(self):
        """The same moves again and again: a line that parameters place."""
        r, w = self.rng, self.w
        if self.inc or self.per == 93 or self.feed is None:
            return
        n, step = r.randrange(0, 5), round(r.uniform(0.5, 3), 2)
        unit = self.unit
        # The last way goes round once at least.
        way = r.randrange(4) if n else r.randrange(3)
        w.block([], "#1=0")
        if way == 0:
            w.block([], f"WHILE [#1 LT {n}] DO1")
        elif way == 1:
            w.block([], f"O100 while [#1 lt {n}]")
        elif way == 2:
            w.block([], f"O101 repeat [{n}]")
        else:
            w.number += 1
            label = 9000 + len(w.lines)
            w.lines.append(f"N{label} (again)")
        line = w.block([("G", 1, True)], f" X[#1*{step}+1.5] Y[-#1]")
        w.block([], "#1=[#1+1]")
        if way == 0:
            w.block([], "END1")
        elif way == 1:
            w.block([], "O100 endwhile")
        elif way == 2:
            w.block([], "O101 endrepeat")
        else:
            w.block([], f"IF [#1 LT {n}] GOTO {label}")
        self.mode = 1 if n else self.mode
        for k in range(n):
            to = [(k * step + 1.5) * unit, -k * unit, self.at[2]]
            self.note(line, 1, to, math.dist(self.at, to))

    def call(self):
        """A subprogram with steps, behind the end of the programme."""
        r, w = self.rng, self.w
        if self.per == 93 or self.feed is None:
            return
        number, times = r.randrange(200, 999), r.choice([1, 2, 3])
        if any(number == s[0] for s in self.subs):
            return
        inc, self.inc = self.inc, True
        step = [round(r.uniform(-2, 2), 2) for _ in range(2)]
        words = [("M", 98, True), ("P", number, True)]
        w.block(words + ([("L", times, True)] if times > 1 else []))
        self.subs.append((number, step))
        self.mode = 1
        for _ in range(times):
            to = [self.at[0] + step[0] * self.unit, self.at[1] + step[1] * self.unit, self.at[2]]
            # Its line is known when it is written.
            self.note(("sub", number), 1, to, math.dist(self.at, to))
        if not inc:
            self.inc = False
            w.block([("G", 90, True)])

    def run(self):
        r = self.rng
        self.subs = []
        self.start()
        for _ in range(r.randrange(6, 16)):
            kind = r.random()
            if kind < 0.3:
                self.line()
            elif kind < 0.58:
                self.arc()
            elif kind < 0.7:
                self.modes()
            elif kind < 0.78:
                z = round(r.uniform(-4, 3), 2) if r.random() < 0.4 else self.at[2]
                self.at_rapid([self.spot(), self.spot(), z])
            elif kind < 0.84:
                self.holes()
            elif kind < 0.88:
                self.home()
            elif kind < 0.93:
                self.loop()
            elif kind < 0.97:
                self.call()
            else:
                self.change(r.randrange(1, 20))
        self.w.block([("M", r.choice([2, 30]), True)])
        lines = {}
        for number, step in self.subs:
            self.w.lines.append(f"O{number}")
            self.w.lines.append("G91 G1 X%.2f Y%.2f" % tuple(step))
            lines[number] = len(self.w.lines)
            self.w.lines.append("M99")
        for move in self.moves:
            if isinstance(move["line"], tuple):
                move["line"] = lines[move["line"][1]]
        return self.w.text()
