"""The measurements under plain headings, as tables for people to read."""

import math
from collections.abc import Iterable, Sequence

from hotfolder.model.artwork import Artwork
from hotfolder.model.colour import ColourSpace
from hotfolder.model.document import Font, OutputIntent, PdfFacts
from hotfolder.model.facts import Unmeasured
from hotfolder.model.marks import ImageFacts, Mark
from hotfolder.model.pages import Page, Trim, TrimOrigin
from hotfolder.report.as_html.chapters import Chapter, table_of
from hotfolder.report.as_html.ink_measurements import ink_on_paper
from hotfolder.wording.figures import bytes_words, margins_words, number_words, size_words
from hotfolder.wording.lists import counted
from hotfolder.wording.pages import page_numbers

_ORIGINS = {
    TrimOrigin.TRIM_BOX: "the file's trim box",
    TrimOrigin.ART_BOX: "the file's art box",
    TrimOrigin.INFERRED: "worked out from the page size",
    TrimOrigin.CANVAS: "the whole canvas",
}

_FONT_KINDS = {
    "Type1": "Type 1",
    "MMType1": "Type 1, multiple master",
    "TrueType": "TrueType",
    "Type3": "Type 3, drawn glyphs",
    "CIDFontType0": "composite, PostScript outlines",
    "CIDFontType2": "composite, TrueType outlines",
}

# Filters that only write bytes as text (ASCIIHexDecode, ASCII85Decode) say nothing about a picture.
_COMPRESSIONS = {
    "DCTDecode": "JPEG",
    "JPXDecode": "JPEG 2000",
    "FlateDecode": "Flate, lossless",
    "LZWDecode": "LZW, lossless",
    "RunLengthDecode": "run lengths, lossless",
    "CCITTFaxDecode": "CCITT fax, lossless",
    "JBIG2Decode": "JBIG2",
    "ASCIIHexDecode": "",
    "ASCII85Decode": "",
}


def measurements(artwork: Artwork, condition: str = "") -> tuple[Chapter, ...]:
    """What was measured, by heading: size, type, pictures, colours, ink on paper, file.

    condition: the printing condition in words.
    """
    if isinstance(artwork.pages, Unmeasured):
        return (_file(artwork),)
    read = (_size(artwork), _type(artwork), _pictures(artwork), _colour(artwork))
    return (*read, ink_on_paper(artwork, condition), _file(artwork))


def _size(artwork: Artwork) -> Chapter:
    alike: dict[tuple[str, ...], list[int]] = {}
    sentences: dict[str, None] = {}
    for page in artwork.known_pages:
        alike.setdefault(_size_row(page), []).append(page.number)
        note = page.trim.reason if isinstance(page.trim, Unmeasured) else page.trim.note
        if note:
            sentences[_sentence(note)] = None
    rows = [(page_numbers(numbers), *row) for row, numbers in alike.items()]
    columns = ("Page", "Finished size", "Known from", "Bleed declared", "Whole sheet")
    return Chapter("Size", table_of(columns, rows), tuple(sentences))


def _size_row(page: Page) -> tuple[str, ...]:
    media = page.boxes.media
    sheet = "not known" if media is None else _as_seen(media.width, media.height, page.rotate)
    if not isinstance(page.trim, Trim):
        return ("not known", "nothing in the file", "no", sheet)
    trim = page.trim.box
    bleed = "no" if page.boxes.bleed is None else margins_words(trim, page.boxes.bleed, page.rotate)
    return (_as_seen(trim.width, trim.height, page.rotate), _ORIGINS[page.trim.origin], bleed, sheet)


def _as_seen(width: float, height: float, rotate: int) -> str:
    return size_words(width, height) if rotate in {0, 180} else size_words(height, width)


def _type(artwork: Artwork) -> Chapter:
    smallest: dict[str, float] = {}
    for _, mark in _marks(artwork):
        if mark.text is not None and mark.on_paper:
            known = smallest.get(mark.text.font, math.inf)
            smallest[mark.text.font] = min(known, mark.text.size_pt)
    rows = [
        (
            _font_name(font),
            _FONT_KINDS.get(font.type, font.type),
            _font_in_file(font),
            f"{number_words(smallest[font.name], 1)} pt" if font.name in smallest else "not on paper",
        )
        for font in artwork.fonts
    ]
    table = table_of(("Font", "Kind", "In the file", "Smallest size"), rows)
    return Chapter("Type", table, () if rows else ("No text set in a font.",))


def _font_name(font: Font) -> str:
    prefix, plus, rest = font.name.partition("+")
    return rest if font.subset and plus and len(prefix) == 6 else font.name


def _font_in_file(font: Font) -> str:
    if not font.embedded:
        return "no"
    return "yes, the glyphs used" if font.subset else "yes, whole"


def _pictures(artwork: Artwork) -> Chapter:
    placed = [(page, mark, mark.image) for page, mark in _marks(artwork) if mark.image and mark.on_paper]
    placed.sort(key=lambda item: min(item[2].x_ppi, item[2].y_ppi))
    rows = [_picture_row(page, mark, image) for page, mark, image in placed]
    rows += [
        (
            str(page.number),
            _pixels(page.raster.width_px, page.raster.height_px),
            "not known",
            "not known",
            _colour_words(page.raster.colour),
            page.raster.compression,
        )
        for page in artwork.known_pages
        if page.raster is not None and isinstance(page.marks, Unmeasured)
    ]
    columns = ("Page", "Pixels", "Effective resolution", "Size on the page", "Colour", "Stored as")
    sentences = tuple(_declared(page) for page in artwork.known_pages if page.raster is not None)
    if not rows:
        sentences = ("No pictures made of pixels.",)
    return Chapter("Pictures", table_of(columns, rows), sentences)


def _picture_row(page: Page, mark: Mark, image: ImageFacts) -> tuple[str, ...]:
    size = _as_seen(mark.box.width, mark.box.height, page.rotate)
    colour = _colour_words(image.colour) if image.colour else "stencil, one ink colour"
    bits = "" if image.bits is None else f", {counted(image.bits, 'bit')}"
    return (
        str(page.number),
        _pixels(image.width_px, image.height_px),
        _ppi(image.x_ppi, image.y_ppi),
        size,
        f"{colour}{bits}",
        _stored(image.filters),
    )


def _stored(filters: Sequence[str]) -> str:
    known = [_COMPRESSIONS.get(name, name) for name in filters]
    return ", ".join(filter(None, known)) or "not compressed"


def _pixels(width: int, height: int) -> str:
    return f"{width} x {height} px"


def _ppi(across: float, down: float) -> str:
    words = number_words(across, 0), number_words(down, 0)
    return f"{words[0]} ppi" if words[0] == words[1] else f"{words[0]} x {words[1]} ppi"


def _declared(page: Page) -> str:
    raster = page.raster
    if raster is None or raster.x_ppi is None or raster.y_ppi is None:
        return "The file declares no resolution."
    return f"The file itself declares {_ppi(raster.x_ppi, raster.y_ppi)}."


def _colour(artwork: Artwork) -> Chapter:
    rows = [
        (str(use.space), _colour_words(use.space), ", ".join(kind.value for kind in use.used_by))
        for use in artwork.colour_spaces()
    ]
    inks = artwork.inks()
    sentences = [f"Inks asked for by name: {', '.join(inks)}." if inks else "No ink is asked for by name."]
    if artwork.pdf is not None:
        sentences += [_intent(intent) for intent in artwork.pdf.output_intents]
        if not artwork.pdf.output_intents:
            sentences.append(
                "No output intent: the file does not say which printing condition it was made for."
            )
    return Chapter("Colour", table_of(("Colour space", "Kind of colour", "Used by"), rows), tuple(sentences))


def _intent(intent: OutputIntent) -> str:
    name = intent.condition or intent.identifier or intent.info or "one without a name"
    profile = f", with the profile {intent.profile_name}" if intent.profile_name else ", without a profile"
    return f"Output intent: {name}{profile}."


def _colour_words(space: ColourSpace) -> str:
    return f"spot: {', '.join(space.inks)}" if space.kind.value == "spot" and space.inks else space.kind.value


def _file(artwork: Artwork) -> Chapter:
    file = artwork.file
    rows = [
        ("Kind", file.format.value.upper() if file.format is not None else "none that is known here"),
        ("Size", bytes_words(file.bytes)),
    ]
    if artwork.pdf is not None:
        rows += _pdf_rows(artwork.pdf)
    rows.append(("SHA-256", file.sha256))
    return Chapter("File", table_of(("Fact", "Value"), rows))


def _pdf_rows(pdf: PdfFacts) -> list[tuple[str, str]]:
    rows = [
        ("PDF version", pdf.version),
        ("PDF/X", f"says it is {pdf.pdfx.name}" if pdf.pdfx is not None else "no claim"),
        ("Made with", pdf.creator or "not said"),
        ("PDF written by", pdf.producer or "not said"),
        ("Encrypted", "no" if pdf.encryption is None else f"yes, {pdf.encryption.method}"),
    ]
    if pdf.layers:
        rows.append(("Layers", ", ".join(layer.name for layer in pdf.layers)))
    return rows


def _marks(artwork: Artwork) -> Iterable[tuple[Page, Mark]]:
    return ((page, mark) for page in artwork.known_pages for mark in page.known_marks)


def _sentence(words: str) -> str:
    whole = words[:1].upper() + words[1:]
    return whole if whole.endswith((".", "?")) else f"{whole}."
