"""Reports of ours that come back through an inbox, beside their artwork: they are set aside."""

import logging
from pathlib import Path
from typing import Final

from hotfolder.config.studio import Printer
from hotfolder.delivery.names import LONGEST_NAME_BYTES, numbered_names
from hotfolder.store.delivery_folders import DeliveryFolders
from hotfolder.store.moves import set_aside
from hotfolder.store.writing import make_plain_folder
from hotfolder.wording.shown import shown_name

logger = logging.getLogger(__name__)

OLD_REPORTS: Final = "old-reports"


def set_report_aside(report: Path, printer: Printer, folders: DeliveryFolders) -> None:
    """Move `report` from the inbox into the printer's folder for old reports. StorageError where refused."""
    folders.ready(printer, printer.needs_fixing)
    old_reports = printer.needs_fixing / OLD_REPORTS
    make_plain_folder(old_reports)
    lies = set_aside(report, old_reports, numbered_names(report.name, LONGEST_NAME_BYTES))
    logger.info("%s: an old report of ours was set aside as %s", printer.name, shown_name(str(lies)))
