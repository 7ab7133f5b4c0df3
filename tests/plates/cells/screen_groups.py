"""Pages and groups that are blended in screen colours, and become inks as a whole (ISO 32000-2, 11.4.7)."""

from pikepdf import Dictionary, Name

from tests.plates.cells.reference_colours import from_screen
from tests.plates.cells.sheet import Page, Sample, Topic, everywhere

_TOPIC = Topic()
KINDS = _TOPIC.kinds


def _on_screen(page: Page) -> None:
    page.page.obj.Group = Dictionary(S=Name.Transparency, CS=Name.DeviceRGB)


@_TOPIC.cell("11.4.7")
def opacity_on_a_page_of_screen_colours(page: Page) -> tuple[Sample, ...]:
    """Half blue over red is purple on the screen, and that purple is printed."""
    _on_screen(page)
    page.fill("1 0 0 rg")
    page.fill(f"{page.state(ca=0.5)} 0 0 1 rg")
    return everywhere(from_screen(0.5, 0, 0.5))


@_TOPIC.cell("11.4.7")
def Multiply_on_a_page_of_screen_colours(page: Page) -> tuple[Sample, ...]:  # noqa: N802 - the standard's name
    _on_screen(page)
    page.fill("0.8 0.6 0.4 rg")
    page.fill(f"{page.state(BM=Name.Multiply)} 0.5 0.5 1 rg")
    return everywhere(from_screen(0.4, 0.3, 0.4))


@_TOPIC.cell("11.4.7")
def black_on_a_page_of_screen_colours(page: Page) -> tuple[Sample, ...]:
    """Plain black beside something that shines through comes out in four inks."""
    _on_screen(page)
    page.fill("0 g", (0, 0, 24, 16))
    page.fill(f"{page.state(ca=0.5)} 1 0 0 rg", (0, 18, 24, 24))
    return Sample(from_screen(0, 0, 0), (4, 4, 20, 12)), Sample(from_screen(1, 0.5, 0.5), (4, 19, 20, 23))


@_TOPIC.cell("11.6.6")
def black_in_a_group_of_screen_colours(page: Page) -> tuple[Sample, ...]:
    """On a page of inks: what comes out of the group is a screen colour, and four inks."""
    page.fill("0 0.5 0 0 k")
    page.draw(page.show(page.group("0 g 4 4 16 16 re f", I=True, CS=Name.DeviceRGB)))
    return Sample(from_screen(0, 0, 0), (6, 6, 18, 18)), Sample({"Magenta": 0.5}, (1, 1, 3, 23))


@_TOPIC.cell("11.6.6")
def a_colour_from_around_in_a_group_of_screen_colours(page: Page) -> tuple[Sample, ...]:
    """The group begins with the colour of where it is shown, and makes a screen colour of it."""
    page.draw("0.25 g", page.show(page.group("0 0 24 24 re f", I=True, CS=Name.DeviceRGB)))
    return everywhere(from_screen(0.25, 0.25, 0.25))


@_TOPIC.cell("11.6.6")
def a_grey_image_in_a_group_of_screen_colours(page: Page) -> tuple[Sample, ...]:
    image = page.show(page.image(1, 1, bytes([102]), ColorSpace=Name.DeviceGray), (0, 0, 24, 24))
    page.draw(page.show(page.group(image, I=True, CS=Name.DeviceRGB)))
    return everywhere(from_screen(0.4, 0.4, 0.4))


@_TOPIC.cell("11.4.7")
def a_page_of_screen_colours_without_transparency(page: Page) -> tuple[Sample, ...]:
    """Nothing is blended: black stays black."""
    _on_screen(page)
    page.fill("0.4 g")
    return everywhere({"Black": 0.6})
