"""Makes the PDF/X files of the archive: `python -m tests.producers.pdfx.make [NAME ...]`.

Each program is told of in its own module here, with the package that it comes in. The files made go
into the archive `pdfx.tar.xz` in place of those of the same names; those not named stay as they are.
What each holds and how it is judged stands in `files.toml`.
"""

import io
import lzma
import sys
import tarfile
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Final

from tests.producers.making import Workshop
from tests.producers.pdfx import (
    make_context,
    make_fop,
    make_ghostscript,
    make_handled,
    make_itext,
    make_latex,
    make_latex_metadata,
    make_novel,
    make_qt,
    make_scribus,
    make_weasyprint,
)
from tests.producers.pdfx.archive import ARCHIVE, unpacked
from tests.producers.pdfx.materials import make_materials

SOURCES: Final = Path(__file__).parent / "sources"
MAKERS: Final[dict[str, Callable[[Path], Path]]] = {
    **make_context.MAKERS,
    **make_fop.MAKERS,
    **make_ghostscript.MAKERS,
    **make_handled.MAKERS,
    **make_itext.MAKERS,
    **make_latex.MAKERS,
    **make_latex_metadata.MAKERS,
    **make_novel.MAKERS,
    **make_qt.MAKERS,
    **make_scribus.MAKERS,
    **make_weasyprint.MAKERS,
}
# Long enough to reach from a profile to the same profile in any other file.
_XZ: Final = [{"id": lzma.FILTER_LZMA2, "preset": 9 | lzma.PRESET_EXTREME, "dict_size": 64 << 20}]


def pack(folder: Path) -> None:
    """Writes the files of `folder` into the archive, in the order of their names, without owners or dates."""
    packed = io.BytesIO()
    with tarfile.open(fileobj=packed, mode="w", format=tarfile.USTAR_FORMAT) as archive:
        for path in sorted(folder.glob("*.pdf")):
            entry = tarfile.TarInfo(path.name)
            entry.size = path.stat().st_size
            entry.mode = 0o644
            with path.open("rb") as stream:
                archive.addfile(entry, stream)
    ARCHIVE.write_bytes(lzma.compress(packed.getvalue(), filters=_XZ))


def main(names: list[str]) -> None:
    """Makes the files named, or all of them, anew."""
    with tempfile.TemporaryDirectory() as scratch:
        files = Path(scratch)
        unpacked(files)
        Workshop(files, SOURCES, make_materials, MAKERS).make(names)
        pack(files)


if __name__ == "__main__":
    main(sys.argv[1:])
