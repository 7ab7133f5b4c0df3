"""Small PDFs by several programs, and the script that made them."""

from pathlib import Path

__all__ = ["produced_files"]


def produced_files() -> tuple[Path, ...]:
    """The files, in the order of their names."""
    return tuple(sorted((Path(__file__).parent / "files").glob("*.pdf")))
