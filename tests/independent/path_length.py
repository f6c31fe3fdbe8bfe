"""Path lengths and times of NC programmes, worked out apart from the Rust code.

Reads a programme with regular expressions into a list of blocks, runs it in a small machine that
knows nothing but positions, and measures arcs with complex numbers: the centre is the origin, the
angle is the phase of end over start. Nothing here is shared with the project's own reader.

usage: path_length.py FILE...          prints the totals of each file as JSON
       path_length.py --write FILE...  puts them into the "totals" of FILE's .json neighbour
"""
import cmath
import json
import math
import pathlib
import re
import sys

WORD = re.compile(r"([A-Z])\s*(#\d+|\[[^\]]*\]|[-+]?\s*(?:\d[\d ]*\.?[\d ]*|\.\d[\d ]*))")


def clean(line):
    line = re.sub(r"\([^)]*\)", "", line.split(";")[0])
    return line.upper().strip().lstrip("/")


class Machine:
    def __init__(self, text):
        self.lines = [clean(l) for l in re.split(r"\r\n|\n|\r", text)]
        self.p = [None, None, None]
        self.var = {}
        self.mode, self.cycle, self.plane = None, None, 17
        self.inc, self.unit, self.feedmode, self.f = False, 1.0, 94, None
        self.s, self.spin, self.tool = 0.0, False, None
        self.level = 98
        self.hole = {}
        self.z0 = None
        self.arc_abs = False
        self.total = dict(cut_length=0.0, rapid_length=0.0, cut_time=0.0, rapid=0, line=0, arc_cw=0,
                          arc_ccw=0, full_circles=0, helical=0, holes=0, zmin=math.inf)

    def num(self, text):
        text = text.replace(" ", "")
        if text.startswith("#"):
            return self.var[int(text[1:])]
        if text.startswith("["):
            body = re.sub(r"#(\d+)", lambda m: repr(self.var[int(m[1])]), text[1:-1])
            return float(eval(body, {"__builtins__": {}}))
        return float(text)

    def add(self, length, feed, words):
        self.total["cut_length"] += length
        if self.feedmode == 93:
            self.total["cut_time"] += 1.0 / words["F"]
        elif feed:
            self.total["cut_time"] += length / (feed * (self.s if self.feedmode == 95 else 1.0))

    def go(self, target, cutting, words, counted=True):
        steps = [b - a for a, b in zip(self.p, target) if a is not None and b is not None]
        length = math.sqrt(sum(d * d for d in steps))
        start, self.p = self.p, target
        if cutting:
            if counted:
                self.total["line"] += 1
            self.add(length, self.f, words)
            for end in (start[2], target[2]):
                if end is not None:
                    self.total["zmin"] = min(self.total["zmin"], end)
        else:
            if counted:
                self.total["rapid"] += 1
            self.total["rapid_length"] += length

    def arc(self, target, words, clockwise):
        a, b, c = {17: (0, 1, 2), 18: (2, 0, 1), 19: (1, 2, 0)}[self.plane]
        start, end = complex(self.p[a], self.p[b]), complex(target[a], target[b])
        if "R" in words:
            r = words["R"] * self.unit
            half = (end - start) / 2
            if abs(r) < abs(half) - 0.002:
                raise ValueError("the radius cannot reach")
            up = math.sqrt(max(r * r - abs(half) ** 2, 0.0))
            side = 1j if (r > 0) != clockwise else -1j
            centre = start + half + side * half / abs(half) * up
        else:
            ijk = [words.get(k, 0.0) * self.unit for k in "IJK"]
            centre = complex(ijk[a], ijk[b]) + (0 if self.arc_abs else start)
        turn = cmath.phase((end - centre) / (start - centre))
        if clockwise:
            turn = -turn
        if abs(end - start) < 1e-9:
            turn = 2 * math.pi
            self.total["full_circles"] += 1
        elif turn <= 0:
            turn += 2 * math.pi
        radius = (abs(start - centre) + abs(end - centre)) / 2
        rise = target[c] - self.p[c]
        if abs(rise) > 1e-9:
            self.total["helical"] += 1
        self.add(math.hypot(radius * turn, rise), self.f, words)
        self.total["arc_cw" if clockwise else "arc_ccw"] += 1
        self.p = target
        self.total["zmin"] = min(self.total["zmin"], target[2])

    def bore(self, words):
        for k in "ZRQ":
            if k in words:
                self.hole[k] = words[k] * self.unit
        if self.z0 is None:
            self.z0 = self.p[2]
        for _ in range(int(words.get("L", words.get("K", 1)))):
            r, z = self.hole["R"], self.hole["Z"]
            if self.inc:
                r += self.z0
                z += r
            over = [self.p[k] if n not in words else
                    words[n] * self.unit + (self.p[k] if self.inc else 0.0)
                    for k, n in enumerate("XYZ")]
            if self.p[2] < r:
                self.go([self.p[0], self.p[1], r], False, words, False)
            self.go([over[0], over[1], self.p[2]], False, words, False)
            self.go([over[0], over[1], r], False, words, False)
            self.go([over[0], over[1], z], True, words, False)
            if self.cycle in (84, 74, 85, 89):
                self.go([over[0], over[1], r], True, words, False)
            top = max(self.z0, r) if self.level == 98 else r
            self.go([over[0], over[1], top], False, words, False)
            self.total["holes"] += 1

    def block(self, text):
        for slot, value in re.findall(r"#(\d+)\s*=\s*(\[[^\]]*\]|[-+.\d]+)", text):
            self.var[int(slot)] = self.num(value)
        text = re.sub(r"#\d+\s*=\s*(\[[^\]]*\]|[-+.\d]+)", "", text)
        found = [(k, self.num(v)) for k, v in WORD.findall(text)]
        g = [v for k, v in found if k == "G"]
        m = [v for k, v in found if k == "M"]
        words = {k: v for k, v in found if k not in "GM"}
        if 20 in g:
            self.unit = 25.4
        if 21 in g:
            self.unit = 1.0
        for v in g:
            if v in (93, 94, 95):
                self.feedmode = int(v)
            elif v in (90, 91):
                self.inc = v == 91
            elif v in (17, 18, 19):
                self.plane = int(v)
            elif v in (98, 99):
                self.level = int(v)
            elif v == 90.1:
                self.arc_abs = True
            elif v == 91.1:
                self.arc_abs = False
        if "F" in words and 4 not in g:
            self.f = words["F"] * (1.0 if self.feedmode == 93 else self.unit)
        if "S" in words and 4 not in g:
            self.s = words["S"]
        if 4 in g or 10 in g:
            return m, words
        if 28 in g or 30 in g or 53 in g:
            for k, n in enumerate("XYZ"):
                if n in words:
                    self.p[k] = None
            return m, words
        if 92 in g:
            for k, n in enumerate("XYZ"):
                if n in words:
                    self.p[k] = words[n] * self.unit
            return m, words
        for v in g:
            if v in (0, 1, 2, 3):
                self.mode, self.cycle, self.hole, self.z0 = int(v), None, {}, None
            elif v == 80:
                self.cycle, self.hole, self.z0 = None, {}, None
            elif v in (73, 74, 76) or 81 <= v <= 89:
                self.cycle = int(v)
        axes = any(k in words for k in "XYZ")
        if self.cycle:
            if axes:
                self.bore(words)
        elif axes or any(k in words for k in "IJK"):
            target = list(self.p)
            for k, n in enumerate("XYZ"):
                if n in words:
                    base = self.p[k] if self.inc else 0.0
                    target[k] = words[n] * self.unit + (base or 0.0)
            if self.mode in (2, 3):
                self.arc(target, words, self.mode == 2)
            elif self.mode is not None:
                self.go(target, self.mode == 1, words)
        return m, words

    def run(self):
        at, stack = 0, []
        while at < len(self.lines):
            text = self.lines[at]
            at += 1
            if re.match(r"O\d+", text):
                text = re.sub(r"^O\d+", "", text)
            loop = re.match(r"(?:N\d+)?\s*WHILE\s*\[(.*)\]\s*DO\s*(\d)", text)
            if loop:
                test = re.sub(r"\bLT\b", "<", re.sub(r"\bGT\b", ">", re.sub(r"\bLE\b", "<=",
                              re.sub(r"\bGE\b", ">=", loop[1]))))
                test = re.sub(r"#(\d+)", lambda v: repr(self.var[int(v[1])]), test)
                end = next(k for k in range(at, len(self.lines))
                           if re.match(r"(?:N\d+)?\s*END\s*" + loop[2], self.lines[k]))
                if not eval(test, {"__builtins__": {}}):
                    at = end + 1
                else:
                    stack.append(("loop", end, at - 1))
                continue
            if re.match(r"(?:N\d+)?\s*END\s*\d", text):
                _, _, head = stack.pop()
                at = head
                continue
            if not text or text.startswith("%"):
                continue
            m, words = self.block(text)
            if 98 in m:
                times = int(words.get("L", 1))
                start = next(k for k, l in enumerate(self.lines)
                             if re.match(r"O0*%d\b" % int(words["P"]), l))
                stack.append(("call", at, times - 1, start + 1))
                at = start + 1
            elif 99 in m and stack:
                _, back, times, start = stack.pop()
                if times:
                    stack.append(("call", back, times - 1, start))
                    at = start
                else:
                    at = back
            elif 2 in m or 30 in m:
                break
        if self.total["zmin"] == math.inf:
            self.total["zmin"] = None
        return self.total


def main():
    names = sys.argv[1:]
    write = names[:1] == ["--write"]
    for name in names[1:] if write else names:
        path = pathlib.Path(name)
        total = Machine(path.read_bytes().decode("latin-1")).run()
        if not write:
            print(json.dumps({path.stem: total}))
            continue
        beside = path.with_suffix(".json")
        expect = json.loads(beside.read_text())
        expect["totals"] = total
        beside.write_text(json.dumps(expect, indent=1) + "\n")


main()
