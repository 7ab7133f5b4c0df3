# The checks on whole files: content streams are read, judged by a shipped rule set, and found at their place.
#
# One fault at a time on a sound page, and look-alikes that must stay silent.
from pathlib import Path

import pikepdf
import pytest

from hotfolder.checks.judge import judge
from hotfolder.measure import measure
from hotfolder.model.findings import Finding
from hotfolder.model.geometry import Box
from hotfolder.rulebook import load_rule_set
from hotfolder.units import mm_to_pt
from hotfolder.workshop.placing import place

BLEED = mm_to_pt(3)
WIDTH, HEIGHT = mm_to_pt(148), mm_to_pt(210)  # A5, ISO 216
GROUND = f"1 0.6 0 0 k {-BLEED} {-BLEED} {WIDTH + 2 * BLEED} {HEIGHT + 2 * BLEED} re f"
# What a sound file is told here: it claims no PDF/X level and embeds no font.
EXPECTED = {"pdfx-claim", "fonts-embedded"}


def piece(path: Path, content: str) -> Path:
    """An A5 page with 3 mm of bleed on a sheet with 20 mm around it; its content counts from the trim."""
    pdf = pikepdf.new()
    room = mm_to_pt(20)
    page = pdf.add_blank_page(page_size=(WIDTH + 2 * room, HEIGHT + 2 * room))
    page.trimbox = pikepdf.Rectangle(room, room, room + WIDTH, room + HEIGHT)
    page.bleedbox = pikepdf.Rectangle(room - BLEED, room - BLEED, room + WIDTH + BLEED, room + HEIGHT + BLEED)
    font = pikepdf.Dictionary(
        Type=pikepdf.Name.Font, Subtype=pikepdf.Name.Type1, BaseFont=pikepdf.Name.Helvetica
    )
    tint = pikepdf.Dictionary(FunctionType=2, Domain=[0, 1], N=1, C0=[0, 0, 0, 0], C1=[1, 1, 1, 1])
    every = pikepdf.Array([pikepdf.Name.Separation, pikepdf.Name.All, pikepdf.Name.DeviceCMYK, tint])
    over = pikepdf.Dictionary(OP=True, op=True, OPM=1)
    page.obj.Resources = pikepdf.Dictionary(
        Font=pikepdf.Dictionary(F=font),
        ColorSpace=pikepdf.Dictionary(Every=every),
        ExtGState=pikepdf.Dictionary(Over=over, Half=pikepdf.Dictionary(ca=0.5)),
    )
    page.contents_add(f"q 1 0 0 1 {room} {room} cm {content} Q".encode())
    pdf.save(path)
    return path


def said(path: Path, *, only_new: bool = True) -> list[Finding]:
    """What the rule set for flyers says of a file, but for what it says of every one of these."""
    rules = load_rule_set("flyer-offset-coated")
    judgement = judge(place(measure(path), rules.product), rules)
    return [item for item in judgement.findings if not only_new or item.rule not in EXPECTED]


FAULTS = {
    "a hairline": ("0 0 0 1 K 0 w 50 300 m 200 300 l S", "line-width", "hairline"),
    "a line that became thin by scaling": (
        "q 0.1 0 0 0.1 0 0 cm 0 0 0 1 K 1 w 500 3000 m 2000 3000 l S Q", "line-width", "thin",
    ),
    "a line that became thin one way": (
        "q 1 0 0 0.1 0 0 cm 0 0 0 1 K 1 w 50 3000 m 200 3000 l S Q", "line-width", "thin",
    ),
    "a thin line in several inks": ("1 0.5 0 0 K 0.3 w 50 300 m 200 300 l S", "line-width", "thin-in-inks"),
    "a thin filled rectangle": ("0 0 0 1 k 50 300 150 0.1 re f", "line-width", "thin"),
    "a thin white line on a colour": (
        "1 0 0 0 k 40 250 200 100 re f 0 0 0 0 K 0.3 w 50 300 m 200 300 l S", "line-width", "thin-reversed",
    ),
    "small text": ("0 0 0 1 k BT /F 4 Tf 50 300 Td (Small print) Tj ET", "small-text", "small"),
    "text that became small by its matrix": (
        "0 0 0 1 k BT /F 12 Tf 0.3 0 0 0.3 50 300 Tm (Small print) Tj ET", "small-text", "small",
    ),
    "small text in several inks": (
        "1 0.5 0 0 k BT /F 6 Tf 50 300 Td (Small print) Tj ET", "small-text", "small-in-inks",
    ),
    "small white text on a colour": (
        "1 0 0 0 k 40 250 200 100 re f 0 0 0 0 k BT /F 6 Tf 50 300 Td (Small print) Tj ET",
        "small-text", "small-reversed",
    ),
    "small rich black text": (
        "0.6 0.4 0.4 1 k BT /F 9 Tf 50 300 Td (Rich) Tj ET", "black-text", "rich-black",
    ),
    "small black text left out of a colour": (
        "0 0 1 0 k 40 250 200 100 re f 0 0 0 1 k BT /F 9 Tf 50 300 Td (Black) Tj ET",
        "black-text", "knocks-out",
    ),
    "small black text in a black frame that stands on a colour": (
        "0 0 1 0 k 9 9 300 500 re f 0 0 0 1 k 45 260 99 80 re 50 265 89 70 re f* BT /F 9 Tf 60 300 Td (K) Tj",
        "black-text", "knocks-out",
    ),
    "white that vanishes": (
        "1 0 0 0 k 40 250 200 100 re f /Over gs 0 0 0 0 k 50 280 100 40 re f", "white-overprint", "vanishes",
    ),
    "pale paint that mixes": (
        "1 0 0 0 k 40 250 200 100 re f /Over gs 0 0.1 0 0 k 50 280 100 40 re f",
        "white-overprint", "pale-mixes",
    ),
    "registration colour": ("/Every cs 1 scn 50 280 100 40 re f", "registration-colour", "all-plates"),
    "four full inks": ("1 1 1 1 k 50 280 100 40 re f", "registration-colour", "four-full-inks"),
    "a logo near the cut": ("0 0 0 1 k 4 280 40 40 re f", "marks-near-trim", "isolated"),
    "a crop mark in the bleed": (
        "/Every CS 1 SCN 0.25 w -30 0 m -3 0 l S 0 0 0 1 k 50 280 100 40 re f", "printers-marks", "in-bleed",
    ),
    "screen colours": ("1 0 0 rg 50 280 100 40 re f", "colour-spaces", "forbidden"),
}  # fmt: skip


@pytest.mark.parametrize("fault", FAULTS)
def test_a_fault_is_found_by_its_rule_and_by_no_other(tmp_path: Path, fault: str) -> None:
    content, rule, code = FAULTS[fault]
    found = said(piece(tmp_path / "fault.pdf", content))
    assert [(item.rule, item.code) for item in found] == [(rule, code)]
    assert found[0].page == 1
    page = Box(0, 0, WIDTH + 2 * mm_to_pt(20), HEIGHT + 2 * mm_to_pt(20))
    assert all(page.holds(box) for box in found[0].boxes)
    assert found[0].boxes


LOOK_ALIKES = {
    "a thin line made wide by scaling": "q 20 0 0 20 0 0 cm 0 0 0 1 K 0.05 w 3 15 m 10 15 l S Q",
    "a thin line turned": "q 0 1 -1 0 200 100 cm 0 0 0 1 K 0.25 w 50 0 m 200 0 l S Q",
    "the strips of a gradient": " ".join(
        f"0 0 0 {0.2 + step / 200:.3f} k 50 {300 + step * 0.2:.1f} 150 0.2 re f" for step in range(100)
    ),
    "small text made large": "0 0 0 1 k BT /F 1 Tf 10 0 0 10 50 300 Tm (Large) Tj ET",
    "white text on bare paper": "0 0 0 0 k BT /F 4 Tf 50 300 Td (White) Tj ET 0 0 0 1 k 50 100 90 90 re f",
    "white that overprints on bare paper": "/Over gs 0 0 0 0 k 50 280 100 40 re f 0 0 0 1 k 50 100 90 90 re"
    " f",
    "white that knocks out": "1 0 0 0 k 40 250 200 100 re f 0 0 0 0 k 50 280 100 40 re f",
    "black that overprints": (
        "0 0 1 0 k 40 250 200 100 re f /Over gs 0 0 0 1 k BT /F 9 Tf 50 300 Td (Black) Tj ET"
    ),
    "black in a coloured frame": (
        "0 1 0 0 k 40 250 200 100 re 50 260 180 80 re f* 0 1 0 0 K 5 w 50 100 180 80 re S "
        "0 0 0 1 k BT /F 9 Tf 60 300 Td (Black) Tj 0 -150 Td (Black) Tj ET"
    ),
    "rich black in a large area": "0.6 0.4 0.4 1 k 40 250 200 100 re f",
    "crop marks outside the bleed": (
        "0 0 0 1 k 50 280 100 40 re f /Every CS 1 SCN 0.25 w -40 0 m -12 0 l S 0 -40 m 0 -12 l S"
    ),
    "small faults that are covered": (
        "0 0 0 1 K 0 w 50 300 m 200 300 l S BT /F 3 Tf 50 310 Td (gone) Tj ET 1 0 0 0 k 40 250 200 100 re f"
    ),
    "small faults that are clipped away": (
        "0 0 0 1 k 50 280 100 40 re f q 300 300 10 10 re W n 0 0 0 1 K 0 w 50 330 m 200 330 l S Q"
    ),
    "a picture that bleeds and a logo well inside": f"{GROUND} 0 0 1 0 k 50 280 100 40 re f",
}


@pytest.mark.parametrize("look_alike", LOOK_ALIKES)
def test_a_look_alike_stays_silent(tmp_path: Path, look_alike: str) -> None:
    found = said(piece(tmp_path / "sound.pdf", LOOK_ALIKES[look_alike]))
    assert [(item.rule, item.code) for item in found] == []


def test_the_bare_page_says_only_what_all_of_these_say(tmp_path: Path) -> None:
    path = piece(tmp_path / "sound.pdf", "0 0 0 1 k BT /F 12 Tf 50 300 Td (Sound) Tj ET")
    assert {item.rule for item in said(path, only_new=False)} == EXPECTED
