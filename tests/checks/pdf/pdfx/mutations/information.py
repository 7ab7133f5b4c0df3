"""What a file says of itself: document information, metadata, and the level that it names."""

from collections.abc import Callable
from typing import Final

from pikepdf import Pdf

from hotfolder.checks.shared.pdfx_levels import Level
from tests.checks.pdf.pdfx.mutations.mutation import (
    KEEPS,
    KEEPS_X4,
    Edit,
    Expected,
    Mutation,
    drops,
    old,
    only,
    sets,
    stream,
    then,
    told,
)


def _metadata(change: Callable[[bytes], bytes], entries: str = "/Type /Metadata /Subtype /XML") -> Edit:
    def edit(pdf: Pdf) -> None:
        changed = change(pdf.Root.Metadata.read_bytes())
        pdf.Root.Metadata = stream(changed, entries)(pdf)

    return edit


def _swaps(old_text: str, new_text: str) -> Edit:
    def change(data: bytes) -> bytes:
        assert old_text.encode() in data
        return data.replace(old_text.encode(), new_text.encode())

    return _metadata(change)


def _without(tag: str) -> Edit:
    def change(data: bytes) -> bytes:
        start, end = data.index(f"<{tag}>".encode()), data.index(f"</{tag}>".encode())
        return data[:start] + data[end + len(tag) + 3 :]

    return _metadata(change)


def _as_attributes(data: bytes) -> bytes:
    """Writes the plain values as attributes, as short RDF has them."""
    text = data.decode()
    attributes = ""
    for tag in (
        "dc:format",
        "xmp:CreateDate",
        "xmp:ModifyDate",
        "xmp:MetadataDate",
        "pdf:Trapped",
        "pdf:Producer",
        "xmpMM:DocumentID",
        "xmpMM:VersionID",
        "xmpMM:RenditionClass",
        "pdfxid:GTS_PDFXVersion",
    ):
        start, end = text.index(f"<{tag}>"), text.index(f"</{tag}>")
        attributes += f" {tag}='{text[start + len(tag) + 2 : end]}'"
        text = text[:start] + text[end + len(tag) + 3 :]
    return text.replace('rdf:about=""', 'rdf:about=""' + attributes).encode()


def _x4(ids: str) -> Expected:
    return {level: frozenset(ids.split()) for level in KEEPS_X4}


def _mirror(value: str) -> Edit:
    return _swaps(
        "<dc:format>",
        f'<p:GTS_PDFXVersion xmlns:p="http://ns.adobe.com/pdfx/1.3/">{value}</p:GTS_PDFXVersion><dc:format>',
    )


def _no_information(pdf: Pdf) -> None:
    del pdf.trailer.Info


_LABEL: Final = "GTS_PDFXVersion"
_ID: Final = "http://www.npes.org/pdfx/ns/id/"

MUTATIONS: Final = (
    Mutation("no title", old("no-title", ""), drops("Info/Title")),
    Mutation("an empty title", old("no-title"), sets("Info/Title", "()")),
    Mutation("a title of null", old("no-title", ""), sets("Info/Title", "null")),
    Mutation(
        "a title in UTF-16",
        KEEPS,
        sets("Info/Title", "<FEFF004C0061006E007400650072006E002000770061006C006B>"),
    ),
    Mutation(
        "another title than the metadata have",
        told("", "", "info-against-metadata"),
        sets("Info/Title", "(Moon walk)"),
    ),
    Mutation("no date of making", old("no-dates", ""), drops("Info/CreationDate")),
    Mutation("no date of change", old("no-dates", ""), drops("Info/ModDate")),
    Mutation(
        "a date of change as people write it", old("date-syntax"), sets("Info/ModDate", "(2 March 2026)")
    ),
    Mutation(
        "a date of change as XMP has it", old("date-syntax"), sets("Info/ModDate", "(2026-03-02T10:00:00Z)")
    ),
    Mutation(
        "a date of change in a month that is none",
        old("date-syntax"),
        sets("Info/ModDate", "(D:20261301100000Z)"),
    ),
    Mutation("a date of change with the year alone", old(""), sets("Info/ModDate", "(D:2026)")),
    Mutation(
        "a date of change as elsewhere on earth", KEEPS, sets("Info/ModDate", "(D:20260302120000+02'00')")
    ),
    Mutation("no creator and producer", KEEPS, then(drops("Info/Creator"), drops("Info/Producer"))),
    Mutation(
        "an author and words of one's own",
        KEEPS,
        then(sets("Info/Author", "(somebody)"), sets("Info/LanternJob", "(71)")),
    ),
    Mutation("nothing said of traps", old("trapped", ""), drops("Info/Trapped")),
    Mutation("traps unknown", old("trapped"), sets("Info/Trapped", "/Unknown")),
    Mutation("traps denied by a boolean", old("trapped"), sets("Info/Trapped", "false")),
    Mutation("traps denied by a string", old("trapped"), sets("Info/Trapped", "(False)")),
    Mutation("traps denied in lower case", old("trapped"), sets("Info/Trapped", "/false")),
    Mutation("traps claimed", old(""), sets("Info/Trapped", "/True")),
    Mutation(
        "traps claimed against the metadata", _x4("info-against-metadata"), sets("Info/Trapped", "/True")
    ),
    Mutation("traps told by the information alone", _x4(""), _without("pdf:Trapped")),
    Mutation("traps told nowhere", _x4("trapped"), then(_without("pdf:Trapped"), drops("Info/Trapped"))),
    Mutation("no level named", old("wrong-identifier"), drops(f"Info/{_LABEL}")),
    Mutation("the level in lower case", old("wrong-identifier"), sets(f"Info/{_LABEL}", "(pdf/x-1a:2003)")),
    Mutation(
        "the level with a space behind",
        only(Level.X1A_2003, "wrong-identifier"),
        sets(f"Info/{_LABEL}", "(PDF/X-1a:2003 )"),
    ),
    Mutation(
        "the level as a name",
        only(Level.X3_2003, "wrong-identifier"),
        sets(f"Info/{_LABEL}", "/PDF#2FX-3:2003"),
    ),
    Mutation(
        "the level as the trade writes it",
        only(Level.X1A_2001, "wrong-identifier"),
        sets(f"Info/{_LABEL}", "(PDF/X-1a:2001)"),
    ),
    Mutation(
        "the level in UTF-16",
        only(Level.X3_2003),
        sets(f"Info/{_LABEL}", "<FEFF005000440046002F0058002D0033003A0032003000300033>"),
    ),
    Mutation(
        "no conformance named", only(Level.X1A_2001, "wrong-identifier"), drops("Info/GTS_PDFXConformance")
    ),
    Mutation(
        "the level once more as its conformance",
        only(Level.X1A_2003),
        sets("Info/GTS_PDFXConformance", "(PDF/X-1a:2003)"),
    ),
    Mutation("the level in the information too", only(Level.X4), sets(f"Info/{_LABEL}", "(PDF/X-4)")),
    Mutation(
        "another level in the information", _x4("contradiction"), sets(f"Info/{_LABEL}", "(PDF/X-1a:2003)")
    ),
    Mutation("no level in the metadata", _x4("wrong-identifier"), _without("pdfxid:GTS_PDFXVersion")),
    Mutation(
        "the level under another address", _x4("wrong-identifier"), _swaps(_ID, "http://www.example.org/id/")
    ),
    Mutation("the level under another prefix", _x4(""), _swaps("pdfxid", "lantern")),
    Mutation("the level in the metadata for programs", only(Level.X4), _mirror("PDF/X-4")),
    Mutation(
        "another level in the metadata for programs",
        only(Level.X4, "left-over-label"),
        _mirror("PDF/X-3:2002"),
    ),
    Mutation(
        "metadata of rubbish where none are needed",
        told("", ""),
        sets("Root/Metadata", stream("rubbish", "/Type /Metadata /Subtype /XML")),
    ),
    Mutation("no metadata", _x4("no-metadata wrong-identifier"), drops("Root/Metadata")),
    Mutation(
        "metadata that are cut off",
        _x4("metadata-unreadable wrong-identifier"),
        _metadata(lambda data: data[:300]),
    ),
    Mutation(
        "metadata without a subtype", _x4("metadata-type"), _metadata(lambda data: data, "/Type /Metadata")
    ),
    Mutation("metadata without a type", _x4("metadata-type"), _metadata(lambda data: data, "/Subtype /XML")),
    Mutation("metadata of attributes", _x4(""), _metadata(_as_attributes)),
    Mutation("metadata in UTF-16", _x4(""), _metadata(lambda data: data.decode().encode("utf-16"))),
    Mutation(
        "metadata without a wrapper",
        _x4(""),
        _metadata(lambda data: data[data.index(b"<x:xmpmeta") : data.index(b"<?xpacket end")]),
    ),
    Mutation(
        "metadata of the description alone",
        _x4(""),
        _metadata(lambda data: data[data.index(b"<rdf:RDF") : data.index(b"</x:xmpmeta")]),
    ),
    Mutation(
        "metadata with a comment",
        _x4(""),
        _swaps("<dc:format>", "<!-- pdfxid:GTS_PDFXVersion PDF/X-3:2002 --><dc:format>"),
    ),
    Mutation(
        "metadata written at another hour of the earth",
        _x4(""),
        _swaps("2026-03-02T10:00:00+00:00", "2026-03-02T12:00:00+02:00"),
    ),
    Mutation("no title in the metadata", _x4("xmp-title"), _without("dc:title")),
    *(
        Mutation(f"no {tag}", _x4("xmp-dates"), _without(tag))
        for tag in ("xmp:CreateDate", "xmp:ModifyDate", "xmp:MetadataDate")
    ),
    *(
        Mutation(f"no {tag}", _x4("xmp-identifiers"), _without(tag))
        for tag in ("xmpMM:DocumentID", "xmpMM:VersionID", "xmpMM:RenditionClass")
    ),
    *(
        Mutation(f"no {tag}", _x4(""), _without(tag))
        for tag in ("dc:format", "xmp:CreatorTool", "pdf:Producer")
    ),
    Mutation(
        "another date of change in the metadata",
        _x4("info-against-metadata"),
        _swaps("<xmp:ModifyDate>2026-03-02", "<xmp:ModifyDate>2026-03-03"),
    ),
    Mutation(
        "another producer in the metadata",
        _x4("info-against-metadata"),
        _swaps("<pdf:Producer>a test", "<pdf:Producer>a press"),
    ),
    Mutation(
        "a date of the metadata as PDF has it",
        _x4("date-syntax"),
        _swaps("<xmp:MetadataDate>2026-03-02T10:00:00+00:00", "<xmp:MetadataDate>D:20260302100000Z"),
    ),
    Mutation("no information at all", old("no-title no-dates trapped wrong-identifier", ""), _no_information),
)
