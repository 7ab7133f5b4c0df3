# What is spread over a whole file: unusual streams, references to files, what cannot be reached.
from collections.abc import Callable
from io import BytesIO

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, Stream, String

from hotfolder.model.inventory.whole_file import FileReference, StreamKind, WholeFileFacts
from hotfolder.pdf.content.uses import Use, UseKind
from hotfolder.pdf.inventory import whole_file
from hotfolder.pdf.inventory.whole_file import read_whole_file
from hotfolder.pdf.objects.resources import Resources


def read(edit: Callable[[pikepdf.Pdf], None]) -> WholeFileFacts:
    """The facts of a file of one page."""
    pdf = pikepdf.new()
    pdf.add_blank_page()
    edit(pdf)
    return read_whole_file(pdf, [page.obj for page in pdf.pages], [])


def packed(pdf: pikepdf.Pdf, *filters: str) -> pikepdf.Object:
    stream = Stream(pdf, b"")
    stream.Filter = Array([Name(f"/{each}") for each in filters])
    return pdf.make_indirect(stream)


def test_deflated_streams_are_not_kept() -> None:
    def edit(pdf: pikepdf.Pdf) -> None:
        plain = Stream(pdf, b"")
        plain.Filter = Name.FlateDecode
        pdf.Root.One, pdf.Root.Two = pdf.make_indirect(plain), packed(pdf, "FlateDecode", "FlateDecode")

    assert read(edit) == WholeFileFacts()


def test_filters_are_told_by_their_full_names_in_order() -> None:
    def edit(pdf: pikepdf.Pdf) -> None:
        pdf.Root.One = packed(pdf, "A85", "Fl")

    (stream,) = read(edit).streams
    assert (stream.filters, stream.kind) == (("ASCII85Decode", "FlateDecode"), StreamKind.OTHER)


def test_what_a_stream_is_is_told_by_itself_or_by_what_refers_to_it() -> None:
    def edit(pdf: pikepdf.Pdf) -> None:
        picture, form = packed(pdf, "DCTDecode"), packed(pdf, "LZWDecode")
        picture.Subtype, form.Subtype = Name.Image, Name.Form
        pdf.Root.Things = Array([picture, form])
        pdf.Root.Descriptor = Dictionary(FontFile3=packed(pdf, "ASCIIHexDecode"))
        pdf.Root.Space = Array([Name.ICCBased, packed(pdf, "RunLengthDecode")])
        pdf.pages[0].obj.Contents = Array([packed(pdf, "ASCII85Decode")])

    kinds = {stream.filters: (stream.kind, stream.pages) for stream in read(edit).streams}
    assert kinds == {
        ("DCTDecode",): (StreamKind.PICTURE, ()),
        ("LZWDecode",): (StreamKind.FORM, ()),
        ("ASCIIHexDecode",): (StreamKind.FONT, ()),
        ("RunLengthDecode",): (StreamKind.PROFILE, ()),
        ("ASCII85Decode",): (StreamKind.CONTENT, (1,)),
    }


def test_entries_that_move_data_to_another_file_are_told() -> None:
    def edit(pdf: pikepdf.Pdf) -> None:
        stream = packed(pdf, "FlateDecode")
        stream.F, stream.FFilter = Dictionary(F=String("data.bin")), Name.FlateDecode
        pdf.Root.One = stream

    (stream,) = read(edit).streams
    assert stream.outside == ("F", "FFilter")


@pytest.mark.parametrize("value", [Name.FlateDecode, 4])
def test_an_f_that_is_no_file_moves_nothing(value: object) -> None:
    def edit(pdf: pikepdf.Pdf) -> None:
        pdf.Root.One = packed(pdf, "FlateDecode")
        pdf.Root.One.F = value

    assert read(edit).streams == ()


def test_an_annotation_with_flags_is_no_reference_to_a_file() -> None:
    def edit(pdf: pikepdf.Pdf) -> None:
        link = Dictionary(Type=Name.Annot, Subtype=Name.Link, Rect=Array([0, 0, 9, 9]), F=4)
        pdf.pages[0].obj.Annots = Array([link])

    assert read(edit) == WholeFileFacts()


def test_files_within_and_without_are_told_with_their_names() -> None:
    def edit(pdf: pikepdf.Pdf) -> None:
        embedded = packed(pdf, "FlateDecode")
        pdf.Root.Inside = Array(
            [Dictionary(F=String("a.txt"), UF=String("b.txt"), EF=Dictionary(F=embedded))]
        )
        pdf.Root.Outside = Dictionary(Deep=Dictionary(Type=Name.Filespec, F=String("c.tif")))

    references = {(each.name, each.embedded) for each in read(edit).file_references}
    assert references == {("b.txt", True), ("c.tif", False)}


def test_what_cannot_be_reached_is_no_part_of_the_file() -> None:
    pdf = pikepdf.new()
    pdf.add_blank_page()
    packed(pdf, "LZWDecode")
    assert read_whole_file(pdf, [], []) == WholeFileFacts()


def test_words_that_look_like_references_in_a_circle_end() -> None:
    def edit(pdf: pikepdf.Pdf) -> None:
        first, second = pdf.make_indirect(Dictionary()), pdf.make_indirect(Dictionary())
        first.Next, second.Next = second, first
        pdf.Root.One, pdf.Root.Words = first, String("999999 0 R 4294967296 0 R 12 0 R")

    assert read(edit) == WholeFileFacts()


def test_an_entry_without_a_value_is_no_entry() -> None:
    pdf = pikepdf.open(BytesIO(_raw(b"/Collection null /AF null /Thing << /EF null /Type /Filespec2 >>")))
    assert read_whole_file(pdf, [], []) == WholeFileFacts()


def _raw(entries: bytes) -> bytes:
    body = b"%PDF-1.4\n1 0 obj << /Type /Catalog /Pages 2 0 R " + entries + b" >> endobj\n"
    body += b"2 0 obj << /Type /Pages /Kids [3 0 R] /Count 1 >> endobj\n"
    body += b"3 0 obj << /Type /Page /Parent 2 0 R /MediaBox [0 0 9 9] >> endobj\n"
    return body + b"trailer << /Root 1 0 R >>\n%%EOF"


def test_a_walk_over_too_many_objects_says_that_it_stopped(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(whole_file, "_OBJECTS", 20)

    def edit(pdf: pikepdf.Pdf) -> None:
        pdf.Root.Many = Array([pdf.make_indirect(Dictionary(A=index)) for index in range(60)])

    assert "more than 20 objects" in read(edit).unread


def test_a_heap_of_unusual_streams_says_that_it_stopped(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(whole_file, "_KEPT", 5)

    def edit(pdf: pikepdf.Pdf) -> None:
        pdf.Root.Many = Array([packed(pdf, "LZWDecode") for _ in range(30)])

    assert "more than 5 unusual streams" in read(edit).unread


def test_a_crypt_filter_deciphers_unless_it_is_that_of_identity() -> None:
    deciphering = Dictionary(Filter=Array([Name.FlateDecode, Name.Crypt]))
    pdf = pikepdf.new()
    streams = []
    for parameters in (
        None,
        Array([Dictionary(), Dictionary(Name=Name.Identity)]),
        Array([Dictionary(Name=Name.Own), Dictionary(Name=Name.Own)]),
    ):
        stream = Stream(pdf, b"")
        stream.Filter = deciphering.Filter
        if parameters is not None:
            stream.DecodeParms = parameters
        streams.append(pdf.make_indirect(stream))
    pdf.Root.Streams = Array(streams)
    facts = read_whole_file(pdf, [], [])
    assert [each.deciphered for each in facts.streams] == [False, False, True]


def test_pictures_within_content_are_told_by_their_pages() -> None:
    pdf = pikepdf.new()
    pdf.add_blank_page()
    uses = [
        Use(UseKind.INLINE_IMAGE, Dictionary(Filter=Array([Name.AHx, Name.LZW])), page, Resources(), None)
        for page in (1, 3, 3)
    ]
    (stream,) = read_whole_file(pdf, [], uses).streams
    assert (stream.kind, stream.filters) == (
        StreamKind.INLINE_PICTURE,
        ("ASCIIHexDecode", "LZWDecode"),
    )
    assert (stream.object, stream.pages) == (None, (1, 3))


def test_a_reference_names_the_object_that_it_stands_in() -> None:
    pdf = pikepdf.new()
    holder = pdf.make_indirect(Dictionary(FS=Dictionary(Type=Name.F, F=String("d.txt"))))
    pdf.Root.Holder = holder
    number, generation = holder.objgen
    assert read_whole_file(pdf, [], []).file_references == (
        FileReference("d.txt", embedded=False, object=f"{number} {generation}"),
    )
