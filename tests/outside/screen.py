"""A screen that nobody sits at: a virtual X server, a pointer and keys, and pictures of what it shows."""

import os
import struct
import subprocess
import tempfile
import time
from pathlib import Path

import numpy
from PIL import Image
from Xlib import X, display, protocol


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

    def run(self, words, folder=None, **more):
        """Starts a program on this screen, in a folder."""
        return subprocess.Popen([str(word) for word in words], cwd=folder, env={**self.environment, **more})

    def do(self, *words):
        """What the person does, in xdotool's words."""
        subprocess.run(["xdotool", *[str(word) for word in words]], env=self.environment, check=True)

    def window(self, title="Tierproof", wait=60.0):
        """The window whose title has these words, once it is there. One that vanishes while it is looked for fails the search."""
        words, end = ["xdotool", "search", "--onlyvisible", "--name", title], time.monotonic() + wait
        while time.monotonic() < end:
            found = subprocess.run(words, env=self.environment, capture_output=True, check=False).stdout.split()
            if found:
                return int(found[0])
            time.sleep(0.2)
        raise TimeoutError(f"no window is called {title} after {wait} s")

    def focus(self, title="Tierproof"):
        """Gives a window the keys: nobody else does where there is no window manager."""
        end = time.monotonic() + 60.0
        while True:
            words = ["xdotool", "windowfocus", "--sync", str(self.window(title))]
            # A window that a killed program leaves behind may still be found for a moment.
            if subprocess.run(words, env=self.environment, capture_output=True, check=False).returncode == 0:
                return
            if time.monotonic() > end:
                raise TimeoutError(f"the window {title} takes no keys")
            time.sleep(0.2)

    def ask_to_close(self, title="Tierproof"):
        """What a window manager sends when its closing button is pressed (ICCCM 2.0, 4.1.2.7 and 4.2.8.1)."""
        with_server = display.Display(self.display)
        window = with_server.create_resource_object("window", self.window(title))
        of = with_server.intern_atom
        data = (32, [of("WM_DELETE_WINDOW"), X.CurrentTime, 0, 0, 0])
        window.send_event(protocol.event.ClientMessage(window=window, client_type=of("WM_PROTOCOLS"), data=data))
        with_server.sync()
        with_server.close()

    def drop(self, path, x, y, title="Tierproof"):
        """Drops a file at a place of the screen, as a file manager does (XDND protocol, version 5); whether it was taken."""
        self.do("mousemove", round(x), round(y))
        time.sleep(0.5)
        server = display.Display(self.display)
        of = server.intern_atom
        own = server.screen().root.create_window(0, 0, 1, 1, 0, X.CopyFromParent)
        own.set_selection_owner(of("XdndSelection"), X.CurrentTime)
        target = server.create_resource_object("window", self.window(title))
        uris = f"file://{Path(path).resolve()}\r\n".encode()

        def tell(what, *data):
            data = [own.id, *data] + [0] * (4 - len(data))
            target.send_event(protocol.event.ClientMessage(window=target, client_type=of(what), data=(32, data)))
            server.flush()

        tell("XdndEnter", 5 << 24, of("text/uri-list"))
        tell("XdndPosition", 0, round(x) << 16 | round(y), X.CurrentTime, of("XdndActionCopy"))
        dropped, end, taken = False, time.monotonic() + 20.0, False
        while time.monotonic() < end and not taken:
            if not server.pending_events():
                time.sleep(0.05)
                continue
            event = server.next_event()
            if event.type == X.SelectionRequest:
                event.requestor.change_property(event.property, event.target, 8, uris)
                answer = protocol.event.SelectionNotify(
                    time=event.time,
                    requestor=event.requestor,
                    selection=event.selection,
                    target=event.target,
                    property=event.property,
                )
                event.requestor.send_event(answer)
                server.flush()
            elif event.type == X.ClientMessage and event.client_type == of("XdndStatus") and not dropped:
                dropped = True
                tell("XdndDrop", 0, X.CurrentTime)
            elif event.type == X.ClientMessage and event.client_type == of("XdndFinished"):
                taken = True
        server.close()
        return taken

    def type(self, text):
        self.do("type", "--delay", "15", text)

    def key(self, *names):
        """Presses keys, one after the other: `Left`, `ctrl+z`. Where the processor draws, a chord is held as long as a frame may take."""
        for name in names:
            *held, last = name.split("+")
            for modifier in held:
                self.do("keydown", modifier)
                time.sleep(0.5)
            self.do("key", last)
            time.sleep(0.5 if held else 0.15)
            for modifier in reversed(held):
                self.do("keyup", modifier)
                time.sleep(0.2)

    def click(self, x, y):
        """A click as a hand makes it: the pointer comes to rest, the button is held for a moment."""
        self.do("mousemove", round(x), round(y))
        time.sleep(0.2)
        self.do("mousedown", "1")
        time.sleep(0.12)
        self.do("mouseup", "1")
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
