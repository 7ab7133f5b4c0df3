# What a stream would decode to, found out before it is decoded.

import base64
import io
import zlib

import pikepdf
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pikepdf import Array, Dictionary, Name

from hotfolder.pdf.objects.lzw import lzw_length
from hotfolder.pdf.objects.streams import (
    Survey,
    bounded_bytes,
    content_parts,
    filters,
    salvaged,
    survey,
    undone_before_last,
)


def test_a_bomb_is_recognised_and_not_decoded() -> None:
    pdf = pikepdf.new()
    bomb = pdf.make_stream(b"")
    bomb.write(zlib.compress(b"\0" * 5_000_000), filter=Name.FlateDecode)
    assert survey(bomb, 4_999_999).length is None
    assert survey(bomb, 5_000_000) == Survey(5_000_000)
    assert bounded_bytes(bomb, 4_999_999) is None
    assert bounded_bytes(bomb, 5_000_000) == b"\0" * 5_000_000


def test_a_bomb_in_a_bomb_is_recognised() -> None:
    pdf = pikepdf.new()
    bomb = pdf.make_stream(b"")
    inner = zlib.compress(zlib.compress(b"\0" * 5_000_000))
    bomb.write(inner, filter=Array([Name.FlateDecode, Name.FlateDecode]))
    assert survey(bomb, 1_000_000).length is None
    assert bounded_bytes(bomb, 1_000_000) is None


def test_a_bomb_behind_a_filter_whose_data_are_not_undone_here_is_recognised() -> None:
    """Only the length is known of LZW data and of predicted ones; what follows may be of any length."""
    pdf = pikepdf.new()
    inner = zlib.compress(b"\0" * 5_000_000)
    in_lzw = pdf.make_stream(b"")
    in_lzw.write(
        _lzw(inner.hex().encode() + b">"),
        filter=Array([Name.LZWDecode, Name.ASCIIHexDecode, Name.FlateDecode]),
    )
    predicted = pdf.make_stream(b"")
    predicted.write(
        zlib.compress(b"\0" + inner),
        filter=Array([Name.FlateDecode, Name.FlateDecode]),
        decode_parms=Array([Dictionary(Predictor=15, Columns=len(inner)), None]),
    )
    for bomb in (in_lzw, predicted):
        assert len(bomb.read_bytes()) == 5_000_000
        assert survey(bomb, 1_000_000).length is None
        assert bounded_bytes(bomb, 1_000_000) is None
    assert undone_before_last(predicted, 1_000_000) is None


def test_of_deflated_data_behind_a_filter_that_is_not_known_nothing_is_salvaged() -> None:
    pdf = pikepdf.new()
    stream = pdf.make_stream(b"")
    data = zlib.compress(zlib.compress(b"0 0 10 10 re f"))
    stream.write(data, filter=Array([Name.Unheard, Name.FlateDecode, Name.FlateDecode]))
    assert salvaged(stream, 1_000_000) is None


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
        assert survey(contents, 1_000_000) == Survey(15_000)
        assert survey(contents, 14_999).length is None


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


@pytest.mark.parametrize(
    "chain", [("/A85", "/Fl"), ("/AHx", "/Fl"), ("/ASCII85Decode", "/FlateDecode"), ("/AHx",)]
)
def test_data_written_as_text_are_undone_to_be_counted(chain: tuple[str, ...]) -> None:
    pdf = pikepdf.new()
    plain = bytes(range(256)) * 400
    data = zlib.compress(plain) if len(chain) == 2 else plain
    text = (
        base64.a85encode(data) + b"~>" if "A" in chain[0] and "85" in chain[0] else data.hex().encode() + b">"
    )
    stream = pdf.make_stream(b"")
    stream.write(text, filter=Array([Name(each) for each in chain]))
    assert survey(stream, 1_000_000) == Survey(len(plain))
    assert survey(stream, len(plain) - 1).length is None


@pytest.mark.parametrize(
    "plain", [b"", b"a", b"-----A---B", bytes(range(256)) * 40, b"\0" * 300_000, b"0 0 10 10 re f\n" * 5000]
)
@pytest.mark.parametrize("early", [True, False])
def test_lzw_data_are_counted_as_they_decode(plain: bytes, *, early: bool) -> None:
    """ISO 32000-2, 7.4.4.3, table 8: EarlyChange tells when codes become longer."""
    encoded = _lzw(plain, early=early)
    assert _decoded(encoded, early=early) == plain
    assert lzw_length(encoded, len(plain), early=early) == len(plain)
    if plain:
        assert lzw_length(encoded, len(plain) - 1, early=early) is None


@given(st.binary(max_size=300))
def test_lzw_junk_counts_no_less_than_it_decodes_to(data: bytes) -> None:
    length = lzw_length(data, 1_000_000)
    assert length is not None
    decoded = _decoded(data)
    assert decoded is None or len(decoded) <= length


def _decoded(data: bytes, *, early: bool = True) -> bytes | None:
    """What qpdf makes of LZW data; None where it refuses them."""
    pdf = pikepdf.new()
    stream = pdf.make_stream(b"")
    stream.write(data, filter=Name.LZWDecode, decode_parms=Dictionary(EarlyChange=int(early)))
    try:
        return stream.read_bytes()
    except pikepdf.PikepdfError:
        return None


def _lzw(plain: bytes, *, early: bool = True) -> bytes:
    """LZW as PDF has it (ISO 32000-2, 7.4.4.2), codes growing one entry early, or not."""
    bits = ""
    table: dict[bytes, int] = {}

    def put(code: int, entries: int) -> None:
        nonlocal bits
        bits += format(code, f"0{min(max(9, (257 + early + entries).bit_length()), 12)}b")

    put(256, 0)
    known = b""
    for byte in plain:
        longer = known + bytes([byte])
        if len(longer) == 1 or longer in table:
            known = longer
            continue
        put(table[known] if len(known) > 1 else known[0], len(table))
        table[longer] = 258 + len(table)
        known = bytes([byte])
        if len(table) == 4094 - 258:
            put(256, len(table))
            table = {}
    if known:
        put(table[known] if len(known) > 1 else known[0], len(table))
        put(257, len(table) + 1)
    else:
        put(257, 0)
    bits += "0" * (-len(bits) % 8)
    return int("1" + bits, 2).to_bytes(len(bits) // 8 + 1)[1:]
