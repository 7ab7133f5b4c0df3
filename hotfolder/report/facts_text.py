"""The facts of a file as plain lines for the terminal, from their JSON."""

from collections.abc import Iterator
from typing import Final

from hotfolder.report.strict import JsonObject
from hotfolder.report.words import bytes_words, count_words, number_words, size_words
from hotfolder.shown import shown_name

_BOXES: Final = ("media", "crop", "bleed", "trim", "art")
_FILE_FACTS: Final = (
    ("pdf_version", "PDF version"),
    ("pdfx", "PDF/X claim"),
    ("creator", "made with"),
    ("producer", "written by"),
)


def facts_lines(facts: JsonObject) -> list[str]:
    """What `measure` prints without `--json`; all of it, and more, stands in the JSON."""
    return [shown_name(line) for line in _lines(facts)]


def _lines(facts: JsonObject) -> Iterator[str]:
    file = facts["file"]
    yield f"{file['name']}: {(file['format'] or 'unknown format').upper()}, {bytes_words(file['bytes'])}"
    yield f"  sha256 {file['sha256']}"
    for key, words in _FILE_FACTS:
        if file[key] is not None:
            yield f"  {words}: {file[key]}"
    if file["encrypted"]:
        yield "  encrypted"
    for page in facts["pages"] or ():
        yield from _page(page)
    for font in facts["fonts"]:
        held = "embedded" if font["embedded"] else "not embedded"
        subset = ", subset" if font["subset"] else ""
        yield f"font {font['name']}: {font['type']}, {held}{subset}"
    for use in facts["colour_spaces"]:
        yield f"colour {use['space']}: {', '.join(use['used_by'])}"
    if facts["inks"]:
        yield f"inks: {', '.join(facts['inks'])}"
    intent = facts["output_intent"]
    if intent is not None:
        names = (intent[key] for key in ("condition", "identifier", "info"))
        yield f"output intent: {next(filter(None, names), 'without a name')}"
    for problem in facts["problems"]:
        yield f"not measured as it should be, {problem['where']}: {problem['what']}"


def _page(page: JsonObject) -> Iterator[str]:
    turned = f", turned {page['rotate']} degrees clockwise" if page["rotate"] else ""
    unit = "" if page["user_unit"] == 1 else f", user unit {page['user_unit']}"
    yield f"page {page['number']}{turned}{unit}"
    for name in _BOXES:
        box = page["boxes"][name]
        if box is not None:
            corners = ", ".join(number_words(side, 2) for side in box)
            yield f"  {name} box {size_words(box[2] - box[0], box[3] - box[1])}, at {corners} pt"
    for image in page["images"] or ():
        across, down = (
            "unknown" if image[key] is None else number_words(image[key], 1) for key in ("x_ppi", "y_ppi")
        )
        yield (
            f"  picture {image['object'] or 'inline'}: {image['width_px']} x {image['height_px']} px, "
            f"{image['colour'] or 'stencil'}, {across} x {down} ppi"
        )
    runs = page["text"]
    if runs:
        sizes = [run["size_pt"] for run in runs if run["size_pt"] is not None and run["printed"]]
        smallest = f", smallest {number_words(min(sizes), 1)} pt" if sizes else ""
        yield f"  {count_words(len(runs), 'run')} of text{smallest}"
