# The facts for programs: the contract's keys, nulls with their reasons, strict JSON.

import json
from dataclasses import replace
from typing import Any

import pytest

from hotfolder.model.artwork import Artwork
from hotfolder.model.document import Font
from hotfolder.model.facts import FileFacts, Format, Unmeasured
from hotfolder.model.geometry import Box
from hotfolder.model.marks import Masking
from hotfolder.model.pages import Page, PageBoxes
from hotfolder.model.raster import RasterFacts, ResolutionOrigin
from hotfolder.report import artwork_json
from tests.report.samples import (
    HARBOUR_BLUE,
    LINE,
    PHOTO,
    RGB,
    flyer,
    image_mark,
    page,
    text_mark,
    unreadable,
)


def test_the_keys_of_the_contract_are_there() -> None:
    facts = artwork_json(flyer())
    assert facts["schema"] == "hotfolder-artwork/1"
    assert set(facts) >= {
        "file", "pages", "fonts", "colour_spaces", "inks", "output_intent", "problems",
    }  # fmt: skip
    assert facts["file"] == {
        "name": "flyer.pdf",
        "bytes": 1_234_567,
        "sha256": "ab" * 32,
        "format": "pdf",
        "pdf_version": "1.6",
        "encrypted": False,
        "pdfx": "PDF/X-4",
        "producer": "Page Writer 3",
        "creator": "Layout Desk 9",
    }
    first = facts["pages"][0]
    assert set(first) >= {"number", "rotate", "user_unit", "boxes", "images", "text"}
    assert set(first["boxes"]) == {"media", "crop", "bleed", "trim", "art"}
    assert first["boxes"]["media"] == pytest.approx([0, 0, 436.5354, 612.2835])
    assert first["boxes"]["crop"] is None
    assert facts["inks"] == ["Cyan", "Magenta", "Yellow", "Black"]
    assert facts["output_intent"]["identifier"] == "FOGRA39"


def test_a_placed_image_with_its_resolution() -> None:
    (image,) = artwork_json(flyer())["pages"][0]["images"]
    expected: dict[str, Any] = {
        "object": "12 0", "width_px": 900, "height_px": 735, "bits": 8, "colour": "DeviceRGB",
        "filters": ["DCTDecode"], "mask": None, "printed": True,
    }  # fmt: skip
    assert {key: image[key] for key in expected} == expected
    # 900 px over 151 mm, 735 px over 123 mm, at 25.4 mm an inch
    assert image["x_ppi"] == pytest.approx(900 / (151 / 25.4), abs=1e-3)
    assert image["y_ppi"] == pytest.approx(735 / (123 / 25.4), abs=1e-3)


def test_text_fonts_and_spaces() -> None:
    facts = artwork_json(flyer())
    (run,) = facts["pages"][0]["text"]
    assert (run["size_pt"], run["font"]) == (6.5, "ABCDEF+Quay-Regular")
    assert run["colours"] == [{"space": "DeviceCMYK", "components": [0, 0, 0, 1]}]
    assert run["inks"] is None
    assert [(font["name"], font["embedded"], font["subset"]) for font in facts["fonts"]] == [
        ("ABCDEF+Quay-Regular", True, True),
        ("Quay-Bold", False, False),
    ]
    assert [(use["space"], use["used_by"]) for use in facts["colour_spaces"]] == [
        ("DeviceRGB", ["image"]),
        ("DeviceCMYK", ["text"]),
    ]


def test_an_image_without_extent_has_null_and_a_reason() -> None:
    flat = image_mark(Box(0, 10, 100, 10), 50, 50)
    facts = artwork_json(replace(flyer(), pages=(page(1, flat),)))
    assert facts["pages"][0]["images"][0]["y_ppi"] is None
    assert facts["pages"][0]["images"][0]["x_ppi"] == 36
    assert "pages[0].images[0].y_ppi" in {problem["where"] for problem in facts["problems"]}
    json.dumps(facts, allow_nan=False)


def test_a_mask_and_an_inline_image() -> None:
    mark = image_mark(PHOTO, 900, 735)
    assert mark.image is not None
    masked = replace(
        mark,
        image=replace(mark.image, object=None, masking=Masking.SOFT, mask_width_px=450, mask_height_px=300),
    )
    (image,) = artwork_json(replace(flyer(), pages=(page(1, masked),)))["pages"][0]["images"]
    assert image["object"] is None
    assert image["mask"] == {"kind": "soft", "width_px": 450, "height_px": 300}


def test_what_does_not_show_on_paper_is_told_as_such() -> None:
    hidden = replace(text_mark(LINE, 9, "Quay"), printed=False)
    clipped = replace(image_mark(PHOTO, 10, 10), visible=None)
    first = artwork_json(replace(flyer(), pages=(page(1, hidden, clipped),)))["pages"][0]
    assert first["text"][0]["printed"] is False
    assert first["images"][0]["printed"] is False


def test_pages_that_could_not_be_measured_are_null_with_the_reason() -> None:
    facts = artwork_json(unreadable("it opens only with a password"))
    assert facts["pages"] is None
    assert {"where": "pages", "what": "it opens only with a password", "kind": "unmeasured"} in facts[
        "problems"
    ]
    assert facts["file"]["pdf_version"] is None
    assert facts["file"]["encrypted"] is None
    assert "file.encrypted" in {problem["where"] for problem in facts["problems"]}


def test_a_page_whose_content_could_not_be_read() -> None:
    lost = replace(page(2), marks=Unmeasured("marks", "its content is damaged"))
    facts = artwork_json(replace(flyer(), pages=(page(1), lost)))
    assert facts["pages"][1]["images"] is None
    assert facts["pages"][1]["text"] is None
    assert {problem["where"] for problem in facts["problems"]} >= {"pages[1].images", "pages[1].text"}


def test_a_raster_file_is_a_page_with_one_image_even_without_a_size() -> None:
    raster = RasterFacts(1819, 2551, 8, RGB, 72.0, 72.0, ResolutionOrigin.JFIF, "JPEG", orientation=6)
    nothing = Unmeasured("size", "the header says 72 ppi, which fits no size")
    one = Page(1, 0, 1.0, PageBoxes(media=None), nothing, nothing, raster=raster)
    facts = artwork_json(Artwork(FileFacts("a.jpg", 9, "00" * 32, Format.JPEG), (one,)))
    (image,) = facts["pages"][0]["images"]
    assert (image["width_px"], image["height_px"], image["colour"]) == (1819, 2551, "DeviceRGB")
    assert (image["object"], image["x_ppi"], image["box"]) == (None, None, None)
    assert facts["pages"][0]["boxes"]["media"] is None
    assert facts["pages"][0]["raster"]["declared_x_ppi"] == 72
    assert facts["pages"][0]["text"] == []
    reasons = {problem["where"]: problem["what"] for problem in facts["problems"]}
    assert reasons["pages[0].images[0].x_ppi"] == "the header says 72 ppi, which fits no size"
    assert facts["file"]["encrypted"] is False
    assert facts["file"]["pdf_version"] is None


def test_odd_bytes_in_names_out_of_the_file_stay_valid_unicode() -> None:
    font = Font("Qu\udcffay", "Type1", None, subset=False, object=None)
    odd = replace(HARBOUR_BLUE, inks=("Blau \udce4",))
    mark = text_mark(LINE, 9, font.name)
    assert mark.fill is not None
    artwork = replace(
        flyer(), pages=(page(1, replace(mark, fill=replace(mark.fill, space=odd))),), fonts=(font,)
    )
    facts = artwork_json(artwork)
    json.dumps(facts, ensure_ascii=False, allow_nan=False).encode("utf-8")
    assert facts["fonts"][0]["name"] == "Qu\\xffay"
    assert "Blau \\xe4" in facts["inks"]
