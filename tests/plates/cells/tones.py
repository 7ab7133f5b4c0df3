"""Transfer functions (ISO 32000-2, 10.5): they take and give light, 1 - ink, on every plate by itself."""

from pikepdf import Array, Dictionary, Name

from tests.plates.cells.sheet import Page, Sample, Topic, cmyk, everywhere

_TOPIC = Topic()
KINDS = _TOPIC.kinds


def _power(first: float, last: float, exponent: float = 1) -> Dictionary:
    return Dictionary(FunctionType=2, Domain=Array([0, 1]), C0=Array([first]), C1=Array([last]), N=exponent)


@_TOPIC.cell("10.5")
def a_transfer_function_that_inverts(page: Page) -> tuple[Sample, ...]:
    page.fill(f"{page.state(TR=_power(1, 0))} 0.2 0.6 0.3 0.9 k")
    return everywhere(cmyk(0.8, 0.4, 0.7, 0.1))


@_TOPIC.cell("10.5")
def a_transfer_function_set_after_the_colour(page: Page) -> tuple[Sample, ...]:
    """What counts is the one in force when something is painted."""
    page.fill(f"0 0 0 0.6 k {page.state(TR=_power(0, 1, 2))}")
    return everywhere(cmyk(black=1 - 0.4**2))


@_TOPIC.cell("10.5")
def a_transfer_function_for_each_ink(page: Page) -> tuple[Sample, ...]:
    """Cyan and black change, magenta and yellow do not."""
    same = Name.Identity
    page.fill(f"{page.state(TR=Array([_power(1, 0), same, same, _power(1, 0)]))} 0.2 0.6 0.3 0.9 k")
    return everywhere(cmyk(0.8, 0.6, 0.3, 0.1))


@_TOPIC.cell("10.5")
def a_transfer_function_over_an_image(page: Page) -> tuple[Sample, ...]:
    image = page.show(page.image(1, 1, bytes([51, 102, 153, 0]), ColorSpace=Name.DeviceCMYK), (0, 0, 24, 24))
    page.draw("q", page.state(TR=_power(1, 0)), image, "Q")
    return everywhere(cmyk(0.8, 0.6, 0.4, 1))


@_TOPIC.cell("8.4.5")
def a_transfer_function_taken_back(page: Page) -> tuple[Sample, ...]:
    """`TR2` goes before `TR`, and `Default` is the device's own: none."""
    page.draw(page.state(TR=_power(1, 0)), "q", page.state(TR=_power(1, 0), TR2=Name.Default))
    page.draw("0.2 0.6 0.3 0.9 k 0 0 12 24 re f Q 0.2 0.6 0.3 0.9 k 12 0 12 24 re f")
    return (
        Sample(cmyk(0.2, 0.6, 0.3, 0.9), (2, 2, 10, 22)),
        Sample(cmyk(0.8, 0.4, 0.7, 0.1), (14, 2, 22, 22)),
    )
