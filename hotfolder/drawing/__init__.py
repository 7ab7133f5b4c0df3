"""Pictures of pages; the only code that calls the renderer."""

from hotfolder.drawing.page_proofs import ProofRules, page_proofs
from hotfolder.drawing.pages import draw_pages
from hotfolder.drawing.plate_drawer import PlateDrawer

__all__ = ["PlateDrawer", "ProofRules", "draw_pages", "page_proofs"]
