"""Requirements on how the file's streams are compressed."""

from collections.abc import Callable, Iterator
from typing import Final, TypeAlias

from hotfolder.checks.pdf.pdfx.places import Places, breaches_at, places_of
from hotfolder.checks.pdf.pdfx.requirement import Breach, Judging, NotJudged, Requirement, Subject
from hotfolder.checks.shared.pdfx_levels import ALL, X4, Level
from hotfolder.model.inventory.whole_file import StreamFacts, StreamKind
from hotfolder.wording.lists import listed
from hotfolder.wording.shown import shown_name

_X1A_2001: Final = frozenset({Level.X1A_2001})
_NOTES: Final = (
    "implementers' notes on PDF/X-3 (Antenna House, 2006); a developer's notes on PDF/X (aznote.jakou.com)"
)
_SAME: Final = (
    "the manual of LaTeX's package pdfx 1.6, by which PDF/X-3 differs from PDF/X-1a in the colours it takes"
)
_REMEDY: Final = (
    "Export as PDF/X again, from the original; with ZIP or JPEG for pictures where you may choose."
)

# ISO 32000-1, table 6
_FILTERS: Final = frozenset(
    {
        "ASCIIHexDecode", "ASCII85Decode", "LZWDecode", "FlateDecode", "RunLengthDecode", "CCITTFaxDecode",
        "JBIG2Decode", "DCTDecode", "JPXDecode", "Crypt",
    }
)  # fmt: skip
_OF_PICTURES: Final = frozenset({"DCTDecode", "CCITTFaxDecode"})
_PICTURES: Final = frozenset({StreamKind.PICTURE, StreamKind.INLINE_PICTURE})

_Offending: TypeAlias = Callable[[StreamFacts], frozenset[str]]


def breaches_of_streams(
    subject: Subject, offending: Callable[[StreamFacts], str]
) -> Iterator[Breach | NotJudged]:
    """What is wrong with streams, at the places where they show.

    offending: says what is wrong with one; empty where nothing is.
    """
    whole = subject.inventory.whole_file
    guilty = {stream: what for stream in whole.streams if (what := offending(stream))}
    places = places_of(subject, frozenset(stream.object for stream in guilty if stream.object is not None))
    for stream, what in guilty.items():
        on_pages: Places = [(page, ()) for page in subject.pages if page.number in stream.pages]
        named = f"{stream.kind}" + (f" (object {stream.object.split()[0]})" if stream.object else "")
        yield from breaches_at(f"{named} {what}", on_pages or places.get(stream.object or "", []))
    if whole.unread:
        yield NotJudged(whole.unread)


def _filtered(offending: _Offending) -> Judging:
    def judge(subject: Subject, _level: Level) -> Iterator[Breach | NotJudged]:
        yield from breaches_of_streams(subject, lambda stream: _compressed(offending(stream)))

    return judge


def _compressed(filters: frozenset[str]) -> str:
    return f"is packed by {listed(map(shown_name, sorted(filters)))}" if filters else ""


def _with(*names: str) -> Judging:
    return _filtered(lambda stream: frozenset(names) & frozenset(stream.filters))


def _crypt(subject: Subject, level: Level) -> Iterator[Breach | NotJudged]:
    def offending(stream: StreamFacts) -> str:
        has = "Crypt" in stream.filters and (stream.deciphered or level not in X4)
        return "is marked as enciphered (Crypt)" if has else ""

    yield from breaches_of_streams(subject, offending)


FILTERS: Final = (
    Requirement(
        id="lzw-filter",
        wants="takes no LZW compression",
        levels=ALL,
        unconfirmed=X4,
        why="A program that goes by the standard need not be able to unpack it, and may leave it out.",
        remedy=_REMEDY,
        source=f"{_NOTES}; {_SAME}; for PDF/X-4 from memory",
        judge=_with("LZWDecode"),
    ),
    Requirement(
        id="jbig2-filter",
        wants="takes no JBIG2 compression",
        levels=ALL - X4,
        unconfirmed=frozenset({Level.X3_2003}),
        why="A program that goes by the standard need not be able to unpack it, and may leave it out.",
        remedy=_REMEDY,
        source=f"{_NOTES}; {_SAME}; by ISO 32000-1, table 6, it came with PDF 1.4, after that on which"
        " PDF/X-1a:2001 and -3:2002 build; for PDF/X-3:2003, ConTeXt's lpdf-fmt.lua says otherwise",
        judge=_with("JBIG2Decode"),
    ),
    Requirement(
        id="jpeg-2000-filter",
        wants="builds on a version of PDF without JPEG 2000",
        levels=ALL - X4,
        why="A program that keeps to that version leaves the picture out.",
        remedy=_REMEDY,
        source="ISO 32000-1, table 6: it came with PDF 1.5; the titles of ISO 15930-1, -3, -4 and -6 name PDF"
        " 1.3 and 1.4",
        judge=_with("JPXDecode"),
    ),
    Requirement(
        id="crypt-filter",
        wants="takes nothing that is enciphered",
        levels=ALL,
        why="What cannot be deciphered is not printed.",
        remedy="Export again without a password, and without restrictions on attached files.",
        source="ISO 32000-1, table 6: it came with PDF 1.5; the titles of ISO 15930-1, -3, -4 and -6 name PDF"
        " 1.3 and 1.4; for PDF/X-4 Apache FOP's PDFProfile.java and Ghostscript's gdevpdf.c, by which nothing"
        " is encrypted",
        judge=_crypt,
    ),
    Requirement(
        id="unknown-filter",
        wants="takes only data that are packed as PDF describes",
        levels=ALL,
        why="No program can be relied upon to unpack anything else.",
        remedy=_REMEDY,
        source="ISO 32000-1, table 6",
        judge=_filtered(lambda stream: frozenset(stream.filters) - _FILTERS),
    ),
    Requirement(
        id="picture-filter-elsewhere",
        wants="takes JPEG and fax compression for pictures alone",
        levels=_X1A_2001,
        unconfirmed=_X1A_2001,
        why="Programs do not expect it there, and may leave out what they cannot unpack.",
        remedy=_REMEDY,
        source="a developer's notes on PDF/X (aznote.jakou.com)",
        judge=_filtered(
            lambda stream: (
                _OF_PICTURES & frozenset(stream.filters) if stream.kind not in _PICTURES else frozenset()
            )
        ),
    ),
)
