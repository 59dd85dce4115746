"""Pictures of every make are read as Pillow reads them: EXIF turns, CMYK, 16 bit, palettes, alpha, animation.

`python pictures.py FOLDER` makes the files of tests/promises/pictures anew (with Pillow, from formulas: no one's pictures).
"""

import io
import os
import struct
import subprocess
import sys
import tempfile
import zlib
from pathlib import Path

import numpy as np
from PIL import Image, ImageOps

FIXTURES = Path(__file__).resolve().parent.parent / "promises" / "pictures"
WIDTH, HEIGHT = 24, 16


def shades():
    """A picture that looks different every way it is turned: red grows rightwards, green downwards, one corner blue."""
    x, y = np.meshgrid(np.arange(WIDTH), np.arange(HEIGHT))
    blue = np.where((x < WIDTH // 2) & (y < HEIGHT // 2), 200, 40)
    return np.stack([x * 255 // (WIDTH - 1), y * 255 // (HEIGHT - 1), blue], axis=-1).astype(np.uint8)


def chunk(name, body):
    return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))


def png16(path, samples, colour):
    """A PNG of 16 bits a sample, which Pillow writes in grey only: written chunk by chunk (ISO/IEC 15948)."""
    height, width = samples.shape[:2]
    rows = samples.reshape(height, -1).astype(">u2")
    data = b"".join(b"\0" + row.tobytes() for row in rows)
    header = struct.pack(">IIBBBBB", width, height, 16, colour, 0, 0, 0)
    parts = [chunk(b"IHDR", header), chunk(b"IDAT", zlib.compress(data)), chunk(b"IEND", b"")]
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + b"".join(parts))


def make(folder):
    folder = Path(folder)
    folder.mkdir(parents=True, exist_ok=True)
    colours = shades()
    picture = Image.fromarray(colours)
    grey = picture.convert("L")
    ramp = Image.fromarray(np.tile(np.linspace(0, 255, WIDTH).astype(np.uint8), (HEIGHT, 1)))
    clear = picture.copy()
    clear.putalpha(ramp)
    for turn in range(1, 9):
        exif = Image.Exif()
        exif[0x0112] = turn
        picture.save(folder / f"exif-{turn}.jpg", quality=95, subsampling=0, exif=exif)
    exif = Image.Exif()
    exif[0x0112] = 6
    picture.save(folder / "exif-6.png", exif=exif)
    picture.convert("CMYK").save(folder / "cmyk.jpg", quality=95)
    picture.save(folder / "progressive.jpg", quality=95, subsampling=0, progressive=True)
    picture.save(folder / "halved-colours.jpg", quality=95, subsampling=2)
    grey.save(folder / "grey.jpg", quality=95)
    clear.save(folder / "clear.png")
    Image.merge("LA", [grey, ramp]).save(folder / "grey-and-alpha.png")
    picture.quantize(16).save(folder / "palette.png")
    picture.quantize(16).save(folder / "palette-clear.png", transparency=bytes(range(0, 256, 16)))
    grey.point(lambda level: 255 * (level > 90)).convert("1").save(folder / "one-bit.png")
    grey.save(folder / "grey-clear.png", transparency=grey.getpixel((3, 3)))
    wide = np.arange(WIDTH * HEIGHT).reshape(HEIGHT, WIDTH) * (65535 // (WIDTH * HEIGHT - 1))
    png16(folder / "grey-16.png", wide[..., None], 0)
    png16(folder / "grey-and-alpha-16.png", np.stack([wide, wide[:, ::-1]], axis=-1), 4)
    png16(folder / "colours-16.png", np.stack([wide, wide[::-1], wide[:, ::-1]], axis=-1), 2)
    png16(folder / "clear-16.png", np.stack([wide, wide[::-1], wide[:, ::-1], wide], axis=-1), 6)
    frames = [picture, picture.transpose(Image.Transpose.ROTATE_180)]
    frames[0].save(folder / "animated.png", save_all=True, append_images=frames[1:], duration=200)
    frames[0].save(folder / "animated.gif", save_all=True, append_images=frames[1:], duration=200)
    for ending in ["webp", "bmp", "tif"]:
        picture.save(folder / f"picture.{ending}")
    for high, wide in [(1, 300), (300, 1)]:
        Image.fromarray(np.tile(colours[:1, :1], (high, wide, 1))).save(folder / f"line-{wide}x{high}.png")


def by_pillow(path):
    """A file as Pillow sees it: upright, eight bits, straight alpha. It keeps 16 bit grey as it is and says nothing of its alpha."""
    image = ImageOps.exif_transpose(Image.open(path))
    if image.mode.startswith("I"):
        grey = np.round(np.asarray(image).astype(float) / 257)
        return np.stack([grey, grey, grey, np.full_like(grey, 255)], axis=-1)
    return np.asarray(image.convert("RGBA")).astype(float)


DESIGN = """title = "Art"
unit = "mm"
[[tier]]
name = "cake"
size = 200
height = 100
[[tier.course]]
name = "print"
kind = "wrap"
height = "fill"
art = "art"
"""


def peak(art):
    """Exit code and peak memory in MB of a `check` of a cake wrapped in a file."""
    with tempfile.TemporaryDirectory() as folder:
        Path(folder, "cake.toml").write_text(DESIGN)
        Path(folder, "art").write_bytes(art)
        asked = """import resource, subprocess, sys
done = subprocess.run([sys.argv[1], "check", sys.argv[2]], capture_output=True)
print(done.returncode, resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)"""
        done = subprocess.run([sys.executable, "-c", asked, os.environ["TIERPROOF"], folder], capture_output=True, text=True)
        code, kilobytes = done.stdout.split()
        return int(code), int(kilobytes) / 1024


def as_bytes(image, kind, **how):
    out = io.BytesIO()
    image.save(out, kind, **how)
    return out.getvalue()


def memory(report):
    """The largest pictures that are read, and files that would unfold into far more."""
    wide = Image.fromarray(np.tile(np.arange(256, dtype=np.uint8), (1_600, 235, 1)).reshape(1_600, -1)[:, :60_000].copy())
    wide = Image.merge("RGB", [wide, wide, wide])
    turned = Image.Exif()
    turned[0x0112] = 6
    for name, art, most in [
        ("60,000 x 1,600 px, PNG", as_bytes(wide, "PNG", compress_level=1), 450),
        ("60,000 x 1,600 px, JPEG", as_bytes(wide, "JPEG"), 500),
        ("60,000 x 1,600 px, JPEG on its side", as_bytes(wide, "JPEG", exif=turned), 850),
        ("60,000 x 1,600 px, progressive JPEG", as_bytes(wide, "JPEG", progressive=True), 1_100),
    ]:
        code, megabytes = peak(art)
        report.true("large pictures are read", name, code == 0, f"exit code {code}")
        report.near(f"{name}: peak memory under {most} MB", name, megabytes, 0.0, absolute=most)
    gigabyte = zlib.compressobj(9)
    noughts = b"".join([gigabyte.compress(bytes(1 << 20)) for _ in range(1_024)] + [gigabyte.flush()])
    small = as_bytes(Image.fromarray(shades()), "PNG")
    for name, body in [(b"iCCP", b"a\0\0" + noughts), (b"zTXt", b"a\0\0" + noughts), (b"iTXt", b"a\0\1\0\0\0" + noughts)]:
        code, megabytes = peak(small[:33] + chunk(name, body) + small[33:])
        report.true("bombs in a picture's notes are refused or passed over", name.decode(), code in (0, 2), f"exit code {code}")
        report.near("bombs in a picture's notes: peak memory under 200 MB", name.decode(), megabytes, 0.0, absolute=200)


def compare(report):
    memory(report)
    ours = Path(os.environ["OUTSIDE_DATA"]) / "pictures"
    for path in sorted(FIXTURES.iterdir()):
        read = ours / f"{path.name}.rgba"
        if path.suffix in {".gif", ".webp", ".bmp", ".tif"}:
            report.true("other kinds are refused", path.name, not read.exists())
            continue
        theirs = by_pillow(path)
        data = np.frombuffer(read.read_bytes(), np.uint8)
        width, height = (int(side) for side in data[:8].view("<u4"))
        report.true("sizes of pictures", path.name, (height, width) == theirs.shape[:2], f"{width} x {height}")
        pixels = data[8:].reshape(height, width, 4).astype(float)
        # JPEG's transforms may round either way; 16 bits are rounded here and cut off there; halved colours are spread
        # differently by each reader.
        allowed = {"halved-colours.jpg": 40}.get(path.name, 3 if path.suffix == ".jpg" else 1)
        off = float(np.abs(pixels - theirs).max())
        report.near(f"worst pixel, {allowed} levels of 255 allowed", path.name, off, 0.0, absolute=allowed)


if __name__ == "__main__":
    make(sys.argv[1])
