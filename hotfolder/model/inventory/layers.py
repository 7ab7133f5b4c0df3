"""How the layers of a document are set up (optional content, ISO 32000-2, 8.11.4)."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class LayerConfiguration:
    """A configuration of layers. default: the one that counts when the file is opened.

    named: it has a name that is not empty. automatic: it changes states by itself (AS). unlisted: names of
    layers that its order does not list, though it has one.
    """

    default: bool
    named: bool
    automatic: bool
    unlisted: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LayerFacts:
    """The layers of a document: the name of each, and their configurations."""

    names: tuple[str, ...]
    configurations: tuple[LayerConfiguration, ...]
