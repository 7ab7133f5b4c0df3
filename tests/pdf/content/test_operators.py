# The operator table, and the graphics state parameters against the standard's own list.

from pikepdf import Array, Dictionary, Name

from hotfolder.pdf.content.ext_gstate import IGNORED_PARAMETERS, read_parameters
from hotfolder.pdf.content.operators.table import OPERATORS
from tests.pdf.drawn_page import helvetica

# ISO 32000-2:2020, table 57.
_PARAMETERS = """
Type LW LC LJ ML D RI OP op OPM Font BG BG2 UCR UCR2 TR TR2 HT FL SM SA BM SMask CA ca AIS TK
UseBlackPtComp HTO
""".split()  # noqa: SIM905 - the list reads as in the standard
_SAMPLES = {
    "LW": 3, "LC": 1, "LJ": 2, "ML": 4, "OP": True, "op": True, "OPM": 1, "BM": Name.Multiply, "CA": 0.5,
    "ca": 0.25, "SMask": Name("/None"), "Font": Array([helvetica(), 12]),
}  # fmt: skip


def test_each_operator_has_a_handler_or_a_reason_for_having_none() -> None:
    for spelling, operator in OPERATORS.items():
        assert (operator.handle is None) == bool(operator.ignored), spelling


def test_few_operators_are_ignored() -> None:
    ignored = {spelling for spelling, operator in OPERATORS.items() if operator.handle is None}
    assert ignored == {"d", "i", "MP", "DP"}


def test_every_graphics_state_parameter_is_read_or_ignored_for_a_reason() -> None:
    nothing = read_parameters(Dictionary())
    for parameter in _PARAMETERS:
        ignored = bool(IGNORED_PARAMETERS.get(f"/{parameter}"))
        sample = Dictionary({f"/{parameter}": _SAMPLES.get(parameter, 1)})
        assert ignored == (read_parameters(sample) == nothing), parameter
    assert len(_PARAMETERS) == len(IGNORED_PARAMETERS) + len(_SAMPLES)
