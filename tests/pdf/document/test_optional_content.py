# Layers: which show on paper in the default configuration (ISO 32000-2, 8.11).

import pikepdf
import pytest

from hotfolder.model.document import Layer
from hotfolder.pdf.document.optional_content import Layers
from tests.pdf.raw_pdf import open_raw

# Objects 10 to 13 are groups; what hides them is written by each test.
NAMES = {10: "Cut", 11: "Text", 12: "Notes", 13: "Photo"}
GROUPS = "[10 0 R 11 0 R 12 0 R 13 0 R]"


def layered(config: str, others: dict[int, str] | None = None) -> pikepdf.Pdf:
    """A PDF with four groups and the default configuration `config`."""
    catalog = f"<< /Type /Catalog /Pages 2 0 R /OCProperties << /OCGs {GROUPS} /D << {config} >> >> >>"
    objects: dict[int, str | bytes] = {1: catalog}
    objects |= {number: f"<< /Type /OCG /Name ({name}) >>" for number, name in NAMES.items()}
    objects |= others or {}
    return open_raw(objects)


def on_paper(config: str, others: dict[int, str] | None = None) -> set[str]:
    """The names of the layers that print."""
    with layered(config, others) as pdf:
        return {layer.name for layer in Layers(pdf).facts() if layer.on_paper}


def membership(entries: str, config: str = "/OFF [10 0 R 11 0 R]") -> bool:
    """Whether content of a membership dictionary prints; by default 10 and 11 are off, 12 and 13 on."""
    with layered(config, {20: f"<< /Type /OCMD {entries} >>"}) as pdf:
        return Layers(pdf).printed(pdf.get_object(20, 0))


def test_a_file_without_layers_has_none_and_prints_all() -> None:
    with open_raw({20: "<< /Type /OCG /Name (Stray) >>"}) as pdf:
        layers = Layers(pdf)
        assert layers.facts() == ()
        assert layers.printed(pdf.get_object(20, 0))


@pytest.mark.parametrize("policy", ["AllOn", "AnyOn", "AnyOff", "AllOff"])
def test_a_membership_of_groups_that_the_file_does_not_list_prints(policy: str) -> None:
    # Programs that merge files drop the list and keep the groups; viewers show all of it then.
    membership = f"<< /Type /OCMD /P /{policy} /OCGs [20 0 R] >>"
    with open_raw({20: "<< /Type /OCG /Name (Stray) >>", 21: membership}) as pdf:
        assert Layers(pdf).printed(pdf.get_object(21, 0))


def test_a_listed_layer_decides_a_membership_where_an_unlisted_one_cannot() -> None:
    stray = {19: "<< /Type /OCG /Name (Stray) >>", 20: "<< /Type /OCMD /P /AllOff /OCGs [12 0 R 19 0 R] >>"}
    with layered("/OFF [10 0 R]", stray) as pdf:
        assert not Layers(pdf).printed(pdf.get_object(20, 0))  # 12 is on, whatever 19 is


def test_layers_are_on_unless_the_file_says_otherwise() -> None:
    assert on_paper("") == set(NAMES.values())


def test_layers_switched_off_do_not_print() -> None:
    assert on_paper("/OFF [10 0 R 12 0 R]") == {"Text", "Photo"}


def test_base_state_off_leaves_only_what_is_switched_on() -> None:
    assert on_paper("/BaseState /OFF /ON [11 0 R]") == {"Text"}


def test_off_wins_over_on_as_it_is_applied_last() -> None:
    assert on_paper("/BaseState /OFF /ON [10 0 R 11 0 R] /OFF [10 0 R]") == {"Text"}


def test_the_print_state_of_an_automatic_event_decides_on_paper_only() -> None:
    config = "/AS [<< /Event /Print /Category [/Print] /OCGs [10 0 R 12 0 R] >>]"
    notes = "<< /Type /OCG /Name (Notes) /Usage << /Print << /PrintState /OFF >> >> >>"
    with layered(config, {12: notes}) as pdf:
        assert Layers(pdf).facts() == (
            Layer("Cut", on_screen=True, on_paper=True),
            Layer("Text", on_screen=True, on_paper=True),
            Layer("Notes", on_screen=True, on_paper=False),
            Layer("Photo", on_screen=True, on_paper=True),
        )


def test_a_print_state_can_switch_a_hidden_layer_on() -> None:
    config = "/OFF [12 0 R] /AS [<< /Event /Print /Category [/Print] /OCGs [12 0 R] >>]"
    notes = "<< /Type /OCG /Name (Notes) /Usage << /Print << /PrintState /ON >> >> >>"
    with layered(config, {12: notes}) as pdf:
        assert Layers(pdf).facts()[2] == Layer("Notes", on_screen=False, on_paper=True)


def test_a_usage_that_no_event_names_changes_nothing() -> None:
    notes = "<< /Type /OCG /Name (Notes) /Usage << /Print << /PrintState /OFF >> >> >>"
    assert "Notes" in on_paper("", {12: notes})
    assert "Notes" in on_paper("/AS [<< /Event /Print /Category [/Zoom] /OCGs [12 0 R] >>]", {12: notes})


def test_of_two_recommendations_off_wins() -> None:
    config = "/AS [<< /Event /Print /Category [/Print /View] /OCGs [12 0 R] >>]"
    usage = "/Usage << /Print << /PrintState /ON >> /View << /ViewState /OFF >> >>"
    assert "Notes" not in on_paper(config, {12: f"<< /Type /OCG /Name (Notes) {usage} >>"})


def test_a_group_with_another_intent_is_not_spoken_of() -> None:
    design = "<< /Type /OCG /Name (Cut) /Intent /Design >>"
    assert "Cut" in on_paper("/OFF [10 0 R]", {10: design})
    assert "Cut" not in on_paper("/OFF [10 0 R] /Intent [/View /Design]", {10: design})
    assert "Cut" not in on_paper("/OFF [10 0 R] /Intent /All", {10: design})
    assert "Cut" in on_paper("/OFF [10 0 R] /Intent []")


@pytest.mark.parametrize(
    ("groups", "policy", "prints"),
    [
        ("[10 0 R 12 0 R]", "", True),
        ("[10 0 R 12 0 R]", "/P /AnyOn", True),
        ("[10 0 R 11 0 R]", "/P /AnyOn", False),
        ("[10 0 R 12 0 R]", "/P /AllOn", False),
        ("[12 0 R 13 0 R]", "/P /AllOn", True),
        ("[10 0 R 12 0 R]", "/P /AnyOff", True),
        ("[12 0 R 13 0 R]", "/P /AnyOff", False),
        ("[10 0 R 11 0 R]", "/P /AllOff", True),
        ("[10 0 R 12 0 R]", "/P /AllOff", False),
        ("10 0 R", "", False),
        ("12 0 R", "", True),
        ("[]", "/P /AllOn", True),
        ("[null 10 0 R]", "", False),
        ("[99 0 R]", "", True),
    ],
)
def test_membership_policies(groups: str, policy: str, prints: bool) -> None:  # noqa: FBT001 - a table's column
    assert membership(f"/OCGs {groups} {policy}") is prints


@pytest.mark.parametrize(
    ("expression", "prints"),
    [
        ("[/And 12 0 R 13 0 R]", True),
        ("[/And 12 0 R 10 0 R]", False),
        ("[/Or 12 0 R 10 0 R]", True),
        ("[/Or 11 0 R 10 0 R]", False),
        ("[/Not 10 0 R]", True),
        ("[/Not [/Or 10 0 R 12 0 R]]", False),
        ("[/And [/Not 10 0 R] [/Or 11 0 R 13 0 R]]", True),
    ],
)
def test_visibility_expressions_win_over_policies(expression: str, prints: bool) -> None:  # noqa: FBT001 - a table's column
    contrary = "/OCGs 10 0 R" if prints else "/OCGs 12 0 R"
    assert membership(f"/VE {expression} {contrary}") is prints


@pytest.mark.parametrize(
    "junk", ["[]", "[/Xor 12 0 R]", "[12 0 R]", "(text)", "[/And]", "[/Not (a)]", "21 0 R"]
)
def test_an_expression_that_makes_no_sense_leaves_the_word_to_the_policy(junk: str) -> None:
    loop = {21: "[/And 21 0 R 21 0 R]"}
    with layered("/OFF [10 0 R]", {20: f"<< /Type /OCMD /VE {junk} /OCGs 10 0 R >>"} | loop) as pdf:
        assert not Layers(pdf).printed(pdf.get_object(20, 0))


def test_names_are_those_of_the_groups() -> None:
    others = {20: "<< /Type /OCMD /OCGs [10 0 R 12 0 R] >>", 21: "<< /Type /OCMD /VE [/Not 11 0 R] >>"}
    others |= {13: "<< /Type /OCG >>"}
    with layered("", others) as pdf:
        layers = Layers(pdf)
        assert [layers.names(pdf.get_object(number, 0)) for number in (10, 20, 21, 13)] == [
            ("Cut",), ("Cut", "Notes"), ("Text",), ("unnamed layer",),
        ]  # fmt: skip


@pytest.mark.parametrize(
    "config", ["/ON 5 /OFF (x)", "/AS [1 (a) << /Event 3 >>]", "/BaseState (OFF)", "/Intent 7"]
)
def test_junk_hides_nothing(config: str) -> None:
    assert on_paper(config) == set(NAMES.values())


def test_a_layer_says_which_step_of_processing_it_is_for() -> None:
    # ISO 19593-1 (keys from memory): a dictionary in the group names the group of steps and its type.
    cutting = "<< /GTS_ProcStepsGroup /Structural /GTS_ProcStepsType /Cutting >>"
    others = {
        10: f"<< /Type /OCG /Name (Cut) /GTS_Metadata {cutting} >>",
        11: "<< /Type /OCG /Name (Gloss) /GTS_Metadata << /GTS_ProcStepsGroup /Varnish >> >>",
        12: "<< /Type /OCG /Name (Notes) /GTS_Metadata 7 >>",
    }
    with layered("", others) as pdf:
        steps = {layer.name: layer.step for layer in Layers(pdf).facts()}
    assert steps == {"Cut": "Structural, Cutting", "Gloss": "Varnish", "Notes": "", "Photo": ""}
