"""Reads how the layers of a document are set up (ISO 32000-2, 8.11.4)."""

from collections.abc import Iterator
from typing import Final

import pikepdf

from hotfolder.model.inventory.layers import LayerConfiguration, LayerFacts
from hotfolder.pdf.objects.reading import entry, identity, items, text

_MOST_GROUPS: Final = 10_000
_MOST_CONFIGURATIONS: Final = 1_000


def read_layers(pdf: pikepdf.Pdf) -> LayerFacts:
    """The groups that the catalog lists, and its configurations, the default one first."""
    properties = entry(pdf.Root, "/OCProperties")
    groups = {
        identity(group) or str(position): text(entry(group, "/Name")) or "unnamed layer"
        for position, group in enumerate(items(entry(properties, "/OCGs"), _MOST_GROUPS))
        if isinstance(group, pikepdf.Dictionary)
    }
    configurations = [entry(properties, "/D"), *items(entry(properties, "/Configs"), _MOST_CONFIGURATIONS)]
    return LayerFacts(
        names=tuple(groups.values()),
        configurations=tuple(
            _configuration(each, groups, default=position == 0)
            for position, each in enumerate(configurations)
            if isinstance(each, pikepdf.Dictionary)
        ),
    )


def _configuration(
    configuration: pikepdf.Dictionary, groups: dict[str, str], *, default: bool
) -> LayerConfiguration:
    order = entry(configuration, "/Order")
    listed = set(_listed(order))
    missing = tuple(called for key, called in groups.items() if key not in listed)
    return LayerConfiguration(
        default=default,
        named=bool(text(entry(configuration, "/Name"))),
        automatic=next(items(entry(configuration, "/AS"), 1), None) is not None,
        unlisted=missing if isinstance(order, pikepdf.Array) else (),
    )


def _listed(order: object) -> Iterator[str]:
    """The object numbers of the groups in an order, which is an array of groups, labels and such arrays."""
    waiting = [order]
    for _ in range(2 * _MOST_GROUPS):
        if not waiting:
            return
        part = waiting.pop()
        if isinstance(part, pikepdf.Dictionary):
            yield identity(part) or ""
        elif isinstance(part, pikepdf.Array):
            waiting.extend(items(part, _MOST_GROUPS))
