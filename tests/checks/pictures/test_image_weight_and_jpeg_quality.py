# Pictures with far more pixels than needed, and pictures that are compressed too hard.
from dataclasses import replace

import pytest

from hotfolder.checks.pictures import image_weight, jpeg_quality
from hotfolder.checks.pictures.image_weight import ImageWeightSettings
from hotfolder.checks.pictures.jpeg_quality import JpegQualitySettings
from hotfolder.model.artwork import Artwork
from hotfolder.model.findings import Quantity, Severity
from hotfolder.model.marks import ImageFacts
from hotfolder.units import parse_size
from tests.artwork.colours import DEVICE_GREY
from tests.artwork.files import artwork, unreadable
from tests.artwork.flyer import Flyer, flyer, image_facts
from tests.artwork.pictures import placed, raster, unplaced
from tests.checks.said import codes, figures, the_only, unjudged

# One and a half times 300 ppi, and 2400 ppi for line art: from memory.
LIGHT = ImageWeightSettings(most=450.0, line_art_most=2400.0)
FAIR = JpegQualitySettings(least=50)
INCH = (20, 20, 45.4, 45.4)  # 25.4 mm square: pixels across are pixels an inch


def picture(px: int, **changes: object) -> Flyer:
    facts = replace(image_facts((px, px), INCH), **changes)  # type: ignore[arg-type] # an image's own fields
    return flyer().with_image(INCH, (px, px), facts)


def weighed(piece: Flyer | Artwork, settings: ImageWeightSettings = LIGHT) -> list[str]:
    return codes(image_weight.check(piece.artwork() if isinstance(piece, Flyer) else piece, settings))


def test_far_more_pixels_than_needed_are_advice() -> None:
    finding = the_only(image_weight.check(picture(1200).artwork(), LIGHT))
    assert (finding.code, finding.severity, len(finding.boxes)) == ("heavy", Severity.ADVICE, 1)
    assert figures(finding) == (Quantity.of(1200, unit="ppi"), "450 ppi or less")


def test_line_art_has_a_limit_of_its_own() -> None:
    line_art: dict[str, object] = {"bits": 1, "colour": DEVICE_GREY}
    assert weighed(picture(2400, **line_art)) == []
    assert weighed(picture(3000, **line_art)) == ["line-art-heavy"]
    assert weighed(picture(3000, **line_art), ImageWeightSettings(most=450.0)) == []


def test_what_is_light_is_not_flagged() -> None:
    assert weighed(picture(450)) == []
    assert weighed(picture(900)) == []  # 810 000 pixels weigh little
    assert weighed(picture(1200, flat=True)) == []
    stretched = replace(image_facts((1200, 1200), INCH), y_ppi=300.0)
    assert weighed(flyer().with_image(INCH, (1200, 1200), stretched)) == []  # one way it needs them
    hidden = flyer().with_image(INCH, (1200, 1200), printed=False)
    assert weighed(hidden) == []


def test_pictures_of_many_pages_are_one_finding_and_the_finest_is_told() -> None:
    finding = the_only(image_weight.check(artwork(picture(1200).page(), picture(1500).page()), LIGHT))
    assert ([place.page for place in finding.places], finding.measured) == (
        [1, 2],
        Quantity.of(1500, unit="ppi"),
    )


# JPEG quality


def judged(facts: ImageFacts) -> list[str]:
    return codes(jpeg_quality.check(flyer().with_image(INCH, (400, 400), facts).artwork(), FAIR))


@pytest.mark.parametrize(("quality", "expected"), [(49, ["low"]), (50, []), (95, []), (None, [])])
def test_hard_compression_is_advice(quality: int | None, expected: list[str]) -> None:
    assert judged(replace(image_facts((400, 400), INCH), jpeg_quality=quality)) == expected


def test_the_lowest_quality_is_told() -> None:
    first, second = picture(400, jpeg_quality=30), picture(400, jpeg_quality=20)
    finding = the_only(jpeg_quality.check(artwork(first.page(), second.page()), FAIR))
    assert (finding.severity, [place.page for place in finding.places]) == (Severity.ADVICE, [1, 2])
    assert figures(finding) == (Quantity.of(20, unit="of 100"), Quantity.of(50, unit="of 100"))


def test_small_pictures_are_not_flagged() -> None:
    assert judged(replace(image_facts((99, 400), INCH), jpeg_quality=10)) == []


def test_a_picture_file_counts_whether_its_size_is_known_or_not() -> None:
    facts = replace(raster((1819, 2551)), jpeg_quality=30)
    for piece in (placed(facts, parse_size("A5"), 3), unplaced(facts, "no size")):
        assert codes(jpeg_quality.check(piece, FAIR)) == ["low"]
    assert codes(jpeg_quality.check(placed(raster((1819, 2551)), parse_size("A5"), 3), FAIR)) == []


def test_what_could_not_be_read_is_not_judged() -> None:
    assert [item.severity for item in unjudged(image_weight.check(unreadable(), LIGHT))] == [Severity.ADVICE]
    assert [item.severity for item in unjudged(jpeg_quality.check(unreadable(), FAIR))] == [Severity.ADVICE]
