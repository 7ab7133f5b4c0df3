# Whether a page is drawn with transfer functions, which change its tones at the press.
import pytest
from pikepdf import Array, Dictionary, Name

from tests.pdf.drawn_page import Drawn

INVERTING = Dictionary(FunctionType=2, Domain=Array([0, 1]), N=1, C0=Array([1]), C1=Array([0]))


@pytest.mark.parametrize(
    ("entries", "sets"),
    [
        ({"TR": INVERTING}, True),
        ({"TR2": INVERTING}, True),
        ({"TR2": Name.Default}, False),
        ({"TR": INVERTING, "TR2": Name.Default}, False),
        ({"ca": 0.5}, False),
    ],
)
def test_a_transfer_function_counts_but_for_those_that_the_press_began_with(
    entries: dict[str, object], *, sets: bool
) -> None:
    drawn = Drawn().resource(
        "ExtGState", "State", Dictionary({f"/{key}": each for key, each in entries.items()})
    )
    assert drawn.read(b"/State gs 0 0 9 9 re f").sets_transfer is sets
    assert drawn.read(b"0 0 9 9 re f").sets_transfer is False
