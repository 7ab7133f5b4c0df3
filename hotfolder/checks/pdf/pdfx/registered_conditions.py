"""The reference names of the ICC's registry of characterisation data, as far as they are known here.

Sources: the registry's rules (registryoverview of color.org) for `CGATS TR 001`; the published
characterisation files for those that they are made from; the list of printing standards in CIP4's XJDF
specification, table A.73, for FOGRA39, 47, 51, 52 and 53; notes on PDF/X-1a (Antenna House, 2006) for
`JC200103`. FOGRA41 to 44, 46, 48, 55 to 57, IFRA26, the spelling of the later CGATS names and the other
Japanese ones are from memory. The registry grows: a name that is not here may be in it all the same.
"""

from typing import Final

from hotfolder.checks.shared.printing_conditions import conditions_in

_REGISTERED: Final = frozenset(
    {
        *(f"FOGRA{number}" for number in (*range(27, 31), *range(39, 49), *range(51, 58), 59)),
        *(f"CGATS TR 00{number}" for number in (1, 2, 3, 5, 6)),
        *(f"CGATS21-2-CRPC{number}" for number in range(1, 8)),
        "IFRA26",
        "JC200103",
        "JC201103",
        "JCN2002",
        "JCW2003",
    }
)

# Names of characterisation files and of profiles that are taken for those of the registry.
_TAKEN_FOR: Final = {
    **{f"FOGRA{number}L": f"FOGRA{number}" for number in (27, 28, 29, 30, 39, 40, 45, 46, 47)},
    **{f"CGATS TR00{number}": f"CGATS TR 00{number}" for number in (1, 2, 3, 5, 6)},
    **{f"TR00{number}": f"CGATS TR 00{number}" for number in (1, 2, 3, 5, 6)},
    "CGATS/GRACoL TR006 2007": "CGATS TR 006",
    "CGATS/SWOP TR003 2007": "CGATS TR 003",
    "CGATS/SWOP TR005 2007": "CGATS TR 005",
    "CGATS/SNAP TR002 2007": "CGATS TR 002",
}

# What writers put where no registered condition is meant.
_MEANS_NONE: Final = frozenset({"custom", "none", "unknown", "other"})

_ICC: Final = frozenset({"www.color.org", "color.org", "registry.color.org"})


def is_icc_registry(registry: str) -> bool:
    """Whether a RegistryName is that of the ICC: `http://www.color.org`, or a later spelling of it."""
    address = registry.strip().casefold().partition("://")[2] or registry.strip().casefold()
    return address.partition("/")[0] in _ICC


def registered_name(identifier: str) -> str | None:
    """The registry's name for the condition that is meant, where that is known.

    Case and spaces at the ends do not count, and the name of a profile tells its condition.

    >>> registered_name("FOGRA39L"), registered_name("PSO Coated v3"), registered_name("Press 4")
    ('FOGRA39', 'FOGRA51', None)
    """
    known = _KNOWN.get(identifier.strip().casefold())
    conditions = conditions_in(identifier)
    if known is None and len(conditions) == 1:
        (condition,) = conditions
        return _KNOWN.get(condition.casefold())
    return known


def means_no_condition(identifier: str) -> bool:
    """Whether an identifier says itself that no registered condition is meant."""
    return identifier.strip().casefold() in _MEANS_NONE


_KNOWN: Final = {
    **{name.casefold(): name for name in _REGISTERED},
    **{name.casefold(): meant for name, meant in _TAKEN_FOR.items()},
}
