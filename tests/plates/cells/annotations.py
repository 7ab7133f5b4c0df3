"""What belongs to the page beside its content: annotations, layers, clips, turned and scaled pages."""

from pikepdf import Array, Dictionary, Name, String

from tests.plates.cells.sheet import (
    MM,
    SIDE_MM,
    Page,
    Sample,
    Topic,
    cmyk,
    dictionary,
    everywhere,
    separation,
)

_TOPIC = Topic()
KINDS = _TOPIC.kinds

_PRINT, _HIDDEN = 4, 2  # annotation flags (12.5.3)


def _stamp(page: Page, flags: int, content: str) -> None:
    """An annotation over the page with an appearance in its own millimetres."""
    appearance = page.form(content)
    side = SIDE_MM * MM
    page.page.obj.Annots = Array(
        [
            page.pdf.make_indirect(
                Dictionary(
                    Type=Name.Annot,
                    Subtype=Name.Stamp,
                    Rect=Array([0, 0, side, side]),
                    F=flags,
                    AP=Dictionary(N=appearance),
                )
            )
        ]
    )


@_TOPIC.cell("12.5.5")
def an_annotation_that_prints(page: Page) -> tuple[Sample, ...]:
    """Its appearance is stretched over its rectangle."""
    page.fill("0 0.5 0 0 k")
    _stamp(page, _PRINT, f"{page.space(separation('Lantern'))} cs 0.6 scn 0 0 12 24 re f")
    return Sample({"Lantern": 0.6}, (2, 2, 10, 22)), Sample(cmyk(magenta=0.5), (14, 2, 22, 22))


@_TOPIC.cell("12.5.3")
def an_annotation_for_the_screen(page: Page) -> tuple[Sample, ...]:
    page.fill("0 0.5 0 0 k")
    _stamp(page, 0, "0.6 0 0 0 k 0 0 24 24 re f")
    return everywhere(cmyk(magenta=0.5))


@_TOPIC.cell("12.5.3")
def an_annotation_that_is_hidden(page: Page) -> tuple[Sample, ...]:
    page.fill("0 0.5 0 0 k")
    _stamp(page, _PRINT | _HIDDEN, "0.6 0 0 0 k 0 0 24 24 re f")
    return everywhere(cmyk(magenta=0.5))


@_TOPIC.cell("12.5.5")
def an_annotation_with_multiply(page: Page) -> tuple[Sample, ...]:
    page.fill("0 0.5 0 0 k")
    _stamp(page, _PRINT, f"{page.state(BM=Name.Multiply)} 0 0.5 0.6 0 k 0 0 24 24 re f")
    return everywhere(cmyk(magenta=0.75, yellow=0.6))


def _layer(page: Page, name: str, *, on: bool, **usage: object) -> str:
    """A layer of the document, on or off by its default configuration."""
    layer = page.pdf.make_indirect(dictionary(Type=Name.OCG, Name=String(name), **usage))
    root = page.pdf.Root
    if "/OCProperties" not in root:
        root.OCProperties = Dictionary(
            OCGs=Array([]), D=Dictionary(ON=Array([]), OFF=Array([]), AS=Array([]))
        )
    root.OCProperties.OCGs.append(layer)
    (root.OCProperties.D.ON if on else root.OCProperties.D.OFF).append(layer)
    if usage:
        event = Dictionary(Event=Name.Print, Category=Array([Name.Print]), OCGs=Array([layer]))
        root.OCProperties.D.AS.append(event)
    return page.named("Properties", layer)


@_TOPIC.cell("8.11")
def a_layer_that_is_off(page: Page) -> tuple[Sample, ...]:
    page.fill("0 0.5 0 0 k")
    page.draw(f"/OC {_layer(page, 'Notes', on=False)} BDC 0.6 0 0 0 k 0 0 24 24 re f EMC")
    return everywhere(cmyk(magenta=0.5))


@_TOPIC.cell("8.11")
def a_layer_that_is_on(page: Page) -> tuple[Sample, ...]:
    page.fill("0 0.5 0 0 k")
    page.draw(f"/OC {_layer(page, 'Paint', on=True)} BDC 0.6 0 0 0 k 0 0 24 24 re f EMC")
    return everywhere(cmyk(0.6))


@_TOPIC.cell("8.11.4.4")
def a_layer_that_does_not_print(page: Page) -> tuple[Sample, ...]:
    """On for the screen, off by its usage where the file is printed."""
    usage = Dictionary(Print=Dictionary(PrintState=Name.OFF))
    layer = _layer(page, "Screen only", on=True, Usage=usage)
    page.fill("0 0.5 0 0 k")
    page.draw(f"/OC {layer} BDC 0.6 0 0 0 k 0 0 24 24 re f EMC")
    return everywhere(cmyk(magenta=0.5))


@_TOPIC.cell("8.11.3.3")
def an_image_of_a_layer_that_is_off(page: Page) -> tuple[Sample, ...]:
    layer = _layer(page, "Picture", on=False)
    image = page.image(1, 1, bytes([153, 0, 0, 0]), ColorSpace=Name.DeviceCMYK)
    image.OC = page.page.obj.Resources.Properties[layer]
    page.fill("0 0.5 0 0 k")
    page.draw(page.show(image, (0, 0, 24, 24)))
    return everywhere(cmyk(magenta=0.5))


@_TOPIC.cell("8.5.4")
def a_clip(page: Page) -> tuple[Sample, ...]:
    page.draw("q 0 0 12 24 re W n 0.6 0 0 0 k 0 0 24 24 re f Q 0 0 0 0.2 k 18 0 6 24 re f")
    return (
        Sample(cmyk(0.6), (2, 2, 10, 22)),
        Sample({}, (13, 2, 17, 22)),
        Sample(cmyk(black=0.2), (19, 2, 23, 22)),
    )


@_TOPIC.cell("8.5.3.3")
def the_even_odd_rule(page: Page) -> tuple[Sample, ...]:
    page.draw("0.6 0 0 0 k 0 0 24 24 re 6 6 12 12 re f*")
    return Sample({}), Sample(cmyk(0.6), (1, 1, 5, 23))


@_TOPIC.cell("14.11.2")
def a_page_that_is_turned(page: Page) -> tuple[Sample, ...]:
    """Plates lie as the page's own space does, whatever way it is shown."""
    page.page.obj.Rotate = 90
    page.draw("0.6 0 0 0 k 0 0 12 24 re f 0 0.4 0 0 k 12 0 12 24 re f")
    return Sample(cmyk(0.6), (2, 2, 10, 22)), Sample(cmyk(magenta=0.4), (14, 2, 22, 22))


@_TOPIC.cell("14.11.2")
def a_crop_box_hides_nothing(page: Page) -> tuple[Sample, ...]:
    """Plates show the whole sheet: bleed often lies outside the crop box."""
    page.page.obj.CropBox = Array([0, 0, 12 * MM, 24 * MM])
    page.draw("0.6 0 0 0 k 0 0 12 24 re f 0 0.4 0 0 k 12 0 12 24 re f")
    return Sample(cmyk(0.6), (2, 2, 10, 22)), Sample(cmyk(magenta=0.4), (14, 2, 22, 22))
