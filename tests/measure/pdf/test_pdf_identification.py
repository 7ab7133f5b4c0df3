# What a PDF says about itself: PDF/X level, title, programs, trapping, output intents.

import struct
from pathlib import Path

import pytest

from hotfolder.colour.icc import read_profile
from hotfolder.errors import UnreadableXmpError
from hotfolder.measure import measure
from hotfolder.model.artwork import Artwork
from hotfolder.model.document import OutputIntent, PdfFacts, PdfxClaim
from hotfolder.model.facts import ProblemKind
from hotfolder.pdf.document.xmp import Xmp, read_xmp
from tests.pdf.raw_pdf import deflated, stream, write_raw

RDF = 'xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"'
PDFXID = 'xmlns:pdfxid="http://www.npes.org/pdfx/ns/id/"'
NAMESPACES = (
    f'{RDF} {PDFXID} xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:pdf="http://ns.adobe.com/pdf/1.3/" '
    'xmlns:xmp="http://ns.adobe.com/xap/1.0/" xmlns:xmpMM="http://ns.adobe.com/xap/1.0/mm/"'
)
X4 = "<pdfxid:GTS_PDFXVersion>PDF/X-4</pdfxid:GTS_PDFXVersion>"


def packet(properties: str, attributes: str = "") -> bytes:
    """An XMP packet of one description."""
    return (
        '<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?><x:xmpmeta xmlns:x="adobe:ns:meta/">'
        f'<rdf:RDF {NAMESPACES}><rdf:Description rdf:about="" {attributes}>{properties}</rdf:Description>'
        f"</rdf:RDF></x:xmpmeta>{' ' * 100}<?xpacket end='w'?>"
    ).encode()


def identified(tmp_path: Path, info: str = "", xmp: bytes | None = None) -> Artwork:
    """The facts of a file with this Info dictionary and this XMP."""
    metadata = "/Metadata 5 0 R" if xmp is not None else ""
    objects: dict[int, str | bytes] = {
        1: f"<< /Type /Catalog /Pages 2 0 R {metadata} >>",
        4: f"<< {info} >>",
        5: deflated(xmp or b"", "/Type /Metadata /Subtype /XML"),
    }
    return measure(write_raw(tmp_path / "a.pdf", objects, trailer="/Info 4 0 R"))


def facts(artwork: Artwork) -> PdfFacts:
    assert artwork.pdf is not None
    return artwork.pdf


# PDF/X level: ISO 15930-7 keeps it in XMP (namespace as published in Ghostscript's pdfwrite sources),
# the older parts in the Info dictionary.


@pytest.mark.parametrize(
    "xmp",
    [
        packet(X4),
        packet("", 'pdfxid:GTS_PDFXVersion="PDF/X-4"'),
        packet(X4).replace(b"pdfxid:", b"other:").replace(b"xmlns:pdfxid", b"xmlns:other"),
        packet(X4).decode().encode("utf-16"),
        packet(X4) + b"\0\0\0",
        packet(f"<dc:title/>{X4}"),
    ],
    ids=["element", "attribute", "other prefix", "UTF-16", "padded with zeros", "after an empty property"],
)
def test_the_level_in_xmp_is_found_however_rdf_writes_it(tmp_path: Path, xmp: bytes) -> None:
    assert facts(identified(tmp_path, xmp=xmp)).pdfx == PdfxClaim("PDF/X-4", None, "XMP")


@pytest.mark.parametrize(
    ("info", "claim"),
    [
        ("/GTS_PDFXVersion (PDF/X-3:2002)", PdfxClaim("PDF/X-3:2002", None, "Info")),
        (
            "/GTS_PDFXVersion (PDF/X-1:2001) /GTS_PDFXConformance (PDF/X-1a:2001)",
            PdfxClaim("PDF/X-1:2001", "PDF/X-1a:2001", "Info"),
        ),
        ("/GTS_PDFXVersion /PDF#2FX-1a:2003", PdfxClaim("PDF/X-1a:2003", None, "Info")),
        ("/GTS_PDFXVersion ()", None),
        ("/GTS_PDFXConformance (PDF/X-1a:2001)", None),
        ("/GTS_PDFXVersion 4", None),
        ("", None),
    ],
)
def test_the_level_in_info(tmp_path: Path, info: str, claim: PdfxClaim | None) -> None:
    assert facts(identified(tmp_path, info)).pdfx == claim


def test_xmp_comes_before_info_and_the_other_level_is_kept(tmp_path: Path) -> None:
    info = "/GTS_PDFXVersion (PDF/X-1:2001) /GTS_PDFXConformance (PDF/X-1a:2001)"
    claim = facts(identified(tmp_path, info, packet(X4))).pdfx
    assert claim == PdfxClaim("PDF/X-4", None, "XMP", other="PDF/X-1:2001")
    assert claim.name == "PDF/X-4"


def test_the_same_level_in_both_places_keeps_the_conformance(tmp_path: Path) -> None:
    info = "/GTS_PDFXVersion (PDF/X-1:2001) /GTS_PDFXConformance (PDF/X-1a:2001)"
    xmp = packet("", 'pdfxid:GTS_PDFXVersion="PDF/X-1:2001"')
    claim = facts(identified(tmp_path, info, xmp)).pdfx
    assert claim == PdfxClaim("PDF/X-1:2001", "PDF/X-1a:2001", "XMP", other="PDF/X-1:2001")


def test_a_placed_files_level_in_the_history_is_not_the_documents() -> None:
    nested = (
        "<xmpMM:Pantry><rdf:Bag><rdf:li><rdf:Description>"
        f"{X4}<dc:title>Inner</dc:title></rdf:Description></rdf:li></rdf:Bag></xmpMM:Pantry>"
    )
    assert read_xmp(packet(nested)) == Xmp()


def test_the_mirror_of_info_keys_is_no_claim() -> None:
    mirrored = '<p:GTS_PDFXVersion xmlns:p="http://ns.adobe.com/pdfx/1.3/">PDF/X-4</p:GTS_PDFXVersion>'
    assert read_xmp(packet(mirrored)).pdfx_version is None


def test_several_descriptions_count_as_one() -> None:
    second = f'</rdf:Description><rdf:Description rdf:about="">{X4}'
    assert read_xmp(packet(f"<xmp:CreatorTool>Layout</xmp:CreatorTool>{second}")) == Xmp(
        pdfx_version="PDF/X-4", creator_tool="Layout"
    )


@pytest.mark.parametrize(
    ("alternatives", "title"),
    [
        ('<rdf:li xml:lang="de">Blatt</rdf:li><rdf:li xml:lang="x-default">Leaf</rdf:li>', "Leaf"),
        ('<rdf:li xml:lang="de">Blatt</rdf:li><rdf:li xml:lang="fr">Feuille</rdf:li>', "Blatt"),
        ('<rdf:li xml:lang="x-default"></rdf:li>', None),
        ("", None),
    ],
)
def test_a_title_in_several_languages(alternatives: str, title: str | None) -> None:
    metadata = read_xmp(packet(f"<dc:title><rdf:Alt>{alternatives}</rdf:Alt></dc:title>{X4}"))
    assert metadata == Xmp(title=title, pdfx_version="PDF/X-4")


# Hostile XML


BILLION_LAUGHS = b'<!DOCTYPE lolz [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;">]><x>&b;</x>'


@pytest.mark.parametrize(
    "data",
    [
        BILLION_LAUGHS,
        b'<!DOCTYPE x SYSTEM "file:///etc/passwd"><x/>',
        b"<a>" * 100_000,
        b"<a>" * 300 + b"</a>" * 300,
        b"not XML",
        b"",
        b"<x>",
        b"\xff\xfe\x00",
        b"<x xmlns:a='b'><a:c></x>",
    ],
)
def test_xml_that_is_broken_or_declares_entities_is_refused(data: bytes) -> None:
    with pytest.raises(UnreadableXmpError):
        read_xmp(data)


@pytest.mark.parametrize("xmp", [BILLION_LAUGHS, b"not XML", b""])
def test_unreadable_xmp_is_told_and_info_still_counts(tmp_path: Path, xmp: bytes) -> None:
    artwork = identified(tmp_path, "/GTS_PDFXVersion (PDF/X-3:2003) /Title (Leaf)", xmp)
    assert facts(artwork).pdfx == PdfxClaim("PDF/X-3:2003", None, "Info")
    assert facts(artwork).title == "Leaf"
    assert [(each.where, each.kind) for each in artwork.problems] == [("pdf.pdfx", ProblemKind.NOTE)]


def test_xmp_that_expands_without_end_is_not_decoded(tmp_path: Path) -> None:
    artwork = identified(tmp_path, xmp=b" " * (17 << 20))
    assert [(each.where, each.kind) for each in artwork.problems] == [("pdf.pdfx", ProblemKind.NOTE)]


# Title, programs, trapping


def test_info_comes_before_xmp_for_title_and_programs(tmp_path: Path) -> None:
    xmp = packet(
        "<dc:title><rdf:Alt><rdf:li xml:lang='x-default'>From XMP</rdf:li></rdf:Alt></dc:title>",
        'pdf:Producer="XMP producer" xmp:CreatorTool="XMP creator" pdf:Trapped="True"',
    )
    from_xmp = facts(identified(tmp_path, xmp=xmp))
    assert (from_xmp.title, from_xmp.producer, from_xmp.creator, from_xmp.trapped) == (
        "From XMP", "XMP producer", "XMP creator", "True",
    )  # fmt: skip
    info = r"/Title <FEFF00C4> /Producer (Maker\000) /Creator (Layout) /Trapped /False"
    from_info = facts(identified(tmp_path, info, xmp))
    assert (from_info.title, from_info.producer, from_info.creator, from_info.trapped) == (
        "Ä", "Maker", "Layout", "False",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("written", "trapped", "told"),
    [
        ("/True", "True", 0),
        ("/Unknown", "Unknown", 0),
        ("(False)", None, 1),
        ("false", None, 1),
        ("/Maybe", None, 1),
    ],
)
def test_trapping_is_a_name(tmp_path: Path, written: str, trapped: str | None, told: int) -> None:
    artwork = identified(tmp_path, f"/Trapped {written}")
    assert facts(artwork).trapped == trapped
    assert [each.where for each in artwork.problems] == ["pdf.trapped"] * told


# Output intents


def icc(
    space: bytes = b"CMYK", device_class: bytes = b"prtr", description: bytes = b"", size: int = 132
) -> bytes:
    """The beginning of an ICC profile (ICC.1:2022, 7.2), with a description where one is given."""
    header = bytearray(128)
    header[12:16], header[16:20], header[36:40] = device_class, space, b"acsp"
    if not description:
        return bytes(header) + bytes(4) + bytes(size - 132)
    return bytes(header) + struct.pack(">I4sII", 1, b"desc", 144, len(description)) + description


DESC_V2 = b"desc" + bytes(4) + struct.pack(">I", 12) + b"Coated paper\0"
MLUC_V4 = (b"mluc" + bytes(4) + struct.pack(">II", 1, 12) + b"enUS" + struct.pack(">II", 28, 28)).ljust(
    28, b"\0"
) + "Coated paper 4".encode("utf-16-be")


@pytest.mark.parametrize(
    ("profile", "expected"),
    [
        (icc(), ("CMYK", "prtr", "")),
        (icc(b"RGB ", b"mntr"), ("RGB", "mntr", "")),
        (icc(b"GRAY"), ("GRAY", "prtr", "")),
        (icc(description=DESC_V2), ("CMYK", "prtr", "Coated paper")),
        (icc(description=DESC_V2[:14]), ("CMYK", "prtr", "")),  # half a name is none
        (icc(description=b"desc"), ("CMYK", "prtr", "")),
        (icc(description=b"junk" * 9), ("CMYK", "prtr", "")),
    ],
)
def test_a_profile_says_its_space_class_and_name(profile: bytes, expected: tuple[str, str, str]) -> None:
    found = read_profile(profile)
    assert found is not None
    assert (found.space, found.device_class, found.name) == expected


@pytest.mark.parametrize("data", [b"", b"acsp", bytes(200), icc()[:100]])
def test_what_is_no_profile_says_nothing(data: bytes) -> None:
    assert read_profile(data) is None


def intents(tmp_path: Path, entries: str, profile: bytes = b"") -> Artwork:
    objects: dict[int, str | bytes] = {
        1: f"<< /Type /Catalog /Pages 2 0 R /OutputIntents [{entries}] >>",
        5: stream(profile, "/N 4"),
    }
    return measure(write_raw(tmp_path / "a.pdf", objects))


def test_an_output_intent_is_read_with_its_profile(tmp_path: Path) -> None:
    entries = (
        "<< /Type /OutputIntent /S /GTS_PDFX /OutputConditionIdentifier (FOGRA51) /OutputCondition (Offset) "
        "/RegistryName (http://www.color.org) /Info (PSO) /DestOutputProfile 5 0 R >> 7 "
        "<< /S /GTS_PDFA1 /OutputConditionIdentifier <FEFF0041> >>"
    )
    output_intents = intents(tmp_path, entries, icc(description=MLUC_V4))
    assert facts(output_intents).output_intents == (
        OutputIntent(
            "GTS_PDFX", "FOGRA51", "Offset", "http://www.color.org", "PSO", "Coated paper 4", "CMYK", "prtr"
        ),
        OutputIntent("GTS_PDFA1", "A", None, None, None, None, None, None),
    )
    assert output_intents.problems == ()


@pytest.mark.parametrize("profile", ["5 0 R", "(profile)", "<< /N 4 >>"])
def test_a_profile_that_cannot_be_read_is_told(tmp_path: Path, profile: str) -> None:
    output_intents = intents(tmp_path, f"<< /S /GTS_PDFX /DestOutputProfile {profile} >>", b"no profile")
    assert facts(output_intents).output_intents[0].profile_space is None
    assert [(each.where, each.kind) for each in output_intents.problems] == [
        ("pdf.output_intents[1].profile", ProblemKind.DAMAGED)
    ]
