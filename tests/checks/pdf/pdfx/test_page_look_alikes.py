# What comes near to breaking a requirement on boxes, annotations, actions and layers, and keeps it.
from pathlib import Path

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, String

from hotfolder.checks.shared.pdfx_levels import X4, Level
from tests.checks.pdf.pdfx.bases import BLEED, MEDIA, TRIM, Edit, edited
from tests.checks.pdf.pdfx.cases.annotations import annotated, trapped
from tests.checks.pdf.pdfx.judged import broken, judged, left_open


def art_box_alone(pdf: pikepdf.Pdf) -> None:
    page = pdf.pages[1].obj
    page.ArtBox = page.TrimBox
    del page["/TrimBox"]


def media_box_inherited(pdf: pikepdf.Pdf) -> None:
    for page in pdf.pages:
        del page.obj["/MediaBox"]
    pdf.Root.Pages.MediaBox = Array(MEDIA)


def boxes_as_references_with_corners_turned(pdf: pikepdf.Pdf) -> None:
    x0, y0, x1, y1 = TRIM
    pdf.pages[1].obj.TrimBox = pdf.make_indirect(Array([x1, y1, x0, y0]))


def no_bleed_box(pdf: pikepdf.Pdf) -> None:
    del pdf.pages[1].obj["/BleedBox"]


def trim_on_bleed_but_for_rounding(pdf: pikepdf.Pdf) -> None:
    pdf.pages[1].obj.TrimBox = Array([19.995, 20, 320, 440.004])


def crop_on_bleed(pdf: pikepdf.Pdf) -> None:
    pdf.pages[1].obj.CropBox = Array(BLEED)


def viewer_areas_of_the_page(pdf: pikepdf.Pdf) -> None:
    pdf.Root.ViewerPreferences = Dictionary(
        ViewArea=Name.MediaBox, PrintClip=Name.BleedBox, DisplayDocTitle=True
    )


def empty_separation_info(pdf: pikepdf.Pdf) -> None:
    pdf.pages[1].obj.SeparationInfo = Array([])


def destination_on_opening(pdf: pikepdf.Pdf) -> None:
    pdf.Root.OpenAction = Array([pdf.pages[0].obj, Name.Fit])


def destination_in_a_dictionary(pdf: pikepdf.Pdf) -> None:
    pdf.Root.OpenAction = Dictionary(D=Array([pdf.pages[0].obj, Name.Fit]))


def bookmarks_with_destinations(pdf: pikepdf.Pdf) -> None:
    outlines = pdf.make_indirect(Dictionary(Type=Name.Outlines, Count=1))
    bookmark = Dictionary(Title=String("Start"), Dest=Array([pdf.pages[0].obj, Name.Fit]), Parent=outlines)
    outlines.First = outlines.Last = pdf.make_indirect(bookmark)
    pdf.Root.Outlines = outlines


def empty_form(pdf: pikepdf.Pdf) -> None:
    pdf.Root.AcroForm = Dictionary(Fields=Array([]), AA=Dictionary())


def no_layers_in_the_list(pdf: pikepdf.Pdf) -> None:
    pdf.Root.OCProperties = Dictionary(OCGs=Array([]), D=Dictionary(Name=String("As printed")))


ANY_LEVEL = [
    art_box_alone,
    media_box_inherited,
    boxes_as_references_with_corners_turned,
    no_bleed_box,
    trim_on_bleed_but_for_rounding,
    crop_on_bleed,
    viewer_areas_of_the_page,
    empty_separation_info,
    destination_on_opening,
    destination_in_a_dictionary,
    bookmarks_with_destinations,
    empty_form,
    pytest.param(annotated("Text", 0, 100, 20, 120), id="a comment that touches the bleed"),
    pytest.param(annotated("Link", 0, 0, 10, 10), id="a link in the corner of the sheet"),
    pytest.param(trapped(), id="traps for CMYK in a trapped file"),
]


@pytest.mark.parametrize("level", Level)
@pytest.mark.parametrize("edit", ANY_LEVEL)
def test_what_every_level_takes(edit: Edit, level: Level, tmp_path: Path) -> None:
    conformance = judged(edited(level, edit), level, tmp_path)
    assert (broken(conformance), left_open(conformance)) == ({}, [])


@pytest.mark.parametrize("level", [Level.X1A_2001, Level.X3_2003])
def test_a_list_of_layers_with_none_in_it_is_no_layer(level: Level, tmp_path: Path) -> None:
    assert broken(judged(edited(level, no_layers_in_the_list), level, tmp_path)) == {}


@pytest.mark.parametrize("level", [Level.X1A_2003, Level.X3_2003, *sorted(X4)])
def test_a_printers_mark_between_cut_line_and_bleed_is_taken_from_pdf_1_4_on(
    level: Level, tmp_path: Path
) -> None:
    mark = annotated("PrinterMark", 0, 100, 27, 120, F=4)
    assert broken(judged(edited(level, mark), level, tmp_path)) == {}


def user_unit_of_two(pdf: pikepdf.Pdf) -> None:
    page = pdf.pages[1].obj
    page.UserUnit = 2
    page.Annots = Array([pdf.make_indirect(Dictionary(Subtype=Name.Link, Rect=Array([0, 0, 19, 19])))])


def test_annotations_are_measured_in_the_pages_unit(tmp_path: Path) -> None:
    assert broken(judged(edited(Level.X4, user_unit_of_two), Level.X4, tmp_path)) == {}


def test_a_box_that_reaches_out_is_told_with_its_distance_and_edge(tmp_path: Path) -> None:
    def edit(pdf: pikepdf.Pdf) -> None:
        pdf.pages[1].obj.BleedBox = Array([20, 20, 320, 440 + 25.5])  # 5.5 pt beyond the sheet: 1.94 mm

    conformance = judged(edited(Level.X4, edit), Level.X4, tmp_path)
    assert broken(conformance) == {
        "boxes-in-page": ["the bleed box reaches 1.94 mm beyond the media box (top edge)"]
    }
    (breach,) = conformance.broken[0].breaches
    assert breach.page is not None
    assert breach.page.number == 2
