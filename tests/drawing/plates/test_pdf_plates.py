# Plates of whole files: presses, frames, trouble; and that a drawing leaves the document as it was.
from pathlib import Path

import numpy as np
import pikepdf
import pytest
from pikepdf import Array, Name

from hotfolder.drawing.plates.pdf import PdfPlates
from hotfolder.measure import measure
from hotfolder.model.facts import Unmeasured
from hotfolder.model.inks import CELL_PT
from hotfolder.model.plates import PagePlates
from hotfolder.model.press import Press
from tests.drawing.rewriting.rewritten_page import AREA, Plated, cmyk, coated, plates_of


@pytest.fixture
def page(tmp_path: Path) -> Plated:
    return Plated(tmp_path / "a.pdf")


@pytest.mark.parametrize("press", [None, Press("FOGRA51", "a condition known by name only", None)])
def test_without_a_profile_own_colours_are_drawn_and_others_are_not_guessed(
    page: Plated, press: Press | None
) -> None:
    page.press = press
    assert page.draw(b"0.5 0 0 0 k " + AREA).at(36, 36) == cmyk(0.5)
    plates = page.result(b"1 0 0 rg " + AREA)
    assert isinstance(plates, Unmeasured)
    assert "profile" in plates.reason


def test_screen_colours_come_twice_as_inks_and_as_they_are_meant(page: Plated) -> None:
    page.press = coated()
    drawn = page.draw(b"0.8 0.4 0.2 rg " + AREA)
    assert drawn.screen_at(36, 36) == (204, 102, 51)
    assert drawn.screen_at(5, 5) == (255, 255, 255)
    assert set(drawn.at(36, 36)) >= {"Cyan", "Magenta", "Yellow"}


def test_where_all_colours_are_the_presss_own_nothing_can_move(page: Plated) -> None:
    page.press = coated()
    assert page.draw(b"0.5 0.4 0.3 0.2 k " + AREA).plates.screen is None


def test_a_page_blended_in_screen_colours_has_black_of_four_inks(page: Plated) -> None:
    # ISO 32000-2, 11.4.7: everything becomes a colour of the page's group before it becomes ink.
    page.press = coated()
    page.page.obj.Group = pikepdf.Dictionary(S=Name.Transparency, CS=Name.DeviceRGB)
    page.state("Half", ca=0.5)
    plain = page.draw(b"0 g " + AREA)
    assert plain.at(36, 36) == cmyk(0, 0, 0, 1)
    blended = page.draw(b"0 g " + AREA + b"/Half gs 1 g 0 0 5 5 re f")
    rich = page.draw(b"0 0 0 rg " + AREA)
    assert blended.at(36, 36) == pytest.approx(rich.at(36, 36), abs=0.01)
    assert len(blended.at(36, 36)) == 4
    assert not blended.plates.approximate  # drawn in screen colours as a whole, and then separated


def test_small_text_blended_in_screen_colours_has_the_inks_of_its_black_to_its_edges(page: Plated) -> None:
    # 11.4.7: a letter's black becomes ink, and then covers a part of a pixel; the grey of that pixel has far
    # less black and more of the others.
    page.press = coated()
    page.page.obj.Group = pikepdf.Dictionary(S=Name.Transparency, CS=Name.DeviceRGB)
    page.resource("Font", "F", pikepdf.Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Times))
    page.state("Half", ca=0.5)
    solid = page.draw(b"0 0 0 rg " + AREA).at(36, 36)
    lines = b"".join(b"1 0 0 1 4.3 %d Tm (small letters, fine lines) Tj " % row for row in range(4, 70, 6))
    drawn = page.draw(b"0 g BT /F 5 Tf " + lines + b"ET /Half gs 1 g 0 0 5 5 re f")
    shares = {ink: drawn.share(ink) / solid[ink] for ink in solid}
    assert shares["Yellow"] == pytest.approx(shares["Black"], rel=0.02)
    assert shares["Cyan"] == pytest.approx(shares["Black"], rel=0.02)


def test_the_frame_begins_at_a_corner_of_the_trim(page: Plated) -> None:
    page.page.obj.MediaBox = Array([-10, -20, 90, 80])
    page.page.obj.TrimBox = Array([1.5, 2.5, 71.5, 62.5])
    plates = page.draw(b"1 0 0 0 k 1.5 2.5 70 60 re f").plates
    cells = (1.5 - plates.frame.left) / CELL_PT, (plates.frame.top - 62.5) / CELL_PT
    assert cells == pytest.approx([round(each) for each in cells], abs=1e-6)
    assert plates.frame.box.holds(plates.sheet, 1e-6)
    # The trim's left and top edges are edges of pixels: the paint begins there, in full.
    cyan = plates.inks["Cyan"]
    assert np.flatnonzero(cyan.any(axis=0))[0] == round(cells[0]) * plates.frame.px_per_mm
    assert np.flatnonzero(cyan.any(axis=1))[0] == round(cells[1]) * plates.frame.px_per_mm


def test_what_lies_beside_the_sheet_is_not_drawn(page: Plated) -> None:
    page.page.obj.MediaBox = Array([10, 10, 60, 60])
    drawn = page.draw(b"1 0 0 0 k 0 0 100 100 re f")
    assert drawn.share("Cyan") == pytest.approx(50 * 50, rel=0.005)


def test_a_turned_page_is_drawn_as_it_lies(page: Plated) -> None:
    page.page.obj.Rotate = 90
    assert page.draw(b"1 0 0 0 k 0 0 10 10 re f").at(5, 5) == cmyk(1)


def test_several_pages_are_drawn_from_one_opening(page: Plated) -> None:
    second = page.pdf.add_blank_page(page_size=(72, 72))
    second.obj.Contents = page.pdf.make_stream(b"0 1 0 0 k " + AREA)
    path = page.save(b"1 0 0 0 k " + AREA)
    with PdfPlates(path, measure(path), None) as drawing:
        drawn = [drawing.draw(number) for number in (2, 1, 2, 3)]
    assert [list(each.inks) if isinstance(each, PagePlates) else None for each in drawn] == [
        ["Magenta"],
        ["Cyan"],
        ["Magenta"],
        None,
    ]


@pytest.mark.parametrize(
    "content",
    [
        b"/NoSuchSpace cs 1 scn " + AREA,
        b"/NoSuchState gs /NoSuchForm Do /NoSuchFont 12 Tf " + AREA,
        b"q q q Q Q Q Q Q 1 0 0 0 k ) } ] " + AREA,
        b"BI /W 1000000 /H 1000000 /BPC 8 /CS /G ID xx EI " + AREA,
        b"BI /W 2 ID",
        b"(" * 5000,
        b"[" * 5000 + AREA,
        b"/OC /None BDC " * 200 + AREA,
        b"1e400 0 0 1 0 0 cm 99999999999999999999 w " + AREA,
        b"0 0 0 0 0 0 cm " + AREA + b"0 w 0 0 m 5 5 l S",
        b"\xff\xfe\x00" * 100 + AREA,
    ],
)
def test_odd_content_gives_plates_or_a_reason_and_never_raises(page: Plated, content: bytes) -> None:
    plates = page.result(content)
    assert isinstance(plates, PagePlates) or plates.reason


def test_content_that_cannot_be_decoded_is_no_blank_page(page: Plated) -> None:
    path = page.save(AREA)
    with pikepdf.open(path, allow_overwriting_input=True) as pdf:
        broken = pdf.make_stream(b"no deflated data")
        broken.write(b"no deflated data", filter=Name.FlateDecode)
        pdf.pages[0].Contents = broken
        pdf.save(path)
    assert isinstance(plates_of(path), Unmeasured)


def test_content_that_breaks_off_is_drawn_as_far_and_told(page: Plated) -> None:
    path = page.save(b"1 0 0 0 k " + AREA + b" ".join(b"%d" % each for each in range(500)))
    with pikepdf.open(path, allow_overwriting_input=True) as pdf:
        whole = pdf.pages[0].Contents.read_raw_bytes()
        pdf.pages[0].Contents.write(whole[: len(whole) * 2 // 3], filter=Name.FlateDecode)
        pdf.save(path)
    plates = plates_of(path)
    assert isinstance(plates, PagePlates)
    assert list(plates.inks) == ["Cyan"]
    assert any("broken" in reason for reason in plates.approximate)


def test_a_missing_file_raises(tmp_path: Path, page: Plated) -> None:
    artwork = measure(page.save(AREA))
    with pytest.raises(OSError, match="gone"), PdfPlates(tmp_path / "gone.pdf", artwork, None):
        pass


def test_pages_that_share_a_picture_each_keep_their_own_default_space(tmp_path: Path) -> None:
    # ISO 32000-2, 8.6.5.6: DefaultRGB holds for the pages whose resources name it, and for no other.
    pdf = pikepdf.new()
    picture = pdf.make_stream(
        bytes([200, 60, 60]) * 4, Type=Name.XObject, Subtype=Name.Image, Width=2, Height=2,
        BitsPerComponent=8, ColorSpace=Name.DeviceRGB,
    )  # fmt: skip
    palette = pdf.make_stream(
        bytes(4), Type=Name.XObject, Subtype=Name.Image, Width=2, Height=2, BitsPerComponent=8,
        ColorSpace=Array([Name.Indexed, Name.DeviceRGB, 0, pikepdf.String(bytes([200, 60, 60]))]),
    )  # fmt: skip
    other = pikepdf.Dictionary(
        DefaultRGB=Array([Name.CalRGB, pikepdf.Dictionary(WhitePoint=[0.9505, 1, 1.089], Gamma=[1, 1, 1])])
    )
    for number in range(60):
        page = pdf.add_blank_page(page_size=(36, 36))
        page.obj.Resources = pikepdf.Dictionary(XObject=pikepdf.Dictionary(A=picture, B=palette))
        if number % 2:
            page.obj.Resources.ColorSpace = other
        page.obj.Contents = pdf.make_stream(b"q 16 0 0 36 0 0 cm /A Do Q q 16 0 0 36 18 0 cm /B Do Q")
    path = tmp_path / "shared.pdf"
    pdf.save(path)
    means = []
    with PdfPlates(path, measure(path), coated()) as drawing:
        for number in range(1, 61):
            plates = drawing.draw(number)
            assert isinstance(plates, PagePlates)
            means.append(tuple(round(float(plates.inks[ink].mean()), 3) for ink in sorted(plates.inks)))
    assert len(set(means[::2])) == len(set(means[1::2])) == 1
    assert means[0] != means[1]


def test_letters_that_no_font_at_hand_has_are_not_told_as_no_ink(page: Plated) -> None:
    # The file brings no program for its font (ISO 32000-2, 9.9), and its codes stand for no known letters.
    descriptor = pikepdf.Dictionary(
        Type=Name.FontDescriptor, FontName=Name.Nowhere, Flags=4, FontBBox=[0, 0, 1000, 1000],
        ItalicAngle=0, Ascent=800, Descent=-200, CapHeight=700, StemV=80,
    )  # fmt: skip
    descendant = pikepdf.Dictionary(
        Type=Name.Font, Subtype=Name.CIDFontType2, BaseFont=Name.Nowhere, FontDescriptor=descriptor,
        CIDSystemInfo=pikepdf.Dictionary(Registry="Adobe", Ordering="Identity", Supplement=0),
    )  # fmt: skip
    font = pikepdf.Dictionary(
        Type=Name.Font, Subtype=Name.Type0, BaseFont=Name.Nowhere, Encoding=Name("/Identity-H"),
        DescendantFonts=Array([page.pdf.make_indirect(descendant)]),
    )  # fmt: skip
    page.resource("Font", "F", page.pdf.make_indirect(font))
    plates = page.result(b"BT /F 24 Tf 10 30 Td <FF03FF80FF37> Tj ET")
    assert isinstance(plates, Unmeasured)
    assert "font" in plates.reason
