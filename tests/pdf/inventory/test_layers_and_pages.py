# How layers are set up, and what page dictionaries and annotations say: wrong types and circles too.
import pikepdf
from pikepdf import Array, Dictionary, Name, String

from hotfolder.model.geometry import Box
from hotfolder.model.inventory.pages import PageAnnotation, TrapNetwork
from hotfolder.pdf.inventory.layers import read_layers
from hotfolder.pdf.inventory.pages import read_pages


def with_layers(*names: str) -> pikepdf.Pdf:
    pdf = pikepdf.new()
    groups = [pdf.make_indirect(Dictionary(Type=Name.OCG, Name=String(name))) for name in names]
    pdf.Root.OCProperties = Dictionary(OCGs=Array(groups), D=Dictionary(Name=String("All")))
    return pdf


def test_a_document_without_layers_has_none() -> None:
    facts = read_layers(pikepdf.new())
    assert (facts.names, facts.configurations) == ((), ())


def test_an_order_may_hold_labels_and_lists_within_lists() -> None:
    pdf = with_layers("Back", "Front", "Notes")
    layers = pdf.Root.OCProperties
    layers.D.Order = Array([String("Artwork"), Array([layers.OCGs[0], Array([layers.OCGs[1]])])])
    (configuration,) = read_layers(pdf).configurations
    assert configuration.unlisted == ("Notes",)


def test_without_an_order_nothing_is_left_out_of_it() -> None:
    (configuration,) = read_layers(with_layers("Back")).configurations
    assert configuration.unlisted == ()


def test_an_order_that_holds_itself_ends() -> None:
    pdf = with_layers("Back")
    order = pdf.make_indirect(Array([]))
    order.append(order)
    pdf.Root.OCProperties.D.Order = order
    (configuration,) = read_layers(pdf).configurations
    assert configuration.unlisted == ("Back",)


def test_an_annotation_without_a_sound_rectangle_has_no_place() -> None:
    pdf = pikepdf.new()
    page = pdf.add_blank_page().obj
    page.UserUnit = 2
    page.Annots = Array(
        [
            Dictionary(Subtype=Name.Text, Rect=Array([30, 20, 10, 5])),
            Dictionary(Subtype=Name.Text, Rect=String("none")),
            String("no annotation"),
        ]
    )
    (entries,) = read_pages([page])
    assert entries.annotations == (
        PageAnnotation("Text", Box(20.0, 10.0, 60.0, 40.0)),
        PageAnnotation("Text", None),
    )
    assert not entries.separated


def test_a_trap_network_names_its_model_in_its_appearance() -> None:
    pdf = pikepdf.new()
    page = pdf.add_blank_page().obj
    traps = pdf.make_stream(b"", PCM=Name.DeviceCMYK)
    page.Annots = Array(
        [
            Dictionary(Subtype=Name.TrapNet, AP=Dictionary(N=traps), FontFauxing=Array([])),
            Dictionary(Subtype=Name.TrapNet, FontFauxing=Array([Dictionary()])),
        ]
    )
    (entries,) = read_pages([page])
    assert [each.trap_network for each in entries.annotations] == [
        TrapNetwork("DeviceCMYK", substituted=False),
        TrapNetwork(None, substituted=True),
    ]
