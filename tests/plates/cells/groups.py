"""Transparency groups (ISO 32000-2, 11.4), isolated or not, knocking out or not; plain forms beside them."""

from pikepdf import Dictionary, Name

from tests.plates.cells.sheet import Page, Sample, Topic, cmyk, everywhere, separation

_TOPIC = Topic()
KINDS = _TOPIC.kinds

_FIRST = "0.6 0 0 0 k 0 0 24 24 re f"
_SECOND = "0 0.4 0 0 k 0 0 24 24 re f"


@_TOPIC.cell("11.4.5")
def Multiply_in_a_group_that_is_isolated(page: Page) -> tuple[Sample, ...]:  # noqa: N802 - the standard's name
    """It has nothing but its own group to multiply with, and replaces the ground."""
    multiply = page.state(BM=Name.Multiply)
    page.fill("0 0 0.5 0 k")
    page.draw(page.show(page.group(f"{_FIRST} {multiply} {_SECOND}", I=True)))
    return everywhere(cmyk(0.6, 0.4))


@_TOPIC.cell("11.4.4")
def Multiply_in_a_group_that_is_not(page: Page) -> tuple[Sample, ...]:  # noqa: N802 - the standard's name
    """It multiplies with the ground too."""
    multiply = page.state(BM=Name.Multiply)
    page.fill("0 0.5 0.5 0 k")
    page.draw(page.show(page.group(f"{multiply} 0.6 0 0 0 k 0 0 24 24 re f", I=False)))
    return everywhere(cmyk(0.6, 0.5, 0.5))


@_TOPIC.cell("11.4.8")
def Multiply_in_a_group_that_is_not_isolated_at_95_percent(  # noqa: N802 - the standard's name
    page: Page,
) -> tuple[Sample, ...]:
    """A shadow within a group: it lies on the ground, and the group as a whole is hardly less than opaque."""
    multiply = page.state(BM=Name.Multiply)
    page.fill("0.6 0.7 0.7 0.4 k")
    form = page.group(f"{multiply} 0.4 0.4 0.4 0.5 k 0 0 24 24 re f")
    page.draw("q", page.state(ca=0.95), page.show(form), "Q")
    grounds, sources = (0.6, 0.7, 0.7, 0.4), (0.4, 0.4, 0.4, 0.5)
    return everywhere(cmyk(*(g + 0.95 * (s - g * s) for g, s in zip(grounds, sources, strict=True))))


@_TOPIC.cell("11.4.8")
def Multiply_in_a_group_that_is_not_isolated_under_a_mask(  # noqa: N802 - the standard's name
    page: Page,
) -> tuple[Sample, ...]:
    """The mask was set in another user space, and is opaque in half of the page."""
    multiply = page.state(BM=Name.Multiply)
    mask = page.group("0.6 g 0 0 24 12 re f 1 g 0 12 24 12 re f", I=True, CS=Name.DeviceGray)
    masked = page.state(SMask=Dictionary(Type=Name.Mask, S=Name.Luminosity, G=mask), ca=0.5)
    page.fill("0 0.5 0 0 k")
    content = f"{multiply} 0 0.8 0 0 k 0 0 48 48 re f"
    form = page.form(content, BBox=[0, 0, 48, 48], Group=Dictionary(S=Name.Transparency))
    page.draw("q", masked, "0.5 0 0 0.5 0 0 cm", page.show(form), "Q")
    return (
        Sample(cmyk(magenta=0.5 + 0.3 * 0.4), (2, 2, 10, 10)),
        Sample(cmyk(magenta=0.5 + 0.5 * 0.4), (2, 14, 10, 22)),
    )


@_TOPIC.cell("11.4.8")
def groups_that_are_not_isolated_in_one_another(page: Page) -> tuple[Sample, ...]:
    """Half of half of what Multiply adds; what comes later lies on top of all that."""
    multiply, half = page.state(BM=Name.Multiply), page.state(ca=0.5)
    inner = page.show(page.group(f"{multiply} 0.8 0 0 0 k 0 0 24 24 re f"))
    outer = page.show(page.group(f"q {half} {inner} Q"))
    page.fill("0.5 0 0 0 k")
    page.draw("q", half, outer, "Q", "0 0.5 0 0 k 0 0 12 24 re f")
    return Sample(cmyk(magenta=0.5), (2, 2, 10, 22)), Sample(cmyk(0.5 + 0.25 * 0.4), (14, 2, 22, 22))


@_TOPIC.cell("11.4.4")
def a_group_as_a_whole_at_half_opacity(page: Page) -> tuple[Sample, ...]:
    """The second paint hides the first within the group; then the whole is mixed with the ground."""
    page.fill("0 0 0.6 0 k")
    page.draw(page.state(ca=0.5), page.show(page.group(f"{_FIRST} {_SECOND}")))
    return everywhere(cmyk(magenta=0.2, yellow=0.3))


@_TOPIC.cell("11.6.6")
def a_form_without_a_group_at_half_opacity(page: Page) -> tuple[Sample, ...]:
    """Each paint of a plain form is mixed by itself."""
    page.fill("0 0 0.6 0 k")
    page.draw(page.state(ca=0.5), page.show(page.form(f"{_FIRST} {_SECOND}")))
    return everywhere(cmyk(0.15, 0.2, 0.15))


@_TOPIC.cell("11.6.6")
def a_group_begins_at_full_opacity(page: Page) -> tuple[Sample, ...]:
    """In a group opacity, blend mode and soft mask begin anew; the group as a whole is multiplied."""
    page.fill("0 0.5 0 0 k")
    page.draw(page.state(BM=Name.Multiply), page.show(page.group("0 0.5 0 0 k 0 0 24 24 re f", I=True)))
    return everywhere(cmyk(magenta=0.75))


@_TOPIC.cell("11.4.6")
def a_knockout_group_that_is_isolated(page: Page) -> tuple[Sample, ...]:
    """The second paint at half opacity is mixed with what lay beneath the group, not with the first."""
    half = page.state(ca=0.5)
    page.fill("0 0 0.6 0 k")
    page.draw(page.show(page.group(f"{_FIRST} {half} {_SECOND}", I=True, K=True)))
    return everywhere(cmyk(magenta=0.2, yellow=0.3))


@_TOPIC.cell("11.4.6")
def a_knockout_group_that_is_not(page: Page) -> tuple[Sample, ...]:
    multiply = page.state(BM=Name.Multiply)
    page.fill("0 0.5 0 0 k")
    page.draw(page.show(page.group(f"{_FIRST} {multiply} {_SECOND}", I=False, K=True)))
    return everywhere(cmyk(magenta=1 - 0.5 * 0.6))


@_TOPIC.cell("11.4.6")
def a_knockout_group_of_parts_that_lie_apart(page: Page) -> tuple[Sample, ...]:
    """Nothing of the group lies beneath any of its parts: there is nothing to knock out."""
    multiply = page.state(BM=Name.Multiply)
    page.fill("0 0.5 0 0 k")
    parts = "0 0.4 0 0 k 0 0 12 24 re f 0.6 0 0 0 k 12 0 12 24 re f"
    page.draw(page.show(page.group(f"{multiply} {parts}", I=False, K=True)))
    return Sample(cmyk(magenta=1 - 0.5 * 0.6), (1, 1, 11, 23)), Sample(cmyk(0.6, 0.5), (13, 1, 23, 23))


@_TOPIC.cell("11.4.6")
def a_knockout_group_of_opaque_paint(page: Page) -> tuple[Sample, ...]:
    page.fill("0 0 0.6 0 k")
    page.draw(page.show(page.group(f"{_FIRST} 0 0.4 0 0 k 6 6 12 12 re f", K=True)))
    return Sample(cmyk(magenta=0.4)), Sample(cmyk(0.6), (1, 1, 5, 23))


@_TOPIC.cell("11.4.3")
def a_group_in_a_group(page: Page) -> tuple[Sample, ...]:
    """Half of half."""
    half = page.state(ca=0.5)
    inner = page.show(page.group("0.8 0 0 0 k 0 0 24 24 re f", I=True))
    page.fill("0 0.8 0 0 k")
    page.draw(half, page.show(page.group(f"{half} {inner}", I=True)))
    return everywhere(cmyk(0.2, 0.6))


@_TOPIC.cell("11.4.3")
def a_spot_ink_in_a_group_at_half_opacity(page: Page) -> tuple[Sample, ...]:
    ink = page.space(separation("Lantern"))
    page.fill("0 0.8 0 0.4 k")
    page.draw(page.state(ca=0.5), page.show(page.group(f"{ink} cs 0.8 scn 0 0 24 24 re f", I=True)))
    return everywhere({"Magenta": 0.4, "Black": 0.2, "Lantern": 0.4})


@_TOPIC.cell("11.4.3")
def a_spot_ink_multiplied_as_a_group(page: Page) -> tuple[Sample, ...]:
    """What the group does not paint is white to Multiply, and leaves the ground as it is."""
    ink = page.space(separation("Lantern"))
    page.fill("0 0.8 0 0.4 k")
    page.draw(page.state(BM=Name.Multiply), page.show(page.group(f"{ink} cs 0.8 scn 0 0 24 24 re f", I=True)))
    return everywhere({"Magenta": 0.8, "Black": 0.4, "Lantern": 0.8})


@_TOPIC.cell("11.4.7")
def a_page_that_is_a_group_of_CMYK(page: Page) -> tuple[Sample, ...]:  # noqa: N802 - the standard's name
    page.page.obj.Group = Dictionary(S=Name.Transparency, CS=Name.DeviceCMYK)
    page.fill("0 0.5 0 0 k")
    page.fill(f"{page.state(BM=Name.Multiply)} 0.5 0.5 0 0 k")
    return everywhere(cmyk(0.5, 0.75))


@_TOPIC.cell("11.4.5")
def a_group_of_CMYK_in_a_page_of_CMYK(page: Page) -> tuple[Sample, ...]:  # noqa: N802 - the standard's name
    page.page.obj.Group = Dictionary(S=Name.Transparency, CS=Name.DeviceCMYK)
    page.fill("0 0.5 0 0 k")
    form = page.group("0.5 0.5 0 0 k 0 0 24 24 re f", I=True, CS=Name.DeviceCMYK)
    page.draw(page.state(BM=Name.Multiply), page.show(form))
    return everywhere(cmyk(0.5, 0.75))


@_TOPIC.cell("8.10.1")
def forms_in_forms_take_the_colour(page: Page) -> tuple[Sample, ...]:
    """A form begins with the state of where it is shown, colour included."""
    inner = page.show(page.form("0 0 24 24 re f"))
    outer = page.form(inner)
    shown = page.show(outer)
    page.draw(
        "0.6 0 0 0 k", f"q 0.5 0 0 1 0 0 cm {shown} Q", f"{page.space(separation('Lantern'))} cs 0.4 scn"
    )
    page.draw(f"q 0.5 0 0 1 12 0 cm {shown} Q")
    return Sample(cmyk(0.6), (2, 2, 10, 22)), Sample({"Lantern": 0.4}, (14, 2, 22, 22))
