"""Pictures of pages; the only code that calls the renderer."""

from hotfolder.drawing.plates.drawer import PlateDrawer
from hotfolder.drawing.proofs.chosen_pages import draw_pages
from hotfolder.drawing.proofs.page_proofs import ProofRules, page_proofs

__all__ = ["PlateDrawer", "ProofRules", "draw_pages", "page_proofs"]
