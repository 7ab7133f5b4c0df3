"""What a fork server imports, so that no child has to compile the report's template."""

from hotfolder.report.html_report import page_template

page_template()
