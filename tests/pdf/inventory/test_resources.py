# Named resources that are missing, and those that a form takes of the page around it.
import pikepdf
from pikepdf import Array, Dictionary, Name, Stream

from hotfolder.model.inventory.resources import BorrowedResource, MissingResource
from hotfolder.pdf.content.uses import Use, UseKind
from hotfolder.pdf.inventory.resources import read_resources
from hotfolder.pdf.objects.resources import Resources


def form(pdf: pikepdf.Pdf, resources: object = None) -> pikepdf.Object:
    made = Stream(pdf, b"")
    made.Subtype = Name.Form
    if resources is not None:
        made.Resources = resources
    return pdf.make_indirect(made)


def number(thing: pikepdf.Object) -> str:
    return f"{thing.objgen[0]} {thing.objgen[1]}"


def test_what_is_named_and_not_there_is_told_once_a_page() -> None:
    here = Resources((Dictionary(ColorSpace=Dictionary(Sea=Name.DeviceCMYK)),))
    uses = [
        Use(UseKind.MISSING, "Font F9", 1, here, None),
        Use(UseKind.MISSING, "Font F9", 1, here, "12 0"),
        Use(UseKind.SPACE, Name.Sea, 2, here, None),
        Use(UseKind.SPACE, Name.Sky, 2, here, None),
        Use(UseKind.SPACE, Name.DeviceRGB, 2, here, None),
        Use(UseKind.SPACE, Array([Name.Sky]), 2, here, None),
    ]
    assert read_resources([], uses).missing == (
        MissingResource("Font", "F9", 1),
        MissingResource("ColorSpace", "Sky", 2),
    )


def test_pages_inherit_their_resources() -> None:
    parent = Dictionary(Resources=Dictionary())
    pages = [Dictionary(Parent=parent), Dictionary(), Dictionary(Resources=Array([]))]
    assert read_resources(pages, []).pages_without == (2, 3)


def test_a_form_that_lacks_what_it_uses_borrows_it() -> None:
    pdf = pikepdf.new()
    font, spare = pdf.make_indirect(Dictionary(A=1)), pdf.make_indirect(Dictionary(A=2))
    drawing = form(pdf, Dictionary(Font=Dictionary(F1=font)))
    bare = form(pdf)
    page = Resources((Dictionary(Font=Dictionary(F1=font, F2=spare)),))
    inner = page.within(drawing.Resources)
    uses = [
        Use(UseKind.FORM, drawing, 1, page, None),
        Use(UseKind.FORM, bare, 1, page, None),
        Use(UseKind.FONT, font, 1, inner, number(drawing)),
        Use(UseKind.FONT, spare, 1, inner, number(drawing)),
        Use(UseKind.FONT, spare, 1, page, None),
    ]
    facts = read_resources([], uses)
    assert facts.borrowed == (BorrowedResource(number(drawing), "Font", 1),)
    assert facts.drawings_without == {number(bare)}


def test_a_font_of_a_graphics_state_needs_no_name() -> None:
    pdf = pikepdf.new()
    font, drawing = pdf.make_indirect(Dictionary(A=1)), form(pdf, Dictionary())
    state = Dictionary(Font=Array([font, 12]))
    uses = [
        Use(UseKind.FORM, drawing, 1, Resources(), None),
        Use(UseKind.STATE, state, 1, Resources(), number(drawing)),
        Use(UseKind.FONT, font, 1, Resources(), number(drawing)),
    ]
    assert read_resources([], uses).borrowed == ()
