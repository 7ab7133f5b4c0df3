"""Walks the page tree (ISO 32000-2, 7.7.3), also where it is damaged.

qpdf's own list of pages is not used: it repairs the tree while it reads (a page without a media box
becomes a Letter page), and what it repaired would be reported as what the file says.
"""

from collections.abc import Iterator
from typing import Final

import pikepdf

from hotfolder.model.facts import Problem, ProblemKind
from hotfolder.pdf.objects.document_limits import PAGE_TREE_DEPTH, PAGE_TREE_NODES, PAGES
from hotfolder.pdf.objects.reading import entry, identity, items, name, whole

_WHERE: Final = "pages"
_NO_MORE: Final = object()


class PageTree:
    """The pages of a document in order, and the problems of the page tree."""

    def __init__(self, pdf: pikepdf.Pdf) -> None:
        self.problems: list[Problem] = []
        root = entry(pdf.Root, "/Pages")
        self.pages: tuple[pikepdf.Dictionary, ...] = tuple(self._walk(root))
        declared = whole(entry(root, "/Count"))
        if declared != len(self.pages) and not self.problems:
            what = f"the file declares {declared} pages, {len(self.pages)} were found"
            self._tell(what, ProblemKind.DAMAGED)

    def _walk(self, root: object) -> Iterator[pikepdf.Dictionary]:
        """The pages below `root`, depth first; the nodes between root and page lie on a stack."""
        page_count, visited = 0, 0
        stack: list[tuple[str, Iterator[object]]] = [("", iter((root,)))]
        while stack:
            kid = next(stack[-1][1], _NO_MORE)
            if kid is _NO_MORE:
                stack.pop()
                continue
            visited += 1
            if visited > PAGES + PAGE_TREE_NODES or len(stack) > PAGE_TREE_DEPTH or page_count == PAGES:
                self._tell(f"reading stopped after {page_count} pages", ProblemKind.LIMIT)
                return
            if not isinstance(kid, pikepdf.Dictionary):
                self._tell("a page is missing from the file", ProblemKind.DAMAGED)
            elif _is_page(kid):
                page_count += 1
                yield kid
            elif (key := identity(kid) or "") in [above for above, _ in stack if above]:
                self._tell("the list of pages runs in a circle; the circle was cut", ProblemKind.DAMAGED)
            else:
                stack.append((key, items(entry(kid, "/Kids"), PAGES + PAGE_TREE_NODES)))

    def _tell(self, what: str, kind: ProblemKind) -> None:
        problem = Problem(_WHERE, what, kind)
        if problem not in self.problems:
            self.problems.append(problem)


def _is_page(node: pikepdf.Dictionary) -> bool:
    """Whether a node is a page: by its Type, or, where that is neither Page nor Pages, by lacking Kids."""
    match name(entry(node, "/Type")):
        case "Page":
            return True
        case "Pages":
            return False
        case _:
            return not isinstance(entry(node, "/Kids"), pikepdf.Array)
