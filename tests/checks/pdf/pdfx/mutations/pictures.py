"""Pictures, drawings, code, and how data are packed."""

import zlib
from typing import Final

from pikepdf import Pdf, String

from tests.checks.pdf.pdfx.mutations.colours import RGB
from tests.checks.pdf.pdfx.mutations.mutation import (
    AREA,
    KEEPS,
    Maker,
    Mutation,
    Parts,
    draws,
    everywhere,
    form,
    gains,
    image,
    old,
    paints,
    sets,
    shows,
    stream,
    told,
)


def lzw(data: bytes) -> bytes:
    """Data as LZW: each byte by itself in nine bits, with the table cleared before it grows."""
    bits = ""
    for start in range(0, len(data), 200):
        bits += f"{256:09b}" + "".join(f"{byte:09b}" for byte in data[start : start + 200])
    bits += f"{257:09b}"
    bits += "0" * (-len(bits) % 8)
    return int(bits, 2).to_bytes(len(bits) // 8, "big")


_CMYK: Final = "/ColorSpace /DeviceCMYK"
_GREY: Final = "/ColorSpace /DeviceGray"
_PIXELS: Final = bytes(256)
_LZW: Final = old("lzw-filter", "lzw-filter")
# Corrected from a breach of PDF/X-1a:2001: one list of filters lacks it, and nothing forbids it.
_ASCII: Final = KEEPS


def _packed(filters: str, pixels: bytes, more: str = "") -> Maker:
    return image(f"{_CMYK} /Filter {filters} {more}", pixels=pixels)


def _with(entries: str, parts: Parts | None = None) -> Maker:
    return image(f"{_CMYK} {entries}", parts)


def _written_in_hex(pdf: Pdf) -> None:
    page = pdf.pages[0].obj
    content = page.Contents.read_bytes()
    page.Contents = stream(content.hex().encode() + b">", "/Filter /ASCIIHexDecode")(pdf)


def _written_in_lzw(pdf: Pdf) -> None:
    page = pdf.pages[0].obj
    page.Contents = stream(lzw(page.Contents.read_bytes()), "/Filter /LZWDecode")(pdf)


def _font_in_lzw(pdf: Pdf) -> None:
    descriptor = pdf.pages[0].obj.Resources.Font.F1.FontDescriptor
    program = descriptor.FontFile2.read_bytes()
    descriptor.FontFile2 = stream(lzw(program), f"/Filter /LZWDecode /Length1 {len(program)}")(pdf)


def _data_outside(pdf: Pdf) -> None:
    pdf.pages[0].obj.Resources.XObject.Picture.F = String("picture.raw")


_RUNS: Final = b"\x81\x00\x81\x00\x80"  # twice 128 times zero, and the end
_BASE85: Final = b"z" * 64 + b"~>"

MUTATIONS: Final = (
    Mutation(
        "a picture of 16 bits",
        old("image-depth", ""),
        shows(image(f"{_CMYK} /BitsPerComponent 16", pixels=bytes(512))),
    ),
    Mutation("a picture of 1 bit", KEEPS, shows(image(f"{_GREY} /BitsPerComponent 1", pixels=bytes(8)))),
    Mutation("a picture of 4 bits", KEEPS, shows(image(f"{_GREY} /BitsPerComponent 4", pixels=bytes(32)))),
    Mutation("a picture turned to its negative", KEEPS, shows(_with("/Decode [1 0 1 0 1 0 1 0]"))),
    Mutation("a picture with the decoding written out", KEEPS, shows(_with("/Decode [0 1 0 1 0 1 0 1]"))),
    Mutation("a picture that is smoothed", KEEPS, shows(_with("/Interpolate true"))),
    Mutation(
        "a picture with a colour that is left out",
        KEEPS,
        shows(_with("/Mask [255 255 255 255 255 255 255 255]")),
    ),
    Mutation(
        "a picture with a stencil",
        KEEPS,
        shows(_with("", {"Mask": image("/ImageMask true", pixels=bytes(8))})),
    ),
    Mutation(
        "a picture with a soft mask",
        old("image-soft-mask", ""),
        shows(_with("", {"SMask": image(_GREY, pixels=bytes(64))})),
    ),
    Mutation(
        "a picture with a soft mask that is not drawn",
        KEEPS,
        gains({"XObject/Idle": _with("", {"SMask": image(_GREY, pixels=bytes(64))})}),
    ),
    Mutation(
        "a picture with a soft mask, in a form",
        old("image-soft-mask", ""),
        draws(
            form(
                "9 0 0 9 0 0 cm /Dot Do",
                parts={"Resources/XObject/Dot": _with("", {"SMask": image(_GREY, pixels=bytes(64))})},
            )
        ),
    ),
    Mutation(
        "a picture with an intent that nobody knows",
        everywhere("rendering-intent"),
        shows(_with("/Intent /Vivid")),
    ),
    Mutation("a picture with an intent of PDF", KEEPS, shows(_with("/Intent /AbsoluteColorimetric"))),
    Mutation(
        "a picture with a name and metadata",
        KEEPS,
        shows(_with("/Name /Dot", {"Metadata": stream("<x/>", "/Type /Metadata /Subtype /XML")})),
    ),
    Mutation(
        "a picture with another one for the screen",
        KEEPS,
        shows(
            _with(
                "/Alternates [<< /DefaultForPrinting false >>]",
                {"Alternates/0/Image": image("/ColorSpace /DeviceRGB", pixels=bytes(192))},
            )
        ),
    ),
    Mutation(
        "a picture with another one for print",
        everywhere("alternate-for-printing"),
        shows(_with("/Alternates [<< /DefaultForPrinting true >>]", {"Alternates/0/Image": image(_CMYK)})),
    ),
    Mutation(
        "a picture with a second other one for print",
        everywhere("alternate-for-printing"),
        shows(
            _with(
                "/Alternates [<< >> << /DefaultForPrinting true >>]",
                {"Alternates/0/Image": image(_CMYK), "Alternates/1/Image": image(_CMYK)},
            )
        ),
    ),
    Mutation(
        "a picture that stands in for a finer one",
        everywhere("opi"),
        shows(_with("/OPI << /1.3 << /Type /OPI /Version 1.3 /F (fine.tif) >> >>")),
    ),
    Mutation(
        "a drawing that stands in for a finer picture",
        everywhere("opi"),
        draws(form(AREA, "/OPI << /2.0 << /Type /OPI /Version 2.0 /F (fine.tif) >> >>")),
    ),
    Mutation(
        "a drawing that stands for a page of another file",
        everywhere("reference-xobject"),
        draws(form(AREA, "/Ref << /F (other.pdf) /Page 0 >>")),
    ),
    Mutation(
        "code as an XObject",
        everywhere("postscript"),
        shows(stream("showpage", "/Type /XObject /Subtype /PS")),
    ),
    Mutation("code in a form", everywhere("postscript"), draws(form(AREA, "/Subtype2 /PS"))),
    Mutation(
        "code beside a form", everywhere("postscript"), draws(form(AREA, "", {"PS": stream("showpage")}))
    ),
    Mutation(
        "a form of type 1, written out",
        KEEPS,
        draws(form(AREA, "/FormType 1 /Matrix [1 0 0 1 0 0] /Name /Dot")),
    ),
    Mutation(
        "a form with a program's private data",
        KEEPS,
        draws(
            form(
                AREA,
                (
                    "/PieceInfo << /Lantern << /LastModified (D:20260301) /Private"
                    " 1 >> >> /LastModified (D:20260301)"
                ),
            )
        ),
    ),
    Mutation(
        "a form with no resources, which needs none",
        KEEPS,
        draws(stream(f"0 g {AREA}", "/Type /XObject /Subtype /Form /BBox [0 0 340 460]")),
    ),
    Mutation(
        "a form with no resources, which takes the page's",
        everywhere("own-resources"),
        draws(stream("/Emblem Do", "/Type /XObject /Subtype /Form /BBox [0 0 340 460]")),
        open="a drawing that the page draws too is kept once, as the page's",
    ),
    Mutation("a picture in LZW", _LZW, shows(_packed("/LZWDecode", lzw(_PIXELS)))),
    Mutation(
        "a picture in LZW behind deflated data",
        _LZW,
        shows(_packed("[/FlateDecode /LZWDecode]", zlib.compress(lzw(_PIXELS)))),
    ),
    Mutation("the page in LZW", _LZW, _written_in_lzw),
    Mutation(
        "an inline picture in LZW",
        _LZW,
        paints(f"9 0 0 9 60 60 cm BI /W 1 /H 1 /BPC 8 /CS /G /F /LZW ID {lzw(b'a').decode('latin-1')}\nEI"),
    ),
    Mutation(
        "an inline picture in LZW, in full",
        _LZW,
        paints(
            "9 0 0 9 60 60 cm BI /W 1 /H 1 /BPC 8 /CS /G /Filter [/LZWDecode]"
            f" ID {lzw(b'a').decode('latin-1')}\nEI"
        ),
    ),
    Mutation("a font in LZW", _LZW, _font_in_lzw),
    Mutation("the page written in hexadecimal", _ASCII, _written_in_hex),
    Mutation("a picture in base 85", _ASCII, shows(_packed("/ASCII85Decode", _BASE85))),
    Mutation(
        "an inline picture in hexadecimal",
        _ASCII,
        paints("9 0 0 9 60 60 cm BI /W 1 /H 1 /BPC 8 /CS /G /F /AHx ID 7f>\nEI"),
    ),
    Mutation("a picture by lengths of runs", KEEPS, shows(_packed("/RunLengthDecode", _RUNS))),
    Mutation(
        "a deflated picture, its filter in a list",
        KEEPS,
        shows(_packed("[/FlateDecode]", zlib.compress(_PIXELS))),
    ),
    Mutation(
        "a deflated picture, twice",
        KEEPS,
        shows(_packed("[/FlateDecode /FlateDecode]", zlib.compress(zlib.compress(_PIXELS)))),
    ),
    Mutation(
        "a deflated picture with parameters of null",
        KEEPS,
        shows(_packed("[/FlateDecode]", zlib.compress(_PIXELS), "/DecodeParms [null]")),
    ),
    Mutation("a picture with no filter in a list", KEEPS, shows(_packed("[]", _PIXELS))),
    Mutation(
        "a picture in a filter that nobody knows",
        everywhere("unknown-filter"),
        shows(_packed("/LanternDecode", _PIXELS)),
    ),
    Mutation(
        "an enciphered picture",
        old("crypt-filter", "crypt-filter"),
        shows(_packed("/Crypx", _PIXELS, "/DecodeParms << /Name /StdCF >>")),
        afterwards=lambda data: data.replace(b"/Crypx", b"/Crypt"),
    ),
    Mutation(
        "a picture that is marked as enciphered and is not",
        old("crypt-filter", ""),
        shows(_packed("/Crypx", _PIXELS, "/DecodeParms << /Name /Identity >>")),
        afterwards=lambda data: data.replace(b"/Crypx", b"/Crypt"),
    ),
    Mutation(
        "a picture in JBIG2",
        old("jbig2-filter"),
        shows(image(f"{_GREY} /BitsPerComponent 1 /Filter /JBIG2Decode", pixels=bytes(8))),
    ),
    Mutation("a picture whose data lie in another file", everywhere("data-outside"), _data_outside),
    Mutation(
        "a picture in RGB with a soft mask",
        told("rgb-colour image-soft-mask", "device-colour image-soft-mask", "device-colour"),
        shows(image("/ColorSpace /DeviceRGB", {"SMask": image(_GREY, pixels=b"\xff" * 64)}, bytes(192))),
    ),
    Mutation(
        "a picture of 16 bits in RGB",
        told("rgb-colour image-depth", "device-colour image-depth", "device-colour"),
        shows(image("/ColorSpace /DeviceRGB /BitsPerComponent 16", pixels=bytes(384))),
    ),
    Mutation(
        "the picture of both pages turned to RGB",
        RGB,
        sets("page/Resources/XObject/Picture/ColorSpace", "/DeviceRGB"),
    ),
    Mutation(
        "the picture of both pages turned to grey",
        KEEPS,
        sets("page/Resources/XObject/Picture/ColorSpace", "/DeviceGray"),
    ),
)
