"""Requirements on layers (optional content)."""

from collections.abc import Iterator
from typing import Final

from hotfolder.checks.pdf.pdfx.requirement import Breach, Requirement, Subject
from hotfolder.checks.shared.pdfx_levels import X1A, X3, X4, Level
from hotfolder.model.inventory.layers import LayerConfiguration
from hotfolder.wording.lists import counted, shortened
from hotfolder.wording.shown import shown_name

_FROM_MEMORY: Final = "from memory, with the wording of the archival standard ISO 19005-2"


def _no_layers(subject: Subject, _level: Level) -> Iterator[Breach]:
    names = [shown_name(each) for each in subject.inventory.layers.names]
    if names:
        yield Breach(f"the file has {counted(len(names), 'layer')} ({shortened(names)})")


def _no_automatic_states(subject: Subject, _level: Level) -> Iterator[Breach]:
    for configuration in subject.inventory.layers.configurations:
        if configuration.automatic:
            yield Breach(f"{_called(configuration)} switches layers by itself (AS)")


def _named(subject: Subject, _level: Level) -> Iterator[Breach]:
    for configuration in subject.inventory.layers.configurations:
        if not configuration.named:
            yield Breach(f"{_called(configuration)} has no name")


def _all_listed(subject: Subject, _level: Level) -> Iterator[Breach]:
    for configuration in subject.inventory.layers.configurations:
        if configuration.unlisted:
            names = shortened([shown_name(each) for each in configuration.unlisted])
            yield Breach(f"the list of layers of {_called(configuration)} leaves out {names}")


def _called(configuration: LayerConfiguration) -> str:
    return "the layers' default setting" if configuration.default else "another setting of the layers"


LAYERS: Final = (
    Requirement(
        id="layers",
        wants="takes no layers, which came with PDF 1.5",
        levels=X1A | X3,
        why="A program that does not know them prints all of them, hidden ones too.",
        remedy="Flatten the layers, keep only what should print, and export again.",
        source="Arlington PDF model of the PDF Association (OCProperties is of PDF 1.5); ISO 32000-2, 8.11",
        judge=_no_layers,
    ),
    Requirement(
        id="automatic-layers",
        wants="takes no layers that are switched by the occasion, such as off for the screen and on in print",
        levels=X4,
        unconfirmed=X4,
        why="What prints would not be what was seen.",
        remedy="Take the print and view settings off the layers, or flatten them, and export again.",
        source="from memory",
        judge=_no_automatic_states,
    ),
    Requirement(
        id="unnamed-layer-setting",
        wants="wants a name for each setting of the layers",
        levels=X4,
        unconfirmed=X4,
        why="Settings are told apart by their names.",
        remedy="Export again with a program that names the settings of layers, or flatten the layers.",
        source=_FROM_MEMORY,
        judge=_named,
    ),
    Requirement(
        id="unlisted-layer",
        wants="wants each layer in the list of layers",
        levels=X4,
        unconfirmed=X4,
        why="A layer that is not listed cannot be seen or switched by whoever checks the file.",
        remedy="Show all layers in the program's list of layers, or flatten them, and export again.",
        source=_FROM_MEMORY,
        judge=_all_listed,
    ),
)
