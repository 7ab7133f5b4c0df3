# What looks transparent and is not, what is named with it, and where it lies.
from collections.abc import Callable
from pathlib import Path

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name

from hotfolder.checks.pdf.pdfx.findings import findings_of
from hotfolder.checks.pdf.pdfx.level_rule import PdfxLevelSettings
from hotfolder.checks.shared.pdfx_levels import ALL, X4, Level
from hotfolder.model.findings import Finding, Severity
from hotfolder.model.geometry import Box
from tests.checks.pdf.pdfx.bases import edited
from tests.checks.pdf.pdfx.cases.xobjects import jpeg_2000
from tests.checks.pdf.pdfx.drawing import (
    BLACK_AREA,
    NULL,
    dictionary,
    draw,
    draw_form,
    draw_picture,
    group,
    paint_with,
    picture,
    resource,
    state,
    with_nulls,
)
from tests.checks.pdf.pdfx.judged import broken, judged

EARLY = sorted(ALL - X4)
AREA = Box(60, 60, 100, 90)


def _unused(pdf: pikepdf.Pdf) -> None:
    state(pdf, ca=0.5, BM=Name.Multiply, SMask=Dictionary(S=Name.Alpha, G=group(pdf)))
    resource(pdf, "XObject", picture(pdf, SMask=picture(pdf, bytes(64), ColorSpace=Name.DeviceGray)))


def _cut_out(pdf: pikepdf.Pdf) -> None:
    hard = picture(pdf, bytes(8), ImageMask=True, BitsPerComponent=1)
    del hard.ColorSpace
    draw_picture(pdf, Mask=hard)


def _by_colour(pdf: pikepdf.Pdf) -> None:
    draw_picture(pdf, Mask=Array([0, 10] * 4))


def _plain_group(pdf: pikepdf.Pdf) -> None:
    draw_form(pdf, Group=Dictionary(S=Name.Other))
    pdf.pages[0].obj.Group = Dictionary(S=Name.Other)


LOOK_ALIKES: list[tuple[str, Callable[[pikepdf.Pdf], None]]] = [
    ("full opacity", lambda pdf: paint_with(pdf, ca=1, CA=1.0)),
    ("normal", lambda pdf: paint_with(pdf, BM=Name.Normal)),
    ("compatible", lambda pdf: paint_with(pdf, BM=Array([Name.Compatible, Name.Normal]))),
    ("no soft mask", lambda pdf: paint_with(pdf, SMask=Name("/None"))),
    ("null in place of values", lambda pdf: paint_with(pdf, SMask=NULL, BM=NULL, ca=NULL)),
    ("alpha as shape, and knockout of text", lambda pdf: paint_with(pdf, AIS=True, TK=False)),
    ("an empty list of modes", lambda pdf: paint_with(pdf, BM=Array([]))),
    ("not used", _unused),
    ("a hard mask", _cut_out),
    ("masked by colour", _by_colour),
    ("groups of another kind", _plain_group),
    ("a mask that is no stream", lambda pdf: draw_picture(pdf, SMask=Dictionary())),
    ("a mask within data that cannot have one", lambda pdf: draw_picture(pdf, SMaskInData=1)),
]


@pytest.mark.parametrize("level", EARLY)
@pytest.mark.parametrize(("_name", "edit"), LOOK_ALIKES, ids=[name for name, _ in LOOK_ALIKES])
def test_what_is_not_transparent_breaks_nothing(
    _name: str, edit: Callable[[pikepdf.Pdf], None], level: Level, tmp_path: Path
) -> None:
    assert broken(judged(with_nulls(edited(level, edit)), level, tmp_path)) == {}


@pytest.mark.parametrize("level", sorted(X4))
def test_x4_takes_all_standard_blend_modes(level: Level, tmp_path: Path) -> None:
    modes = (
        "Normal Compatible Multiply Screen Overlay Darken Lighten ColorDodge ColorBurn HardLight SoftLight"
        " Difference Exclusion Hue Saturation Color Luminosity"
    )

    def edit(pdf: pikepdf.Pdf) -> None:
        for mode in modes.split():
            paint_with(pdf, BM=Name(f"/{mode}"), ca=0.5)
        paint_with(pdf, BM=Array([Name.ColorBurn, Name.Multiply]))

    assert broken(judged(edited(level, edit), level, tmp_path)) == {}


def test_an_opacity_is_told_with_its_figure_and_its_place(tmp_path: Path) -> None:
    conformance = judged(
        edited(Level.X1A_2003, lambda pdf: paint_with(pdf, ca=0.35)), Level.X1A_2003, tmp_path
    )
    [finding] = findings_of(conformance, "pdfx-level", PdfxLevelSettings(level=Level.X1A_2003))
    assert isinstance(finding, Finding)
    assert (finding.code, finding.page, finding.boxes) == ("opacity", 1, (AREA,))
    assert "opacity of 35 %" in finding.message
    assert finding.severity is Severity.MUST_FIX


@pytest.mark.parametrize(
    ("entries", "breaks", "what"),
    [
        ({"ca": Name.Half}, "opacity", "an opacity of no figure"),
        ({"BM": pikepdf.String("Multiply")}, "blend-mode", "a blend mode that is no name"),
        ({"SMask": Name.Alpha}, "soft-mask", "something fades out by a soft mask"),
        ({"SMask": Dictionary(S=Name.Alpha)}, "soft-mask", "something fades out by a soft mask"),
    ],
)
def test_values_of_a_wrong_type_are_not_those_that_are_taken(
    entries: dict[str, object], breaks: str, what: str, tmp_path: Path
) -> None:
    data = edited(Level.X3_2003, lambda pdf: paint_with(pdf, **entries))
    assert broken(judged(data, Level.X3_2003, tmp_path)) == {breaks: [what]}


def test_what_is_transparent_in_forms_patterns_and_shadings_is_found(tmp_path: Path) -> None:
    def in_a_form(pdf: pikepdf.Pdf) -> None:
        inner = Dictionary(ExtGState=Dictionary(Half=Dictionary(ca=0.5)))
        draw_form(pdf, Resources=inner)
        pdf.pages[0].obj.Resources.XObject[f"/Added{len(pdf.pages[0].obj.Resources.XObject) - 1}"].write(
            b"/Half gs " + BLACK_AREA
        )

    def in_a_shading_pattern(pdf: pikepdf.Pdf) -> None:
        ramp = Dictionary(FunctionType=2, Domain=Array([0, 1]), N=1, C0=Array([0] * 4), C1=Array([1] * 4))
        shading = dictionary(
            ShadingType=2, ColorSpace=Name.DeviceCMYK, Coords=Array([0, 0, 340, 0]), Function=ramp
        )
        pattern = Dictionary(PatternType=2, Shading=shading, ExtGState=Dictionary(BM=Name.Screen))
        name = resource(pdf, "Pattern", pdf.make_indirect(pattern))
        draw(pdf, b"/Pattern cs " + name + b" scn 60 60 40 30 re f")

    for edit, breaks in ((in_a_form, "opacity"), (in_a_shading_pattern, "blend-mode")):
        assert set(broken(judged(edited(Level.X1A_2001, edit), Level.X1A_2001, tmp_path))) == {breaks}


def test_opacity_within_jpeg_2000_data_is_a_soft_mask(tmp_path: Path) -> None:
    def edit(pdf: pikepdf.Pdf) -> None:
        draw_picture(pdf, jpeg_2000("RGBA"), Filter=Name.JPXDecode, SMaskInData=1)

    assert "image-soft-mask" in broken(judged(edited(Level.X3_2003, edit), Level.X3_2003, tmp_path))


# Pages that are groups


@pytest.mark.parametrize("level", EARLY)
def test_a_page_that_is_a_group_for_nothing_is_advice(level: Level, tmp_path: Path) -> None:
    def edit(pdf: pikepdf.Pdf) -> None:
        pdf.pages[1].obj.Group = Dictionary(S=Name.Transparency)

    conformance = judged(edited(level, edit), level, tmp_path)
    [finding] = findings_of(conformance, "pdfx-level", PdfxLevelSettings(level=level))
    assert isinstance(finding, Finding)
    assert (finding.code, finding.severity, finding.page) == ("page-group", Severity.ADVICE, 2)


@pytest.mark.parametrize(
    ("edit", "breaks"),
    [
        (lambda pdf: paint_with(pdf, ca=0.5), "opacity"),
        (lambda pdf: draw_form(pdf, Group=Dictionary(S=Name.Transparency)), "transparency-group"),
    ],
)
def test_a_page_that_is_a_group_for_something_is_told_by_that_alone(
    edit: Callable[[pikepdf.Pdf], None], breaks: str, tmp_path: Path
) -> None:
    def both(pdf: pikepdf.Pdf) -> None:
        edit(pdf)
        pdf.pages[0].obj.Group = Dictionary(S=Name.Transparency)

    assert set(broken(judged(edited(Level.X1A_2003, both), Level.X1A_2003, tmp_path))) == {breaks}
