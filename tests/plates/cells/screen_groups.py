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


@_TOPIC.cell("11.4.7")
def a_page_of_screen_colours_without_transparency(page: Page) -> tuple[Sample, ...]:
    """Nothing is blended: black stays black."""
    _on_screen(page)
    page.fill("0.4 g")
    return everywhere({"Black": 0.6})
