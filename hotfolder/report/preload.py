"""What a fork server imports, so that no child has to compile the report's template."""

from hotfolder.report.as_html.page import page_template

page_template()
