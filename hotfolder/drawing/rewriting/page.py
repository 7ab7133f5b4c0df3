"""A page rewritten as a whole: its content, then its annotations as far as they print, cut at the sheet."""

from dataclasses import dataclass

import pikepdf

from hotfolder.drawing.rewriting.context import RewriteContext
from hotfolder.drawing.rewriting.operators.table import OPERATORS
from hotfolder.drawing.rewriting.resources.forms import blends_in_inks, draw_form, form_of, read_group
from hotfolder.drawing.rewriting.rewriter import Rewriter, StreamScope
from hotfolder.drawing.rewriting.script import Script
from hotfolder.model.doubts import KNOCKOUT
from hotfolder.model.geometry import Box
from hotfolder.pdf.document.annotations import annotation_prints, fit_appearance, normal_appearance
from hotfolder.pdf.objects.inheritance import page_value
from hotfolder.pdf.objects.limits import ANNOTATIONS_PER_PAGE
from hotfolder.pdf.objects.matrix import IDENTITY, Matrix, scaling
from hotfolder.pdf.objects.reading import entry, items, numbers
from hotfolder.pdf.objects.resources import Resources
from hotfolder.pdf.objects.streams import content_parts


@dataclass(frozen=True, slots=True)
class RewrittenPage:
    """A page's script. in_colours: transparency on it is blended in screen colours, not in inks (11.3.4)."""

    script: Script
    in_colours: bool


def rewrite_page(
    page: pikepdf.Dictionary, user_unit: float, sheet: Box, context: RewriteContext
) -> RewrittenPage:
    """The page rewritten; `context.summary` then has the inks and colour spaces that it uses.

    NotDrawnError where it cannot be read.
    """
    base = scaling(user_unit)
    resources = Resources((page_value(page, "/Resources"),))
    scope = StreamScope(resources, base, on_page=True)
    cut = b" %.4f %.4f %.4f %.4f re W n" % tuple(
        each / user_unit for each in (sheet.x0, sheet.y0, sheet.width, sheet.height)
    )
    content = Rewriter(OPERATORS, context, scope, context.plain_state(base))
    content.emit(b"q" + cut)
    content.choose_again()
    content.measure_lines()
    content.read(_contents(page, context))
    looks = Rewriter(OPERATORS, context, scope, context.plain_state(base))
    _draw_annotations(looks, page)
    group = read_group(page)
    if group.knockout and content.record.shows_beneath:
        context.summary.doubt(KNOCKOUT)
    script = Script.of([*content.parts, b" Q q" + cut, *looks.parts, b" Q"])
    in_colours = context.summary.transparent and not blends_in_inks(content, group.space)
    return RewrittenPage(script, in_colours)


def _contents(page: pikepdf.Dictionary, context: RewriteContext) -> bytes:
    """All content streams of a page as one (7.8.2)."""
    parts = list(content_parts(entry(page, "/Contents")))
    contents = []
    for part in parts:
        if not isinstance(part, pikepdf.Stream):
            context.summary.warn("The page names drawing instructions that the file does not hold.")
            continue
        contents.append(context.content(part))
    return b"\n".join(contents)


# Annotations on paper (ISO 32000-2, 12.5)


def _draw_annotations(rewriter: Rewriter, page: pikepdf.Dictionary) -> None:
    rewriter.choose_again()
    rewriter.measure_lines()
    for annotation in items(entry(page, "/Annots"), ANNOTATIONS_PER_PAGE):
        appearance = normal_appearance(annotation)
        if appearance is None or not annotation_prints(annotation):
            continue
        layers = (entry(annotation, "/OC"), entry(appearance, "/OC"))
        if all(layer is None or rewriter.context.layers.printed(layer) for layer in layers):
            _draw(rewriter, annotation, appearance)


def _draw(rewriter: Rewriter, annotation: object, appearance: pikepdf.Stream) -> None:
    rectangle = numbers(entry(annotation, "/Rect"), 4)
    bounds = numbers(entry(appearance, "/BBox"), 4)
    own = numbers(entry(appearance, "/Matrix"), 6)
    if rectangle is None or bounds is None:
        return
    matrix = Matrix(*own) if own is not None else IDENTITY
    fit = fit_appearance(matrix.bounds(*bounds), IDENTITY.bounds(*rectangle))
    if fit is not None:
        form = form_of(rewriter, appearance)
        form.matrix = matrix.then(fit)
        draw_form(rewriter, form)
