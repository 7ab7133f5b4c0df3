# Widths of CIDFonts whose arrays are made to take all memory.

import pikepdf
from pikepdf import Array, Dictionary

from hotfolder.pdf.fonts.cid_widths import read_cid_widths


def test_an_array_that_stands_for_many_cids_again_and_again_is_read_within_limits() -> None:
    pdf = pikepdf.new()
    inner = pdf.make_indirect(Array([500] * 20_000))
    widths = read_cid_widths(Dictionary(W=Array([each for at in range(1_000) for each in (at, inner)])))
    assert sum(run.last - run.first + 1 for run in widths.across) <= 3 * 65_536
    assert widths.given(0) == 0.5
