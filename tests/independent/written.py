"""Words of a programme as text, each in one of the ways that mean the same, for `programmes.py`."""


class Writer:
    """Words as text, each in one of the ways that are the same."""

    def __init__(self, rng):
        self.rng = rng
        self.lines, self.number = [], 0
        self.numbered = rng.random() < 0.4
        self.lower = rng.random() < 0.15
        self.apart = rng.choice([" ", " ", "", "  "])
        self.end = rng.choice(["\n", "\n", "\r\n"])

    def value(self, v):
        r = self.rng
        text = f"{v:.5f}".rstrip("0").rstrip(".")
        if text in ("-0", ""):
            text = "0"
        kind = r.random()
        if kind < 0.1 and "." not in text:
            text += "."
        elif kind < 0.2 and "." in text:
            text += "0"
        elif kind < 0.25 and not text.startswith("-"):
            text = "+" + text
        elif kind < 0.3 and text.startswith("0."):
            text = text[1:]
        elif kind < 0.35 and text[0].isdigit():
            text = "0" + text
        elif kind < 0.4:
            text = self.expression(v)
        return text

    def expression(self, v):
        """Brackets that come to a value."""
        r = self.rng
        a = round(r.uniform(1, 9), 2)
        way = r.randrange(8)
        if way == 0:
            return f"[{v - a:.6f}+{a}]"
        if way == 1:
            return f"[{a} - {a - v:.6f}]"
        if way == 2:
            return f"[{v / a:.9f}*{a}]"
        if way == 3:
            return f"[[{v * a:.9f}]/{a}]"
        if way == 4:
            return f"[{v:.5f}+SQRT[{a * a:.6f}]-{a}]"
        if way == 5:
            return f"[{v:.5f}+{a}*SIN[30]-{a / 2:.4f}]"
        if way == 6:
            return f"[{v:.5f}+2**3-4*2]"
        return f"[{v:.5f}+COS[60]-[0.25+0.25]*1]"

    def word(self, letter, v, code=False):
        r = self.rng
        if code:
            whole = f"{v:g}"
            if "." not in whole and len(whole) == 1 and r.random() < 0.4:
                whole = "0" + whole
            text = letter + whole
        else:
            text = letter + (" " if r.random() < 0.05 else "") + self.value(v)
        return text.lower() if self.lower and "[" not in text else text

    def block(self, words, raw=""):
        """Words in any order; gives the number of the line."""
        r = self.rng
        texts = [self.word(*w) for w in words]
        r.shuffle(texts)
        text = self.apart.join(texts) + raw
        if self.numbered and not raw.startswith("O"):
            self.number += r.choice([1, 5, 10])
            text = f"N{self.number}{self.apart}" + text
        if r.random() < 0.08:
            text += r.choice(["(a cut)", " ; a note G1 X9", "(x1 g2)"])
        if r.random() < 0.03 and not raw:
            text = "/" + text
        self.lines.append(text)
        if r.random() < 0.05:
            self.lines.append(r.choice(["", "(between)", "; between"]))
            return len(self.lines) - 1
        return len(self.lines)

    def text(self):
        return self.end.join(self.lines) + self.end
