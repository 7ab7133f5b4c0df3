# The graphics state parameters that pages set, read without trust.
import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, Stream, String

from hotfolder.model.inventory.states import HalftoneFacts, StateFacts, StrayOperator
from hotfolder.pdf.content.uses import Use, UseKind
from hotfolder.pdf.inventory.states import read_states, read_stray_operators
from hotfolder.pdf.objects.resources import Resources

NOTHING = StateFacts(None, (1,), soft_mask=False, opacities=(), blend_modes=(), transfer_keys=(),
                     halftone_phase=False, overprint_mode="", halftones=())  # fmt: skip


def used(value: object, page: int = 1, kind: UseKind = UseKind.STATE) -> Use:
    return Use(kind, value, page, Resources(), None)


def state(**entries: object) -> StateFacts:
    """The facts of a dictionary with these entries, which one page applies."""
    [facts] = read_states([used(Dictionary({f"/{key}": each for key, each in entries.items()}))])
    return facts


def test_what_is_none_of_the_entries_that_count_leaves_nothing() -> None:
    assert state(Type=Name.ExtGState, LW=2, SA=True, AIS=False) == NOTHING
    assert read_states([used(Name.Default)]) == (NOTHING,)
    assert read_states([]) == ()


def test_a_dictionary_is_read_once_with_all_pages_that_apply_it() -> None:
    pdf = pikepdf.new()
    first, second = (pdf.make_indirect(Dictionary(ca=ca)) for ca in (1, 0.5))
    uses = [used(first), used(first), used(second), used(first, 3)]
    assert [(each.object, each.pages, each.opacities) for each in read_states(uses)] == [
        (f"{first.objgen[0]} 0", (1, 3), (1.0,)),
        (f"{second.objgen[0]} 0", (1,), (0.5,)),
    ]
    alike = [used(Dictionary(ca=1)), used(Dictionary(ca=1), 2)]
    assert [each.pages for each in read_states(alike)] == [(1, 2)]


@pytest.mark.parametrize(
    ("value", "masked"), [(Name("/None"), False), (Name.Alpha, True), (Dictionary(), True), (1, True)]
)
def test_a_soft_mask_is_anything_but_none(value: object, *, masked: bool) -> None:
    assert state(SMask=value).soft_mask is masked


def test_opacities_and_blend_modes_are_kept_as_they_stand() -> None:
    assert state(CA=0.25, ca=1).opacities == (1.0, 0.25)
    assert state(CA=String("1")).opacities == (None,)
    assert state(BM=Name.Multiply).blend_modes == ("Multiply",)
    assert state(BM=Array([Name.Glow, String("Screen"), Name.Screen])).blend_modes == ("Glow", "", "Screen")
    assert state(BM=Array([])).blend_modes == ()


def test_transfer_functions_count_but_for_those_given_back() -> None:
    assert state(TR=Name.Identity, TR2=Name.Identity).transfer_keys == ("TR", "TR2")
    assert state(TR2=Name.Default).transfer_keys == ()
    assert state(TR=Name.Default).transfer_keys == ("TR",)


@pytest.mark.parametrize(
    ("value", "figures"), [(0, "0"), (1.0, "1"), (-1, "-1"), (0.5, "no figure"), (True, "no figure")]
)
def test_the_overprint_mode_is_kept_in_figures(value: object, figures: str) -> None:
    assert state(OPM=value).overprint_mode == figures


def test_halftones_are_told_with_those_within() -> None:
    pdf = pikepdf.new()
    thresholds = Stream(pdf, bytes(4))
    thresholds.HalftoneType = 6
    members = Dictionary(HalftoneType=5, HalftoneName=String("All"), Type=Name.Halftone)
    members.Cyan = pdf.make_indirect(thresholds)
    members.Default = Dictionary(HalftoneType=1, TransferFunction=Name.Identity)
    members.Gold = Name.Default
    assert state(HTP=Array([0, 0]), HT=members).halftone_phase is True
    assert state(HT=members).halftones == (
        HalftoneFacts(5, named=True, colorant="", transfer=False),
        HalftoneFacts(6, named=False, colorant="Cyan", transfer=False),
        HalftoneFacts(1, named=False, colorant="Default", transfer=True),
    )
    assert state(HT=Name.Default).halftones == ()
    assert state(HT=Dictionary(HalftoneType=String("1"))).halftones[0].type is None


def test_halftones_within_themselves_and_without_end_are_read_so_far() -> None:
    pdf = pikepdf.new()
    whole = pdf.make_indirect(Dictionary(HalftoneType=5))
    for number in range(300):
        whole[f"/Ink{number}"] = whole
    assert len(state(HT=whole).halftones) == 200


def test_operators_that_no_standard_has_are_told_with_their_pages() -> None:
    kind = UseKind.OPERATOR
    uses = [used("BX", 1, kind), used("glow", 1, kind), used("glow", 2, kind), used("PS", 2, kind)]
    assert read_stray_operators(uses) == (StrayOperator("glow", (1, 2)), StrayOperator("PS", (2,)))
