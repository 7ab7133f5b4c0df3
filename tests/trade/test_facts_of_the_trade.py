"""Facts of the trade, held against whole files and the shipped rule sets: measured, placed, judged.

Sizes: ISO 216 (A4 210 x 297 mm, A5 148 x 210 mm, A1 594 x 841 mm). An inch is 25.4 mm.
Bleed of 3 mm a side, 300 ppi for flyers, 400 ppi for business cards, 72 ppi and JPEG for large
outdoor work: common practice.
"""

from pathlib import Path

import pikepdf
import pytest
from PIL import Image

from hotfolder.checks.judge import judge
from hotfolder.measure import measure
from hotfolder.model.findings import Finding, Judgement, Unjudged
from hotfolder.model.ruleset import RuleSet
from hotfolder.rulebook import load_rule_set
from hotfolder.units import mm_to_pt, parse_size, pt_to_mm
from hotfolder.workshop.placing import place

FLYER_PX = (1819, 2551)  # 154 x 216 mm at 300 ppi are 1818.9 x 2551.2 px: a whole number of pixels


def rules(folder: Path, extends: str, *lines: str) -> RuleSet:
    """A rule set of a studio's own that builds on a shipped one."""
    path = folder / "own.toml"
    text = [f'title = "Own"\nsource = "the test"\nextends = "{extends}"', *lines]
    path.write_text("\n".join(text) + "\n")
    return load_rule_set(str(path))


def judged(file: Path, rule_set: RuleSet) -> Judgement:
    return judge(place(measure(file), rule_set.product), rule_set)


def codes(judgement: Judgement, rule: str) -> list[str]:
    """The codes of the findings of one rule, `unjudged` for what could not be judged."""
    said: list[Finding | Unjudged] = [*judgement.findings, *judgement.unjudged]
    return [item.code if isinstance(item, Finding) else "unjudged" for item in said if item.rule == rule]


def picture(path: Path, size_px: tuple[int, int], ppi: float | None, mode: str = "CMYK") -> Path:
    """A picture file with a gradient, so that it is no flat colour."""
    image = Image.linear_gradient("L").resize(size_px).convert(mode)
    options = {} if ppi is None else {"dpi": (ppi, ppi)}
    image.save(path, quality=60, **options)  # type: ignore[arg-type]  # Pillow types its options by format
    return path


def page(
    path: Path,
    trim_mm: tuple[float, float],
    content: str,
    bleed_mm: float = 3,
    image: pikepdf.Stream | None = None,
    pdf: pikepdf.Pdf | None = None,
) -> Path:
    """A PDF of one page with a bleed box, a trim box and content in points from the trim's corner."""
    pdf = pdf or pikepdf.new()
    width, height = (mm_to_pt(side) for side in trim_mm)
    bleed = mm_to_pt(bleed_mm)
    made = pdf.add_blank_page(page_size=(width + 2 * bleed, height + 2 * bleed))
    made.trimbox = pikepdf.Rectangle(bleed, bleed, bleed + width, bleed + height)
    made.bleedbox = made.mediabox
    font = pikepdf.Dictionary(
        Type=pikepdf.Name.Font, Subtype=pikepdf.Name.Type1, BaseFont=pikepdf.Name.Helvetica
    )
    made.obj.Resources = pikepdf.Dictionary(Font=pikepdf.Dictionary(F1=font))
    if image is not None:
        made.obj.Resources.XObject = pikepdf.Dictionary(Im1=image)
    made.contents_add(f"q 1 0 0 1 {bleed} {bleed} cm {content} Q".encode())
    pdf.save(path)
    return path


def grey_image(pdf: pikepdf.Pdf, size_px: tuple[int, int]) -> pikepdf.Stream:
    data = bytes((x * 7 + y * 3) % 256 for y in range(size_px[1]) for x in range(size_px[0]))
    return pdf.make_stream(
        data,
        Type=pikepdf.Name.XObject,
        Subtype=pikepdf.Name.Image,
        Width=size_px[0],
        Height=size_px[1],
        BitsPerComponent=8,
        ColorSpace=pikepdf.Name.DeviceGray,
    )


def test_a_poster_of_847_x_1194_mm_with_3_mm_bleed_is_853_x_1200_mm(tmp_path: Path) -> None:
    """Common practice."""
    grown = parse_size("847 x 1194 mm").grown(mm_to_pt(3))
    assert (round(pt_to_mm(grown.width), 6), round(pt_to_mm(grown.height), 6)) == (853, 1200)
    rule_set = rules(tmp_path, "poster", '[trim-size]\nsizes = ["847 x 1194 mm"]')
    poster = picture(tmp_path / "poster.tif", (853 * 6, 1200 * 6), 25.4 * 6)  # 6 px a millimetre
    judgement = judged(poster, rule_set)
    assert codes(judgement, "trim-size") == []
    assert codes(judgement, "bleed") == []
    bare = picture(tmp_path / "bare.tif", (847 * 6, 1194 * 6), 25.4 * 6)
    assert codes(judged(bare, rule_set), "trim-size") == []
    assert codes(judged(bare, rule_set), "bleed") != []


def test_a1_with_3_mm_bleed_is_600_x_847_mm() -> None:
    """ISO 216: A1 is 594 x 841 mm."""
    grown = parse_size("A1").grown(mm_to_pt(3))
    assert (round(pt_to_mm(grown.width), 6), round(pt_to_mm(grown.height), 6)) == (600, 847)


@pytest.fixture
def flyer_rules(tmp_path: Path) -> RuleSet:
    """Flyers in A5 alone, of a printer who takes TIFF."""
    return rules(
        tmp_path,
        "flyer-offset-coated",
        '[file-type]\naccept = ["pdf", "tiff", "jpeg"]\n[trim-size]\nsizes = ["A5"]',
        "[pdfx-claim]\napply = false\n[output-intent]\napply = false\n[page-boxes]\napply = false",
    )


def test_a5_with_3_mm_bleed_at_300_ppi_is_1819_x_2551_px_and_passes(
    tmp_path: Path, flyer_rules: RuleSet
) -> None:
    """2551 px over 216 mm are 299.98 ppi: half a pixel short of 300 is 300, since pixels are whole."""
    assert [round(side / 25.4 * 300) for side in (148 + 6, 210 + 6)] == list(FLYER_PX)
    judgement = judged(picture(tmp_path / "flyer.tif", FLYER_PX, 300), flyer_rules)
    for rule in ("trim-size", "bleed", "image-resolution"):
        assert codes(judgement, rule) == [], rule


def test_one_pixel_in_a_hundred_less_is_told(tmp_path: Path, flyer_rules: RuleSet) -> None:
    fewer = (FLYER_PX[0] * 99 // 100, FLYER_PX[1] * 99 // 100)
    judgement = judged(picture(tmp_path / "flyer.tif", fewer, 297), flyer_rules)
    assert codes(judgement, "trim-size") == []
    assert codes(judgement, "image-resolution") != []


@pytest.mark.parametrize("ppi", [72, None])
def test_the_same_pixels_tagged_72_are_still_that_flyer_where_a5_is_the_only_size(
    tmp_path: Path, flyer_rules: RuleSet, ppi: float | None
) -> None:
    judgement = judged(picture(tmp_path / "flyer.tif", FLYER_PX, ppi), flyer_rules)
    assert codes(judgement, "trim-size") == ["placed"]  # advice: the size was concluded from the shape
    assert codes(judgement, "bleed") == []
    assert codes(judgement, "image-resolution") == []


def test_they_are_a_question_where_a4_is_offered_too(tmp_path: Path) -> None:
    both = rules(
        tmp_path,
        "flyer-offset-coated",
        '[file-type]\naccept = ["pdf", "tiff"]\n[trim-size]\nsizes = ["A4", "A5"]',
    )
    judgement = judged(picture(tmp_path / "flyer.tif", FLYER_PX, 72), both)
    assert codes(judgement, "trim-size") == ["unknown"]
    (question,) = [item for item in judgement.findings if item.rule == "trim-size"]
    assert "A4" in question.message
    assert "A5" in question.message
    assert judgement.verdict == "needs-fixing"


@pytest.mark.parametrize(
    ("ppi", "found"), [(300, ["below-floor"]), (399, ["below-floor"]), (400, []), (450, [])]
)
def test_a_business_card_wants_400_ppi_and_names_no_floor(tmp_path: Path, ppi: int, found: list[str]) -> None:
    """Common practice. Where no floor is named, the wanted figure is the floor."""
    pdf = pikepdf.new()
    size_px = (round(91 / 25.4 * ppi), round(61 / 25.4 * ppi))
    width, height = mm_to_pt(91), mm_to_pt(61)
    content = f"q {width} 0 0 {height} {-mm_to_pt(3)} {-mm_to_pt(3)} cm /Im1 Do Q"
    card = page(tmp_path / "card.pdf", (85, 55), content, image=grey_image(pdf, size_px), pdf=pdf)
    judgement = judged(card, load_rule_set("business-card"))
    assert codes(judgement, "image-resolution") == found
    assert codes(judgement, "bleed") == []
    assert codes(judgement, "trim-size") == []


def test_the_flyers_pixels_at_641_x_900_mm_pass_where_72_ppi_are_wanted(tmp_path: Path) -> None:
    outdoor = load_rule_set("large-format-outdoor")
    judgement = judged(picture(tmp_path / "banner.jpg", FLYER_PX, 72), outdoor)
    assert codes(judgement, "image-resolution") == []
    assert judgement.verdict == "ready"
    named = rules(tmp_path, "large-format-outdoor", '[trim-size]\nsizes = ["641 x 900 mm"]')
    assert codes(judged(tmp_path / "banner.jpg", named), "trim-size") == []


def test_more_resolution_than_wanted_passes(tmp_path: Path, flyer_rules: RuleSet) -> None:
    """More is never worse: common practice."""
    twice = (FLYER_PX[0] * 2, FLYER_PX[1] * 2)
    judgement = judged(picture(tmp_path / "flyer.tif", twice, 600), flyer_rules)
    assert codes(judgement, "image-resolution") == []


def test_jpeg_is_taken_outdoors_and_refused_where_pdfx_1a_is_asked(tmp_path: Path) -> None:
    jpeg = picture(tmp_path / "flyer.jpg", FLYER_PX, 300)
    assert codes(judged(jpeg, load_rule_set("large-format-outdoor")), "file-type") == []
    asked = rules(tmp_path, "flyer-offset-coated", '[pdfx-claim]\naccepted = ["PDF/X-1a:2001"]')
    judgement = judged(jpeg, asked)
    assert codes(judgement, "file-type") == ["refused"]
    assert judgement.verdict == "needs-fixing"


@pytest.mark.parametrize(("distance_mm", "found"), [(1, ["cut-by-trim"]), (2, ["near-trim"]), (6, [])])
def test_a_line_of_text_near_the_trim(tmp_path: Path, distance_mm: float, found: list[str]) -> None:
    """Common practice: a cutter may be off by up to a millimetre; 3 to 5 mm are kept clear."""
    content = f"BT 0 0 0 1 k /F1 9 Tf 1 0 0 1 {mm_to_pt(distance_mm)} 200 Tm (Saturday) Tj ET"
    judgement = judged(
        page(tmp_path / "flyer.pdf", (148, 210), content), load_rule_set("flyer-offset-coated")
    )
    assert codes(judgement, "safe-margin") == found
