"""What a mutation of a conforming file is, and the small language in which the tables write them.

Objects are written in the syntax of PDF, or made by a function where they hold streams. A path such as
`Root/OutputIntents/0/Info` leads to an entry: from the catalog (`Root`), the document information (`Info`)
or the first page (`page`).
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from io import BytesIO
from typing import Final, TypeAlias

import pikepdf
from pikepdf import Array, Dictionary, Object, Pdf, Stream

from hotfolder.checks.shared.pdfx_levels import ALL, X4, Level
from tests.checks.pdf.pdfx.drawing import NULL, draw

Edit: TypeAlias = Callable[[Pdf], None]
Maker: TypeAlias = Callable[[Pdf], Object]
Make: TypeAlias = str | Maker
Parts: TypeAlias = Mapping[str, Make]
Expected: TypeAlias = Mapping[Level, frozenset[str]]

AREA: Final = "60 60 40 30 re f"
TINT: Final = "<< /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0 0.2 0.8 0] /N 1 >>"
TINT_OF_RGB: Final = "<< /FunctionType 2 /Domain [0 1] /C0 [1 1 1] /C1 [1 0 0] /N 1 >>"
WHITE: Final = "/WhitePoint [0.9505 1 1.089]"


def _untouched(data: bytes) -> bytes:
    return data


@dataclass(frozen=True, slots=True)
class Mutation:
    """A change of a conforming file.

    name: what is done, in a few words. expects: the requirements that the changed file breaks, by level, as
    worked out from the standard; none where the change harms nothing. edit: does it. producer: the file of
    the archive of producers that is changed; empty for the bases made by code. afterwards: does the rest to
    the bytes. open: why the judgement does not agree yet; empty where it does.
    """

    name: str
    expects: Expected
    edit: Edit
    producer: str = ""
    afterwards: Callable[[bytes], bytes] = _untouched
    open: str = ""


def everywhere(ids: str) -> Expected:
    """The same requirements at each level, by ids with spaces between."""
    return dict.fromkeys(ALL, frozenset(ids.split()))


KEEPS: Final = everywhere("")
KEEPS_X4: Final = dict.fromkeys(X4, frozenset[str]())


def told(
    x1a: str | None = None,
    x3: str | None = None,
    x4: str | None = None,
    *,
    x1a_2001: str | None = None,
    x3_2002: str | None = None,
    x4p: str | None = None,
) -> Expected:
    """Requirements by family of levels, those of a single level where it differs; None is not tried."""
    by_level = {
        Level.X1A_2001: x1a if x1a_2001 is None else x1a_2001,
        Level.X1A_2003: x1a,
        Level.X3_2002: x3 if x3_2002 is None else x3_2002,
        Level.X3_2003: x3,
        Level.X4: x4,
        Level.X4P: x4 if x4p is None else x4p,
    }
    return {level: frozenset(ids.split()) for level, ids in by_level.items() if ids is not None}


def only(level: Level, ids: str = "") -> Expected:
    """Requirements at one level alone."""
    return {level: frozenset(ids.split())}


def old(ids: str, x4: str | None = None) -> Expected:
    """The same requirements of PDF/X-1a and PDF/X-3, and others (or none tried) of PDF/X-4."""
    return told(ids, ids, x4)


def made(pdf: Pdf, make: Make) -> Object:
    """The object that `make` describes."""
    return Object.parse(make.encode("latin-1")) if isinstance(make, str) else make(pdf)


def _entry(holder: Object, step: str) -> Object:
    if isinstance(holder, Array):
        return holder[int(step)]
    if f"/{step}" not in holder:
        holder[f"/{step}"] = Dictionary()
    return holder[f"/{step}"]


def _put(pdf: Pdf, holder: Object, path: str, make: Make) -> None:
    *way, last = path.split("/")
    for step in way:
        holder = _entry(holder, step)
    value = NULL if make == "null" else made(pdf, make)  # which becomes null when all is written
    if isinstance(holder, Array):
        holder[int(last)] = value
    else:
        holder[f"/{last}"] = value


def _start(pdf: Pdf, path: str) -> tuple[Object, str]:
    first, _, rest = path.partition("/")
    starts: dict[str, Callable[[], Object]] = {
        "Root": lambda: pdf.Root,
        "Info": lambda: pdf.docinfo,
        "page": lambda: pdf.pages[0].obj,
    }
    return starts[first](), rest


def at(pdf: Pdf, path: str) -> Object:
    """The object to which a path leads."""
    holder, rest = _start(pdf, path)
    for step in rest.split("/"):
        holder = _entry(holder, step)
    return holder


def sets(path: str, make: Make) -> Edit:
    """Sets an entry, new or there."""

    def edit(pdf: Pdf) -> None:
        holder, rest = _start(pdf, path)
        _put(pdf, holder, rest, make)

    return edit


def drops(path: str) -> Edit:
    """Takes an entry away."""

    def edit(pdf: Pdf) -> None:
        way, _, last = path.rpartition("/")
        holder = at(pdf, way) if "/" in way else _start(pdf, way + "/")[0]
        del holder[f"/{last}"]

    return edit


def then(*edits: Edit) -> Edit:
    """One edit after the other."""

    def edit(pdf: Pdf) -> None:
        for each in edits:
            each(pdf)

    return edit


def gains(parts: Parts) -> Edit:
    """Adds resources to the first page, by category and name, such as `ColorSpace/Mine`."""

    def edit(pdf: Pdf) -> None:
        for path, make in parts.items():
            _put(pdf, pdf.pages[0].obj.Resources, path, make)

    return edit


def paints(content: str, parts: Parts | None = None) -> Edit:
    """Paints on the first page, with these resources added; where a name is taken, under another one."""

    def edit(pdf: Pdf) -> None:
        text = content
        for path, make in (parts or {}).items():
            category, name = path.split("/")
            if f"/{name}" in _entry(pdf.pages[0].obj.Resources, category):
                text = re.sub(rf"/{name}\b", f"/{name}Too", text)
                name += "Too"
            gains({f"{category}/{name}": make})(pdf)
        draw(pdf, text.encode("latin-1"))

    return edit


def with_parts(syntax: str, parts: Parts) -> Maker:
    """A dictionary or array with made objects put into it by their paths."""

    def make(pdf: Pdf) -> Object:
        holder = made(pdf, syntax)
        for path, part in parts.items():
            _put(pdf, holder, path, part)
        return holder

    return make


def stream(data: str | bytes, entries: str = "", parts: Parts | None = None) -> Maker:
    """A stream with entries in the syntax of PDF, and others made and put in by their paths."""

    def make(pdf: Pdf) -> Object:
        holder = Stream(pdf, data if isinstance(data, bytes) else data.encode("latin-1"))
        for key, value in made(pdf, f"<< {entries} >>").items():
            holder[key] = value
        for path, part in (parts or {}).items():
            _put(pdf, holder, path, part)
        return pdf.make_indirect(holder)

    return make


def form(content: str = AREA, entries: str = "", parts: Parts | None = None) -> Maker:
    """A form XObject of the size of the page, with resources of its own."""
    head = "/Type /XObject /Subtype /Form /BBox [0 0 340 460] "
    resources = "" if "/Resources" in entries else "/Resources << >> "
    return stream(content, head + resources + entries, parts)


def image(
    entries: str = "/ColorSpace /DeviceCMYK", parts: Parts | None = None, pixels: bytes = bytes(256)
) -> Maker:
    """A picture of 8 x 8 pixels of 8 bits."""
    depth = "" if "/BitsPerComponent" in entries or "/ImageMask" in entries else "/BitsPerComponent 8 "
    head = "/Type /XObject /Subtype /Image /Width 8 /Height 8 "
    return stream(pixels, head + depth + entries, parts)


def pattern(content: str, parts: Parts | None = None, paint_type: int = 1) -> Maker:
    """A tiling pattern of 20 x 20 points."""
    head = f"/Type /Pattern /PatternType 1 /PaintType {paint_type} /TilingType 1 /BBox [0 0 20 20] "
    return stream(content, head + "/XStep 20 /YStep 20 /Resources << >>", parts)


def shows(make: Maker) -> Edit:
    """Draws an XObject on the first page."""
    return paints("60 0 0 60 60 60 cm /Shown Do", {"XObject/Shown": make})


def draws(make: Maker) -> Edit:
    """Draws a form XObject on the first page, at its own size."""
    return paints("/Drawn Do", {"XObject/Drawn": make})


def in_state(entries: str, parts: Parts | None = None, content: str = f"0 0 0 1 k {AREA}") -> Edit:
    """Paints in a graphics state with these entries."""
    made_state = with_parts(f"<< /Type /ExtGState {entries} >>", parts or {})
    return paints(f"/State gs {content}", {"ExtGState/State": made_state})


def reopened(data: bytes) -> Pdf:
    """The file of these bytes, to be written otherwise."""
    return pikepdf.open(BytesIO(data))
