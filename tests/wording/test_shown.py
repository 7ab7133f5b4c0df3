# File names as people see them: nothing in a name may steer what shows it.
import pytest

from hotfolder.wording.shown import shown_name


@pytest.mark.parametrize(
    "name",
    ["flyer.pdf", "Plakät Straße 海报 لافتة.pdf", "👩\u200d🎨.pdf", "50 % <b>&\"'\\.pdf", ""],
)
def test_what_can_be_seen_stays_as_it_is(name: str) -> None:
    assert shown_name(name) == name


@pytest.mark.parametrize(
    ("name", "shown"),
    [
        ("a\nb\r\tc", "a\\nb\\r\\tc"),
        ("\x1b[31mred", "\\x1b[31mred"),
        ("a\x00\x7f\x9b", "a\\x00\\x7f\\x9b"),
        # Unicode UAX #9: embeddings, overrides and isolates; UTR #36 on what they do to names.
        ("flyer\u202efdp.exe", "flyer\\u202efdp.exe"),
        ("\u2066a\u2069\u200f", "\\u2066a\\u2069\\u200f"),
        ("a\u2028b\u2029c\u0085d", "a\\u2028b\\u2029c\\x85d"),
        ("\ufeffa\u200bb", "\\ufeffa\\u200bb"),
        (b"caf\xe9.pdf".decode("utf-8", "surrogateescape"), "caf\\xe9.pdf"),
        ("\ud800\udc7f", "\\ud800\\udc7f"),
        ("\U000e0041", "\\U000e0041"),
    ],
)
def test_what_cannot_be_seen_is_escaped(name: str, shown: str) -> None:
    assert shown_name(name) == shown


def test_every_character_can_be_encoded_and_stays_on_its_line() -> None:
    everything = "".join(map(chr, range(0x110000)))

    shown = shown_name(everything)

    assert shown.encode()
    assert len(shown.splitlines()) == 1
