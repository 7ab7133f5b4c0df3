# The checks that live on plates, on whole files: pages are drawn as their inks and judged by what is there.
#
# One thing at a time on a bare page. Coordinates are millimetres from the lower left corner of the trim.
from math import cos, radians, sin
from pathlib import Path

import pikepdf
import pytest
from PIL import Image, ImageDraw

from hotfolder.checks.judge import judge
from hotfolder.drawing.plates.drawer import PlateDrawer
from hotfolder.measure import measure
from hotfolder.measure.inks.ink import measure_ink
from hotfolder.model.findings import Finding, Judgement
from hotfolder.rulebook import load_rule_set
from hotfolder.units import mm_to_pt
from hotfolder.workshop.placing import place
from hotfolder.workshop.rule_figures import ink_limits

WIDTH, HEIGHT = 148, 210  # A5, ISO 216
ROOM = 10  # mm around the trim on the sheet
PLATE_RULES = {"bleed", "total-ink", "inks-used", "built-black", "veil", "technical-inks"}


def judged(path: Path, content: str, rules: str = "flyer-offset-coated") -> Judgement:
    """What a shipped rule set says of a page with this content, its plates drawn."""
    unit = mm_to_pt(1)
    pdf = pikepdf.new()
    page = pdf.add_blank_page(page_size=((WIDTH + 2 * ROOM) * unit, (HEIGHT + 2 * ROOM) * unit))
    corners = ROOM * unit, (ROOM + WIDTH) * unit, (ROOM + HEIGHT) * unit
    page.trimbox = pikepdf.Rectangle(corners[0], corners[0], corners[1], corners[2])
    bleed = 3 * unit
    page.bleedbox = pikepdf.Rectangle(
        corners[0] - bleed, corners[0] - bleed, corners[1] + bleed, corners[2] + bleed
    )
    page.obj.Resources = pikepdf.Dictionary(
        XObject=pikepdf.Dictionary(Cut=cut_out(pdf), Photo=photo(pdf)),
        ExtGState=pikepdf.Dictionary(Multiply=pikepdf.Dictionary(BM=pikepdf.Name.Multiply)),
    )
    page.contents_add(f"q {unit} 0 0 {unit} {ROOM * unit} {ROOM * unit} cm {content} Q".encode())
    pdf.save(path)
    chosen = load_rule_set(rules)
    artwork = place(measure(path), chosen.product)
    with PlateDrawer(path, artwork, chosen.press) as drawer:
        inked = measure_ink(drawer, artwork, chosen.press, limits=ink_limits(artwork, chosen))
        return judge(inked, chosen)


def told(path: Path, content: str) -> list[str]:
    """The findings of the rules about plates, as `rule.code`; all of these rules must have been judged."""
    said = judged(path, content)
    assert [item.rule for item in said.unjudged if item.rule in PLATE_RULES] == []
    return [f"{item.rule}.{item.code}" for item in said.findings if item.rule in PLATE_RULES]


def finding(path: Path, content: str, rule: str) -> Finding:
    (found,) = [item for item in judged(path, content).findings if item.rule == rule]
    return found


def photo(pdf: pikepdf.Pdf) -> pikepdf.Object:
    """A picture of 154 x 216 mm, a pixel a millimetre: even, but for a sky that is white at its top."""
    rows = [bytes([0, 0, 0, 0]) * 40 + bytes([120, 60, 20, 0]) * 114] * 4
    rows += [bytes([120, 60, 20, 0]) * 154] * 212
    return picture(pdf, b"".join(rows), (154, 216), pikepdf.Name.DeviceCMYK)


def cut_out(pdf: pikepdf.Pdf) -> pikepdf.Object:
    """A disc that fills half of its square, cut out by a soft mask."""
    mask = Image.new("L", (300, 300))
    ImageDraw.Draw(mask).ellipse((30, 30, 270, 270), fill=255)
    image = picture(pdf, bytes([200, 40, 0, 0]) * 90_000, (300, 300), pikepdf.Name.DeviceCMYK)
    image.SMask = picture(pdf, mask.tobytes(), (300, 300), pikepdf.Name.DeviceGray)
    return image


def picture(pdf: pikepdf.Pdf, data: bytes, size: tuple[int, int], space: pikepdf.Name) -> pikepdf.Object:
    return pdf.make_stream(
        data, Type=pikepdf.Name.XObject, Subtype=pikepdf.Name.Image,
        Width=size[0], Height=size[1], BitsPerComponent=8, ColorSpace=space,
    )  # fmt: skip


def disc(x: float, y: float, radius: float) -> str:
    """A disc as a polygon of 72 corners."""
    corners = [
        f"{x + radius * cos(radians(5 * step)):.3f} {y + radius * sin(radians(5 * step)):.3f}"
        for step in range(72)
    ]
    return f"{corners[0]} m {' '.join(f'{corner} l' for corner in corners[1:])} h f"


BLUE = "0.8 0.4 0 0 k"
SILENT = {
    "a ground that bleeds": f"{BLUE} -3 -3 154 216 re f",
    "diagonal stripes of 4 mm": f"{BLUE} "
    + " ".join(f"{x} -3 m {x + 4} -3 l {x + 34} 27 l {x + 30} 27 l h f" for x in range(10, 110, 12)),
    "diagonal stripes of 1.5 mm": f"{BLUE} "
    + " ".join(f"{x} -3 m {x + 1.5} -3 l {x + 31.5} 27 l {x + 30} 27 l h f" for x in range(10, 110, 12)),
    "a wide flat wedge that runs off": f"{BLUE} 20 -3 m 128 -3 l 128 30 l h f",
    "a large disc that runs off": f"{BLUE} {disc(74, 10, 60)}",
    "confetti over the edge": f"{BLUE} " + " ".join(disc(10 + 9 * n, n % 3 - 1, 2) for n in range(14)),
    "a disc cut out of a square that runs off": "q 60 0 0 60 40 -33 cm /Cut Do Q",
    "the transparent corner of a cut-out": "q 60 0 0 60 0 0 cm /Cut Do Q",
    "a photo with a white sky at its edge": "q 154 0 0 216 -3 -3 cm /Photo Do Q",
    "a frame of lines at the cut": "0 0 0 1 K 0.5 w 0 0 148 210 re S",
    "a triangle with its tip beyond": f"{BLUE} 74 -3 m 90 30 l 58 30 l h f",
    "crossing lines that build up ink": "/Multiply gs 0.9 0.9 0 0.8 K 0.3 w 10 50 m 90 50 l S"
    " 0 0.9 0.9 0.8 K 50 10 m 50 90 l S",
}


@pytest.mark.parametrize("look_alike", SILENT)
def test_a_look_alike_stays_silent(tmp_path: Path, look_alike: str) -> None:
    assert told(tmp_path / "sound.pdf", SILENT[look_alike]) == []


FAULTS = {
    "a ground that stops": (f"{BLUE} 0 0 148 210 re f", "bleed.not-drawn", 0.0),
    "a ground one millimetre short": (
        f"{BLUE} -3 -3 154 216 re f 0 0 0 0 k -3 -3 154 1 re f", "bleed.not-drawn", 2.0,
    ),
    "a disc cut off at the cut": (
        f"q 0 0 148 210 re W n {BLUE} {disc(74, 10, 60)} Q", "bleed.not-drawn", 0.0,
    ),
    "a cut-out that stops at the cut": (
        "q 0 0 148 210 re W n 60 0 0 60 40 -33 cm /Cut Do Q", "bleed.not-drawn", 0.0,
    ),
    "a photo with white over its bleed": (
        "q 154 0 0 216 -3 -3 cm /Photo Do Q 0 0 0 0 k -3 -3 154 3 re f", "bleed.not-drawn", 0.0,
    ),
    "an area that stops a hair before": (f"{BLUE} 20 0.3 100 40 re f", "bleed.not-drawn", 0.0),
    "stripes that stop at the cut": (
        f"q 0 0 148 210 re W n {BLUE} "
        + " ".join(f"{x} -3 m {x + 4} -3 l {x + 34} 27 l {x + 30} 27 l h f" for x in range(10, 110, 12))
        + " Q", "bleed.not-drawn", 0.0,
    ),
    "ink built up by multiplying": (
        "0.9 0.7 0.5 0.4 k 30 40 40 20 re f /Multiply gs 0.8 0.7 0.6 0.3 k 30 40 40 20 re f",
        "total-ink.over-wanted", 327.0,
    ),
    "a cloud of two percent": ("0 0 0.02 0 k 30 40 40 40 re f", "veil.nearly-white", 2.0),
}  # fmt: skip


@pytest.mark.parametrize("fault", FAULTS)
def test_a_fault_is_found_by_its_rule_with_its_figure(tmp_path: Path, fault: str) -> None:
    content, name, figure = FAULTS[fault]
    assert told(tmp_path / "fault.pdf", content) == [name]
    measured = finding(tmp_path / "fault.pdf", content, name.partition(".")[0]).measured
    assert measured is not None
    assert not isinstance(measured, str)
    # A pixel of the plates is a third of a millimetre; plates are rounded to 256 steps.
    assert measured.values[0] == pytest.approx(figure, abs=0.35 if measured.unit == "mm" else 1)


def test_a_condition_without_a_profile_judges_its_own_colours_and_no_others(tmp_path: Path) -> None:
    own = judged(tmp_path / "own.pdf", f"{BLUE} 30 40 40 20 re f", "newspaper-ad")
    assert PLATE_RULES & {item.rule for item in own.unjudged} == set()
    screen = judged(tmp_path / "screen.pdf", "0 0 1 rg 30 40 40 20 re f", "newspaper-ad")
    assert {"total-ink", "inks-used", "built-black", "veil"} <= {item.rule for item in screen.unjudged}
