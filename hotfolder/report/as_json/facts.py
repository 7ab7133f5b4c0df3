"""The facts for programs: schema `hotfolder-artwork/1`. Keys may be added to it, never change meaning.

A fact that could not be measured is null, and `problems` has its path in this JSON and the
reason. Paths count from 0, as JSON does: `pages[0]` is page 1, which facts call `pages[1]`.
"""

import math
import re

from hotfolder.model.artwork import Artwork
from hotfolder.model.colour import Colour, ColourSpace
from hotfolder.model.document import Font, OutputIntent
from hotfolder.model.facts import Format, Problem, Unmeasured
from hotfolder.model.inks import ColourShift, EdgePaint, PageInk
from hotfolder.model.marks import ImageFacts, Mark, MarkKind, Masking, TextFacts
from hotfolder.model.pages import Page, Trim
from hotfolder.model.raster import RasterFacts
from hotfolder.report.as_json.findings import file_json
from hotfolder.report.as_json.strict import JsonObject, box, number, optional_text, text

SCHEMA = "hotfolder-artwork/1"


def artwork_json(artwork: Artwork) -> JsonObject:
    """All facts of `artwork` as strict JSON holds them."""
    problems = [_problem(problem) for problem in artwork.problems]
    pages = None
    if isinstance(artwork.pages, Unmeasured):
        problems.append(_unmeasured("pages", artwork.pages.reason))
    else:
        pages = [_page(page, f"pages[{index}]", problems) for index, page in enumerate(artwork.pages)]
    intents = artwork.pdf.output_intents if artwork.pdf is not None else ()
    return {
        "schema": SCHEMA,
        "file": _file(artwork, problems),
        "press": optional_text(artwork.press),
        "pages": pages,
        "fonts": [_font(font) for font in artwork.fonts],
        "colour_spaces": [
            {
                "space": text(str(use.space)),
                "kind": use.space.kind.value,
                "used_by": [kind.value for kind in use.used_by],
            }
            for use in artwork.colour_spaces()
        ],
        "inks": [text(ink) for ink in artwork.inks()],
        "output_intent": _intent(intents[0]) if intents else None,
        "problems": problems,
    }


def _file(artwork: Artwork, problems: list[JsonObject]) -> JsonObject:
    facts: JsonObject = file_json(artwork.file)
    unread = dict.fromkeys(("pdf_version", "encrypted", "pdfx", "producer", "creator"))
    if artwork.pdf is not None:
        pdf = artwork.pdf
        return facts | {
            "pdf_version": text(pdf.version),
            "encrypted": pdf.encryption is not None,
            "pdfx": None if pdf.pdfx is None else text(pdf.pdfx.name),
            "producer": optional_text(pdf.producer),
            "creator": optional_text(pdf.creator),
        }
    if artwork.file.format is Format.PDF:
        problems.extend(_unmeasured(f"file.{key}", "the PDF could not be opened") for key in unread)
        return facts | unread
    return facts | unread | {"encrypted": False}


def _page(page: Page, path: str, problems: list[JsonObject]) -> JsonObject:
    boxes = page.boxes
    facts: JsonObject = {
        "number": page.number,
        "rotate": page.rotate,
        "user_unit": number(page.user_unit),
        "boxes": {
            "media": box(boxes.media),
            "crop": box(boxes.crop),
            "bleed": box(boxes.bleed),
            "trim": box(boxes.trim),
            "art": box(boxes.art),
        },
        "finished": _finished(page.trim, path, problems),
        "ink": _ink(page.ink, f"{path}.ink", problems),
        "images": None,
        "text": None,
    }
    if page.raster is not None:
        facts["raster"] = _raster(page.raster)
    if isinstance(page.marks, Unmeasured):
        if page.raster is not None:
            facts["images"] = [_unplaced(page.raster)]
            facts["text"] = []
            lost = ["images[0].x_ppi", "images[0].y_ppi", "images[0].box"]
        else:
            lost = ["images", "text"]
        problems.extend(_unmeasured(f"{path}.{key}", page.marks.reason) for key in lost)
        return facts
    placed = [(mark, mark.image) for mark in page.marks if mark.image is not None]
    facts["images"] = [
        _image(mark, image, f"{path}.images[{index}]", problems) for index, (mark, image) in enumerate(placed)
    ]
    facts["text"] = [
        _text(mark, mark.text) for mark in page.marks if mark.kind is MarkKind.TEXT and mark.text is not None
    ]
    return facts


def _finished(trim: Trim | Unmeasured, path: str, problems: list[JsonObject]) -> JsonObject | None:
    if isinstance(trim, Unmeasured):
        problems.append(_unmeasured(f"{path}.finished", trim.reason))
        return None
    return {"box": box(trim.box), "origin": trim.origin.value, "note": text(trim.note)}


def _ink(ink: PageInk | Unmeasured, path: str, problems: list[JsonObject]) -> JsonObject | None:
    if isinstance(ink, Unmeasured):
        problems.append(_unmeasured(path, ink.reason))
        return None
    edges = None
    if isinstance(ink.edges, Unmeasured):
        problems.append(_unmeasured(f"{path}.edges", ink.edges.reason))
    else:
        edges = {edge.edge.value: _edge(edge) for edge in ink.edges}
    return {
        "plates": {
            text(plate.ink): {
                "mean_percent": number(plate.mean_percent),
                "max_percent": number(plate.max_percent),
            }
            for plate in ink.plates
        },
        "max_1mm2_percent": number(ink.max_1mm2_percent),
        "max_percent": number(ink.max_percent),
        "edges": edges,
        "shift": None if ink.shift is None else _shift(ink.shift),
        "approximate": [text(reason) for reason in ink.approximate],
    }


def _edge(paint: EdgePaint) -> JsonObject:
    """How much of the edge paint touches, and the least that it runs beyond there."""
    touching = [reach for reach in paint.reach_pt if reach is not None]
    return {
        "touched_percent": number(100 * len(touching) / max(1, len(paint.reach_pt))),
        "least_reach": number(min(touching, default=None)),
        "sheet": number(paint.sheet_pt),
    }


def _shift(shift: ColourShift) -> JsonObject:
    return {
        "over_5_percent": number(shift.over_5_percent),
        "over_10_percent": number(shift.over_10_percent),
        "over_20_percent": number(shift.over_20_percent),
        "moved": [
            {
                "place": box(moved.place),
                "share_percent": number(moved.share_percent),
                "before": [number(part) for part in moved.before],
                "after": [number(part) for part in moved.after],
                "delta_e": number(moved.delta_e),
            }
            for moved in shift.moved
        ],
    }


def _image(mark: Mark, image: ImageFacts, path: str, problems: list[JsonObject]) -> JsonObject:
    for key, ppi, along in (("x_ppi", image.x_ppi, "width"), ("y_ppi", image.y_ppi, "height")):
        if not math.isfinite(ppi):
            problems.append(_unmeasured(f"{path}.{key}", f"the image's {along} has no extent on the page"))
    return {
        "object": image.object,
        "width_px": image.width_px,
        "height_px": image.height_px,
        "bits": image.bits,
        "colour": _space(image.colour),
        "filters": list(image.filters),
        "x_ppi": number(image.x_ppi),
        "y_ppi": number(image.y_ppi),
        "box": box(mark.box),
        "mask": _mask(image),
        "visible": box(mark.visible),
        "printed": mark.on_paper,
        "covered": mark.covered,
        "unseen": mark.on_paper and not mark.covered and not mark.shows,
        "jpeg_quality": image.jpeg_quality,
    }


def _mask(image: ImageFacts) -> JsonObject | None:
    if image.masking is Masking.NONE:
        return None
    return {
        "kind": image.masking.value,
        "width_px": image.mask_width_px,
        "height_px": image.mask_height_px,
    }


def _unplaced(raster: RasterFacts) -> JsonObject:
    return {
        "object": None,
        "width_px": raster.width_px,
        "height_px": raster.height_px,
        "bits": raster.bits,
        "colour": _space(raster.colour),
        "filters": [raster.compression],
        "x_ppi": None,
        "y_ppi": None,
        "box": None,
        "mask": None,
        "visible": None,
        "printed": True,
    }


def _raster(raster: RasterFacts) -> JsonObject:
    origin = raster.resolution_origin
    return {
        "declared_x_ppi": number(raster.x_ppi),
        "declared_y_ppi": number(raster.y_ppi),
        "declared_in": None if origin is None else origin.value,
        "compression": raster.compression,
        "orientation": raster.orientation,
        "icc_profile": optional_text(raster.icc_profile),
        "icc_space": optional_text(raster.icc_space),
        "alpha": raster.alpha,
        "alpha_opaque": raster.alpha_opaque,
        "extra_channels": raster.extra_channels,
        "layers": raster.layers,
        "flat_picture_valid": raster.flat_picture_valid,
        "pictures": raster.pictures,
        "progressive": raster.progressive,
    }


def _text(mark: Mark, run: TextFacts) -> JsonObject:
    return {
        "box": box(mark.box),
        "size_pt": number(run.size_pt),
        "font": text(run.font),
        "colours": [_colour(colour) for colour in mark.colours()],
        "printed": mark.on_paper,
        "covered": mark.covered,
        "unseen": mark.on_paper and not mark.covered and not mark.shows,
        "ink": box(run.ink),
        "inks": None if mark.inks is None else [text(ink) for ink in mark.inks],
    }


def _colour(colour: Colour) -> JsonObject:
    return {
        "space": _space(colour.space),
        "components": [number(component) for component in colour.components],
    }


def _space(space: ColourSpace | None) -> str | None:
    return None if space is None else text(str(space))


def _font(font: Font) -> JsonObject:
    return {
        "name": text(font.name),
        "type": text(font.type),
        "embedded": font.embedded,
        "subset": font.subset,
        "program": optional_text(font.program),
        "object": font.object,
        "printed": font.printed,
        "missing_glyphs": font.missing_glyphs,
        "widths_differ": font.widths_differ,
        "bitmap": font.bitmap,
    }


def _intent(intent: OutputIntent) -> JsonObject:
    return {
        "subtype": text(intent.subtype),
        "identifier": optional_text(intent.identifier),
        "condition": optional_text(intent.condition),
        "registry": optional_text(intent.registry),
        "info": optional_text(intent.info),
        "profile": optional_text(intent.profile_name),
        "profile_space": optional_text(intent.profile_space),
    }


def _problem(problem: Problem) -> JsonObject:
    path = re.sub(r"\[(\d+)\]", lambda match: f"[{int(match[1]) - 1}]", problem.where)
    return {"where": text(path), "what": text(problem.what), "kind": problem.kind.value}


def _unmeasured(where: str, reason: str) -> JsonObject:
    return {"where": where, "what": text(reason), "kind": "unmeasured"}
