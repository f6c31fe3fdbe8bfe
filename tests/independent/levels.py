"""A brute-force planner: every number of levels and every width of a grid, by the program's limits.

For random slots and pockets it asks the program for a plan, then works the roughing pass of it out
at each place of a grid with `feeds cut --json`, and times each by plain polygons (`features.py`).
Prints the worst ratio of our time to the shortest that RUNs, and fails where ours is over 5 % more.

    python3 levels.py PATH_OF_FEEDS [HOW_MANY]
"""
import json
import os
import random
import subprocess
import sys
import tempfile

from features import clearing, loops

FEEDS = os.path.abspath(sys.argv[1])
COUNT = int(sys.argv[2]) if len(sys.argv) > 2 else 6
SHARED = ["stock=1095", "condition=annealed", "machine=bench-5000", "hold=vise", "grip=4mm",
          "height=3mm", "clamp-force=5kN"]
# Light width has loops in a slot; the planner tries so many widths of the diameter.
WIDTHS = [0.5, 0.4, 0.3, 0.25, 0.2, 0.15, 0.1, 0.05, 0.025]
MOST_LEVELS = 80
ALLOWED = 1.05


def feeds(*words):
    made = subprocess.run([FEEDS, *words], capture_output=True, text=True, check=False)
    if made.returncode > 1:
        raise SystemExit(f"{words}: {made.stderr}")
    return made.stdout


def mm(text):
    return float(text.split()[0])


def drawn(rng):
    """A feature as it is typed, and as `features.py` has it."""
    if rng.random() < 0.5:
        width, depth = rng.uniform(3.2, 9), rng.uniform(1, 6)
        length = width * rng.uniform(3, 7)
        typed = ["slot", f"width={width:.2f}mm", f"depth={depth:.2f}mm", f"length={length:.2f}mm",
                 "closed=one"]
        return typed, {"outline": "slot", "width": width, "length": length, "ends": 1}, depth
    width, depth = rng.uniform(8, 20), rng.uniform(1, 6)
    length, corner = width * rng.uniform(1.1, 2.5), rng.uniform(1.5, 3.5)
    typed = ["pocket", f"width={width:.2f}mm", f"depth={depth:.2f}mm", f"length={length:.2f}mm",
             f"corner={corner:.2f}mm"]
    return typed, {"outline": "rectangle", "width": width, "length": length}, depth


def way(shape, how, width):
    shape = dict(shape, a_e=width)
    if shape["outline"] == "slot":
        return loops(shape) if how == "light" else clearing(dict(shape, width=shape["d"]))
    return clearing(shape)


def minutes(entries, shape, how, width, levels, whole):
    """How long the level ways take, or nothing where it does not RUN."""
    words = [f"--{key}={text}" for key, text in entries.items()]
    words.append(f"--depth={whole / levels:.4f}mm")
    if how != "slot":
        words.append(f"--width={width:.4f}mm")
    answer = json.loads(feeds("cut", *words, "--json"))
    if answer["verdict"] != "RUN":
        return None
    return levels * way(shape, how, width) / answer["feed_speed"]["value"]


def compared(typed, shape):
    """Ours over the best of the grid, for the roughing pass of the plan."""
    feeds("job", "new", "f.json", "f", *SHARED)
    plan = json.loads(feeds("feature", "f.json", *typed, "--json"))["features"][0]["plans"][0]
    job = json.load(open("f.json", encoding="utf-8"))
    os.remove("f.json")
    if plan["verdict"] != "RUN":
        return None
    rough = job["passes"][0]
    entries = {key: rough[key] for key in ("cutter", "stick-out", "path", "entry", "helix-hole",
                                           "tolerance", "wall", "wall-radius") if key in rough}
    entries.update(dict(pair.split("=") for pair in SHARED))
    first = plan["passes"][0]
    d, left = first_number(rough["cutter"]), first["left_wall"]["value"]
    shape = dict(shape, d=d, left=left)
    levels, whole = first["levels"], mm(rough.get("depth-in-all", rough["depth"]))
    how = {"slot": "slot", "side": "light"}.get(rough["path"], "pocket")
    width = mm(rough["width"]) if "width" in rough else d
    ours = minutes(entries, shape, how, width, levels, whole)
    if ours is None:
        return None
    best = ours, levels, width
    for share in [None] if how == "slot" else WIDTHS:
        wide = d if share is None else share * d
        for count in range(1, min(2 * levels + 6, MOST_LEVELS)):
            time = minutes(entries, shape, how, wide, count, whole)
            if time is not None and time < best[0]:
                best = time, count, wide
            if time is not None and count > levels + 3:
                break
    return ours / best[0], (levels, width), best[1:], rough["cutter"]


def first_number(cutter):
    """The diameter a cutter of the tables is named by, mm."""
    number, unit = cutter.split()[:2]
    if "/" in number:
        over, under = number.split("/")
        number = float(over) / float(under)
    return float(number) * (25.4 if unit == "in" else 1.0)


def main():
    rng, worst, asked = random.Random(18), 0.0, 0
    with tempfile.TemporaryDirectory() as folder:
        os.chdir(folder)
        os.environ["HOME"] = folder
        os.environ["XDG_DATA_HOME"] = folder
        while asked < COUNT:
            typed, shape, _ = drawn(rng)
            found = compared(typed, shape)
            if found is None:
                continue
            asked += 1
            worst = max(worst, found[0])
            if found[0] > ALLOWED:
                print(f"{found[0]:.3f}: {' '.join(typed)}: ours {found[1]}, best {found[2]}, "
                      f"{found[3]}", flush=True)
    print(f"{asked} features: at most {worst:.3f} of the shortest")
    sys.exit(worst > ALLOWED)


if __name__ == "__main__":
    main()
