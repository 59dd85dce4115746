"""Runs the comparisons, all of them or those named; fails when one of them does."""

import importlib
import sys
import time

from report import Report

ALL = ["outlines", "regions", "icons", "meshes", "overlaps", "documents", "tables", "pack", "sheets", "kitchen", "pixels", "pictures", "editor"]


def main(names):
    failed = []
    for name in names or ALL:
        comparison = importlib.import_module(name)
        print(f"{name}: {comparison.__doc__.splitlines()[0]}", flush=True)
        report, start = Report(), time.monotonic()
        comparison.compare(report)
        report.show()
        print(f"  {time.monotonic() - start:.1f} s", flush=True)
        if report.failures or not report.kinds:
            failed.append(name)
    if failed:
        sys.exit(f"comparisons with the outside failed: {', '.join(failed)}")


main(sys.argv[1:])
