"""Where comparisons say what they compared, with which tolerance, and how near it came."""

import json
import os
import subprocess
import tempfile
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
DATA = Path(os.environ["OUTSIDE_DATA"])
PROGRAM = os.environ["TIERPROOF"]
NODE = Path(os.environ["OUTSIDE_NODE"])


class Report:
    """Counts what was compared, keeps the worst case of each kind, remembers every failure."""

    def __init__(self):
        self.kinds = {}
        self.failures = []

    def near(self, kind, name, ours, theirs, relative=0.0, absolute=0.0):
        """Two figures agree within a tolerance, relative to theirs or absolute, whichever is wider."""
        off = abs(ours - theirs)
        allowed = max(relative * abs(theirs), absolute)
        self.within(kind, name, off / allowed if allowed else float(off > 0), f"ours {ours!r}, theirs {theirs!r}",
                    f"{relative:g} of it" if relative * abs(theirs) >= absolute else f"{absolute:g}")

    def within(self, kind, name, share, detail, tolerance):
        """`share` is the deviation as a share of what is allowed."""
        count, worst, where, _ = self.kinds.get(kind, (0, 0.0, "", ""))
        worse = share > worst or not where
        self.kinds[kind] = (count + 1, max(share, worst), name if worse else where, tolerance)
        if not share <= 1.0:
            self.failures.append(f"{kind}: {name}: {detail}, allowed {tolerance}")

    def true(self, kind, name, holds, detail=""):
        """Something holds."""
        count, *_ = self.kinds.get(kind, (0, 0.0, "", ""))
        self.kinds[kind] = (count + 1, None, "", "")
        if not holds:
            self.failures.append(f"{kind}: {name}: {detail or 'does not hold'}")

    def show(self):
        for kind, (count, worst, where, tolerance) in self.kinds.items():
            if worst is None:
                print(f"  {kind}: {count} times")
            else:
                print(f"  {kind}: {count} times within {tolerance}; worst {worst:.1%} of that, {where}")
        for failure in self.failures[:40]:
            print(f"  FAILED {failure}")
        if len(self.failures) > 40:
            print(f"  and {len(self.failures) - 40} more failures")


def data(*path):
    return json.loads(DATA.joinpath(*path).read_text())


def program(*words):
    """Runs the program; its standard output. 1 is fine: done, but a finding says stop."""
    done = subprocess.run([PROGRAM, *map(str, words)], capture_output=True, text=True)
    if done.returncode > 1:
        raise RuntimeError(f"tierproof {' '.join(map(str, words))}: {done.stderr}")
    return done.stdout


def on_a_full_disk(*words):
    """Runs the program in a real file system with room for 64 kB, `-o pack`: exit status, what it said, what is left there.
    `None` where this system lets nobody but its owner make one."""
    script = 'mount -t tmpfs -o size=64k none "$0" || exit 77; cd "$0"; "$@" -o pack >&2; done=$?; ls -A; exit $done'
    with tempfile.TemporaryDirectory() as folder:
        ran = subprocess.run(["unshare", "--user", "--map-root-user", "--mount", "sh", "-c", script, folder, PROGRAM, *map(str, words)],
                             capture_output=True, text=True)
    return None if ran.returncode == 77 or ran.stderr.startswith("unshare:") else (ran.returncode, ran.stderr, ran.stdout.split())


def full_disk(report, kind, design):
    """On a full disk it says so with what would mend it, and leaves nothing behind."""
    tried = on_a_full_disk(kind, design)
    if tried is None:
        print("  no small file system can be made here: a full disk is not tried")
        return
    status, told, left = tried
    report.true(f"{kind} on a full disk is refused with a mend", design.name, status == 2 and "the disk is full; make room" in told, told)
    report.true(f"{kind} on a full disk leaves nothing behind", design.name, left == [], str(left))


def at_once(calls):
    """The results of several runs of the program, as many at a time as there are processors."""
    with ThreadPoolExecutor(os.cpu_count()) as pool:
        return [call.result() for call in [pool.submit(*call) for call in calls]]


def measure(folder):
    return json.loads(program("measure", folder, "--json"))


def demos():
    return sorted(path.parent for path in (ROOT / "assets-demo").glob("*/cake.toml"))


def designs():
    starters = sorted(path.parent for path in (ROOT / "assets" / "starters").glob("*/cake.toml"))
    return demos() + starters
