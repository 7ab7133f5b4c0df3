# Layers: present, and printing otherwise than they are seen.
from dataclasses import replace

from hotfolder.checks.pdf.layers import LayersSettings, check
from hotfolder.model.artwork import Artwork
from hotfolder.model.document import Layer
from hotfolder.model.findings import Quantity, Severity
from hotfolder.units import parse_size
from tests.artwork.files import A_PDF, artwork, unreadable
from tests.artwork.flyer import flyer
from tests.artwork.pictures import placed, raster
from tests.checks.said import codes, findings, the_only, unjudged, without_pages

PLAIN = LayersSettings()


def layer(name: str, *, on_screen: bool, on_paper: bool) -> Layer:
    return Layer(name, on_screen, on_paper)


def layered(*layers: Layer) -> Artwork:
    return artwork(flyer().page(), pdf=replace(A_PDF, layers=layers))


def test_no_layers_pass() -> None:
    assert codes(check(layered(), PLAIN)) == []


def test_layers_are_advice_and_tell_which_do_not_print() -> None:
    finding = the_only(
        check(
            layered(
                layer("English", on_screen=True, on_paper=True),
                layer("French", on_screen=False, on_paper=False),
            ),
            PLAIN,
        )
    )
    assert (finding.code, finding.severity, finding.measured) == (
        "present",
        Severity.ADVICE,
        Quantity.of(2, unit="layers"),
    )
    assert "Not printed: 'French'" in finding.message


def test_a_layer_seen_and_not_printed_is_told_apart() -> None:
    all_findings = findings(check(layered(layer("Notes", on_screen=True, on_paper=False)), PLAIN))
    assert [(item.code, item.severity) for item in all_findings] == [
        ("present", Severity.ADVICE),
        ("screen-only", Severity.ADVICE),
    ]
    assert all_findings[1].measured == "'Notes'"


def test_a_layer_printed_and_not_seen_is_told_apart() -> None:
    assert codes(check(layered(layer("Varnish", on_screen=False, on_paper=True)), PLAIN)) == [
        "present",
        "paper-only",
    ]


HIDDEN = layer("French", on_screen=False, on_paper=False)


def test_what_is_drawn_on_a_hidden_layer_is_told_with_its_place() -> None:
    page = flyer().with_area(10, 10, 30, 30, printed=False)
    drawn = page.with_marks(replace(page.marks[0], layers=("French",)))
    all_findings = findings(check(artwork(drawn.page(), pdf=replace(A_PDF, layers=(HIDDEN,))), PLAIN))
    assert [(item.code, item.severity, item.page) for item in all_findings] == [
        ("present", Severity.ADVICE, None),
        ("hidden", Severity.ADVICE, 1),
    ]
    assert all_findings[1].boxes == (page.marks[0].box,)
    assert all_findings[1].measured == Quantity.of(1, unit="hidden things")


def test_a_hidden_layer_with_nothing_in_the_page_is_not_flagged() -> None:
    piece = flyer().with_area(-15, 10, -8, 30, printed=False)
    outside = piece.with_marks(
        replace(piece.marks[0], visible=piece.marks[0].box, layers=("French",)),
        replace(piece.marks[0], visible=None, layers=("French",)),
    )
    shown = flyer().with_area(10, 10, 30, 30)
    on_another = shown.with_marks(replace(shown.marks[0], layers=("English",)))
    for drawn in (outside, on_another):
        told = check(artwork(drawn.page(), pdf=replace(A_PDF, layers=(HIDDEN,))), PLAIN)
        assert codes(told) == ["present"]


def test_what_a_layer_hides_while_it_is_on_is_told() -> None:
    """A file may show something only while a layer is off (ISO 32000-2, 8.11.2.2)."""
    page = flyer().with_area(10, 10, 30, 30, printed=False)
    drawn = page.with_marks(replace(page.marks[0], layers=("English",)))
    shown = layer("English", on_screen=True, on_paper=True)
    all_findings = findings(check(artwork(drawn.page(), pdf=replace(A_PDF, layers=(shown,))), PLAIN))
    assert [item.code for item in all_findings] == ["present", "hidden"]
    assert "English" in all_findings[1].message


def test_invisible_text_on_a_layer_that_is_on_is_not_hidden_by_it() -> None:
    page = flyer().with_text((10, 10), printed=False)
    drawn = page.with_marks(replace(page.marks[0], layers=("English",)))
    shown = layer("English", on_screen=True, on_paper=True)
    assert codes(check(artwork(drawn.page(), pdf=replace(A_PDF, layers=(shown,))), PLAIN)) == ["present"]


def test_names_from_the_file_are_shown_on_one_line() -> None:
    assert "\n" not in the_only(check(layered(layer("a\nb", on_screen=True, on_paper=True)), PLAIN)).message


def test_a_layered_picture_is_advice() -> None:
    piece = placed(replace(raster((1819, 2551)), layers=5), parse_size("A5"), 3)
    finding = the_only(check(piece, PLAIN))
    assert (finding.code, finding.severity) == ("picture-layers", Severity.ADVICE)


def test_a_picture_without_its_flat_copy_must_be_fixed() -> None:
    facts = replace(raster((1819, 2551)), layers=5, flat_picture_valid=False)
    all_findings = findings(check(placed(facts, parse_size("A5"), 3), PLAIN))
    assert [(item.code, item.severity) for item in all_findings] == [
        ("no-flat-picture", Severity.MUST_FIX),
        ("picture-layers", Severity.ADVICE),
    ]


def test_a_flat_picture_is_not_flagged() -> None:
    assert codes(check(placed(raster((1819, 2551)), parse_size("A5"), 3), PLAIN)) == []


def test_a_file_that_does_not_open_is_not_judged() -> None:
    assert len(unjudged(check(unreadable(), PLAIN))) == 1
    assert len(unjudged(check(without_pages(layered()), PLAIN))) == 1
