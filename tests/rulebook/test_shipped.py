# The shipped rule sets: complete, sourced figure by figure, and right where a standard has the figure.
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from hotfolder.checks import rule_by_id
from hotfolder.checks.colour.colour_spaces import ColourSpacesSettings
from hotfolder.checks.colour.spot_colours import SpotColoursSettings
from hotfolder.checks.file.file_type import FileTypeSettings
from hotfolder.checks.ink.total_ink import TotalInkSettings
from hotfolder.checks.pdf.pdfx_claim import PdfxClaimSettings
from hotfolder.checks.pictures.image_resolution import ImageResolutionSettings
from hotfolder.checks.pictures.image_weight import ImageWeightSettings
from hotfolder.checks.size.bleed import BleedSettings
from hotfolder.checks.size.page_count import PageCountSettings
from hotfolder.checks.type.line_width import LineWidthSettings
from hotfolder.checks.type.small_text import SmallTextSettings
from hotfolder.config.tomlfile import KeyPath, read_toml
from hotfolder.model.colour import ColourKind
from hotfolder.model.facts import Format
from hotfolder.model.findings import Severity
from hotfolder.model.ruleset import Product, RuleSettings
from hotfolder.presses.loading import load_press
from hotfolder.rulebook import load_rule_set, places, rules_folder, shipped_rule_sets
from hotfolder.units import Size, mm_to_pt, pt_to_mm

PROMISED = (
    "brochure-saddle-stitched", "business-card", "digital-short-run", "flyer-offset-coated",
    "flyer-offset-uncoated", "large-format-outdoor", "magazine-ad", "newspaper-ad", "office-pdf", "poster",
)  # fmt: skip

SOURCE = re.compile(r"#.*\b(ISO \d+|common practice|from memory|house rule|arithmetic|geometry)\b")
NO_FIGURES = {"ask", "apply", "refused_because"}


def settings_of(name: str, rule: str) -> RuleSettings:
    return next(applied.settings for applied in load_rule_set(name).rules if applied.rule.id == rule)


def rules_in(name: str) -> set[str]:
    return {applied.rule.id for applied in load_rule_set(name).rules}


def figures(value: object, path: KeyPath) -> Iterator[KeyPath]:
    """Where single values stand, elements of lists one by one."""
    if isinstance(value, dict):
        for key, inner in value.items():
            if key not in NO_FIGURES:
                yield from figures(inner, (*path, key))
    elif isinstance(value, list):
        for index, inner in enumerate(value):
            yield from figures(inner, (*path, index))
    else:
        yield path


def unsourced_lines(path: Path) -> set[int]:
    """Lines of a rule set file with a figure and without a word on where it comes from."""
    file = read_toml(path)
    written = path.read_text(encoding="utf-8").splitlines()
    tables = {key: table for key, table in file.data.items() if isinstance(table, dict)}
    lines = {file.lines[place] for place in figures(tables, ())}
    return {line for line in lines if not SOURCE.search(written[line - 1])}


def test_all_promised_sets_are_there_and_no_other() -> None:
    assert shipped_rule_sets() == PROMISED


@pytest.mark.parametrize("name", PROMISED)
def test_a_shipped_set_loads_and_names_only_rules_that_exist(name: str) -> None:
    ruleset = load_rule_set(name)
    tables = [key for key, table in read_toml(ruleset.path).data.items() if isinstance(table, dict)]
    assert tables
    assert all(rule_by_id(table).id == table for table in tables)
    assert {"readable", "file-type", "encryption", "fonts-embedded"} <= {
        applied.rule.id for applied in ruleset.rules
    }


@pytest.mark.parametrize("name", PROMISED)
def test_every_figure_of_a_shipped_set_says_where_it_comes_from(name: str) -> None:
    assert unsourced_lines(rules_folder() / f"{name}.toml") == set()


def test_a_figure_without_its_source_would_be_found(tmp_path: Path) -> None:
    path = tmp_path / "sample.toml"
    path.write_text(
        '[a]\nb = "3 mm"\nc = [  # ISO 216\n"A4",\n"A5",  # ISO 216\n]\nask = true\nd = 1  # so\n'
    )
    assert unsourced_lines(path) == {2, 4, 8}


@pytest.mark.parametrize("name", PROMISED)
def test_a_shipped_set_says_that_the_printer_has_the_last_word(name: str) -> None:
    text = (rules_folder() / f"{name}.toml").read_text(encoding="utf-8")
    header = " ".join(text.split("title =")[0].replace("#", "").split())
    assert "This is a starting point: the" in header
    assert "own specification has the last word" in header
    assert load_rule_set(name).checked is None  # it was compared with no printer's page


def test_a_flyer_on_coated_paper() -> None:
    name = "flyer-offset-coated"
    # ISO 216 for A4, A5 and A6; DL as a third of A4 is common practice.
    millimetres = [(round(pt_to_mm(size.width)), round(pt_to_mm(size.height))) for size in sizes_of(name)]
    assert millimetres == [(210, 297), (148, 210), (105, 148), (99, 210)]
    # 3 mm are 8.504 pt (25.4 mm and 72 pt an inch).
    assert load_rule_set(name).product.bleed_pt == pytest.approx(8.504, abs=0.0005)
    match settings_of(name, "image-resolution"):
        case ImageResolutionSettings(wanted=wanted, floor=floor):
            assert (wanted, floor) == (300, 225)
    match settings_of(name, "page-count"):
        case PageCountSettings(pages=pages):
            assert pages == (1, 2)
    match settings_of(name, "colour-spaces"):
        case ColourSpacesSettings(allowed=allowed):
            assert set(allowed) == {ColourKind.GREY, ColourKind.CMYK}
    match settings_of(name, "spot-colours"):
        case SpotColoursSettings(allowed=number):
            assert number == 0
    match settings_of(name, "pdfx-claim"):
        case PdfxClaimSettings(accepted=levels):
            # ISO 15930-1, -4, -3, -6 and -7, in this order.
            assert levels == ("PDF/X-1a:2001", "PDF/X-1a:2003", "PDF/X-3:2002", "PDF/X-3:2003", "PDF/X-4")
    match settings_of(name, "file-type"):
        case FileTypeSettings(accept=accept, refused_because=sentence):
            assert accept == (Format.PDF,)
            assert "print-ready copy" in sentence
    assert settings_of(name, "page-boxes").severity_of("no-trim-box") is Severity.MUST_FIX


def sizes_of(name: str) -> tuple[Size, ...]:
    return load_rule_set(name).product.sizes


def test_uncoated_paper_differs_from_coated_by_the_paper_only() -> None:
    coated, uncoated = load_rule_set("flyer-offset-coated"), load_rule_set("flyer-offset-uncoated")
    assert uncoated.product == coated.product
    differing = {
        ours.rule.id
        for ours, theirs in zip(uncoated.rules, coated.rules, strict=True)
        if ours.settings != theirs.settings
    }
    assert differing == {"image-resolution", "output-intent", "line-width", "total-ink"}
    assert (coated.press, uncoated.press) == (load_press("coated"), load_press("uncoated"))


def test_a_business_card_has_no_floor() -> None:
    match settings_of("business-card", "image-resolution"):
        case ImageResolutionSettings(wanted=wanted, floor=floor):
            assert (wanted, floor) == (400, None)
    first = sizes_of("business-card")[0]
    assert first.distance(mm_to_pt(85), mm_to_pt(55)) == pytest.approx(0)


def test_outdoor_work_takes_any_size_and_asks_for_what_reading_distance_needs() -> None:
    ruleset = load_rule_set("large-format-outdoor")
    assert ruleset.product == Product(any_size=True)
    assert ruleset.questions == (rule_by_id("bleed").question,)
    match settings_of("large-format-outdoor", "image-resolution"):
        case ImageResolutionSettings(wanted=wanted, floor=floor):
            assert wanted == 72
            # One minute of arc at 2 m: 1 / tan(1/60 degree) = 3438 (geometry).
            assert floor == pytest.approx(3438 * 25.4 / 2000, abs=0.5)
    match settings_of("large-format-outdoor", "file-type"):
        case FileTypeSettings(accept=accept):
            assert set(accept) == {Format.PDF, Format.TIFF, Format.JPEG}


def test_posters_have_the_sizes_of_iso_216() -> None:
    millimetres = {(round(pt_to_mm(size.width)), round(pt_to_mm(size.height))) for size in sizes_of("poster")}
    # ISO 216, A and B series.
    assert millimetres == {(297, 420), (420, 594), (594, 841), (841, 1189), (500, 707), (707, 1000)}


def test_a_stitched_brochure_is_made_of_folded_sheets() -> None:
    match settings_of("brochure-saddle-stitched", "page-count"):
        case PageCountSettings(multiple_of=int(multiple), fewest=int(fewest)):
            assert (multiple, fewest % 4) == (4, 0)
    match settings_of("brochure-saddle-stitched", "bleed"):
        case BleedSettings(not_at_spine=not_at_spine):
            assert not_at_spine is True


def test_an_advertisement_in_a_newspaper_is_not_cut() -> None:
    cut = {"bleed", "safe-margin", "marks-near-trim", "printers-marks", "outside-bleed"}
    assert not cut & rules_in("newspaper-ad")


PRESS_SETS = (
    "brochure-saddle-stitched",
    "business-card",
    "flyer-offset-coated",
    "magazine-ad",
    "newspaper-ad",
)


@pytest.mark.parametrize("name", PRESS_SETS)
def test_a_press_with_plates_is_told_what_plates_cannot_hold(name: str) -> None:
    plates = {"black-text", "line-width", "registration-colour", "small-text", "white-overprint"}
    assert plates <= rules_in(name)
    # A white thing that vanishes is missing on paper, and a line of width 0 is no line on a plate.
    assert settings_of(name, "white-overprint").severity_of("vanishes") is Severity.MUST_FIX
    assert settings_of(name, "line-width").severity_of("hairline") is Severity.MUST_FIX
    # Matters of degree never hold a file back.
    for rule in ("small-text", "black-text"):
        assert settings_of(name, rule).gravest is Severity.ADVICE


@pytest.mark.parametrize("name", PRESS_SETS)
def test_more_inks_and_reversed_type_ask_for_more(name: str) -> None:
    # Common practice: what takes several plates, or is left blank in a colour, is drawn larger.
    match settings_of(name, "line-width"):
        case LineWidthSettings(one_ink=line, several_inks=lines, reversed=reversed_line):
            assert lines is not None
            assert reversed_line is not None
            assert line < lines <= reversed_line
    match settings_of(name, "small-text"):
        case SmallTextSettings(one_ink=text, several_inks=texts, reversed=reversed_text):
            assert texts is not None
            assert reversed_text is not None
            assert text < reversed_text <= texts


@pytest.mark.parametrize(
    ("name", "limit", "wanted"),
    [
        ("flyer-offset-coated", 330, 300),  # ISO 12647-2:2013, sheetfed (from memory); common practice
        ("flyer-offset-uncoated", 300, 280),  # from memory
        ("magazine-ad", 320, 300),  # house rules of magazines
        ("newspaper-ad", 240, 220),  # ISO 12647-3:2005 (from memory) and ISO 12647-3:2013
    ],
)
def test_the_limit_of_total_ink_is_that_of_the_paper(name: str, limit: float, wanted: float) -> None:
    match settings_of(name, "total-ink"):
        case TotalInkSettings(limit=most, wanted=better):
            assert (most, better) == (limit, wanted)


@pytest.mark.parametrize("name", PROMISED)
def test_a_set_with_rules_about_plates_names_a_press(name: str) -> None:
    plates = {"total-ink", "inks-used", "built-black", "veil", "colour-shift", "black-and-white", "bleed"}
    assert (load_rule_set(name).press is not None) is bool(plates & rules_in(name))


@pytest.mark.parametrize("name", PROMISED)
def test_a_press_keeps_the_limit_of_its_set_by_itself(name: str) -> None:
    # What is converted for the press must not then be refused for its ink.
    press = load_rule_set(name).press
    if press is None or press.total_ink_percent is None or "total-ink" not in rules_in(name):
        return
    match settings_of(name, "total-ink"):
        case TotalInkSettings(limit=most, wanted=wanted):
            assert press.total_ink_percent <= most
            if press.name == "coated" and wanted is not None:
                # The limit is what files separated elsewhere may have; what is wanted is what we make.
                assert press.total_ink_percent == wanted


def test_newsprint_asks_for_more_than_coated_paper() -> None:
    news, coated = settings_of("newspaper-ad", "line-width"), settings_of("flyer-offset-coated", "line-width")
    match news, coated:
        case LineWidthSettings(one_ink=on_news), LineWidthSettings(one_ink=on_coated):
            # 0.25 pt: an advertisement specification; 0.5 pt on newsprint: from memory.
            assert (on_coated.value, on_news.value) == (0.25, 0.5)


@pytest.mark.parametrize("name", PROMISED)
def test_more_pixels_than_needed_never_hold_a_file_back(name: str) -> None:
    if "image-weight" not in rules_in(name):
        return
    assert settings_of(name, "image-weight").gravest is Severity.ADVICE
    match settings_of(name, "image-weight"), settings_of(name, "image-resolution"):
        case ImageWeightSettings(most=most), ImageResolutionSettings(wanted=wanted):
            assert most > wanted


@pytest.mark.parametrize("name", PROMISED)
def test_where_the_page_is_cut_marks_and_pictures_keep_to_their_place(name: str) -> None:
    cut = {"marks-near-trim", "printers-marks", "outside-bleed"}
    if "safe-margin" in rules_in(name) and "trim-size" in rules_in(name):
        assert cut <= rules_in(name)


@pytest.mark.parametrize("name", ["digital-short-run", "large-format-outdoor"])
def test_rgb_is_taken_where_the_press_turns_it_into_its_own_inks(name: str) -> None:
    match settings_of(name, "colour-spaces"):
        case ColourSpacesSettings(allowed=allowed):
            assert ColourKind.RGB in allowed


def test_office_documents_are_asked_for_nothing_in_particular() -> None:
    ids = rules_in("office-pdf")
    assert not ids & {"trim-size", "bleed", "page-count", "colour-spaces", "pdfx-claim", "output-intent"}
    assert settings_of("office-pdf", "image-resolution").gravest is Severity.ADVICE
    assert settings_of("office-pdf", "fonts-embedded").gravest is Severity.MUST_FIX


def test_an_installed_package_brings_its_rules_as_data(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "hotfolder/data/rules").mkdir(parents=True)
    (tmp_path / "hotfolder/data/rules/only.toml").write_text("")
    monkeypatch.setattr(places, "__file__", str(tmp_path / "hotfolder/rulebook/places.py"))
    assert shipped_rule_sets() == ("only",)
