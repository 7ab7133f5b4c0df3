"""Puts something more on the first page of a file, in a colour of its own."""

from pikepdf import Array, Dictionary, Name, Object, Pdf, Stream

from tests.checks.pdf.pdfx.profiles_by_hand import profile_by_hand

Entry = Object | Dictionary | Array | Name | int


def draw(pdf: Pdf, content: str) -> None:
    """Adds drawing instructions to the first page."""
    pdf.pages[0].contents_add(Stream(pdf, content.encode()))


def resource(pdf: Pdf, category: str, key: str, value: Entry) -> None:
    """Adds a resource to those that all pages share."""
    resources = pdf.pages[0].obj.Resources
    if f"/{category}" not in resources:
        resources[f"/{category}"] = Dictionary()
    resources[f"/{category}"][f"/{key}"] = value


def paint_in(pdf: Pdf, space: Entry, tints: str = "0.5") -> None:
    """Fills an area in a colour of `space`."""
    resource(pdf, "ColorSpace", "More", space)
    draw(pdf, f"/More cs {tints} scn 60 60 40 20 re f")


def tint_to(pdf: Pdf, components: int, inks: int = 1) -> Object:
    """A tint transform from so many inks to so many components."""
    if inks == 1:
        return pdf.make_indirect(
            Dictionary(
                FunctionType=2, Domain=Array([0, 1]), C0=Array([0] * components), C1=Array([1] * components),
                N=1,
            )
        )  # fmt: skip
    function = Stream(pdf, b"{ " + b"pop " * inks + b"0 " * components + b"}")
    function.FunctionType, function.Domain = 4, Array([0, 1] * inks)
    function.Range = Array([0, 1] * components)
    return pdf.make_indirect(function)


def separation(pdf: Pdf, ink: str, described: Entry, components: int) -> Array:
    """An ink that is described in a space of so many components."""
    return Array([Name.Separation, Name(f"/{ink}"), described, tint_to(pdf, components)])


def profiled(pdf: Pdf, profile: bytes | None = None, components: int = 3, **entries: Entry) -> Array:
    """A space by a profile; sRGB where none is given."""
    stream = Stream(pdf, profile if profile is not None else profile_by_hand())
    stream.N = components
    for key, value in entries.items():
        stream[f"/{key}"] = value
    return Array([Name.ICCBased, pdf.make_indirect(stream)])


def lab() -> Array:
    """CIE Lab under D50."""
    return Array([Name.Lab, Dictionary(WhitePoint=Array([0.9642, 1, 0.8249]))])
