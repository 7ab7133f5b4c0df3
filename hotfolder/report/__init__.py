"""Findings and facts as JSON, HTML and terminal text."""

from hotfolder.report.as_html.page import GENERATOR, mark_released, released_note, report_html
from hotfolder.report.as_json.facts import artwork_json
from hotfolder.report.as_json.findings import release_json, report_json
from hotfolder.report.as_text.facts import facts_lines
from hotfolder.report.as_text.findings import first_line, print_report
from hotfolder.report.model import Release, Report, failure_report

__all__ = [
    "GENERATOR",
    "Release",
    "Report",
    "artwork_json",
    "facts_lines",
    "failure_report",
    "first_line",
    "mark_released",
    "print_report",
    "release_json",
    "released_note",
    "report_html",
    "report_json",
]
