"""The pages that are compared: of the corpus, of the producers' files, and of artwork made by code.

Of the corpus these are sheets of at least 20 mm whose fonts are all in the file, by the word of poppler's
pdffonts: of other fonts each program draws another one in their place.
"""

import hashlib
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import pikepdf

from hotfolder.demo.artwork.festival import faces
from hotfolder.demo.artwork.pieces import pieces
from tests.corpus import corpus_files, corpus_folder, problems_with
from tests.plates.differences import DIFFERENCES
from tests.producers import produced_files
from tests.reference.tools import run_tool
from tests.seeded.bases import BASES

_A_PACKAGE: Final = 16
_A_FILE: Final = 4
_LEAST_PT: Final = 57.0  # 20 mm: cells of a millimetre say nothing of less


@dataclass(frozen=True, slots=True)
class Wanted:
    """Pages of a file. name: how the list of differences calls it."""

    name: str
    path: Path
    pages: tuple[int, ...]


def all_pages(scratch: Path) -> list[Wanted]:
    """All pages of the comparison; scratch: where artwork is made."""
    return [*made_pages(scratch), *_of_producers(), *_of_corpus(slow=True)]


def sample_pages(scratch: Path) -> list[Wanted]:
    """All that is made, the smaller corpus, and of each package of the larger one two pages.

    These are the first pages of the first and the middle one of its files that would be compared. Beside them
    stand all pages that are named as different.
    """
    chosen: dict[tuple[str, int], Path] = {}
    packages = defaultdict[str, list[Wanted]](list)
    for each in _of_corpus(slow=True):
        packages[each.name.partition("/")[0]].append(each)
        chosen.update(
            {(each.name, page): each.path for page in each.pages if (each.name, page) in DIFFERENCES}
        )
    for each in _of_corpus(slow=False):
        chosen.update({(each.name, page): each.path for page in each.pages})
    for files in packages.values():
        chosen.update({(each.name, each.pages[0]): each.path for each in files[:: -(-len(files) // 2)]})
    real = [Wanted(name, path, (page,)) for (name, page), path in chosen.items()]
    return [*made_pages(scratch), *_of_producers(), *real]


def some_pages(count: int) -> list[Wanted]:
    """About so many, spread over the smaller corpus and the producers' files."""
    real = [
        Wanted(each.name, each.path, each.pages[:1]) for each in _of_corpus(slow=False)
    ]  # one page a file is enough here
    kept = max(1, count - len(BASES))
    return [*_bases(), *real[:: max(1, len(real) // kept)][:kept]]


def made_pages(scratch: Path) -> Iterator[Wanted]:
    """The demonstration's pieces, as they come out of its own code."""
    fonts = faces()
    for piece in pieces():
        if not piece.name.endswith(".pdf"):
            continue
        path = scratch / f"{piece.printer}-{piece.name}"
        path.write_bytes(piece.make(fonts))
        if numbers := _sheets(path):
            yield Wanted(f"demo/{path.name}", path, _spread(numbers))


def _of_producers() -> Iterator[Wanted]:
    for path in produced_files():
        yield Wanted(f"producers/{path.name}", path, (1,))
    yield from _bases()


def _bases() -> Iterator[Wanted]:
    for base in BASES:
        yield Wanted(f"seeded/{base.name}.pdf", base.path, (1,))


def _of_corpus(*, slow: bool) -> Iterator[Wanted]:
    """Of each package its files' first pages, spread over all of them; then more of its larger files."""
    packages = defaultdict[str, list[tuple[str, Path, tuple[int, ...]]]](list)
    for file in corpus_files(slow=slow):
        path = corpus_folder() / file.name
        if path.suffix.lower() == ".pdf" and problems_with(file) is None and (numbers := _sheets(path)):
            packages[file.package].append((file.name, path, numbers))
    seen: set[bytes] = set()
    for files in packages.values():
        chosen = files[:: -(-len(files) // _A_PACKAGE)]
        each = min(_A_FILE, max(1, _A_PACKAGE // len(chosen)))
        for name, path, numbers in chosen:
            kept = tuple(_kept(path, _spread(numbers, each), seen))
            if kept:
                yield Wanted(name, path, kept)


def _kept(path: Path, numbers: tuple[int, ...], seen: set[bytes]) -> Iterator[int]:
    """The pages that hold their fonts and were not seen before: some files lie there under several locks."""
    with pikepdf.open(path) as pdf:
        for number in numbers:
            content = _content(pdf.pages[number - 1])
            if content not in seen and _holds_its_fonts(path, number):
                yield number
            seen.add(content)


def _content(page: pikepdf.Page) -> bytes:
    """What a page draws, as it stands: its own instructions and the pictures and forms that it names."""
    digest = hashlib.sha256()
    contents = page.obj.get("/Contents")
    parts = list(contents) if isinstance(contents, pikepdf.Array) else [contents]
    named = page.resources.get("/XObject") if "/Resources" in page.obj else None
    drawn = list(named.values()) if isinstance(named, pikepdf.Dictionary) else []
    for part in (*parts, *drawn):
        if isinstance(part, pikepdf.Stream):
            digest.update(part.read_raw_bytes())
    return digest.digest()


def _spread(numbers: tuple[int, ...], most: int = _A_FILE) -> tuple[int, ...]:
    """Some of the page numbers, the first among them."""
    if len(numbers) <= most:
        return numbers
    return tuple(numbers[place * len(numbers) // most] for place in range(most))


def _sheets(path: Path) -> tuple[int, ...]:
    """The numbers of a file's pages that are sheets, and no icons of a few square millimetres.

    None where it cannot be opened or its pages have no size, which is compared elsewhere.
    """
    try:
        with pikepdf.open(path) as pdf:
            return tuple(number for number, page in enumerate(pdf.pages, start=1) if _is_sheet(page.mediabox))
    except (pikepdf.PdfError, pikepdf.PasswordError, AttributeError):
        return ()


def _holds_its_fonts(path: Path, number: int) -> bool:
    """Whether the file brings all fonts of a page: the column `emb` of `pdffonts`, counted from the end."""
    rows = run_tool("pdffonts", "-f", str(number), "-l", str(number), str(path)).text.splitlines()[2:]
    return all(row.split()[-5] == "yes" for row in rows)


def _is_sheet(media_box: pikepdf.Object) -> bool:
    x0, y0, x1, y1 = (float(side) for side in media_box)
    return min(abs(x1 - x0), abs(y1 - y0)) >= _LEAST_PT


def number_of(wanted: Iterable[Wanted]) -> int:
    """How many pages are wanted."""
    return sum(len(each.pages) for each in wanted)
