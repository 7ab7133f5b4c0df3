"""Findings and facts as JSON, HTML and terminal text."""

from hotfolder.report.artwork_json import artwork_json
from hotfolder.report.facts_text import facts_lines
from hotfolder.report.html_report import GENERATOR, mark_released, released_note, report_html
from hotfolder.report.json_report import release_json, report_json
from hotfolder.report.model import Release, Report, failure_report
from hotfolder.report.terminal import first_line, print_report

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
