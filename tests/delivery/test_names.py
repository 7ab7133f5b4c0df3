"""Names of delivered groups: numbers, lengths, and what counts as the same name."""

import os
import unicodedata
from itertools import islice

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hotfolder.config.names import same_name_key
from hotfolder.delivery.names import group_names, numbered, split_suffix

LONGEST = 255  # bytes: NAME_MAX of Linux, <linux/limits.h>


@pytest.mark.parametrize(
    ("name", "second"),
    [
        ("flyer.pdf", "flyer (2).pdf"),
        ("flyer.v2.pdf", "flyer.v2 (2).pdf"),
        ("flyer", "flyer (2)"),
        ("flyer (2).pdf", "flyer (2) (2).pdf"),
        ("-rf.pdf", "-rf (2).pdf"),
        ("..pdf", "..pdf (2)"),
        ("a sentence. With a long end", "a sentence (2). With a long end"),
        ("a sentence. With an end that is no suffix", "a sentence. With an end that is no suffix (2)"),
    ],
)
def test_the_number_stands_before_the_suffix(name: str, second: str) -> None:
    assert [names.artwork for names in islice(group_names(name, LONGEST), 2)] == [name, second]


def test_sidecars_have_the_whole_name_of_the_artwork() -> None:
    names = next(group_names("flyer.pdf", LONGEST))
    assert (names.report_json, names.report_html) == ("flyer.pdf.report.json", "flyer.pdf.report.html")


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("Flyer.PDF", "flyer.pdf"),
        ("caf\u00e9.pdf", "cafe\u0301.pdf"),
        ("CAF\u00c9.pdf", "cafe\u0301.pdf"),
        ("stra\u00dfe.pdf", "STRASSE.pdf"),
    ],
)
def test_names_that_some_system_takes_for_the_same(one: str, other: str) -> None:
    assert same_name_key(one) == same_name_key(other)


def test_names_that_differ() -> None:
    keys = {
        same_name_key(name)
        for name in ("flyer.pdf", "flyer-2.pdf", "fl\u00ffer.pdf", "flyer.pdf ", "\udcff.pdf")
    }
    assert len(keys) == 5


def test_a_name_of_250_bytes_is_cut_at_its_stem() -> None:
    name = "a" * 246 + ".pdf"
    names = list(islice(group_names(name, LONGEST), 12))
    assert names[0].artwork == "a" * 239 + ".pdf"
    assert names[11].artwork == "a" * 234 + " (12).pdf"
    assert {len(group.report_html) for group in names} == {255}


def test_no_character_is_cut_in_two() -> None:
    family = "\U0001f468\u200d\U0001f469\u200d\U0001f467"  # one picture of 18 bytes, joined by ZWJ (UTS #51)
    cut = numbered("ab" + family + ".pdf", 1, 12)
    assert cut == "ab.pdf"
    assert numbered("cafe\u0301.pdf", 1, 8) == "caf.pdf"
    assert numbered("\u00e9\u00e9.pdf", 1, 7) == "\u00e9.pdf"


def test_bytes_that_are_no_utf8_count_as_they_are_stored() -> None:
    name = os.fsdecode(b"\xff" * 250 + b".pdf")
    (names,) = islice(group_names(name, LONGEST), 1)
    assert os.fsencode(names.report_json) == b"\xff" * (255 - len(".pdf.report.json")) + b".pdf.report.json"


@given(
    st.text(st.characters(exclude_characters="/\0", codec="utf-8"), min_size=1, max_size=120).filter(
        lambda name: len(name.encode()) <= LONGEST and name not in {".", ".."}
    ),
    st.integers(1, 2000),
)
def test_any_name_fits_with_any_number(name: str, number: int) -> None:
    (names,) = islice(group_names(name, LONGEST), number - 1, number)
    assert len(os.fsencode(names.report_html)) <= LONGEST
    assert len(os.fsencode(names.report_json)) <= LONGEST
    assert names.artwork.endswith(split_suffix(name)[1])
    assert "/" not in names.artwork
    assert names.artwork not in {"", ".", ".."}


@given(st.text(max_size=40))
def test_the_key_knows_no_case_and_no_normal_form(name: str) -> None:
    decomposed = unicodedata.normalize("NFD", name)
    assert same_name_key(decomposed) == same_name_key(unicodedata.normalize("NFC", name))
    assert same_name_key(same_name_key(name)) == same_name_key(name)
