# The page about PDF/X is made from the requirements.
from pathlib import Path

from hotfolder.checks.pdf.pdfx.docs import requirements_explained, requirements_page
from hotfolder.checks.pdf.pdfx.register import REQUIREMENTS

PAGE = Path(__file__).parents[4] / "docs" / "pdfx.md"


def test_the_page_is_up_to_date() -> None:
    assert PAGE.read_text(encoding="utf-8") == requirements_page()


def test_both_lists_name_every_requirement_with_its_remedy() -> None:
    terminal = "\n".join(requirements_explained())
    page = requirements_page()
    for requirement in REQUIREMENTS:
        assert f"  {requirement.id} (" in terminal
        assert f"### {requirement.id}\n" in page
        assert terminal.count(f"Remedy: {requirement.remedy}") >= 1
        assert page.count(f"Remedy: {requirement.remedy}") >= 1
