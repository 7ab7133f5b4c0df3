# What a stream would decode to, found out before it is decoded.

import io
import zlib

import pikepdf
import pytest
from pikepdf import Array, Name

from hotfolder.pdf.streams import Survey, bounded_bytes, content_parts, filters, survey


def test_a_bomb_is_recognised_and_not_decoded() -> None:
    pdf = pikepdf.new()
    bomb = pdf.make_stream(b"")
    bomb.write(zlib.compress(b"\0" * 5_000_000), filter=Name.FlateDecode)
    assert survey(bomb, 4_999_999).too_long
    assert survey(bomb, 5_000_000) == Survey()
    assert bounded_bytes(bomb, 4_999_999) is None
    assert bounded_bytes(bomb, 5_000_000) == b"\0" * 5_000_000


def test_a_bomb_in_a_bomb_counts_as_what_it_may_become() -> None:
    pdf = pikepdf.new()
    bomb = pdf.make_stream(b"")
    inner = zlib.compress(zlib.compress(b"\0" * 5_000_000))
    bomb.write(inner, filter=Array([Name.FlateDecode, Name.FlateDecode]))
    assert survey(bomb, 1_000_000).too_long
    assert bounded_bytes(bomb, 1_000_000) is None


@pytest.mark.parametrize(("cut", "told"), [(0, False), (10, True)])
def test_deflated_data_that_stops_early_is_told(cut: int, told: bool) -> None:  # noqa: FBT001 - a column
    pdf = pikepdf.new()
    data = zlib.compress(bytes(range(256)) * 20)
    stream = pdf.make_stream(b"")
    stream.write(data[: len(data) - cut], filter=Name.FlateDecode)
    assert survey(stream, 1_000_000).cut_off is told


def test_encrypted_streams_are_surveyed_as_they_were_before_encryption() -> None:
    pdf = pikepdf.new()
    pdf.add_blank_page()
    pdf.pages[0].obj.Contents = pdf.make_stream(b"0 0 10 10 re f " * 1000)
    saved = io.BytesIO()
    pdf.save(saved, encryption=pikepdf.Encryption(owner="owner", user=""))
    saved.seek(0)
    with pikepdf.open(saved) as encrypted:
        contents = encrypted.pages[0].obj.Contents
        assert isinstance(contents, pikepdf.Stream)
        assert survey(contents, 1_000_000) == Survey()
        assert survey(contents, 14_999).too_long


def test_filters_are_named_in_order() -> None:
    pdf = pikepdf.new()
    stream = pdf.make_stream(b"")
    assert filters(stream) == ()
    stream.Filter = Name.FlateDecode
    assert filters(stream) == ("FlateDecode",)
    stream.Filter = Array([Name.ASCII85Decode, Name.DCTDecode, 42])
    assert filters(stream) == ("ASCII85Decode", "DCTDecode", "unknown")


@pytest.mark.parametrize("junk", [None, 42, Name.A, Array([]), pikepdf.Dictionary(A=1)])
def test_what_is_no_stream_has_no_bytes(junk: object) -> None:
    assert bounded_bytes(junk, 100) is None


def test_the_parts_of_contents() -> None:
    pdf = pikepdf.new()
    first, second = pdf.make_stream(b"1"), pdf.make_stream(b"2")
    assert len(list(content_parts(Array([first, second])))) == 2
    assert len(list(content_parts(first))) == 1
    assert list(content_parts(None)) == []
