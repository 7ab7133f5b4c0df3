"""The registered printing conditions that names tell: those of output intents, and those of profiles.

Sources: the ICC's registry of characterisation data for the reference names; the names by which the bodies
that published them call the profiles for PSO and ISO coated and uncoated paper, newsprint, GRACoL and SWOP
are common practice. FOGRA45, FOGRA46 and the Japanese ones are from memory. What is not listed here tells
no condition, rather than a wrong one.
"""

import re
from typing import Final

# In names without spaces, marks and case. Digits behind a number would make it another one.
_NUMBERED: Final = (
    (re.compile(r"fogra(\d\d)(?!\d)"), "FOGRA{}"),
    (re.compile(r"crpc(\d)(?!\d)"), "CGATS21-2-CRPC{}"),
    (re.compile(r"(?:cgats|swop|gracol|snap)tr00(\d)(?!\d)"), "CGATS TR 00{}"),
    (re.compile(r"(?:ifra|newspaper)(\d\d)(?!\d)"), "IFRA{}"),
    (re.compile(r"jc2001(0\d)(?!\d)"), "JC2001{}"),
)
_CALLED: Final = (
    (re.compile(r"isocoatedv2"), "FOGRA39"),
    (re.compile(r"psocoatedv3"), "FOGRA51"),
    (re.compile(r"psouncoatedv3"), "FOGRA52"),
    (re.compile(r"psouncoatediso12647"), "FOGRA47"),
    (re.compile(r"psolwcimproved"), "FOGRA45"),
    (re.compile(r"psolwcstandard"), "FOGRA46"),
    (re.compile(r"ecicmykv2"), "FOGRA59"),
    (re.compile(r"ecicmyk(?!v2)"), "FOGRA53"),
    (re.compile(r"gracol2006coated1"), "CGATS TR 006"),
    (re.compile(r"swop2006coated3"), "CGATS TR 003"),
    (re.compile(r"swop2006coated5"), "CGATS TR 005"),
    (re.compile(r"japancolor2001coated"), "JC200103"),
)
_MARKS: Final = re.compile(r"[\s_\-/().,+]+")


def conditions_in(name: str) -> frozenset[str]:
    """The registered conditions that a name tells; none where it tells none that is known.

    >>> sorted(conditions_in("Coated FOGRA39 (ISO 12647-2:2004)")), sorted(conditions_in("PSO Coated v3"))
    (['FOGRA39'], ['FOGRA51'])
    >>> conditions_in("House profile of 2019")
    frozenset()
    """
    plain = _MARKS.sub("", name).casefold()
    numbered = {form.format(match[1]) for pattern, form in _NUMBERED for match in pattern.finditer(plain)}
    # A number tells more than a family of profiles: PSO Coated v3 may have been made again for FOGRA56.
    return frozenset(numbered or {condition for pattern, condition in _CALLED if pattern.search(plain)})
