"""Prints how many files break each requirement and no other, level by level."""

from collections import Counter

from rich.console import Console
from rich.table import Table

from hotfolder.checks.pdf.pdfx.register import REQUIREMENTS
from hotfolder.checks.shared.pdfx_levels import Level
from tests.checks.pdf.pdfx.cases.all_cases import CASES

table = Table("requirement", *(level.removeprefix("PDF/") for level in Level), "judged")
files = Counter((case.breaks, level) for case in CASES for level in case.levels)
for requirement in REQUIREMENTS:
    counts = [str(files[requirement.id, level]) if level in requirement.levels else "-" for level in Level]
    table.add_row(requirement.id, *counts, str(requirement.extent))
Console().print(table)
