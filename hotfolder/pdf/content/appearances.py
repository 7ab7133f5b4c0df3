"""What the appearances of annotations paint on paper (ISO 32000-2, 12.5.5)."""

import pikepdf

from hotfolder.model.facts import ProblemKind
from hotfolder.pdf.content.content import Content
from hotfolder.pdf.content.operators.forms import draw_form, form_of
from hotfolder.pdf.content.uses import UseKind
from hotfolder.pdf.document.annotations import annotation_prints, fit_appearance, normal_appearance
from hotfolder.pdf.objects.limits import ANNOTATIONS_PER_PAGE
from hotfolder.pdf.objects.matrix import IDENTITY
from hotfolder.pdf.objects.reading import entry, items, numbers


def draw_appearances(content: Content, page: object) -> None:
    """Draws what the annotations of a page add to it on paper, in their order."""
    annotations = entry(page, "/Annots")
    if isinstance(annotations, pikepdf.Array) and len(annotations) > ANNOTATIONS_PER_PAGE:
        what = f"only the first {ANNOTATIONS_PER_PAGE:,} annotations were read"
        content.note(ProblemKind.LIMIT, what)
    for annotation in items(annotations, ANNOTATIONS_PER_PAGE):
        appearance = normal_appearance(annotation)
        if appearance is not None and annotation_prints(annotation):
            _draw(content, annotation, appearance)


def _draw(content: Content, annotation: object, appearance: pikepdf.Stream) -> None:
    rectangle = numbers(entry(annotation, "/Rect"), 4)
    content.uses(UseKind.FORM, appearance)
    form = form_of(content.ledger, appearance)
    if rectangle is None or form.bounds is None:
        content.note(ProblemKind.DAMAGED, "an annotation does not say where it is; it was left out")
        return
    fit = fit_appearance(form.matrix.bounds(*form.bounds), IDENTITY.bounds(*rectangle))
    if fit is not None:
        content.marked.append(content.layer_of(entry(annotation, "/OC")))
        content.marked.append(content.layer_of(form.layer))
        draw_form(content, form, form.matrix.then(fit))
        content.marked.clear()
