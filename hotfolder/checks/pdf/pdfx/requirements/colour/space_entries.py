"""How colour spaces have to be put down, as the PDF that all levels build on asks."""

from typing import Final

from hotfolder.checks.pdf.pdfx.requirement import Requirement
from hotfolder.checks.pdf.pdfx.requirements.colour.naming import inks_name, space_name
from hotfolder.checks.pdf.pdfx.requirements.colour.painted import each_space, each_troubled_space
from hotfolder.checks.shared.pdfx_levels import ALL, X3, X4
from hotfolder.model.inventory.colour import SpaceTree, SpaceTrouble
from hotfolder.wording.lists import counted
from hotfolder.wording.shown import shown_name

_OF_INKS: Final = frozenset({"Separation", "DeviceN"})
_CALIBRATED: Final = frozenset({"CalGray", "CalRGB", "Lab"})
_MOST_INDEX: Final = 255  # ISO 32000-2, 8.6.6.3
_WHITE_Y: Final = 1.0  # ISO 32000-2, 8.6.5.2 to 8.6.5.4
_TOLERANCE: Final = 0.0005  # white points are written with four digits
_AGAIN: Final = "Export the artwork again; if the fault stays, choose the colours named here anew."


def _unknown(tree: SpaceTree) -> str | None:
    if tree.trouble is SpaceTrouble.MISSING:
        return None  # a resource that is missing, which another requirement tells
    for part in tree.parts():
        if part.trouble is SpaceTrouble.ENDLESS:
            return "in colour spaces within colour spaces without an end"
        if part.trouble is not None:
            return f"in a colour space that is none ({_written(part)})"
    return None


def _written(part: SpaceTree) -> str:
    return f"'{shown_name(part.name)}'" if part.name else "no name and no list"


def _tint(tree: SpaceTree) -> str | None:
    for part in tree.parts():
        tint, alternate = part.tint, part.alternate
        if part.family not in _OF_INKS or tint is None:
            continue
        named = inks_name(part.inks)
        if not tint.is_function:
            return f"in {named}, without a function that says how the ink looks"
        if tint.inputs != part.components:
            takes = "an unknown number of tints" if tint.inputs is None else counted(tint.inputs, "tint")
            return f"in {named}, whose function takes {takes} and not {part.components}"
        wanted = alternate.components if alternate is not None else None
        if wanted is not None and tint.outputs is not None and tint.outputs != wanted:
            gives = counted(tint.outputs, "component")
            return f"in {named}, whose function gives {gives} of {wanted}"
    return None


def _ink_names(tree: SpaceTree) -> str | None:
    for part in tree.parts():
        if part.family not in _OF_INKS:
            continue
        if part.nameless or not part.inks or "" in part.inks:
            return "in an ink without a name"
        if part.family == "DeviceN" and "All" in part.inks:
            return f"in a mix of inks with registration colour in it ({inks_name(part.inks)})"
        named = [each for each in part.inks if each != "None"]
        twice = next((each for each in named if named.count(each) > 1), None)
        if twice is not None:
            return f"in a mix of inks that names '{shown_name(twice)}' twice"
    return None


def _table(tree: SpaceTree) -> str | None:
    for part in tree.parts():
        table, base = part.table, part.base
        if table is None or base is None:
            continue
        if base.family in {"Indexed", "Pattern"}:
            return f"in a table of colours of {space_name(base)}"
        if table.top is None or not 0 <= table.top <= _MOST_INDEX:
            top = "no number" if table.top is None else str(table.top)
            return f"in a table of colours whose greatest index is {top}"
        wanted = (table.top + 1) * (base.components or 0)
        if table.size_bytes < wanted:
            return f"in a table of colours that has {table.size_bytes} bytes of {wanted}"
    return None


def _white(tree: SpaceTree) -> str | None:
    for part in tree.parts():
        if part.family not in _CALIBRATED:
            continue
        if part.white is None:
            return f"in {space_name(part)} without a white point"
        x, y, z = part.white
        if x <= 0 or z <= 0 or abs(y - _WHITE_Y) > _TOLERANCE:
            return f"in {space_name(part)} with the white point {x:g} {y:g} {z:g}"
    return None


def _process(tree: SpaceTree) -> str | None:
    for part in tree.parts():
        process = part.process
        if process is not None and process.components not in {None, part.process_inks}:
            return (
                f"in {inks_name(part.inks)}, which names {counted(part.process_inks, 'process ink')}"
                f" for the {process.components} of {space_name(process)}"
            )
        for key, inner in part.colorants:
            if inner.family != "Separation" or inner.inks != (key,):
                described = f"ink '{shown_name(key)}' is described as {space_name(inner)}"
                return f"in {inks_name(part.inks)}, whose {described}"
    return None


SPACE_ENTRIES: Final = (
    Requirement(
        id="unknown-colour-space",
        wants="wants colours in spaces that PDF knows",
        levels=ALL,
        why="What is painted there may come out black, or not at all.",
        remedy=_AGAIN,
        source="ISO 32000-2, 8.6.3, table 61: the families of colour spaces",
        judge=each_troubled_space(_unknown),
        of_content=True,
    ),
    Requirement(
        id="tint-transform",
        wants="wants each spot ink with a function that turns its tints into the colour which describes it",
        levels=ALL,
        why="A proof, and a press without that ink, cannot tell how it looks.",
        remedy=_AGAIN,
        source="ISO 32000-2, 8.6.6.4 and 8.6.6.5: a tint transform takes a number for each ink, and gives one"
        " for each component of the alternate space",
        judge=each_space(_tint),
        of_content=True,
    ),
    Requirement(
        id="ink-names",
        wants="wants inks that each have a name, and a mix of inks to name each once, without registration"
        " colour",
        levels=ALL,
        why="It is not clear on which plates the colour prints.",
        remedy=_AGAIN,
        source="ISO 32000-2, 8.6.6.4 and 8.6.6.5: names of colorants, All and None",
        judge=each_space(_ink_names),
        of_content=True,
    ),
    Requirement(
        id="colour-table",
        wants="wants tables of colours that are whole, with 256 colours at most",
        levels=ALL,
        why="The colours that are missing may come out black, or the picture not at all.",
        remedy="Save the picture again in full colours, or export it anew.",
        source="ISO 32000-2, 8.6.6.3",
        judge=each_space(_table),
        of_content=True,
    ),
    Requirement(
        id="white-point",
        wants="wants calibrated colours that say what their white is, with a luminance of 1",
        levels=X3 | X4,
        why="Without it nobody knows which colour is meant.",
        remedy="Give these colours an ICC profile, or convert them to those of the printing condition.",
        source="ISO 32000-2, 8.6.5.2 to 8.6.5.4: WhitePoint is required, X and Z are positive, Y is 1",
        judge=each_space(_white),
        of_content=True,
    ),
    Requirement(
        id="ink-entries",
        wants="wants the single inks of a mix described each by its own name, and as many process inks named"
        " as their colour space has",
        levels=X4,
        why="A program that prints the inks one by one takes the wrong ones.",
        remedy=_AGAIN,
        source="ISO 32000-2, 8.6.6.5, tables 70 to 72",
        judge=each_space(_process),
        of_content=True,
    ),
)
