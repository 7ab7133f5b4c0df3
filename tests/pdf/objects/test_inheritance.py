# What a page has from the nodes above it, and what it never has from them.
import pytest

from hotfolder.pdf.objects.inheritance import lineage, page_value, page_values
from hotfolder.pdf.objects.limits import PARENTS
from hotfolder.pdf.objects.reading import identity
from tests.pdf.raw_pdf import open_raw, page, the_page

_PAGES = "<< /Type /Pages /Kids [3 0 R] /Count 1 /Parent 4 0 R {entries} >>"


def test_the_nearest_value_comes_first_and_those_above_follow() -> None:
    with open_raw(
        {2: _PAGES.format(entries="/Rotate 90"), 3: page("/Rotate 7"), 4: "<< /Rotate 180 >>"}
    ) as pdf:
        assert list(page_values(the_page(pdf), "/Rotate")) == [7, 90, 180]
        assert page_value(the_page(pdf), "/Rotate") == 7


@pytest.mark.parametrize(
    ("key", "inherited"),
    [
        ("/Resources", True), ("/MediaBox", True), ("/CropBox", True), ("/Rotate", True),
        ("/TrimBox", False), ("/BleedBox", False), ("/ArtBox", False), ("/UserUnit", False),
        ("/Group", False),
    ],
)  # fmt: skip
def test_four_attributes_are_inherited_and_no_others(key: str, *, inherited: bool) -> None:
    with open_raw({2: _PAGES.format(entries=f"{key} 1"), 3: page(""), 4: "<< >>"}) as pdf:
        assert page_value(the_page(pdf), key) == (1 if inherited else None)


def test_a_tree_that_runs_in_a_circle_is_gone_round_once() -> None:
    with open_raw({2: _PAGES.format(entries=""), 3: page(""), 4: "<< /Parent 2 0 R >>"}) as pdf:
        assert [identity(node) for node in lineage(the_page(pdf))] == ["3 0", "2 0", "4 0"]
        assert page_value(the_page(pdf), "/MediaBox") is None


def test_a_tree_without_end_is_climbed_so_far_and_no_further() -> None:
    above = {number: f"<< /Parent {number + 1} 0 R >>" for number in range(4, 4 + 2 * PARENTS)}
    with open_raw({2: _PAGES.format(entries=""), 3: page(""), **above}) as pdf:
        assert len(list(lineage(the_page(pdf)))) == PARENTS
