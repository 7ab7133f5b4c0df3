# The look of a spot ink at full strength, by its tint transform; and the blend space of a page's group.

import shutil
import subprocess
from pathlib import Path

import pytest
from PIL import Image

from hotfolder.measure import measure
from hotfolder.model.artwork import Artwork
from hotfolder.model.colour import ColourKind, ColourSpace
from tests.pdf.raw_pdf import page, stream, write_raw

# Functions of one input that give red 0.2, green 0.6 and blue 0.4 for 1 (ISO 32000-2, 7.10).
_POWER = "<< /FunctionType 2 /Domain [0 1] /C0 [1 1 1] /C1 [0.2 0.6 0.4] /N 1 >>"
FUNCTIONS: dict[str, str | bytes] = {
    "samples": stream(
        bytes([255, 255, 255, 51, 153, 102]),
        "/FunctionType 0 /Domain [0 1] /Range [0 1 0 1 0 1] /Size [2] /BitsPerSample 8",
    ),
    "power": _POWER,
    "stitched": "<< /FunctionType 3 /Domain [0 1] /Bounds [0.5] /Encode [0 0.5 0 1] "
    f"/Functions [{_POWER} {_POWER}] >>",
    "calculated": stream(
        b"{ dup 0.2 mul exch dup 0.6 mul exch 0.4 mul }",
        "/FunctionType 4 /Domain [0 1] /Range [0 1 0 1 0 1]",
    ),
}


def _page_in_spot(tmp_path: Path, transform: str | bytes, alternate: str = "/DeviceRGB") -> Path:
    resources = f"/ColorSpace << /Moss [/Separation /Moss {alternate} 11 0 R] >>"
    return write_raw(
        tmp_path / "a.pdf",
        {
            3: page(f"/MediaBox [0 0 9 9] /Resources << {resources} >> /Contents 10 0 R"),
            10: stream(b"/Moss cs 1 scn 0 0 9 9 re f"),
            11: transform,
        },
    )


def _space(artwork: Artwork) -> ColourSpace:
    assert isinstance(artwork.pages, tuple)
    [mark] = artwork.pages[0].known_marks
    assert mark.fill is not None
    return mark.fill.space


@pytest.mark.parametrize("kind", FUNCTIONS)
def test_the_full_tint_is_what_the_tint_transform_gives(kind: str, tmp_path: Path) -> None:
    path = _page_in_spot(tmp_path, FUNCTIONS[kind])
    tint = _space(measure(path)).full_tint
    assert tint == pytest.approx((0.2, 0.6, 0.4), abs=0.001)
    if shutil.which("pdftoppm") is not None:
        # Poppler draws it in the alternate space, which is that of the screen.
        subprocess.run(
            ["pdftoppm", "-r", "72", "-singlefile", path, tmp_path / "drawn"], check=True, timeout=60
        )
        with Image.open(tmp_path / "drawn.ppm") as picture:
            drawn = picture.getpixel((4, 4))
        assert drawn == pytest.approx([255 * value for value in tint], abs=1)


@pytest.mark.parametrize(
    "transform",
    [
        "null",
        "/Identity",
        "(none)",
        "<< /FunctionType 2 >>",
        "<< /FunctionType 2 /Domain [0 1] /C0 [1] /C1 [0] /N 1 >>",  # one value for three components
        stream(b"{ pop }", "/FunctionType 4 /Domain [0 1] /Range [0 1 0 1 0 1]"),
        stream(b"", "/FunctionType 0 /Domain [0 1] /Range [0 1 0 1 0 1] /Size [2] /BitsPerSample 8"),
    ],
)
def test_a_transform_that_gives_no_colour_tells_nothing(transform: str | bytes, tmp_path: Path) -> None:
    artwork = measure(_page_in_spot(tmp_path, transform))
    assert (_space(artwork).full_tint, _space(artwork).kind, artwork.problems) == ((), ColourKind.SPOT, ())


def test_inks_that_are_no_spot_colours_have_no_look_of_their_own(tmp_path: Path) -> None:
    path = _page_in_spot(tmp_path, FUNCTIONS["power"])
    path.write_bytes(path.read_bytes().replace(b"[/Separation /Moss", b"[/Separation /Cyan"))
    assert _space(measure(path)).full_tint == ()


# The blend space


@pytest.mark.parametrize(
    ("group", "kind"),
    [
        ("/Group << /S /Transparency /CS /DeviceCMYK >>", ColourKind.CMYK),
        ("/Group << /S /Transparency /CS [/CalRGB << >>] >>", ColourKind.RGB),
        ("/Group << /S /Transparency /CS /Named >>", ColourKind.GREY),
        ("/Group << /S /Transparency >>", None),
        ("/Group << /CS /DeviceCMYK >>", None),  # a group of some other kind
        ("", None),
    ],
)
def test_the_space_that_a_page_blends_in_is_that_of_its_group(
    group: str, kind: ColourKind | None, tmp_path: Path
) -> None:
    resources = "/Resources << /ColorSpace << /Named [/CalGray << >>] >> >>"
    artwork = measure(write_raw(tmp_path / "a.pdf", {3: page(f"/MediaBox [0 0 9 9] {resources} {group}")}))
    assert isinstance(artwork.pages, tuple)
    space = artwork.pages[0].blend_space
    assert (None if space is None else space.kind) == kind
