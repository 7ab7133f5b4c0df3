# The operator table against the standard's own list.

from pikepdf import Array, Dictionary, Name

from hotfolder.pdf.content.ext_gstate import IGNORED_PARAMETERS, read_parameters
from hotfolder.pdf.content.operators.table import OPERATORS
from tests.pdf.drawn_page import helvetica

# ISO 32000-2:2020, Annex A, table A.1, in its order. The list is the same in ISO 32000-1:2008, table A.1.
_STANDARD = """
b B b* B* BDC BI BMC BT BX c cm CS cs d d0 d1 Do DP EI EMC ET EX f F f* G g gs h i ID j J K k l m M MP n
q Q re RG rg ri s S SC sc SCN scn sh T* Tc Td TD Tf Tj TJ TL Tm Tr Ts Tw Tz v w W W* y ' "
""".split()  # noqa: SIM905 - the list reads as in the standard

# ISO 32000-2:2020, table 57.
_PARAMETERS = """
Type LW LC LJ ML D RI OP op OPM Font BG BG2 UCR UCR2 TR TR2 HT FL SM SA BM SMask CA ca AIS TK
UseBlackPtComp HTO
""".split()  # noqa: SIM905 - the list reads as in the standard
_SAMPLES = {
    "LW": 3, "LC": 1, "LJ": 2, "ML": 4, "OP": True, "op": True, "OPM": 1, "BM": Name.Multiply, "CA": 0.5,
    "ca": 0.25, "SMask": Name("/None"), "Font": Array([helvetica(), 12]),
}  # fmt: skip


def test_every_operator_of_the_standard_is_in_the_table_and_no_other() -> None:
    assert len(_STANDARD) == len(set(_STANDARD)) == 73
    assert set(OPERATORS) == set(_STANDARD)


def test_each_operator_has_a_handler_or_a_reason_for_having_none() -> None:
    for spelling, operator in OPERATORS.items():
        assert (operator.handle is None) == bool(operator.ignored), spelling


def test_few_operators_are_ignored() -> None:
    ignored = {spelling for spelling, operator in OPERATORS.items() if operator.handle is None}
    assert ignored == {"d", "ri", "i", "MP", "DP"}


def test_every_graphics_state_parameter_is_read_or_ignored_for_a_reason() -> None:
    nothing = read_parameters(Dictionary())
    for parameter in _PARAMETERS:
        ignored = bool(IGNORED_PARAMETERS.get(f"/{parameter}"))
        sample = Dictionary({f"/{parameter}": _SAMPLES.get(parameter, 1)})
        assert ignored == (read_parameters(sample) == nothing), parameter
    assert len(_PARAMETERS) == len(IGNORED_PARAMETERS) + len(_SAMPLES)
