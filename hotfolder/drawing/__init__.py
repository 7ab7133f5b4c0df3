"""Pictures of pages; the only code that calls the renderer."""

from hotfolder.drawing.pages import draw_pages

__all__ = ["draw_pages"]
