"""The editor as a person uses it: a real pointer and real keys on a virtual screen, held against the design that is saved.

Pictures of every step are kept in $OUTSIDE_DATA/editor, to be looked at.
"""

import json
import os
import shutil
import signal
import subprocess
import tempfile
import time
import tomllib
from fractions import Fraction
from pathlib import Path

import numpy
from screen import Screen, ticks

# Plain white, and one ball of a colour that nothing else has: 40 mm wide, 60 mm right of the middle of the top.
DESIGN = """title = "trial"
unit = "mm"
[board]
size = 300
[finish.pink]
color = "#e0108c"
[[tier]]
name = "base"
size = 200
height = 100
[[piece]]
name = "ball"
kind = "ball"
seat = { on = "base", surface = "top" }
at = { x = 60, z = 0 }
size = 40
finish = "pink"
"""
WIDE = 40.0
FROM = 60.0
# Snapping is held off; what is left is the pixel that the pointer stands on, and the perspective.
TOLERANCE = 6.0


class Editor:
    """The program on a screen, with a design of its own."""

    def __init__(self, text=DESIGN):
        self.home = Path(tempfile.mkdtemp())
        self.design = self.home / "trial"
        self.design.mkdir()
        (self.design / "cake.toml").write_text(text)
        self.screen = Screen()
        self.shots = Path(os.environ["OUTSIDE_DATA"]) / "editor"
        self.shots.mkdir(parents=True, exist_ok=True)
        self.count = 0
        self.start()

    def start(self):
        words = [os.environ["TIERPROOF"], "edit", self.design]
        self.program = self.screen.run(words, XDG_STATE_HOME=str(self.home / "state"))
        self.screen.focus()
        for _ in range(240):
            if self.ball() is not None or self.program.poll() is not None:
                break
            time.sleep(0.5)
        self.screen.settle(120.0)

    # The first row of the list, and the first button of a message, in a window of 1280 x 800 at 100 %.
    STACK = (24, 124)
    THEIRS = (330, 104)

    def close(self):
        self.program.kill()
        self.program.wait()
        self.screen.close()
        shutil.rmtree(self.home, ignore_errors=True)

    def shot(self, name):
        self.count += 1
        self.screen.save(self.shots / f"{self.count:02}-{name}.png")

    def ball(self):
        """Where the ball is on the screen, and how wide: its middle and its width, px."""
        red, green, blue = (self.screen.pixels()[120:-200, 330:-420, part].astype(int) for part in range(3))
        found = (red > green + 60) & (blue > green + 30) & (red > 70)
        rows, columns = numpy.nonzero(found)
        if len(rows) < 60:
            return None
        low, high = columns.min(), columns.max()
        return (low + high) / 2 + 330, (rows.min() + rows.max()) / 2 + 120, high - low + 1.0

    def saved(self, wait=8.0):
        """The design as it is saved, once the editor had time to."""
        time.sleep(wait)
        return tomllib.loads((self.design / "cake.toml").read_text())

    def at(self, wait=8.0):
        """Where the ball is, mm; nowhere when there is none. A tenth of a millimetre is written with its unit."""
        at = self.saved(wait).get("piece", [{"at": {"x": float("nan")}}])[0]["at"]
        return {axis: float(str(value).removesuffix("mm")) for axis, value in at.items()}


def compare(report):
    editor = Editor()
    try:
        drag_and_undo(report, editor)
        rest(report, editor)
        killed(report, editor)
        others(report, editor)
        leave(report, editor)
    finally:
        editor.close()
    job = Job()
    try:
        whole_job(report, job)
    finally:
        job.close()


def drag_and_undo(report, editor):
    screen = editor.screen
    editor.shot("open")
    # From straight in front a way to the left is a way along x.
    screen.click(640, 330)
    screen.key("1")
    screen.settle()
    editor.shot("front")
    x, y, wide = editor.ball()
    way = 1.5 * wide
    screen.do("keydown", "ctrl")
    screen.drag((x, y), (x - way, y), drop=False)
    editor.shot("dragging")
    screen.do("mouseup", "1")
    screen.do("keyup", "ctrl")
    at = editor.at()
    expected = FROM - way / wide * WIDE
    report.true("the editor", "a ball dragged to the left", abs(at["x"] - expected) < TOLERANCE, f"{at} for {expected:.1f}")
    screen.settle()
    editor.shot("dragged")
    screen.key("ctrl+z")
    report.true("the editor", "undone, it is where it was", editor.at()["x"] == FROM, "")
    screen.key("ctrl+y")
    report.true("the editor", "redone, it is where it was dragged", editor.at() == at, "")
    x, y, wide = editor.ball()
    screen.drag((x, y), (x + wide, y), drop=False)
    screen.key("Escape")
    screen.do("mouseup", "1")
    report.true("the editor", "Escape puts back what is dragged", editor.at() == at, f"{editor.at(0)}")
    before = editor.at(0)
    screen.key("Right", "Right")
    moved = editor.at()["x"] - before["x"]
    report.true("the editor", "two arrows nudge it by two millimetres", abs(moved - 2.0) < 1e-9, f"{moved}")
    screen.key("Delete")
    report.true("the editor", "Delete takes it away", "piece" not in editor.saved(), "")
    screen.key("ctrl+z")
    report.true("the editor", "undo brings it back", editor.at()["x"] == before["x"] + 2.0, "")
    editor.shot("nudged")


def rest(report, editor):
    editor.screen.settle(60.0)
    before = ticks(editor.program)
    time.sleep(10.0)
    used = ticks(editor.program) - before
    report.true("the editor", "at rest it uses less than 1 % of a core", used < 10, f"{used} ticks in 10 s")


def killed(report, editor):
    """A change, and a cut of power before it is saved: the next start has it."""
    screen = editor.screen
    before = editor.at(0)
    # What an undo brought back is not chosen by itself.
    screen.click(*Editor.STACK)
    screen.settle(30.0, 1.0)
    screen.key("Left")
    time.sleep(1.5)
    editor.program.send_signal(signal.SIGKILL)
    editor.program.wait()
    editor.start()
    editor.shot("again")
    moved = before["x"] - editor.at()["x"]
    report.true("the editor", "killed a moment after a change, nothing is lost", abs(moved - 1.0) < 1e-9, f"{moved}")
    second = subprocess.run(
        [os.environ["TIERPROOF"], "check", editor.design], capture_output=True, env=screen.environment, check=False
    )
    report.true("the editor", "what it saved is a design", second.returncode in (0, 1), second.stderr.decode())


def others(report, editor):
    """Another program, and a second window, at the same design: nothing is written over, and the person is told."""
    screen, file = editor.screen, editor.design / "cake.toml"
    screen.settle(60.0)
    before, screens = file.read_text(), Screen()
    try:
        second = screens.run([os.environ["TIERPROOF"], "edit", editor.design], XDG_STATE_HOME=str(editor.home / "other"))
        screens.focus()
        screens.settle(90.0)
        screens.click(*Editor.STACK)
        screens.key("Delete")
        screens.settle(30.0)
        screens.save(editor.shots / "20-second.png")
        second.kill()
        second.wait()
    finally:
        screens.close()
    report.true("the editor", "a second window only looks", file.read_text() == before, "")
    file.write_text(before.replace('title = "trial"', 'title = "theirs"'))
    screen.click(*Editor.STACK)
    screen.key("Left")
    time.sleep(6.0)
    screen.settle(30.0)
    editor.shot("conflict")
    report.true("the editor", "what another wrote is not written over", 'title = "theirs"' in file.read_text(), "")
    # The first button of the message: theirs is taken, as one step.
    screen.click(*Editor.THEIRS)
    screen.settle(30.0)
    editor.shot("theirs")
    screen.key("Left")
    taken = editor.saved()
    report.true("the editor", "theirs is taken, and work goes on", taken["title"] == "theirs", f"{taken['title']}")


def leave(report, editor):
    """The window's own way to close saves and ends."""
    before = editor.at(0)
    editor.screen.click(640, 330)
    x, y, _ = editor.ball()
    editor.screen.click(x, y)
    editor.screen.key("Left")
    editor.screen.ask_to_close()
    try:
        code = editor.program.wait(20.0)
    except subprocess.TimeoutExpired:
        code = None
    report.true("the editor", "closed by its window, it ends", code == 0, f"{code}")
    report.true("the editor", "closing saved the last change", before["x"] - editor.at(0)["x"] == 1.0, f"{before} {editor.at(0)}")


# A picture of two colours, 60 wide and 90 high.
ART = """<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 60 90">
<rect x="10" y="30" width="40" height="60" fill="#c0392b"/><circle cx="30" cy="20" r="20" fill="#2471a3"/></svg>"""
# The tape of the starter's side is drawn at so many px to the inch, with front centre and the tier's foot at these px.
FRONT, FOOT, INCH = 578.2, 692.0, 21.22


class Job:
    """The program as somebody finds it who has never used it, in an empty folder."""

    # Where things stand in a window of 1280 x 800 at 100 %.
    STARTER = (116, 220)
    HERE = (944, 609)
    ADD = (33, 83)
    BOW = (67, 226)
    MEASURED = (988, 137)
    HEIGHT = (428, 263)

    def __init__(self):
        self.home = Path(tempfile.mkdtemp())
        self.screen = Screen()
        self.shots = Path(os.environ["OUTSIDE_DATA"]) / "editor"
        self.shots.mkdir(parents=True, exist_ok=True)
        self.design = self.home / "one-round"
        self.count = 50
        words = [os.environ["TIERPROOF"]]
        self.program = self.screen.run(words, folder=self.home, XDG_STATE_HOME=str(self.home / "state"))
        self.screen.focus()
        self.screen.settle(60.0)

    close = Editor.close
    shot = Editor.shot

    def saved(self, wait=4.0):
        self.screen.settle(60.0)
        time.sleep(wait)
        return tomllib.loads((self.design / "cake.toml").read_text())

    def piece(self, name):
        return next((piece for piece in self.saved()["piece"] if piece["name"] == name), None)

    def wrap(self):
        return next(course for course in self.saved()["tier"][0]["course"] if course["kind"] == "wrap")

    def row(self, number):
        """Chooses the row of this number in the list, the first being 0."""
        self.screen.click(24, 124 + 28 * number)
        self.screen.settle(30.0, 1.0)

    def measured(self, key):
        """What the program itself says of the saved design."""
        words = [os.environ["TIERPROOF"], "measure", self.design, "--json"]
        said = subprocess.run(words, capture_output=True, env=self.screen.environment, check=False)
        return json.loads(said.stdout)[key]


def inches(length):
    """A length of a design in inches as a number: 1.5, "1 1/2", "1 1/2 in"."""
    if not isinstance(length, str):
        return float(length)
    sign = -1.0 if length.lstrip().startswith("-") else 1.0
    parts = length.replace("in", "").strip().lstrip("-").split()
    return sign * float(sum(Fraction(part) for part in parts))


def whole_job(report, job):
    """From a starter to the packs, with nothing but pointer and keys."""
    screen = job.screen
    job.shot("start-page")
    screen.click(*Job.STARTER)
    screen.settle(20.0, 1.0)
    job.shot("where-to")
    screen.click(*Job.HERE)
    for _ in range(120):
        if (job.design / "cake.toml").exists():
            break
        time.sleep(0.5)
    screen.settle(120.0, 4.0)
    job.shot("starter")
    report.true("the editor, a whole job", "a starter becomes a design", (job.design / "cake.toml").exists(), "")

    art = job.home / "tower.svg"
    art.write_text(ART)
    taken = screen.drop(art, 520, 165)
    topper = job.piece("topper")
    job.shot("dropped")
    report.true("the editor, a whole job", "a picture dropped on the top is a topper", taken and topper, f"{topper}")
    kept = job.design / topper["art"]
    report.true("the editor, a whole job", "its art is in the design's folder", kept.read_text() == ART, f"{kept}")

    screen.drag((520, 150), (490, 150))
    moved = job.piece("topper")
    job.shot("moved")
    way = inches(moved["at"]["x"]) - inches(topper["at"]["x"])
    report.true("the editor, a whole job", "a topper dragged left goes left", -3.0 < way < -0.2, f"{way}")

    screen.click(*Job.ADD)
    screen.settle(20.0, 1.0)
    job.shot("what-to-add")
    screen.click(*Job.BOW)
    bow = job.piece("bow")
    report.true("the editor, a whole job", "a bow is added on the side", bow and bow["seat"]["surface"] == "side", f"{bow}")
    # On the tape, from front centre to 6 in right.
    high = FOOT - INCH * inches(bow["at"]["up"])
    screen.drag((FRONT, high), (FRONT + 6.0 * INCH, high))
    bow = job.piece("bow")
    job.shot("bow")
    report.true("the editor, a whole job", "dragged on the tape to 6 in right", abs(inches(bow["at"]["along"]) - 6.0) < 0.2, f"{bow}")

    seams = job.measured("wraps")[0]["seams"]
    behind = [seam for seam in seams if abs(seam["along"] / 25.4 - 6.0) < 1.5]
    report.true("the editor, a whole job", "the planner puts a seam behind the bow by itself", len(behind) == 1, f"{seams}")
    job.row(8)
    job.shot("wrap")
    # The other seam, to 7 in left of front centre.
    left = min(seam["along"] for seam in seams) / 25.4
    low = FOOT - INCH
    screen.drag((FRONT + left * INCH, low), (FRONT - 7.0 * INCH, low))
    pins = [inches(pin) for pin in job.wrap().get("pins", [])]
    job.shot("seam")
    near = [pin for pin in pins if abs(pin + 7.0) < 0.25]
    report.true("the editor, a whole job", "a seam that is dragged is pinned where it was dropped", len(near) == 1, f"{pins}, from {left}")
    pinned = [seam for seam in job.measured("wraps")[0]["seams"] if seam["pinned"]]
    kept = len(pinned) == 1 and abs(pinned[0]["along"] / 25.4 + 7.0) < 0.25
    report.true("the editor, a whole job", "the plan keeps to it", kept, f"{pinned}")

    screen.key("ctrl+z")
    report.true("the editor, a whole job", "undone, it is free again", not job.wrap().get("pins"), "")
    screen.key("ctrl+y")
    report.true("the editor, a whole job", "redone, it is pinned again", len(job.wrap().get("pins", [])) == 1, "")

    measure_it(report, job)
    screen.key("ctrl+s")
    for number, (place, folder) in enumerate([((864, 19), "kitchen"), ((761, 19), "proof")]):
        screen.click(*place)
        screen.settle(20.0, 1.0)
        screen.click(*Job.HERE)
        made = job.design / folder
        for _ in range(600):
            if (made / "measurements.json").exists():
                break
            time.sleep(0.5)
        time.sleep(2.0)
        job.shot(folder)
        files = sorted(path.name for path in made.glob("*")) if made.exists() else []
        report.true("the editor, a whole job", f"the {folder} pack is made", "measurements.json" in files, f"{files}")
    again = subprocess.run([os.environ["TIERPROOF"], "check", job.design], capture_output=True, env=screen.environment, check=False)
    report.true("the editor, a whole job", "what was saved is a design", again.returncode in (0, 1), again.stderr.decode())


def measure_it(report, job):
    """What the tape measure read, typed in: the form says what changes before it counts."""
    screen = job.screen
    job.row(4)
    job.shot("tier")
    screen.click(*Job.MEASURED)
    screen.settle(20.0, 1.0)
    screen.click(*Job.HEIGHT)
    screen.type("5 1/8")
    screen.settle(20.0, 1.0)
    job.shot("measured")
    # The button below moves with the list of what changes; the keys find it.
    screen.key("Tab", "space")
    tier = job.saved()["tier"][0]
    read = tier.get("measured", {}).get("height")
    report.true("the editor, a whole job", "a measured height counts", read is not None and abs(inches(read) - 5.125) < 1e-9, f"{read}")
    finished = job.measured("tiers")[0]["finished"]["height"] / 25.4
    report.true("the editor, a whole job", "every size follows it", abs(finished - 5.125) < 1e-6, f"{finished}")
