"""The proof packs of the demos: the PDF by poppler and pypdf, the page in Chromium and by html-validate, the model by Khronos' glTF validator, the pictures by Pillow."""

import json
import subprocess
import tempfile
from pathlib import Path

from PIL import Image
from pypdf import PdfReader

from report import DATA, NODE, ROOT, at_once, demos, full_disk, measure, program

PAPERS = {"Letter": (612.0, 792.0), "A4": (595.276, 841.89)}
FILES = {"proof.pdf", "proof.html", "hero.png", "front.png", "right.png", "back.png", "left.png", "top.png", "cake.glb", "measurements.json"}

# A design in millimetres is printed on A4.
METRIC = """
title = "Blau & weiß"
unit = "mm"
[[tier]]
name = "base"
size = 180
height = 100
"""


def said(*words):
    return subprocess.run(list(map(str, words)), capture_output=True, text=True, check=True).stdout


def compare(report):
    with tempfile.TemporaryDirectory() as folder:
        metric = Path(folder, "metric")
        metric.mkdir()
        (metric / "cake.toml").write_text(METRIC)
        packs = {design: Path(folder, "packs", design.name) for design in [*demos(), metric]}
        at_once((program, "proof", design, "-o", pack) for design, pack in packs.items())
        for design, pack in packs.items():
            compare_pack(report, design, pack)
        full_disk(report, "proof", metric)
        compare_pages(report, [pack / "proof.html" for pack in packs.values()])
        models = [pack / "cake.glb" for pack in packs.values()] + sorted(DATA.joinpath("meshes").glob("*.glb"))
        for file, found in json.loads(said("node", ROOT / "tests/outside/glb.cjs", *models)).items():
            name = "/".join(Path(file).parts[-2:])
            report.true("GLB without errors", name, found["errors"] == 0, found["messages"])
            report.true("GLB without warnings", name, found["warnings"] == 0, found["messages"])


def compare_pages(report, pages):
    """The pages as a customer opens them; and as the standard has them."""
    for file, found in json.loads(said("node", ROOT / "tests/outside/page.cjs", *pages)).items():
        name = Path(file).parent.name
        for what, holds, detail in found:
            report.true(f"page: {what}", name, holds, detail)
    for page in pages:
        report.true("page under 6 MB", page.parent.name, page.stat().st_size < 6_000_000, str(page.stat().st_size))
        config = ROOT / "tests/outside/html-validate.json"
        checked = subprocess.run([NODE / "node_modules/.bin/html-validate", "--config", config, page], capture_output=True, text=True)
        report.true("page without errors by html-validate", page.parent.name, checked.returncode == 0, checked.stdout[-500:])


def compare_pack(report, design, pack):
    name, facts = design.name, measure(design)
    report.true("pack is whole", name, FILES <= {path.name for path in pack.iterdir()})
    told = json.loads((pack / "measurements.json").read_text())
    # How the price is reckoned, and when the decorator works, is not the customer's.
    ours = {key: value for key, value in facts.items() if key not in ("price", "schedule")}
    theirs = {key: value for key, value in told.items() if key not in ("price", "schedule")}
    report.true("measurements.json is `measure --json`", name, theirs == ours)
    report.true("no reckoning leaves the house", name, not told["price"]["lines"] and not told["price"]["cost"] and not told["schedule"])
    for view in FILES:
        if view.endswith(".png"):
            with Image.open(pack / view) as picture:
                size = (1600, 1200) if view == "hero.png" else (900, 900)
                report.true("picture has its size", f"{name} {view}", picture.size == size, str(picture.size))
                report.true("picture says sRGB", f"{name} {view}", "srgb" in picture.info)
    compare_pdf(report, name, pack / "proof.pdf", facts)


def compare_pdf(report, name, pdf, facts):
    info = said("pdfinfo", "-f", 1, "-l", 999, pdf).splitlines()
    sizes = [tuple(map(float, line.split(":")[1].split("pts")[0].split(" x "))) for line in info if " size:" in line and "Page" in line]
    paper = "Letter" if facts["unit"] == "in" else "A4"
    for size in sizes:
        for ours, theirs in zip(size, PAPERS[paper], strict=True):
            report.near(f"page of the PDF, {paper}, pt", name, ours, theirs, absolute=0.01)
    fonts = said("pdffonts", pdf).splitlines()[2:]
    report.true("PDF has fonts", name, bool(fonts))
    for font in fonts:
        # From the end: object ID (two numbers), uni, sub, emb.
        embedded, subset, unicode = font.split()[-5:-2]
        report.true("font embedded, a subset, with its characters", f"{name} {font.split()[0]}", [embedded, subset, unicode] == ["yes"] * 3)
    text = " ".join(said("pdftotext", "-layout", pdf, "-").split())
    for wanted in (facts["title"], facts["revision"]):
        report.true("PDF text can be searched", f"{name}: {wanted}", " ".join(wanted.split()) in text)
    images = [line for line in said("pdfimages", "-list", pdf).splitlines()[2:] if line.split()[2] == "image"]
    report.true("PDF shows six pictures", name, len(images) == 6, f"{len(images)}")
    report.true("PDF says that it is tagged, to poppler", name, any(line.split() == ["Tagged:", "yes"] for line in info))
    reader = PdfReader(pdf)
    compare_tags(report, name, reader, facts)
    report.true("pypdf reads every page", name, len(reader.pages) == len(sizes) and all(page.extract_text() for page in reader.pages))


def elements(node):
    """All elements of a tagged PDF below one, in the order in which they are read; its own content is a number."""
    for child in node.get("/K", []) if isinstance(node.get("/K"), list) else [node.get("/K")]:
        child = child.get_object() if hasattr(child, "get_object") else child
        if hasattr(child, "get") and "/S" in child:
            yield child
            yield from elements(child)


def compare_tags(report, name, reader, facts):
    """ISO 32000-1, 14.8, and what ISO 14289-1 (PDF/UA) asks of a document's language, headings, figures and tables."""
    root = reader.trailer["/Root"]
    report.true("PDF says that it is tagged, to pypdf", name, root["/MarkInfo"]["/Marked"] and "/StructTreeRoot" in root)
    report.true("PDF says its language", name, root.get("/Lang") == "en", str(root.get("/Lang")))
    read = list(elements(root["/StructTreeRoot"]))
    kinds = [element["/S"] for element in read]
    report.true("headings are told, one of the whole first", name, kinds.count("/H1") == 1 and kinds.count("/H2") >= 6
                and "/H2" not in kinds[:kinds.index("/H1")], str(kinds[:12]))
    figures = [element for element in read if element["/S"] == "/Figure"]
    report.true("every picture and drawing is told in words", name, len(figures) == 8 and all(len(figure.get("/Alt", "")) > 8 for figure in figures),
                str([figure.get("/Alt") for figure in figures]))
    report.true("tables have heads, lists have entries", name, all(kinds.count(kind) > 0 for kind in ("/Table", "/TR", "/TH", "/TD", "/L", "/LI", "/LBody")))
    columns = {len([cell for cell in row["/K"]]) for row in read if row["/S"] == "/TR"}
    report.true("rows have their cells", name, bool(columns) and max(columns) <= 8, str(columns))
