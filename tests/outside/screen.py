"""A screen that nobody sits at: a virtual X server, a pointer and keys, and pictures of what it shows."""

import os
import struct
import subprocess
import tempfile
import time
from pathlib import Path

import numpy
from PIL import Image


class Screen:
    """A virtual X server (Xvfb) with xdotool as the person at it."""

    def __init__(self, width=1280, height=800):
        self.folder = tempfile.mkdtemp()
        read, write = os.pipe()
        size = f"{width}x{height}x24"
        words = ["Xvfb", "-displayfd", str(write), "-screen", "0", size, "-fbdir", self.folder, "-nolisten", "tcp"]
        self.server = subprocess.Popen(words, pass_fds=[write], stderr=subprocess.DEVNULL)
        os.close(write)
        with os.fdopen(read) as pipe:
            self.display = f":{pipe.readline().strip()}"
        self.environment = {**os.environ, "DISPLAY": self.display, "XDG_RUNTIME_DIR": self.folder, "WAYLAND_DISPLAY": ""}

    def close(self):
        self.server.terminate()
        self.server.wait()

    def run(self, words, **more):
        """Starts a program on this screen."""
        return subprocess.Popen([str(word) for word in words], env={**self.environment, **more})

    def do(self, *words):
        """What the person does, in xdotool's words."""
        subprocess.run(["xdotool", *[str(word) for word in words]], env=self.environment, check=True)

    def type(self, text):
        self.do("type", "--delay", "15", text)

    def key(self, *names):
        for name in names:
            self.do("key", name)
            time.sleep(0.15)

    def click(self, x, y, times=1):
        self.do("mousemove", round(x), round(y))
        time.sleep(0.2)
        self.do("click", "--repeat", times, "--delay", "60", "1")
        time.sleep(0.3)

    def drag(self, start, end, steps=12, drop=True, button=1):
        self.do("mousemove", round(start[0]), round(start[1]))
        time.sleep(0.3)
        self.do("mousedown", button)
        time.sleep(0.2)
        for step in range(1, steps + 1):
            share = step / steps
            x, y = (a + (b - a) * share for a, b in zip(start, end))
            self.do("mousemove", round(x), round(y))
            time.sleep(0.12)
        time.sleep(0.6)
        if drop:
            self.do("mouseup", button)
            time.sleep(0.3)

    def pixels(self):
        """What the screen shows: rows of red, green, blue (X Window Dump, X11R7 XWDFile.h)."""
        data = (Path(self.folder) / "Xvfb_screen0").read_bytes()
        head = struct.unpack(">25I", data[:100])
        width, height, stride, colours = head[4], head[5], head[12], head[19]
        rows = numpy.frombuffer(data, numpy.uint8, stride * height, head[0] + 12 * colours)
        return rows.reshape(height, stride)[:, : width * 4].reshape(height, width, 4)[:, :, 2::-1]

    def save(self, path):
        Image.fromarray(self.pixels()).save(path)

    def settle(self, most=60.0, quiet=2.5):
        """Waits until the screen shows the same for a while; whether it came to rest."""
        last, since, end = self.pixels().copy(), time.monotonic(), time.monotonic() + most
        while time.monotonic() < end:
            time.sleep(0.25)
            now = self.pixels().copy()
            if not numpy.array_equal(now, last):
                last, since = now, time.monotonic()
            elif time.monotonic() - since > quiet:
                return True
        return False


def ticks(process):
    """Processor time that a program has used, in ticks of a hundredth of a second (proc(5))."""
    fields = Path(f"/proc/{process.pid}/stat").read_text().rsplit(")", 1)[1].split()
    return int(fields[11]) + int(fields[12])
