"""Joins the six pictures of `scripts/contact-sheet`: two columns, the empty backdrop cut away, at most 400 kB."""

import io
import sys
from pathlib import Path

from PIL import Image

ROWS = [["0,38", "45,14"], ["0,6", "90,6"], ["180,6", "270,6"]]
# The part of each that shows something: left, upper, right and lower share.
PART = (0.06, 0.12, 0.94, 0.87)
WIDTH = 900
LARGEST = 400_000


def tile(folder, name):
    picture = Image.open(folder / f"{name}.png").convert("RGB")
    box = [round(share * side) for share, side in zip(PART, picture.size * 2)]
    cut = picture.crop(box)
    return cut.resize((WIDTH, round(WIDTH * cut.height / cut.width)), Image.LANCZOS)


def main(folder, output):
    rows = [[tile(Path(folder), name) for name in row] for row in ROWS]
    sheet = Image.new("RGB", (2 * WIDTH, sum(row[0].height for row in rows)))
    top = 0
    for row in rows:
        for column, picture in enumerate(row):
            sheet.paste(picture, (column * WIDTH, top))
        top += row[0].height
    for quality in range(90, 30, -5):
        written = io.BytesIO()
        sheet.save(written, "JPEG", quality=quality, optimize=True)
        if written.tell() <= LARGEST:
            break
    Path(output).write_bytes(written.getvalue())


main(*sys.argv[1:])
