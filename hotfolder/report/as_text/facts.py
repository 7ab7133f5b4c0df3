"""The facts of a file as plain lines for the terminal, from their JSON."""

import re
from collections.abc import Iterator
from typing import Final

from hotfolder.report.as_json.strict import JsonObject
from hotfolder.units import pt_to_mm
from hotfolder.wording.figures import bytes_words, number_words, size_words
from hotfolder.wording.lists import counted
from hotfolder.wording.shown import shown_name

_BOXES: Final = ("media", "crop", "bleed", "trim", "art")
_PATH: Final = re.compile(r"pages\[(?P<index>\d+)\](?:\.(?P<part>\w+))?")
_PARTS: Final = {"finished": "finished size", "images": "pictures"}
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
    if facts["press"] is not None:
        yield f"plates drawn for: {facts['press']}"
    for page in facts["pages"] or ():
        yield from _page(page)
    yield from _in_use(facts)
    yield from dict.fromkeys(
        f"{'not' if problem['kind'] == 'unmeasured' else 'not fully'} measured,"
        f" {_where(problem['where'])}: {problem['what']}"
        for problem in facts["problems"]
    )


def _where(path: str) -> str:
    """`page 2, pictures` for `pages[1].images[0].x_ppi`: the JSON has the whole path."""
    match = _PATH.match(path)
    if match is None:
        return path
    part = match["part"]
    return f"page {int(match['index']) + 1}" + (f", {_PARTS.get(part, part)}" if part else "")


def _in_use(facts: JsonObject) -> Iterator[str]:
    """What the file as a whole uses: fonts, colours, inks, and what it says it was made for."""
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
        ppi = [number_words(image[key], 1) for key in ("x_ppi", "y_ppi") if image[key] is not None]
        named = f"picture {image['object']}" if image["object"] else "picture"
        yield (
            f"  {named}: {image['width_px']} x {image['height_px']} px, {image['colour'] or 'stencil'}, "
            f"{' x '.join(ppi)}{' ppi' if ppi else 'resolution not known'}"
        )
    runs = page["text"]
    if runs:
        sizes = [run["size_pt"] for run in runs if run["size_pt"] is not None and run["printed"]]
        smallest = f", smallest {number_words(min(sizes), 1)} pt" if sizes else ""
        yield f"  {counted(len(runs), 'run')} of text{smallest}"
    if page["ink"] is not None:
        yield from _ink(page["ink"])


def _ink(ink: JsonObject) -> Iterator[str]:
    for name, plate in ink["plates"].items():
        mean, most = number_words(plate["mean_percent"], 1), number_words(plate["max_percent"], 0)
        yield f"  plate {name}: {mean} % of the sheet, {most} % at most"
    if not ink["plates"]:
        yield "  no ink on paper"
        return
    most, widely = number_words(ink["max_percent"], 0), number_words(ink["max_1mm2_percent"], 0)
    yield f"  all inks together: {widely} % over 1 mm2, {most} % in one spot at most"
    for edge, paint in (ink["edges"] or {}).items():
        if paint["least_reach"] is not None:
            beyond = number_words(pt_to_mm(paint["least_reach"]), 1)
            share = number_words(paint["touched_percent"], 0)
            yield f"  paint along {share} % of the {edge} edge, {beyond} mm beyond the trim at least"
    shift = ink["shift"]
    if shift is not None:
        shares = " / ".join(number_words(shift[f"over_{limit}_percent"], 1) for limit in (5, 10, 20))
        yield f"  colours that printing moves by more than 5 / 10 / 20 CIEDE2000: {shares} % of the sheet"
    for reason in ink["approximate"]:
        yield f"  approximate: {reason}"
