"""Operators of the graphics state (ISO 32000-2, 8.4.4), and what `gs` takes from its dictionary."""

from collections.abc import Callable
from dataclasses import replace
from typing import Final

from hotfolder.artwork import MarkState, ProblemKind
from hotfolder.pdf.content import Content, Operands
from hotfolder.pdf.graphics_state import LineStyle, within_group
from hotfolder.pdf.ledger import LimitReachedError
from hotfolder.pdf.limits import LIST_ENTRIES, SAVED_STATES
from hotfolder.pdf.matrix import Matrix
from hotfolder.pdf.reading import entry, item, items, keys, name, number, whole


def save(content: Content, _operands: Operands) -> None:
    """`q`: keeps a reference to the state."""
    if len(content.saved) >= SAVED_STATES:
        raise LimitReachedError(f"reading stopped where {SAVED_STATES:,} graphics states are kept at once")
    content.saved.append(content.state)


def restore(content: Content, _operands: Operands) -> None:
    """`Q`: puts the last kept state back; one too many does nothing, as in every reader."""
    if content.saved:
        content.state = content.saved.pop()
    else:
        content.note(ProblemKind.NOTE, "a graphics state is restored that was never saved")


def concatenate(content: Content, operands: Operands) -> None:
    """`cm`: transforms what follows."""
    found = content.numbers(operands, 6)
    if found is not None:
        content.state = replace(content.state, ctm=Matrix(*found).then(content.state.ctm))


def line_width(content: Content, operands: Operands) -> None:
    """`w`."""
    found = content.numbers(operands, 1)
    if found is not None:
        _set_line(content, replace(content.state.line, width=abs(found[0])))


def line_cap(content: Content, operands: Operands) -> None:
    """`J`."""
    found = content.numbers(operands, 1)
    if found is not None:
        _set_line(content, replace(content.state.line, cap=int(found[0])))


def line_join(content: Content, operands: Operands) -> None:
    """`j`."""
    found = content.numbers(operands, 1)
    if found is not None:
        _set_line(content, replace(content.state.line, join=int(found[0])))


def miter_limit(content: Content, operands: Operands) -> None:
    """`M`."""
    found = content.numbers(operands, 1)
    if found is not None:
        _set_line(content, replace(content.state.line, miter_limit=found[0]))


def apply_ext_gstate(content: Content, operands: Operands) -> None:
    """`gs`: sets what the dictionary has; what it has not stays as it is (8.4.5)."""
    key = name(operands[-1])
    parameters = content.scope.resources.find("ExtGState", key) if key is not None else None
    if parameters is None:
        content.note(ProblemKind.DAMAGED, "graphics state parameters are used that the file does not hold")
        return
    present = keys(parameters, LIST_ENTRIES)
    for each in present:
        setter = PARAMETERS.get(each)
        if setter is not None:
            setter(content, entry(parameters, each))
    own = _transparency(content.state.own, parameters, present)
    if own != content.state.own:
        content.state = replace(content.state, own=own, laid_over=within_group(own, content.scope.group))


def _set_line(content: Content, line: LineStyle) -> None:
    content.state = replace(content.state, line=line)


def _transparency(own: MarkState, parameters: object, present: tuple[str, ...]) -> MarkState:
    """Overprint, opacity, blend mode and soft mask as the dictionary changes them."""
    stroke = _flag(entry(parameters, "/OP"), own.overprint_stroke)
    # Where `op` is missing, `OP` counts for filling too (8.6.7).
    fill = _flag(entry(parameters, "/op"), stroke if "/OP" in present else own.overprint_fill)
    mode = whole(entry(parameters, "/OPM"))
    return replace(
        own,
        overprint_stroke=stroke,
        overprint_fill=fill,
        overprint_mode=mode if mode is not None else own.overprint_mode,
        stroke_opacity=_opacity(entry(parameters, "/CA"), own.stroke_opacity),
        fill_opacity=_opacity(entry(parameters, "/ca"), own.fill_opacity),
        blend_mode=_blend_mode(entry(parameters, "/BM"), own.blend_mode),
        soft_mask=_soft_mask(entry(parameters, "/SMask"), before=own.soft_mask),
    )


def _flag(value: object, before: bool) -> bool:  # noqa: FBT001 - a value of the state, no option
    return value if isinstance(value, bool) else before


def _opacity(value: object, before: float) -> float:
    found = number(value)
    return before if found is None else min(max(found, 0.0), 1.0)


def _blend_mode(value: object, before: str) -> str:
    """The blend mode; of an array the first one that is known (11.6.3). `Compatible` is Normal."""
    if value is None:
        return before
    single = name(value)
    wanted = [single] if single is not None else [name(each) for each in items(value, LIST_ENTRIES)]
    found = next((each for each in wanted if each in BLEND_MODES), "Normal")
    return "Normal" if found == "Compatible" else found


def _soft_mask(value: object, *, before: bool) -> bool:
    """Whether a soft mask is in force (11.6.5.2); its own group paints no colour and is no mark."""
    if value is None:
        return before
    return name(value) != "None" and entry(value, "/G") is not None


def _font(content: Content, value: object) -> None:
    size = number(item(value, 1))
    if size is not None:
        font, blanks = content.readers.font(item(value, 0))
        text = replace(content.state.text, font=font, blanks=blanks, size=size)
        content.state = replace(content.state, text=text)


def _line_entry(setter: Callable[[Content, Operands], None]) -> Callable[[Content, object], None]:
    return lambda content, value: setter(content, [value])


# Separable and non-separable blend modes (11.3.5, tables 134 and 135).
BLEND_MODES: Final = frozenset({
    "Normal", "Compatible", "Multiply", "Screen", "Overlay", "Darken", "Lighten", "ColorDodge", "ColorBurn",
    "HardLight", "SoftLight", "Difference", "Exclusion", "Hue", "Saturation", "Color", "Luminosity",
})  # fmt: skip

# Entries of a graphics state parameter dictionary (8.4.5, table 57) that are operators of their own.
PARAMETERS: Final[dict[str, Callable[[Content, object], None]]] = {
    "/LW": _line_entry(line_width),
    "/LC": _line_entry(line_cap),
    "/LJ": _line_entry(line_join),
    "/ML": _line_entry(miter_limit),
    "/Font": _font,
}

# The other entries of the table, and why they change nothing that is measured here.
IGNORED_PARAMETERS: Final = {
    "/D": "dashes shorten what is painted and never lengthen it",
    "/RI": "how a device maps colours that it cannot show; the colours stay what they are",
    "/BG": "black generation belongs to the device that converts colours",
    "/BG2": "as BG",
    "/UCR": "undercolour removal belongs to the device that converts colours",
    "/UCR2": "as UCR",
    "/TR": "transfer functions belong to one device; PDF/X forbids them",
    "/TR2": "as TR",
    "/HT": "halftones belong to one device",
    "/FL": "how finely a device follows curves",
    "/SM": "how finely a device follows shadings",
    "/SA": "how a device places thin lines on its pixels",
    "/AIS": "whether a mask is taken as shape or opacity; that there is one counts here",
    "/TK": "whether letters of one run knock each other out",
    "/UseBlackPtComp": "how a device converts colours",
    "/HTO": "where a device begins its halftone",
    "/Type": "says nothing",
}
