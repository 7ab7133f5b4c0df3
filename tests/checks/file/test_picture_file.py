# Picture files: mode, depth, profile, transparency, channels, several pictures in one file.
from dataclasses import replace

import pytest

from hotfolder.checks.file.picture_file import PictureFileSettings, check
from hotfolder.model.colour import ColourKind, ColourSpace
from hotfolder.model.findings import Quantity, Severity
from hotfolder.model.raster import RasterFacts
from hotfolder.units import parse_size
from tests.artwork.files import unreadable
from tests.artwork.flyer import flyer
from tests.artwork.pictures import RGB, placed, raster, unplaced
from tests.checks.said import codes, figures, the_only, unjudged

PLAIN = PictureFileSettings()
PX = (1819, 2551)
GOOD = replace(raster(PX), icc_profile="A coated press", icc_space="CMYK")


def said(facts: RasterFacts) -> list[str]:
    return codes(check(placed(facts, parse_size("A5"), 3), PLAIN))


def in_mode(family: str, kind: ColourKind, *, inks: tuple[str, ...] = ()) -> RasterFacts:
    profile = {"indexed": "RGB"}.get(family)
    return replace(GOOD, icc_space=profile, colour=ColourSpace(family, kind, max(1, len(inks)), inks))


def test_a_plain_picture_with_its_profile_passes() -> None:
    assert said(GOOD) == []
    assert said(replace(GOOD, colour=RGB, icc_profile="A screen", icc_space="RGB ")) == []


@pytest.mark.parametrize(
    ("facts", "code", "severity"),
    [
        (replace(GOOD, bits=16), "deep", Severity.ADVICE),
        (replace(GOOD, bits=32), "too-deep", Severity.MUST_FIX),
        (replace(GOOD, icc_profile=None, icc_space=None), "no-profile", Severity.ADVICE),
        (replace(GOOD, icc_profile="A screen", icc_space="RGB"), "other-profile", Severity.MUST_FIX),
        (replace(GOOD, alpha=True, extra_channels=1), "alpha", Severity.ADVICE),
        (replace(GOOD, extra_channels=2), "extra-channels", Severity.ADVICE),
        (replace(GOOD, pictures=3), "several", Severity.ADVICE),
        (in_mode("multichannel", ColourKind.UNKNOWN), "mode", Severity.MUST_FIX),
        (in_mode("indexed", ColourKind.RGB), "palette", Severity.ADVICE),
    ],
)
def test_what_is_more_or_other_than_plain_is_told(facts: RasterFacts, code: str, severity: Severity) -> None:
    finding = the_only(check(placed(facts, parse_size("A5"), 3), PLAIN))
    assert (finding.code, finding.severity, finding.page) == (code, severity, 1)


def test_an_opaque_alpha_channel_is_none() -> None:
    """A further channel beside it is one."""
    assert said(replace(GOOD, alpha=True, alpha_opaque=True, extra_channels=1)) == []
    two = replace(GOOD, alpha=True, alpha_opaque=True, extra_channels=2)
    finding = the_only(check(placed(two, parse_size("A5"), 3), PLAIN))
    assert (finding.code, finding.measured) == ("extra-channels", Quantity.of(1, unit="channels"))


def test_figures_are_told() -> None:
    finding = the_only(check(placed(replace(GOOD, bits=16), parse_size("A5"), 3), PLAIN))
    assert figures(finding) == (Quantity.of(16, unit="bits"), Quantity.of(8, unit="bits"))
    mismatch = replace(GOOD, icc_profile="A screen", icc_space="RGB")
    assert figures(the_only(check(placed(mismatch, parse_size("A5"), 3), PLAIN))) == ("RGB", "CMYK")


def test_it_does_not_matter_whether_the_size_is_known() -> None:
    assert codes(check(unplaced(replace(GOOD, bits=32), "no size"), PLAIN)) == ["too-deep"]


# What is not flagged


def test_channels_that_have_the_names_of_inks_are_inks() -> None:
    assert said(in_mode("multichannel", ColourKind.SPOT, inks=("Black", "Leaf Green"))) == []


def test_line_art_has_no_profile() -> None:
    assert said(in_mode("bitmap", ColourKind.GREY)) == []


def test_pdf_files_are_not_judged_by_this_rule() -> None:
    assert codes(check(flyer().with_background().artwork(), PLAIN)) == []


def test_what_could_not_be_read_is_not_judged() -> None:
    assert [item.severity for item in unjudged(check(unreadable(), PLAIN))] == [Severity.MUST_FIX]
