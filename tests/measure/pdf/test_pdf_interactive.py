# What a PDF has for screens: form fields, scripts, attachments, annotations.

from pathlib import Path

import pikepdf
import pytest

from hotfolder.measure import measure
from hotfolder.model.artwork import Artwork
from hotfolder.model.document import PdfFacts
from hotfolder.model.facts import Problem, ProblemKind
from hotfolder.model.geometry import Box
from hotfolder.model.pages import Annotation
from hotfolder.pdf.document.interactive import read_interactive
from tests.pdf.raw_pdf import page, stream, write_raw

SCRIPT = "<< /S /JavaScript /JS (app.beep()) >>"


def with_catalog(tmp_path: Path, catalog: str, others: dict[int, str | bytes] | None = None) -> PdfFacts:
    objects: dict[int, str | bytes] = {1: f"<< /Type /Catalog /Pages 2 0 R {catalog} >>"}
    objects |= others or {}
    pdf = measure(write_raw(tmp_path / "a.pdf", objects)).pdf
    assert pdf is not None
    return pdf


# Form fields


def test_terminal_fields_are_counted_and_their_widgets_are_not(tmp_path: Path) -> None:
    artwork = with_catalog(
        tmp_path,
        "/AcroForm << /Fields [10 0 R 11 0 R 14 0 R] >>",
        {
            10: "<< /FT /Tx /T (name) >>",
            11: "<< /T (address) /Kids [12 0 R 13 0 R] >>",
            12: "<< /FT /Tx /T (street) /Parent 11 0 R >>",
            13: "<< /FT /Tx /T (town) /Parent 11 0 R >>",
            14: "<< /FT /Btn /T (choice) /Kids [15 0 R 16 0 R] >>",
            15: "<< /Subtype /Widget /Parent 14 0 R >>",
            16: "<< /Subtype /Widget /Parent 14 0 R >>",
        },
    )
    assert (artwork.form_fields, artwork.xfa) == (4, False)


def test_fields_that_run_in_a_circle_are_counted_once(tmp_path: Path) -> None:
    artwork = with_catalog(
        tmp_path,
        "/AcroForm << /Fields [10 0 R 10 0 R] /XFA [(xdp) 10 0 R] >>",
        {10: "<< /T (a) /Kids [11 0 R] >>", 11: "<< /T (b) /Kids [10 0 R 12 0 R] >>", 12: "<< /T (c) >>"},
    )
    assert (artwork.form_fields, artwork.xfa) == (1, True)


@pytest.mark.parametrize("form", ["7", "<< /Fields 7 >>", "<< /Fields [7 null (x)] >>", "<< >>"])
def test_a_form_without_fields_has_none(tmp_path: Path, form: str) -> None:
    assert with_catalog(tmp_path, f"/AcroForm {form}").form_fields == 0


@pytest.mark.parametrize(
    ("field", "counts"),
    [
        ("/FT /Sig /Subtype /Widget /Rect [0 0 0 0] /F 132", False),
        ("/FT /Sig /Subtype /Widget /Rect [100 200 100 200]", False),
        ("/FT /Sig /Subtype /Widget /Rect [0 0 90 40] /F 2", False),
        ("/FT /Sig /Subtype /Widget /Rect [0 0 90 40] /F 32", False),
        ("/FT /Sig", False),
        ("/FT /Sig /Kids [<< /Subtype /Widget /Rect [0 0 0 0] >>]", False),
        ("/FT /Sig /Kids [<< /Subtype /Widget /Rect [0 0 90 40] >>]", True),
        ("/FT /Sig /Subtype /Widget /Rect [0 0 90 40]", True),
        ("/FT /Sig /Subtype /Widget /Rect [0 0 90 40] /F 36", True),  # seen on paper alone
        ("/FT /Tx /Subtype /Widget /Rect [0 0 0 0]", True),
    ],
)
def test_a_signature_that_is_not_meant_to_be_seen_is_no_field(
    tmp_path: Path, field: str, *, counts: bool
) -> None:
    """Source: ISO 32000-2, 12.7.5.5: such a signature has no extent, or is hidden."""
    artwork = with_catalog(tmp_path, "/AcroForm << /Fields [10 0 R] >>", {10: f"<< /T (signed) {field} >>"})
    assert artwork.form_fields == int(counts)


def test_a_signature_may_be_one_by_the_field_above_it(tmp_path: Path) -> None:
    artwork = with_catalog(
        tmp_path,
        "/AcroForm << /Fields [10 0 R] >>",
        {
            10: "<< /T (all) /FT /Sig /Kids [11 0 R 12 0 R] >>",
            11: "<< /T (one) /Parent 10 0 R /Subtype /Widget /Rect [0 0 0 0] >>",
            12: "<< /T (two) /Parent 10 0 R /Subtype /Widget /Rect [0 0 90 40] >>",
        },
    )
    assert artwork.form_fields == 1


# Scripts and attachments


@pytest.mark.parametrize(
    ("catalog", "scripts"),
    [
        ("", 0),
        (f"/OpenAction {SCRIPT}", 1),
        ("/OpenAction [3 0 R /Fit]", 0),
        ("/OpenAction << /S /GoTo /D [3 0 R /Fit] >>", 0),
        (f"/AA << /WC {SCRIPT} /WP {SCRIPT} /DS 5 >>", 2),
        (f"/Names << /JavaScript << /Names [(a) {SCRIPT} (b) {SCRIPT}] >> >>", 2),
        (f"/Names << /JavaScript << /Kids [10 0 R] /Names [(a) {SCRIPT}] >> >>", 2),
        (f"/AcroForm << /Fields [<< /T (a) /AA << /K {SCRIPT} >> >>] >>", 1),
    ],
)
def test_scripts_are_counted_where_they_would_run(tmp_path: Path, catalog: str, scripts: int) -> None:
    others: dict[int, str | bytes] = {
        10: f"<< /Kids [10 0 R 11 0 R] /Names [(x) {SCRIPT}] >>",
        11: "(no node)",
    }
    assert with_catalog(tmp_path, catalog, others).scripts == scripts


def test_scripts_that_follow_another_action_are_counted_too(tmp_path: Path) -> None:
    """ISO 32000-2, 12.6.2: Next has one action, or an array of them."""
    go = f"<< /S /GoTo /D [3 0 R /Fit] /Next [{SCRIPT} << /S /URI /URI (x) /Next {SCRIPT} >>] >>"
    assert with_catalog(tmp_path, f"/OpenAction {go}").scripts == 2
    circle: dict[int, str | bytes] = {10: "<< /S /JavaScript /JS (app.beep()) /Next 10 0 R >>"}
    assert with_catalog(tmp_path, "/OpenAction 10 0 R", circle).scripts == 1


def test_scripts_of_pages_and_annotations_are_counted_once_each(tmp_path: Path) -> None:
    field = f"<< /Subtype /Widget /T (a) /Rect [0 0 0 0] /A {SCRIPT} >>"
    artwork = with_catalog(
        tmp_path,
        "/AcroForm << /Fields [10 0 R] >>",
        {3: page(f"/MediaBox [0 0 9 9] /AA << /O {SCRIPT} >> /Annots [10 0 R 11 0 R]"), 10: field, 11: field},
    )
    assert artwork.scripts == 3


def test_attached_files_are_counted_in_the_list_and_on_pages(tmp_path: Path) -> None:
    artwork = with_catalog(
        tmp_path,
        "/Names << /EmbeddedFiles << /Kids [10 0 R] >> >>",
        {
            3: page("/MediaBox [0 0 9 9] /Annots [<< /Subtype /FileAttachment /Rect [0 0 1 1] >>]"),
            10: "<< /Names [(one) << /Type /Filespec >> (two) << /Type /Filespec >>] >>",
        },
    )
    assert artwork.attachments == 3


# Annotations


def annotated(tmp_path: Path, *annotations: str, page_entries: str = "") -> Artwork:
    objects: dict[int, str | bytes] = {
        3: page(f"/MediaBox [0 0 300 400] {page_entries} /Annots [{' '.join(annotations)}]"),
        10: stream(b"0 0 10 10 re f", "/Type /XObject /Subtype /Form /BBox [0 0 10 10]"),
    }
    return measure(write_raw(tmp_path / "a.pdf", objects))


def only_annotation(artwork: Artwork) -> Annotation:
    assert isinstance(artwork.pages, tuple)
    (annotation,) = artwork.pages[0].annotations
    return annotation


def test_an_annotation_has_a_subtype_a_place_and_an_appearance(tmp_path: Path) -> None:
    stamp = "<< /Subtype /Stamp /F 4 /Rect [30 40 10 20] /AP << /N 10 0 R >> >>"
    artwork = annotated(tmp_path, stamp, page_entries="/UserUnit 2")
    assert only_annotation(artwork) == Annotation(
        "Stamp", Box(20, 40, 60, 80), prints=True, has_appearance=True
    )
    assert artwork.problems == ()


@pytest.mark.parametrize(
    ("flags", "prints"), [("", False), ("/F 0", False), ("/F 4", True), ("/F 6", False), ("/F (4)", False)]
)
def test_an_annotation_prints_where_its_flags_say_so(tmp_path: Path, flags: str, *, prints: bool) -> None:
    """Source: ISO 32000-2, table 167: bit 3 is Print, bit 2 is Hidden."""
    artwork = annotated(tmp_path, f"<< /Subtype /Square {flags} /Rect [0 0 9 9] /AP << /N 10 0 R >> >>")
    assert only_annotation(artwork).prints is prints


@pytest.mark.parametrize(
    ("entries", "has_appearance"),
    [
        ("/AP << /N << /On 10 0 R >> >> /AS /On", True),
        ("/AP << /N << /On 10 0 R >> >> /AS /Off", False),
        ("/AP << /D 10 0 R >>", False),
        ("/AP << /N null >>", False),
        ("/AP 5", False),
    ],
)
def test_the_appearance_is_that_of_the_present_state(
    tmp_path: Path, entries: str, *, has_appearance: bool
) -> None:
    artwork = annotated(tmp_path, f"<< /Subtype /Widget /F 4 /Rect [0 0 9 9] {entries} >>")
    assert only_annotation(artwork).has_appearance is has_appearance


@pytest.mark.parametrize(
    ("annotation", "told"),
    [
        ("<< /Subtype /FreeText /F 4 /Rect [0 0 9 9] >>", True),
        ("<< /Subtype /FreeText /F 0 /Rect [0 0 9 9] >>", False),
        ("<< /Subtype /FreeText /F 4 /Rect [0 0 0 9] >>", False),
        ("<< /Subtype /Popup /F 4 /Rect [0 0 9 9] >>", False),
        ("<< /Subtype /Link /F 4 /Rect [0 0 9 9] >>", True),
        ("<< /Subtype /Link /F 4 /Rect [0 0 9 9] /Border [0 0 1] >>", True),
        ("<< /Subtype /Link /F 4 /Rect [0 0 9 9] /Border [0 0 0] >>", False),
        ("<< /Subtype /Link /F 4 /Rect [0 0 9 9] /BS << /W 0 >> >>", False),
        ("<< /Subtype /Widget /FT /Tx /F 4 /Rect [0 0 9 9] >>", False),
        ("<< /Subtype /Widget /FT /Tx /F 4 /Rect [0 0 9 9] /V (filled in) >>", True),
        ("<< /Subtype /Widget /FT /Tx /F 4 /Rect [0 0 9 9] /V () >>", False),
        ("<< /Subtype /Widget /FT /Tx /F 4 /Rect [0 0 9 9] /MK << /BG [1 0 0] >> >>", True),
        ("<< /Subtype /Widget /F 4 /Rect [0 0 9 9] /Parent << /V (filled in) >> >>", True),
        ("<< /Subtype /Widget /FT /Btn /F 4 /Rect [0 0 9 9] /V /Off >>", False),
        ("<< /Subtype /Widget /F 4 /Rect [0 0 9 9] /V /On /AS /Off /AP << /N << /On 10 0 R >> >> >>", False),
    ],
)
def test_paint_that_no_appearance_describes_is_told(tmp_path: Path, annotation: str, *, told: bool) -> None:
    problems_seen = [(each.where, each.kind) for each in annotated(tmp_path, annotation).problems]
    assert problems_seen == ([("pages[1].annotations", ProblemKind.UNSUPPORTED)] if told else [])


@pytest.mark.parametrize(
    ("annotation", "place"),
    [
        ("<< /Subtype /FreeText /F 4 /Rect [20 30 60 50] >>", (19, 29, 61, 51)),
        ("<< /Subtype /Link /F 4 /Rect [20 30 60 50] /BS << /W 3 >> >>", (17, 27, 63, 53)),
        ("<< /Subtype /Line /F 4 /Rect [20 30 60 50] /L [10 30 60 50] /BS << /W 2 >> >>", (8, 28, 62, 52)),
        ("<< /Subtype /Ink /F 4 /Rect [20 30 60 50] /InkList [[20 30 60 80] [25 30]] >>", (19, 29, 61, 81)),
        (
            "<< /Subtype /Highlight /F 4 /Rect [20 30 60 50] /QuadPoints [20 50 60 50 20 25 60 25] >>",
            (19, 24, 61, 51),
        ),
        ("<< /Subtype /Line /F 4 /Rect [20 30 60 50] /L [(x) 5] >>", (19, 29, 61, 51)),
    ],
)
def test_it_is_told_how_far_such_paint_may_reach(
    tmp_path: Path, annotation: str, place: tuple[float, ...]
) -> None:
    # ISO 32000-2, 12.5.4 for the border's width, 12.5.6.7 to 12.5.6.13 for the points.
    (problem,) = annotated(tmp_path, annotation).problems
    assert problem.box == Box(*place)


def test_an_annotation_without_a_place_is_left_out_and_told(tmp_path: Path) -> None:
    artwork = annotated(tmp_path, "<< /Subtype /Stamp /F 4 /Rect [0 0 (x)] >>", "5", "null")
    assert isinstance(artwork.pages, tuple)
    assert artwork.pages[0].annotations == ()
    assert [(each.where, each.kind) for each in artwork.problems] == [
        ("pages[1].annotations[1]", ProblemKind.DAMAGED)
    ]


@pytest.mark.parametrize("annotations", ["5", "(x)", "<< /A 1 >>", "null"])
def test_annotations_that_are_no_list_are_none(tmp_path: Path, annotations: str) -> None:
    artwork = measure(
        write_raw(tmp_path / "a.pdf", {3: page(f"/MediaBox [0 0 300 400] /Annots {annotations}")})
    )
    assert isinstance(artwork.pages, tuple)
    assert artwork.pages[0].annotations == ()


def test_fields_that_all_name_the_same_kids_are_counted_within_limits() -> None:
    pdf = pikepdf.new()
    kids = pdf.make_indirect(pikepdf.Array())
    for number in range(2_000):
        kids.append(pdf.make_indirect(pikepdf.Dictionary(T=f"f{number}", Kids=kids)))
    pdf.Root.AcroForm = pikepdf.Dictionary(Fields=kids)
    pdf.Root.Names = pikepdf.Dictionary(JavaScript=pikepdf.Dictionary(Kids=kids))
    problems: list[Problem] = []
    read_interactive(pdf, (), problems)
    assert [(each.where, each.kind) for each in problems] == [
        ("pdf.form_fields", ProblemKind.LIMIT), ("pdf", ProblemKind.LIMIT),
    ]  # fmt: skip


def test_annotations_of_a_page_that_stands_in_the_tree_many_times_are_counted_within_limits() -> None:
    pdf = pikepdf.new()
    annotations = pikepdf.Array([pikepdf.Dictionary(Subtype=pikepdf.Name.Link)] * 10_000)
    page = pikepdf.Dictionary(Annots=annotations)
    problems: list[Problem] = []
    read_interactive(pdf, (page,) * 60, problems)
    assert [each.kind for each in problems] == [ProblemKind.LIMIT]
