"""The file as a whole: its head and end, how it is written, what hangs beside its pages."""

import re
from collections.abc import Callable
from io import BytesIO
from typing import Final

import pikepdf
from pikepdf import Array, Dictionary, Name, Pdf

from hotfolder.checks.shared.pdfx_levels import ON_PDF_13, X4, Level
from tests.checks.pdf.pdfx.mutations.mutation import (
    AREA,
    KEEPS,
    Edit,
    Make,
    Mutation,
    drops,
    everywhere,
    form,
    image,
    old,
    only,
    reopened,
    sets,
    stream,
    with_parts,
)


def _nothing(pdf: Pdf) -> None:
    """Leaves the objects as they are: the bytes are changed."""


def _rewritten(**how: object) -> Callable[[bytes], bytes]:
    def rewrite(data: bytes) -> bytes:
        out = BytesIO()
        options = {
            "object_stream_mode": pikepdf.ObjectStreamMode.disable,
            "deterministic_id": True,
            "compress_streams": False,
            "fix_metadata_version": False,
        } | how
        if "encryption" in how:
            del options["deterministic_id"]
        reopened(data).save(out, **options)
        written = out.getvalue()
        assert written.startswith(b"%PDF-1.")
        return data[:8] + written[8:]  # the version as before

    return rewrite


def _swapped(old_bytes: bytes, new: bytes) -> Callable[[bytes], bytes]:
    def swap(data: bytes) -> bytes:
        assert re.search(old_bytes, data)
        return re.sub(old_bytes, lambda _: new, data, count=1)

    return swap


def _shorter(pattern: bytes, new: bytes) -> Callable[[bytes], bytes]:
    """Replaces with as many bytes, filled with spaces, so that nothing moves."""

    def swap(data: bytes) -> bytes:
        hit = re.search(pattern, data, re.DOTALL)
        assert hit
        return data[: hit.start()] + new.ljust(hit.end() - hit.start()) + data[hit.end() :]

    return swap


def _updated(data: bytes) -> bytes:
    """Appends a section that writes the document information once more, as an incremental update does."""
    info = re.search(rb"/Info (\d+) 0 R", data)
    root = re.search(rb"/Root (\d+) 0 R", data)
    size = re.search(rb"/Size (\d+)", data)
    ids = re.search(rb"/ID (\[.*?\])", data, re.DOTALL)
    start = re.findall(rb"startxref\s+(\d+)", data)[-1]
    assert info
    assert root
    assert size
    assert ids
    number = int(info[1])
    found = re.search(rb"\n%d 0 obj\n(.*?)\nendobj" % number, data, re.DOTALL)
    assert found
    place = len(data)
    body = b"%d 0 obj\n%s\nendobj\n" % (number, found[1])
    table = (
        b"xref\n%d 1\n%010d 00000 n \ntrailer\n<< /Size %s /Root %s 0 R /Info %s 0 R /Prev %s /ID %s >>\n"
        % (number, place, size[1], root[1], info[1], start, ids[1])
    )
    return data + body + table + b"startxref\n%d\n%%%%EOF\n" % (place + len(body))


def _split(pdf: Pdf) -> None:
    """Splits the page's content before an operator whose operands stay in the stream before."""
    page = pdf.pages[0].obj
    content = page.Contents.read_bytes()
    middle = content.index(b" Tj")
    page.Contents = Array([pdf.make_stream(content[:middle]), pdf.make_stream(content[middle:])])


def _with_returns(pdf: Pdf) -> None:
    page = pdf.pages[0].obj
    page.Contents = pdf.make_stream(page.Contents.read_bytes().replace(b"\n", b"\r") + b"\r% the end")


def _resources_apart(pdf: Pdf) -> None:
    """Makes each category of the resources an object of its own."""
    resources = pdf.pages[0].obj.Resources
    for key in list(resources.keys()):
        if not resources[key].is_indirect:
            resources[key] = pdf.make_indirect(resources[key])


def _resources_direct(pdf: Pdf) -> None:
    page = pdf.pages[0].obj
    page.Resources = Dictionary(dict(page.Resources.items()))


def _boxes_apart(pdf: Pdf) -> None:
    page = pdf.pages[0].obj
    for key in ("/MediaBox", "/TrimBox", "/BleedBox"):
        page[key] = pdf.make_indirect(page[key])


def _deeper_tree(pdf: Pdf) -> None:
    """Puts the pages under a node of their own."""
    pages = pdf.Root.Pages
    node = pdf.make_indirect(Dictionary(Type=Name.Pages, Kids=pages.Kids, Count=pages.Count, Parent=pages))
    for kid in node.Kids:
        kid.Parent = node
    pages.Kids = Array([node])


def _turned(pdf: Pdf) -> None:
    pdf.Root.Pages.Kids = Array([pdf.Root.Pages.Kids[1], pdf.Root.Pages.Kids[0]])


def _structure(pdf: Pdf) -> None:
    tree = pdf.make_indirect(Dictionary(Type=Name.StructTreeRoot))
    leaf = pdf.make_indirect(Dictionary(Type=Name.StructElem, S=Name.P, P=tree, Pg=pdf.pages[0].obj, K=0))
    tree.K = leaf
    pdf.Root.StructTreeRoot, pdf.Root.MarkInfo = tree, Dictionary(Marked=True)


def _attached(pdf: Pdf) -> None:
    file = stream("notes", "/Type /EmbeddedFile")(pdf)
    specification = with_parts("<< /Type /Filespec /F (notes.txt) /EF << >> >>", {"EF/F": lambda _: file})(
        pdf
    )
    sets(
        "Root/Names/EmbeddedFiles",
        with_parts("<< /Names [(notes) null] >>", {"Names/1": lambda pdf: pdf.make_indirect(specification)}),
    )(pdf)


def _attached_beside(pdf: Pdf) -> None:
    sets(
        "page/Annots",
        with_parts(
            (
                "[<< /Type /Annot /Subtype /FileAttachment /Rect [2 2 18 18] /FS <<"
                " /Type /Filespec /F (notes.txt) /EF << >> >> >>]"
            ),
            {"0/FS/EF/F": stream("notes", "/Type /EmbeddedFile")},
        ),
    )(pdf)


def _extra(key: str, make: Make) -> Edit:
    return sets(f"Root/{key}", make)


_THUMBNAIL: Final = image("/ColorSpace /DeviceRGB", pixels=bytes(192))
_BEFORE_X4: Final = {level: frozenset({"pdf-version"}) for level in Level if level not in X4}
_NEWER_THAN_13: Final = {level: frozenset({"pdf-version"}) for level in ON_PDF_13}

MUTATIONS: Final = (
    Mutation(
        "the head says PDF 1.4", _NEWER_THAN_13, _nothing, afterwards=_swapped(rb"^%PDF-1.\d", b"%PDF-1.4")
    ),
    Mutation("the head says PDF 1.5", _BEFORE_X4, _nothing, afterwards=_swapped(rb"^%PDF-1.\d", b"%PDF-1.5")),
    Mutation(
        "the head says PDF 1.3",
        {level: frozenset() for level in Level if level not in ON_PDF_13},
        _nothing,
        afterwards=_swapped(rb"^%PDF-1.\d", b"%PDF-1.3"),
    ),
    Mutation("the catalog says PDF 1.7", everywhere("pdf-version"), sets("Root/Version", "/1.7")),
    Mutation("the catalog says PDF 1.2", KEEPS, sets("Root/Version", "/1.2")),
    Mutation(
        "objects in streams",
        old("packed-objects", ""),
        _nothing,
        afterwards=_rewritten(object_stream_mode=pikepdf.ObjectStreamMode.generate),
    ),
    Mutation("written for the web", KEEPS, _nothing, afterwards=_rewritten(linearize=True)),
    Mutation(
        "all streams deflated",
        KEEPS,
        _nothing,
        afterwards=_rewritten(compress_streams=True, recompress_flate=True),
    ),
    Mutation(
        "no stream deflated",
        KEEPS,
        _nothing,
        afterwards=_rewritten(
            compress_streams=False, stream_decode_level=pikepdf.StreamDecodeLevel.generalized
        ),
    ),
    Mutation("written for a debugger", KEEPS, _nothing, afterwards=_rewritten(qdf=True)),
    Mutation("updated at its end", KEEPS, _nothing, afterwards=_updated),
    Mutation(
        "a line of comment behind the end", KEEPS, _nothing, afterwards=lambda data: data + b"% lantern\n"
    ),
    Mutation(
        "enciphered without a password",
        only(Level.X4, "encrypted"),
        _nothing,
        afterwards=_rewritten(encryption=pikepdf.Encryption(owner="lantern", user="", R=4, aes=True)),
    ),
    Mutation(
        "no identifier", everywhere("file-identifier"), _nothing, afterwards=_shorter(rb"/ID \[.*?\]", b"")
    ),
    Mutation(
        "an identifier of one part",
        everywhere("file-identifier"),
        _nothing,
        afterwards=_shorter(rb"/ID \[.*?\]", b"/ID [<0a0b>]"),
    ),
    Mutation(
        "an identifier of empty parts",
        everywhere("file-identifier"),
        _nothing,
        afterwards=_shorter(rb"/ID \[.*?\]", b"/ID [<><>]"),
    ),
    Mutation(
        "an identifier of two numbers",
        everywhere("file-identifier"),
        _nothing,
        afterwards=_shorter(rb"/ID \[.*?\]", b"/ID [1 2]"),
    ),
    Mutation(
        "an identifier of readable letters",
        KEEPS,
        _nothing,
        afterwards=_shorter(rb"/ID \[.*?\]", b"/ID [(lantern)(walk)]"),
    ),
    Mutation("a file attached", old("file-reference", "embedded-file"), _attached),
    Mutation("a file attached beside the page", old("file-reference", "embedded-file"), _attached_beside),
    Mutation("an empty tree of attached files", KEEPS, _extra("Names/EmbeddedFiles", "<< /Names [] >>")),
    Mutation("a folder of attached files", everywhere("collection"), _extra("Collection", "<< /View /D >>")),
    Mutation("a thumbnail in RGB", KEEPS, sets("page/Thumb", _THUMBNAIL)),
    Mutation(
        "a program's private data on the page",
        KEEPS,
        sets(
            "page/PieceInfo",
            with_parts(
                "<< /Lantern << /LastModified (D:20260301) >> >>",
                {"Lantern/Private": form(f"1 0 0 rg {AREA}")},
            ),
        ),
    ),
    Mutation(
        "a program's private data in the file",
        KEEPS,
        _extra("PieceInfo", "<< /Lantern << /LastModified (D:20260301) /Private (x) >> >>"),
    ),
    Mutation("a structure for readers", KEEPS, _structure),
    Mutation("page labels", KEEPS, _extra("PageLabels", "<< /Nums [0 << /S /D /St 7 >>] >>")),
    Mutation("a language", KEEPS, _extra("Lang", "(en-GB)")),
    Mutation("a way of opening", KEEPS, sets("Root/PageMode", "/UseOutlines")),
    Mutation("places by name", KEEPS, _extra("Dests", "<< /two [1 /Fit] >>")),
    Mutation("entries of nobody's standard", KEEPS, _extra("LNTN_Job", "<< /Number 71 >>")),
    Mutation("a page with entries of nobody's standard", KEEPS, sets("page/LNTN_Sheet", "71")),
    Mutation(
        "metadata of the page", KEEPS, sets("page/Metadata", stream("<x/>", "/Type /Metadata /Subtype /XML"))
    ),
    Mutation("a procedure set", KEEPS, sets("page/Resources/ProcSet", "[/PDF /Text /ImageC]")),
    Mutation("content in two parts, cut before an operator", KEEPS, _split),
    Mutation("content with other line ends", KEEPS, _with_returns),
    Mutation("resources apart", KEEPS, _resources_apart),
    Mutation("resources within the page", KEEPS, _resources_direct),
    Mutation("boxes apart", KEEPS, _boxes_apart),
    Mutation("a deeper tree of pages", KEEPS, _deeper_tree),
    Mutation("pages the other way round", KEEPS, _turned),
    Mutation(
        "no resources of the page", everywhere("page-resources missing-resource"), drops("page/Resources")
    ),
)
