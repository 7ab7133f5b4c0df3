"""Copies of pages for the reference tool: the same paint, on the same sheet, for the same press."""

import warnings
from pathlib import Path

import pikepdf
from pikepdf import Array, Name


def write_copy(source: Path, target: Path, page: int | None = None) -> None:
    """Writes one page of a PDF, or all of them, without what concerns viewing only.

    An output intent would change the numbers of DeviceCMYK where it is another press than ours; turning and
    the crop box would give another picture than the plates', which show the whole sheet in its own space.
    """
    with pikepdf.open(source) as pdf:
        if page is not None:
            del pdf.pages[page:]
            del pdf.pages[: page - 1]
        for each in pdf.pages:
            each.obj.MediaBox = Array(list(each.mediabox))
            each.obj.Rotate = 0
            # The crop box may be inherited, so that leaving it out would not do.
            each.obj.CropBox = each.obj.MediaBox
            if "/UserUnit" in each.obj:
                del each.obj.UserUnit
        for entry in (Name.OutputIntents, Name.OpenAction, Name.Outlines, Name.Names, Name.StructTreeRoot):
            if entry in pdf.Root:
                del pdf.Root[entry]
        with warnings.catch_warnings():
            # Of form fields that no form knows of: they are drawn all the same.
            warnings.simplefilter("ignore")
            pdf.save(target, deterministic_id=True, encryption=False)


def has_tagged_press_colours(path: Path) -> bool:
    """Whether a file has profiles for grey or CMYK, whose colours a press takes as they are."""
    with pikepdf.open(path) as pdf:
        return any(
            isinstance(thing, pikepdf.Array)
            and len(thing) == 2
            and thing[0] == Name.ICCBased
            and isinstance(thing[1], pikepdf.Stream)
            and thing[1].get("/N") in {1, 4}
            for thing in _arrays(pdf)
        )


def _arrays(pdf: pikepdf.Pdf) -> list[pikepdf.Object]:
    """All arrays of a file, wherever they stand."""
    found: list[pikepdf.Object] = []
    waiting: list[object] = list(pdf.objects)
    while waiting:
        thing = waiting.pop()
        if isinstance(thing, pikepdf.Array):
            found.append(thing)
            waiting.extend(part for part in thing if not _stands_alone(part))
        elif isinstance(thing, pikepdf.Dictionary | pikepdf.Stream):
            waiting.extend(part for part in thing.values() if not _stands_alone(part))
    return found


def _stands_alone(thing: object) -> bool:
    return isinstance(thing, pikepdf.Object) and thing.is_indirect
