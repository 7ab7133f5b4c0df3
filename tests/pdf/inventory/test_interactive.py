# Actions, wherever a document may hold them; circles, wrong types and limits.
import pikepdf
from pikepdf import Array, Dictionary, Name, String

from hotfolder.model.inventory.interactive import Action
from hotfolder.pdf.inventory.interactive import read_interactive_facts


def document() -> pikepdf.Pdf:
    pdf = pikepdf.new()
    pdf.add_blank_page()
    return pdf


def actions(pdf: pikepdf.Pdf) -> tuple[Action, ...]:
    return read_interactive_facts(pdf, [page.obj for page in pdf.pages]).actions


def test_a_plain_document_does_nothing_by_itself() -> None:
    facts = read_interactive_facts(pdf := document(), [pdf.pages[0].obj])
    assert (facts.actions, facts.unread, facts.xfa, facts.viewer_areas) == ((), False, False, ())


def test_every_place_that_may_hold_an_action_is_named() -> None:
    pdf = document()
    pdf.Root.OpenAction = Dictionary(S=Name.Named)
    pdf.Root.AA = Dictionary(WP=Dictionary(S=Name.JavaScript))
    page = pdf.pages[0].obj
    page.AA = Dictionary(O=Dictionary(S=Name.Named))
    link = Dictionary(Subtype=Name.Link, A=Dictionary(S=Name.URI), PA=Dictionary(S=Name.GoToR))
    page.Annots = Array([link, Dictionary(Subtype=Name.Stamp, AA=Dictionary(E=Dictionary(S=Name.Hide)))])
    field = pdf.make_indirect(Dictionary(T=String("a"), AA=Dictionary(K=Dictionary(S=Name.JavaScript))))
    pdf.Root.AcroForm = Dictionary(Fields=Array([field]))
    assert actions(pdf) == (
        Action("Named", "the document, when it opens"),
        Action("JavaScript", "the document"),
        Action("Named", "the page", 1),
        Action("URI", "a link", 1),
        Action("GoToR", "a link", 1),
        Action("Hide", "an annotation", 1),
        Action("JavaScript", "a form field"),
    )


def test_actions_that_follow_one_another_are_told_each_and_a_circle_of_them_ends() -> None:
    pdf = document()
    first = pdf.make_indirect(Dictionary(S=Name.Hide))
    first.Next = Array([Dictionary(S=Name.Movie), first])
    pdf.Root.OpenAction = first
    assert [action.kind for action in actions(pdf)] == ["Hide", "Movie"]


def test_bookmarks_in_a_circle_are_looked_at_once() -> None:
    pdf = document()
    one = pdf.make_indirect(Dictionary(A=Dictionary(S=Name.GoTo)))
    two = pdf.make_indirect(Dictionary(A=Dictionary(S=Name.URI), Next=one))
    one.Next, one.First = two, one
    pdf.Root.Outlines = Dictionary(First=one)
    assert sorted(action.kind for action in actions(pdf)) == ["GoTo", "URI"]


def test_what_is_no_dictionary_where_an_action_belongs_is_none() -> None:
    pdf = document()
    pdf.Root.OpenAction = Name.Named
    pdf.Root.AA = Array([Dictionary(S=Name.JavaScript)])
    pdf.Root.Names = Dictionary(JavaScript=Array([]))
    pdf.pages[0].obj.Annots = Dictionary(A=Dictionary(S=Name.URI))
    assert actions(pdf) == ()


def test_an_action_without_its_name_is_one_all_the_same() -> None:
    pdf = document()
    pdf.Root.OpenAction = Dictionary(S=String("GoTo"))
    assert actions(pdf) == (Action("", "the document, when it opens"),)


def test_scripts_in_a_tree_of_names_whose_nodes_form_a_circle_are_found() -> None:
    pdf = document()
    tree = pdf.make_indirect(Dictionary(Names=Array([String("a"), Dictionary(S=Name.JavaScript)])))
    tree.Kids = Array([tree])
    pdf.Root.Names = Dictionary(JavaScript=tree)
    assert actions(pdf) == (Action("JavaScript", "the document's scripts"),)
