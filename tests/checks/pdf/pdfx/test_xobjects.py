# Pictures and forms that come near to what a level does not take, and keep it; and where others lie.
from collections.abc import Callable
from pathlib import Path

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, Stream, String

from hotfolder.checks.pdf.pdfx.judging import Conformance
from hotfolder.checks.shared.pdfx_levels import X4, Level
from hotfolder.model.geometry import Box
from tests.checks.pdf.pdfx.bases import edited
from tests.checks.pdf.pdfx.cases.xobjects import jpeg_2000
from tests.checks.pdf.pdfx.drawing import NULL, draw_form, draw_picture, form, picture, resource, with_nulls
from tests.checks.pdf.pdfx.judged import broken, judged, left_open


def _unused(pdf: pikepdf.Pdf) -> None:
    resource(pdf, "XObject", form(pdf, Subtype2=Name.PS, OPI=Dictionary()))
    resource(pdf, "XObject", picture(pdf, bytes(512), BitsPerComponent=16))


def _on_screen(pdf: pikepdf.Pdf) -> None:
    others = [
        Dictionary(Image=picture(pdf)),
        Dictionary(Image=picture(pdf), DefaultForPrinting=False),
        String("no dictionary"),
    ]
    draw_picture(pdf, Alternates=Array(others))


LOOK_ALIKES: list[tuple[str, Callable[[pikepdf.Pdf], None]]] = [
    ("not used", _unused),
    ("alternates that are not for printing", _on_screen),
    ("no list of alternates", lambda pdf: draw_picture(pdf, Alternates=Name.Some)),
    ("smoothed", lambda pdf: draw_picture(pdf, Interpolate=True)),
    ("one bit", lambda pdf: draw_picture(pdf, bytes(8), BitsPerComponent=1, ColorSpace=Name.DeviceGray)),
    ("a program's notes", lambda pdf: draw_form(pdf, PieceInfo=Dictionary(Some=Dictionary(Private=1)))),
    ("null in place of values", lambda pdf: draw_form(pdf, OPI=NULL, Ref=NULL, PS=NULL)),
]


@pytest.mark.parametrize("level", Level)
@pytest.mark.parametrize(("_name", "edit"), LOOK_ALIKES, ids=[name for name, _ in LOOK_ALIKES])
def test_what_comes_near_breaks_nothing(
    _name: str, edit: Callable[[pikepdf.Pdf], None], level: Level, tmp_path: Path
) -> None:
    assert broken(judged(with_nulls(edited(level, edit)), level, tmp_path)) == {}


def _place(conformance: Conformance) -> tuple[str, tuple[Box, ...]]:
    [requirement] = conformance.broken
    [breach] = requirement.breaches
    assert breach.page is not None
    assert breach.page.number == 1
    return breach.what, breach.boxes


def test_a_picture_and_a_form_are_named_by_their_object_and_placed(tmp_path: Path) -> None:
    deep = edited(Level.X3_2003, lambda pdf: draw_picture(pdf, bytes(512), BitsPerComponent=16))
    what, boxes = _place(judged(deep, Level.X3_2003, tmp_path))
    assert what.startswith("a picture of 16 bits a channel (object ")
    assert boxes == (Box(60, 60, 100, 100),)
    proxy = edited(Level.X3_2003, lambda pdf: draw_form(pdf, OPI=Dictionary({"/2.0": Dictionary()})))
    what, boxes = _place(judged(proxy, Level.X3_2003, tmp_path))
    assert what.startswith("a drawing that stands in for a picture (OPI) (object ")
    assert boxes == (Box(60, 60, 100, 90),)


@pytest.mark.parametrize("level", sorted(X4))
def test_sixteen_bits_are_fine_in_x4(level: Level, tmp_path: Path) -> None:
    data = edited(level, lambda pdf: draw_picture(pdf, bytes(512), BitsPerComponent=16))
    assert broken(judged(data, level, tmp_path)) == {}


@pytest.mark.parametrize(
    ("mode", "bare"), [("L", False), ("LA", False), ("RGB", False), ("RGBA", False), ("L", True)]
)
def test_jpeg_2000_pictures_of_one_or_three_colours_are_fine_with_opacity_too(
    mode: str, *, bare: bool, tmp_path: Path
) -> None:
    def edit(pdf: pikepdf.Pdf) -> None:
        grey, screen = Name.DeviceGray, pdf.pages[0].obj.Resources.XObject.Screen.ColorSpace
        space = grey if mode.startswith("L") else screen
        draw_picture(pdf, jpeg_2000(mode, bare=bare), Filter=Name.JPXDecode, ColorSpace=space)

    assert not {"jpx-channels", "jpx-depth"} & set(broken(judged(edited(Level.X4, edit), Level.X4, tmp_path)))


def test_jpeg_2000_data_that_cannot_be_read_leave_it_open(tmp_path: Path) -> None:
    def edit(pdf: pikepdf.Pdf) -> None:
        draw_picture(pdf, b"no picture", Filter=Name.JPXDecode)

    conformance = judged(edited(Level.X4, edit), Level.X4, tmp_path)
    assert {"jpx-channels", "jpx-depth"} <= set(left_open(conformance))
    reasons = {each.reason for each in conformance.left_open if each.requirement.id.startswith("jpx")}
    assert [each.page.number for each in reasons if each.page is not None] == [1]


def test_an_appearance_that_prints_is_judged_as_any_form(tmp_path: Path) -> None:
    def edit(pdf: pikepdf.Pdf) -> None:
        stamp = Stream(pdf, b"0 0 0 1 k 0 0 9 9 re f")
        stamp.Type, stamp.Subtype, stamp.BBox = Name.XObject, Name.Form, Array([0, 0, 9, 9])
        stamp.OPI, stamp.Resources = Dictionary(), Dictionary()
        appearance = Dictionary(N=pdf.make_indirect(stamp))
        mark = Dictionary(
            Type=Name.Annot, Subtype=Name.PrinterMark, Rect=Array([0, 0, 9, 9]), F=4, AP=appearance
        )
        pdf.pages[0].obj.Annots = Array([pdf.make_indirect(mark)])

    assert "opi" in broken(judged(edited(Level.X1A_2003, edit), Level.X1A_2003, tmp_path))
