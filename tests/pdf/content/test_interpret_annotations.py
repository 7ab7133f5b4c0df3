# Annotations' appearances: which print, and where they lie.

import pytest
from pikepdf import Array, Dictionary, Name, String

from hotfolder.model.facts import ProblemKind
from hotfolder.pdf.document.annotations import annotation_prints
from tests.pdf.drawn_page import Drawn, corners, kinds, only


@pytest.mark.parametrize(
    ("flags", "subtype", "prints"),
    [
        (4, "Stamp", True),
        (0, "Stamp", False),
        (None, "Stamp", False),
        (4 | 2, "Stamp", False),
        # ISO 32000-2, table 167: NoView is about the screen; printing depends on Print.
        (4 | 32, "Stamp", True),
        (4, "Popup", False),
        (4 | 64 | 128, "Widget", True),
    ],
)
def test_flags_and_subtype_tell_what_prints(flags: int | None, subtype: str, prints: bool) -> None:  # noqa: FBT001 - a column
    annotation = Dictionary(Type=Name.Annot, Subtype=Name(f"/{subtype}"))
    if flags is not None:
        annotation.F = flags
    assert annotation_prints(annotation) is prints


def _annotated(appearance: object, drawn: Drawn, **entries: object) -> Drawn:
    entries.setdefault("Rect", Array([100, 100, 200, 150]))
    annotation = Dictionary(Type=Name.Annot, Subtype=Name.Stamp, F=4, AP=Dictionary(N=appearance))
    for key, value in entries.items():
        annotation[f"/{key}"] = value
    drawn.page.obj.Annots = Array([annotation])
    return drawn


def test_an_appearance_is_fitted_to_its_rectangle_and_comes_last() -> None:
    # ISO 32000-2, 12.5.5, algorithm: the transformed box is laid on Rect.
    drawn = Drawn()
    form = drawn.form(b"0 0 10 10 re f", BBox=Array([0, 0, 20, 10]))
    first, last = _annotated(form, drawn).read(b"1 1 2 2 re f").marks
    assert corners(first.box) == (1, 1, 3, 3)
    assert corners(last.box) == (100, 100, 150, 150)


def test_a_turned_appearance_is_fitted_by_its_turned_box() -> None:
    drawn = Drawn()
    form = drawn.form(b"0 0 10 5 re f", BBox=Array([0, 0, 10, 20]), Matrix=Array([0, 1, -1, 0, 0, 0]))
    mark = only(_annotated(form, drawn, Rect=Array([200, 110, 180, 100])).read(b""))
    # Turned, the box is 20 wide and 10 high; its x runs from -20 to 0. The bar lies at its right end.
    assert corners(mark.box) == (195, 100, 200, 110)


def test_the_state_chooses_among_appearances() -> None:
    drawn = Drawn()
    states = Dictionary(On=drawn.form(b"0 0 1000 1000 re f"), Off=drawn.form(b""))
    assert len(_annotated(states, drawn, AS=Name.On).read(b"").marks) == 1
    assert len(_annotated(states, drawn, AS=Name.Off).read(b"").marks) == 0
    assert len(_annotated(states, drawn).read(b"").marks) == 0


@pytest.mark.parametrize("flags", [0, 2, 6])
def test_what_does_not_print_is_not_drawn(flags: int) -> None:
    drawn = Drawn()
    assert _annotated(drawn.form(b"0 0 9 9 re f"), drawn, F=flags).read(b"").marks == ()


def test_an_annotation_may_be_on_a_layer() -> None:
    drawn = Drawn()
    off = drawn.pdf.make_indirect(Dictionary(Type=Name.OCG, Name=String("Notes")))
    drawn.pdf.Root.OCProperties = Dictionary(OCGs=Array([off]), D=Dictionary(OFF=Array([off])))
    mark = only(_annotated(drawn.form(b"0 0 9 9 re f"), drawn, OC=off).read(b""))
    assert (mark.printed, mark.layers) == (False, ("Notes",))


def test_the_user_unit_scales_appearances_too() -> None:
    drawn = Drawn()
    form = drawn.form(b"0 0 20 10 re f", BBox=Array([0, 0, 20, 10]))
    assert corners(only(_annotated(form, drawn).read(b"", user_unit=2.0)).box) == (200, 200, 400, 300)


def test_an_appearance_without_a_place_is_told() -> None:
    drawn = Drawn()
    page = _annotated(drawn.form(b"0 0 9 9 re f"), drawn, Rect=Array([1, 2])).read(b"")
    assert page.marks == ()
    assert kinds(page) == [ProblemKind.DAMAGED]


@pytest.mark.parametrize("junk", [Array([1, 2]), Name.Junk, Dictionary(), Array([Dictionary(AP=4)])])
def test_annotations_may_be_junk(junk: object) -> None:
    drawn = Drawn()
    drawn.page.obj.Annots = junk
    assert drawn.read(b"").marks == ()


@pytest.mark.parametrize("holder", ["annotation", "appearance"])
def test_an_annotation_and_its_appearance_may_belong_to_a_layer(holder: str) -> None:
    drawn = Drawn()
    off = drawn.pdf.make_indirect(Dictionary(Type=Name.OCG, Name=String("Notes")))
    drawn.pdf.Root.OCProperties = Dictionary(OCGs=Array([off]), D=Dictionary(OFF=Array([off])))
    form = drawn.form(b"0 0 9 9 re f")
    if holder == "appearance":
        form.OC = off
    annotated = _annotated(form, drawn, **({"OC": off} if holder == "annotation" else {}))
    mark = only(annotated.read(b""))
    assert (mark.printed, mark.layers) == (False, ("Notes",))
