"""The editor as a person uses it: a real pointer and real keys on a virtual screen, held against the design that is saved.

Pictures of every step are kept in $OUTSIDE_DATA/editor, to be looked at.
"""

import os
import shutil
import signal
import subprocess
import tempfile
import time
import tomllib
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
        for _ in range(240):
            if self.ball() is not None or self.program.poll() is not None:
                break
            time.sleep(0.5)
        self.screen.settle(120.0)

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
        return self.saved(wait)["piece"][0]["at"]


def compare(report):
    editor = Editor()
    try:
        drag_and_undo(report, editor)
        rest(report, editor)
        killed(report, editor)
        leave(report, editor)
    finally:
        editor.close()


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
    screen.key("Left")
    time.sleep(1.2)
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


def leave(report, editor):
    """The window's own way to close saves and ends."""
    before = editor.at(0)
    editor.screen.click(640, 330)
    x, y, _ = editor.ball()
    editor.screen.click(x, y)
    editor.screen.key("Left")
    found = subprocess.run(
        ["xdotool", "search", "--name", "Tierproof"], env=editor.screen.environment, capture_output=True, check=True
    )
    for window in found.stdout.split():
        editor.screen.do("windowquit", window.decode())
        break
    try:
        code = editor.program.wait(20.0)
    except subprocess.TimeoutExpired:
        code = None
    report.true("the editor", "closed by its window, it ends", code == 0, f"{code}")
    report.true("the editor", "closing saved the last change", before["x"] - editor.at(0)["x"] == 1.0, f"{before} {editor.at(0)}")
