"""Operators of marked content (ISO 32000-2, 14.6), of which only layers (optional content) matter here."""

from hotfolder.model.facts import ProblemKind
from hotfolder.pdf.content.content import Content, Operands
from hotfolder.pdf.objects.reading import name


def begin(content: Content, _operands: Operands) -> None:
    """`BMC`: a sequence with a tag only."""
    content.marked.append(content.around)


def begin_with_properties(content: Content, operands: Operands) -> None:
    """`BDC`: a sequence with properties; those of tag `OC` are a layer (8.11.3.2)."""
    layer = None
    if name(operands[-2]) == "OC":
        key = name(operands[-1])
        layer = content.scope.resources.find("Properties", key) if key is not None else None
        if layer is None:
            content.note(
                ProblemKind.DAMAGED, "a layer is used that the file does not hold; it counts as shown"
            )
    content.marked.append(content.layer_of(layer))


def end(content: Content, _operands: Operands) -> None:
    """`EMC`: ends the innermost sequence."""
    if content.marked:
        content.marked.pop()
    else:
        content.note(ProblemKind.NOTE, "a marked sequence ends that never began")
