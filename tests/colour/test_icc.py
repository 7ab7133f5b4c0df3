# The name and the space of a colour profile, in both forms that the ICC specification has.
import struct

import pytest

from hotfolder.colour.icc import ProfileFacts, read_profile, tags_of


def profile(element: bytes, space: bytes = b"CMYK", device_class: bytes = b"prtr") -> bytes:
    """A profile of one `desc` tag (ICC.1, 7.2 and 7.3)."""
    head = bytearray(128)
    head[12:16], head[16:20], head[36:40] = device_class, space, b"acsp"
    return bytes(head) + struct.pack(">I4sII", 1, b"desc", 144, len(element)) + element


def text(name: bytes) -> bytes:
    return b"desc" + bytes(4) + struct.pack(">I", len(name) + 1) + name + b"\0"


def localised(*records: tuple[bytes, str]) -> bytes:
    table, tail = b"", b""
    start = 16 + 12 * len(records)
    for language, name in records:
        body = name.encode("utf-16-be")
        table += struct.pack(">4sII", language, len(body), start + len(tail))
        tail += body
    return b"mluc" + bytes(4) + struct.pack(">II", len(records), 12) + table + tail


@pytest.mark.parametrize(
    ("data", "expected"),
    [
        (profile(text(b"Coated sheet 39")), ProfileFacts("Coated sheet 39", "CMYK", "prtr")),
        (profile(text(b"Grey"), b"GRAY", b"mntr"), ProfileFacts("Grey", "GRAY", "mntr")),
        (
            profile(localised((b"deDE", "Gestrichen"), (b"enUS", "Coated"))),
            ProfileFacts("Coated", "CMYK", "prtr"),
        ),
        (profile(localised((b"frFR", "Couch\u00e9"))), ProfileFacts("Couch\u00e9", "CMYK", "prtr")),
        (profile(localised()), ProfileFacts("", "CMYK", "prtr")),
        (profile(text(b"a\x07b  c")), ProfileFacts("ab c", "CMYK", "prtr")),
        (profile(text(b"x" * 5000)), ProfileFacts("x" * 200, "CMYK", "prtr")),
        (profile(b"desc\0\0\0\0\xff\xff\xff\xff"), ProfileFacts("", "CMYK", "prtr")),
        (profile(b"junk"), ProfileFacts("", "CMYK", "prtr")),
        (bytes(128), None),
        (b"", None),
    ],
)
def test_names(data: bytes, expected: ProfileFacts | None) -> None:
    assert read_profile(data) == expected


def test_no_cut_of_a_profile_is_an_error() -> None:
    whole = profile(localised((b"enUS", "Coated")))
    found = {read_profile(whole[:length]) for length in range(len(whole))}
    assert found == {None, ProfileFacts("", "CMYK", "prtr")}


def test_the_tags_of_a_profile_are_those_that_lie_in_it() -> None:
    whole = profile(text(b"Coated"))
    assert tags_of(whole) == {"desc"}
    assert tags_of(whole[:-1]) == frozenset()
    assert tags_of(whole[:130]) == frozenset()
