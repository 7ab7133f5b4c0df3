"""Files that keep a level of PDF/X, made by code: the bases from which others are broken.

Each has two pages with text in embedded fonts, a CMYK picture, a spot colour and boxes; those of X-3 and X-4
also have a picture with a colour profile, those of X-4 transparency and a layer.
"""

import hashlib
import zlib
from collections.abc import Callable
from functools import cache
from io import BytesIO
from typing import Final

import pikepdf
from pikepdf import Array, Dictionary, Name, Stream, String

from hotfolder.checks.shared.pdfx_levels import WRITTEN_2001, X3, X4, Level
from hotfolder.presses.loading import load_press
from tests.checks.pdf.pdfx.profiles_by_hand import profile_by_hand
from tests.seeded.type_by_hand import composite_font, latin, made_typeface, plain_font, shown

MEDIA: Final = (0, 0, 340, 460)
BLEED: Final = (20, 20, 320, 440)
TRIM: Final = (28.504, 28.504, 311.496, 431.496)

_VERSIONS: Final = {(1, 3): "1.3", (1, 4): "1.4", (1, 6): "1.6"}
_XMP: Final = """<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:xmp="http://ns.adobe.com/xap/1.0/"
 xmlns:pdf="http://ns.adobe.com/pdf/1.3/" xmlns:xmpMM="http://ns.adobe.com/xap/1.0/mm/"
 xmlns:pdfxid="http://www.npes.org/pdfx/ns/id/">
<dc:format>application/pdf</dc:format>
<dc:title><rdf:Alt><rdf:li xml:lang="x-default">Lantern walk</rdf:li></rdf:Alt></dc:title>
<xmp:CreateDate>2026-03-01T10:00:00+00:00</xmp:CreateDate>
<xmp:ModifyDate>2026-03-02T10:00:00+00:00</xmp:ModifyDate>
<xmp:MetadataDate>2026-03-02T10:00:00+00:00</xmp:MetadataDate>
<xmp:CreatorTool>a test</xmp:CreatorTool>
<pdf:Producer>a test</pdf:Producer>
<pdf:Trapped>False</pdf:Trapped>
<xmpMM:DocumentID>uuid:6f1c2f0e-0000-4000-8000-000000000001</xmpMM:DocumentID>
<xmpMM:VersionID>1</xmpMM:VersionID>
<xmpMM:RenditionClass>default</xmpMM:RenditionClass>
<pdfxid:GTS_PDFXVersion>{level}</pdfxid:GTS_PDFXVersion>
</rdf:Description></rdf:RDF></x:xmpmeta>
<?xpacket end="w"?>"""


def base(level: Level) -> pikepdf.Pdf:
    """A file that keeps `level`; `saved` writes it as the level wants it."""
    pdf = pikepdf.new()
    pdf.docinfo = pdf.make_indirect(_info(level))
    pdf.Root.OutputIntents = Array([pdf.make_indirect(_intent(pdf, level))])
    if level in X4:
        pdf.Root.Metadata = metadata(pdf, level)
        pdf.Root.OCProperties = _layers(pdf)
    resources = pdf.make_indirect(_resources(pdf, level))
    for content in (_first_page(level), _second_page()):
        page = pdf.make_indirect(
            Dictionary(
                Type=Name.Page,
                MediaBox=Array(MEDIA),
                BleedBox=Array(BLEED),
                TrimBox=Array(TRIM),
                Resources=resources,
                Contents=pdf.make_indirect(deflated(pdf, content)),
            )
        )
        pdf.pages.append(pikepdf.Page(page))
    return pdf


def saved(pdf: pikepdf.Pdf, level: Level) -> bytes:
    """The bytes of `pdf`, written as a file of `level` is: its version, no packed objects before PDF 1.5.

    Streams are kept as they were packed.
    """
    out = BytesIO()
    pdf.save(
        out,
        force_version=_VERSIONS[level.base],
        object_stream_mode=pikepdf.ObjectStreamMode.disable,
        compress_streams=False,
        stream_decode_level=pikepdf.StreamDecodeLevel.none,
        deterministic_id=True,
        fix_metadata_version=False,
    )
    return out.getvalue()


def metadata(pdf: pikepdf.Pdf, level: Level) -> pikepdf.Object:
    """A metadata stream that names `level`."""
    stream = Stream(pdf, _XMP.format(level=level).encode())
    stream.Type, stream.Subtype = Name.Metadata, Name.XML
    return pdf.make_indirect(stream)


Edit = Callable[[pikepdf.Pdf], None]


def edited(level: Level, edit: Edit) -> bytes:
    """A file that keeps `level` but for what `edit` does to it."""
    pdf = base(level)
    edit(pdf)
    return saved(pdf, level)


def _info(level: Level) -> Dictionary:
    info = Dictionary(
        Title=String("Lantern walk"),
        Creator=String("a test"),
        Producer=String("a test"),
        CreationDate=String("D:20260301100000Z"),
        ModDate=String("D:20260302100000Z"),
        Trapped=Name("/False"),
    )
    if level not in X4:
        info.GTS_PDFXVersion = String(WRITTEN_2001 if level is Level.X1A_2001 else str(level))
    if level is Level.X1A_2001:
        info.GTS_PDFXConformance = String(str(level))
    return info


def _intent(pdf: pikepdf.Pdf, level: Level) -> Dictionary:
    intent = Dictionary(
        Type=Name.OutputIntent,
        S=Name.GTS_PDFX,
        OutputConditionIdentifier=String("FOGRA39"),
        OutputCondition=String("Offset on coated paper"),
        RegistryName=String("http://www.color.org"),
        Info=String("Offset on coated paper, ISO 12647-2:2004"),
    )
    if level is not Level.X4P:
        intent.DestOutputProfile = profile_stream(pdf, press_profile(), 4)
        return intent
    intent.DestOutputProfileRef = profile_reference()
    return intent


def profile_reference() -> Dictionary:
    """What refers to the press profile outside of the file."""
    return Dictionary(
        CheckSum=String(hashlib.md5(press_profile(), usedforsecurity=False).digest()),
        ICCVersion=String(press_profile()[8:12]),
        ProfileCS=String(press_profile()[16:20]),
        ProfileName=String("Coated, for tests"),
        URLs=Array([Dictionary(FS=Name.URL, F=String("https://example.org/coated.icc"))]),
    )


def _resources(pdf: pikepdf.Pdf, level: Level) -> Dictionary:
    face = made_typeface("Hand", 80)
    spot = Array([Name.Separation, Name("/Lantern Gold"), Name.DeviceCMYK, _tint(pdf)])
    resources = Dictionary(
        Font=Dictionary(F1=plain_font(pdf, face), F2=composite_font(pdf, "HandWide", 60)),
        ColorSpace=Dictionary(Spot=pdf.make_indirect(spot)),
        XObject=Dictionary(Picture=_picture(pdf, Name.DeviceCMYK, 4), Emblem=_emblem(pdf)),
        ExtGState=Dictionary(Over=Dictionary(Type=Name.ExtGState, OP=True, op=True, OPM=1)),
    )
    if level in X3 | X4:
        space = Array([Name.ICCBased, profile_stream(pdf, profile_by_hand(), 3)])
        resources.XObject.Screen = _picture(pdf, space, 3)
    if level in X4:
        resources.ExtGState.Veil = Dictionary(Type=Name.ExtGState, ca=0.5, CA=0.5, BM=Name.Multiply)
        resources.Properties = Dictionary(Layer=pdf.Root.OCProperties.OCGs[0])
    return resources


def profile_stream(pdf: pikepdf.Pdf, profile: bytes, components: int) -> pikepdf.Object:
    """An ICC profile as a stream of the file."""
    stream = deflated(pdf, profile)
    stream.N = components
    return pdf.make_indirect(stream)


def deflated(pdf: pikepdf.Pdf, data: bytes) -> Stream:
    """A stream of these data, deflated."""
    stream = Stream(pdf, b"")
    stream.write(zlib.compress(data), filter=Name.FlateDecode)
    return stream


@cache
def press_profile() -> bytes:
    """The profile of the printing condition that the output intents name."""
    path = load_press("coated").profile
    assert path is not None
    return path.read_bytes()


def _tint(pdf: pikepdf.Pdf) -> pikepdf.Object:
    return pdf.make_indirect(
        Dictionary(
            FunctionType=2, Domain=Array([0, 1]), C0=Array([0, 0, 0, 0]), C1=Array([0, 0.2, 0.8, 0]), N=1
        )
    )


def _picture(pdf: pikepdf.Pdf, space: pikepdf.Object, components: int) -> pikepdf.Object:
    pixels = bytes(range(0, 256, 4)) * components
    picture = Stream(pdf, pixels)
    picture.Type, picture.Subtype = Name.XObject, Name.Image
    picture.Width = picture.Height = 8
    picture.BitsPerComponent, picture.ColorSpace = 8, space
    return pdf.make_indirect(picture)


def _emblem(pdf: pikepdf.Pdf) -> pikepdf.Object:
    emblem = Stream(pdf, b"0 0 0 1 k 0 0 20 20 re f 1 0 0 0 k 5 5 10 10 re f")
    emblem.Type, emblem.Subtype = Name.XObject, Name.Form
    emblem.BBox, emblem.Resources = Array([0, 0, 20, 20]), Dictionary()
    return pdf.make_indirect(emblem)


def _layers(pdf: pikepdf.Pdf) -> pikepdf.Object:
    group = pdf.make_indirect(Dictionary(Type=Name.OCG, Name=String("Lights")))
    default = Dictionary(Name=String("As printed"), ON=Array([group]), OFF=Array([]), Order=Array([group]))
    return pdf.make_indirect(Dictionary(OCGs=Array([group]), D=default))


def _first_page(level: Level) -> bytes:
    parts = [
        b"0.1 0.2 0 0 k 20 20 300 420 re f",
        b"q 80 0 0 80 50 300 cm /Picture Do Q",
        b"q 1 0 0 1 200 300 cm /Emblem Do Q",
        b"/Spot cs 0.7 scn 50 200 80 40 re f",
        b"q /Over gs 0 0 0 1 k BT /F1 18 Tf 50 150 Td " + latin("LANTERNS").encode() + b" Tj ET Q",
        b"0 0 0 1 k BT /F2 18 Tf 50 120 Td " + shown("WALK").encode() + b" Tj ET",
        b"1 0 0 0 K 0.5 w 50 100 m 250 100 l S",
    ]
    if level in X3 | X4:
        parts.append(b"q 60 0 0 60 240 180 cm /Screen Do Q")
    if level in X4:
        parts.append(b"/OC /Layer BDC q /Veil gs 0 0.5 0.5 0 k 150 180 60 60 re f Q EMC")
    return b"\n".join(parts)


def _second_page() -> bytes:
    return (
        b"0 0 0 0.4 k 20 20 300 420 re f 1 g 0 0 0 1 k BT /F1 24 Tf 60 250 Td "
        + latin("ARRIVE").encode()
        + b" Tj ET"
    )
