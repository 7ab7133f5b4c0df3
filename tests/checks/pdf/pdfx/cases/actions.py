"""Files that do something by themselves or when somebody touches them."""

from typing import Final

import pikepdf
from pikepdf import Array, Dictionary, Name, String

from hotfolder.checks.shared.pdfx_levels import ALL
from tests.checks.pdf.pdfx.cases.case import Case


def _script() -> Dictionary:
    return Dictionary(S=Name.JavaScript, JS=String("app.beep(0);"))


def _script_on_opening(pdf: pikepdf.Pdf) -> None:
    pdf.Root.OpenAction = pdf.make_indirect(_script())


def _named_script(pdf: pikepdf.Pdf) -> None:
    leaf = pdf.make_indirect(Dictionary(Names=Array([String("tidy"), pdf.make_indirect(_script())])))
    pdf.Root.Names = Dictionary(JavaScript=Dictionary(Kids=Array([leaf])))


def _script_behind_another_action(pdf: pikepdf.Pdf) -> None:
    # an action that only goes to a view, and a script that follows it
    pdf.Root.OpenAction = Dictionary(S=Name.Hide, T=String("x"), Next=Array([_script()]))


def _named_action_on_opening(pdf: pikepdf.Pdf) -> None:
    pdf.Root.OpenAction = Dictionary(S=Name.Named, N=Name.FirstPage)


def _action_when_a_page_is_shown(pdf: pikepdf.Pdf) -> None:
    pdf.pages[1].obj.AA = Dictionary(O=Dictionary(S=Name.Named, N=Name.LastPage))


def _link_off_the_page(pdf: pikepdf.Pdf) -> None:
    link = Dictionary(
        Type=Name.Annot,
        Subtype=Name.Link,
        Rect=Array([0, 0, 10, 10]),
        A=Dictionary(S=Name.URI, URI=String("https://example.org")),
    )
    pdf.pages[1].obj.Annots = Array([pdf.make_indirect(link)])


def _bookmark_with_action(pdf: pikepdf.Pdf) -> None:
    bookmark = Dictionary(Title=String("Start"), A=Dictionary(S=Name.GoTo, D=String("start")))
    outlines = pdf.make_indirect(Dictionary(Type=Name.Outlines, Count=1))
    bookmark.Parent = outlines
    outlines.First = outlines.Last = pdf.make_indirect(bookmark)
    pdf.Root.Outlines = outlines


def _xml_form(pdf: pikepdf.Pdf) -> None:
    pdf.Root.AcroForm = Dictionary(Fields=Array([]), XFA=pdf.make_stream(b"<xdp/>"))


CASES: Final = (
    Case("script", "a script on opening", _script_on_opening),
    Case("script", "a script in the document's names", _named_script),
    # the action before it is one, too
    Case("script", "behind another action", _script_behind_another_action, ALL, also=frozenset({"action"})),
    Case("action", "an action on opening", _named_action_on_opening),
    Case("action", "an action when a page is shown", _action_when_a_page_is_shown),
    Case("action", "a link that lies off the page", _link_off_the_page),
    Case("action", "a bookmark with an action", _bookmark_with_action),
    Case("xml-form", "a form in XML", _xml_form),
)
