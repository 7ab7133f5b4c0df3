"""The page that a cell is built on, and how a cell says which inks it expects where."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Final, TypeAlias

import pikepdf
from pikepdf import Array, Dictionary, Name

SIDE_MM: Final = 24
MM: Final = 72 / 25.4

# In millimetres from the page's bottom left corner: x0, y0, x1, y1.
Window: TypeAlias = tuple[float, float, float, float]
MIDDLE: Final[Window] = (9, 9, 15, 15)

Inks: TypeAlias = Mapping[str, float]  # by the ink's name, 0 to 1; what is not named is bare


@dataclass(frozen=True, slots=True)
class Sample:
    """A window of the page and the mean of each ink in it, by the standard."""

    inks: Inks
    window: Window = MIDDLE


@dataclass(frozen=True, slots=True)
class Kind:
    """One cell. clause: of ISO 32000-2, where what is expected stands."""

    name: str
    clause: str
    build: Callable[["Page"], tuple[Sample, ...]]


class Page:
    """A square page under construction; what is drawn is in millimetres from its bottom left corner."""

    def __init__(self, pdf: pikepdf.Pdf) -> None:
        self.pdf = pdf
        self.page = pdf.add_blank_page(page_size=(SIDE_MM * MM, SIDE_MM * MM))
        self.page.obj.Resources = Dictionary()
        self._content = [f"{MM:.8f} 0 0 {MM:.8f} 0 0 cm"]
        self._count = 0

    def draw(self, *content: str) -> None:
        """Adds drawing instructions."""
        self._content.extend(content)

    def draw_bytes(self, content: bytes) -> None:
        """Adds an inline image or the like."""
        self._content.append(content.decode("latin-1"))

    def fill(self, colour: str, window: Window = (0, 0, SIDE_MM, SIDE_MM)) -> None:
        """Fills a rectangle, the whole page if none is given; the state stays as it was."""
        x0, y0, x1, y1 = window
        self.draw(f"q {colour} {x0} {y0} {x1 - x0} {y1 - y0} re f Q")

    def named(self, category: str, value: object) -> str:
        """Adds a resource to the page; how content calls it."""
        self._count += 1
        name = f"/R{self._count}"
        if f"/{category}" not in self.page.obj.Resources:
            self.page.obj.Resources[f"/{category}"] = Dictionary()
        self.page.obj.Resources[f"/{category}"][name] = value
        return name

    def space(self, value: object) -> str:
        """Adds a colour space."""
        return self.named("ColorSpace", value)

    def state(self, **entries: object) -> str:
        """Adds a graphics state; the instruction that sets it."""
        return f"{self.named('ExtGState', dictionary(Type=Name.ExtGState, **entries))} gs"

    def stream(self, data: bytes, **entries: object) -> pikepdf.Stream:
        """A stream in the page's document."""
        made = self.pdf.make_stream(data)
        for key, value in entries.items():
            made[f"/{key}"] = value
        return made

    def form(self, content: str, **entries: object) -> pikepdf.Stream:
        """A form in the page's units, with the page's own resources as they are when it is finished."""
        entries.setdefault("BBox", Array([0, 0, SIDE_MM, SIDE_MM]))
        entries.setdefault("Resources", self.page.obj.Resources)
        return self.stream(content.encode(), Type=Name.XObject, Subtype=Name.Form, **entries)

    def group(self, content: str, **entries: object) -> pikepdf.Stream:
        """A form that is a transparency group (ISO 32000-2, 11.6.6)."""
        return self.form(content, Group=dictionary(S=Name.Transparency, **entries))

    def show(self, xobject: pikepdf.Stream, window: Window | None = None) -> str:
        """The instruction that paints a form, or an image over a window."""
        name = self.named("XObject", xobject)
        if window is None:
            return f"{name} Do"
        x0, y0, x1, y1 = window
        return f"q {x1 - x0} 0 0 {y1 - y0} {x0} {y0} cm {name} Do Q"

    def image(self, width: int, height: int, data: bytes, **entries: object) -> pikepdf.Stream:
        """An image of 8 bits, if nothing else is said."""
        entries.setdefault("BitsPerComponent", 8)
        return self.stream(data, Type=Name.XObject, Subtype=Name.Image, Width=width, Height=height, **entries)

    def finish(self) -> None:
        """Writes the content into the page."""
        # Forms were given the resources as they were; now all of them are there.
        self.page.obj.Contents = self.pdf.make_stream("\n".join(self._content).encode("latin-1"))


class Topic:
    """Gathers the cells of a module."""

    def __init__(self) -> None:
        self.kinds: list[Kind] = []

    def add(self, name: str, clause: str, build: Callable[[Page], tuple[Sample, ...]]) -> None:
        """Adds a cell."""
        self.kinds.append(Kind(name, clause, build))

    def cell(
        self, clause: str
    ) -> Callable[[Callable[[Page], tuple[Sample, ...]]], Callable[[Page], tuple[Sample, ...]]]:
        """Adds a cell that is called as its function is."""

        def taken(build: Callable[[Page], tuple[Sample, ...]]) -> Callable[[Page], tuple[Sample, ...]]:
            self.add(build.__name__.replace("_", " "), clause, build)
            return build

        return taken


def cmyk(cyan: float = 0, magenta: float = 0, yellow: float = 0, black: float = 0) -> dict[str, float]:
    """Process inks by name."""
    return {"Cyan": cyan, "Magenta": magenta, "Yellow": yellow, "Black": black}


def everywhere(inks: Inks) -> tuple[Sample, ...]:
    """One sample in the middle of the page."""
    return (Sample(inks),)


def dictionary(**entries: object) -> Dictionary:
    """A dictionary of entries that are gathered elsewhere."""
    return Dictionary({f"/{key}": value for key, value in entries.items()})


def tint(*full: float) -> Dictionary:
    """The tint function of an ink that looks like these process inks at full strength."""
    return Dictionary(FunctionType=2, Domain=Array([0, 1]), C0=Array([0] * len(full)), C1=Array(full), N=1)


def separation(name: str, *full: float) -> Array:
    """A Separation space over DeviceCMYK."""
    return Array([Name.Separation, Name(f"/{name}"), Name.DeviceCMYK, tint(*(full or (0, 0.8, 0.9, 0)))])


def device_n(pdf: pikepdf.Pdf, *names: str, **attributes: object) -> Array:
    """A DeviceN space over DeviceCMYK whose tint function puts its first component into magenta."""
    take = " ".join(["pop"] * (len(names) - 1))
    function = pdf.make_stream(f"{{ {take} 0 exch 0 0 }}".encode())
    function.FunctionType = 4
    function.Domain = Array([0, 1] * len(names))
    function.Range = Array([0, 1] * 4)
    inks = Array([Name(f"/{name}") for name in names])
    space = [Name.DeviceN, inks, Name.DeviceCMYK, pdf.make_indirect(function)]
    return Array([*space, dictionary(**attributes)] if attributes else space)
