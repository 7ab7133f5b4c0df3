"""What the demonstration shows: a board that changes on a terminal, plain lines elsewhere, then a table."""

import os
import shlex
import sys
import time
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Final

from rich import box
from rich.console import Console, Group, RenderableType
from rich.live import Live
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from hotfolder.config.studio import Studio
from hotfolder.demo.artwork.pieces import DemoPiece
from hotfolder.demo.day import ORIGINALS, OVER, PieceStage
from hotfolder.demo.result import PieceResult
from hotfolder.model.findings import Verdict
from hotfolder.wording.folding import folded
from hotfolder.wording.shown import shown_name

_NARROW: Final = 80  # columns; below, what stands side by side goes one below the other
_STYLES: Final = {
    PieceStage.MAKING: "dim",
    PieceStage.READY: "bold green",
    PieceStage.NEEDS_FIXING: "bold red",
}


class DemoScreen:
    """Talks to whoever started the demonstration."""

    def __init__(self, studio: Studio) -> None:
        self._studio = studio
        self._console = Console(highlight=False)
        self._began_s = time.monotonic()
        self._shown: dict[DemoPiece, PieceStage] = {}
        self._live: Live | None = None

    def begin(self, pieces: Sequence[DemoPiece]) -> None:
        """Say what there is, and what is going to happen."""
        studio = self._studio
        self._line(f"A studio was set up in {_short(studio.root)}: {studio.name}.", "bold")
        for printer in studio.printers:
            self._folded(f"  {printer.name + '/inbox':<22}  {printer.title}, judged by {printer.rules}")
            for product in printer.products:
                self._folded(
                    f"  {printer.name + '/inbox/' + product.name:<22}  the same printer, by {product.rules}"
                )
        self._line(
            f"{len(pieces)} files are now being made and dropped into the inboxes; the daemon is running.\n"
        )

    @contextmanager
    def board(self) -> Iterator[None]:
        """While this lasts, `show` changes a board in its place; on no terminal there is none."""
        if not self._console.is_terminal:
            yield
            return
        with Live(console=self._console, refresh_per_second=10, transient=True) as self._live:
            yield
        self._live = None

    def show(self, stages: Mapping[DemoPiece, PieceStage]) -> None:
        """Where each piece is now."""
        if self._live is not None:
            self._live.update(_board(stages, self._console.width))
        else:
            for piece, stage in stages.items():
                if self._shown.get(piece) is not stage and stage is not PieceStage.MAKING:
                    seconds = time.monotonic() - self._began_s
                    self._folded(f"{seconds:6.1f} s  {_dropped_as(piece)}: {stage.value}")
        self._shown.update(stages)

    def end(self, results: Sequence[PieceResult], record: Sequence[str], troubles: Sequence[str]) -> None:
        """The table of verdicts, whether all came as expected, and where to look."""
        self._console.print(_list(results) if self._console.width < _NARROW else _table(results))
        self._reports([result.page for result in results if result.page is not None])
        root, command = shlex.quote(_short(self._studio.root)), _command()
        faulty = next((each.piece for each in results if each.verdict is Verdict.NEEDS_FIXING), None)
        self._line("\nTo try:", "bold")
        if faulty is not None:
            name = shlex.quote(faulty.name)
            self._command(f"{command} audit", root, name)
            self._command(f"{command} release", root, name, "--by 'your name'", "--reason 'why'")
        self._command(f"{command} run", root)
        self._folded(f"    then drop files into an inbox, such as those in {root}/{ORIGINALS}")
        self._line("\nThe audit log:", "bold")
        for line in record:
            self._line(f"  {line}")
        seconds = time.monotonic() - self._began_s
        if not troubles:
            self._line(f"\nAll {len(results)} files came out as expected, in {seconds:.0f} seconds.", "bold")
        for trouble in troubles:
            self._line(f"Not as expected: {trouble}", "bold red")

    def _line(self, text: str, style: str = "", *, soft: bool = False) -> None:
        self._console.print(Text(text, style), soft_wrap=soft)

    def _folded(self, text: str) -> None:
        for line in folded(text, self._width):
            self._line(line, soft=True)

    @property
    def _width(self) -> int:
        """Columns to fold to; off a terminal lines stay whole, unless the environment names a width."""
        known = self._console.is_terminal or "COLUMNS" in os.environ
        return self._console.width if known else sys.maxsize

    def _command(self, *words: str) -> None:
        """A command to copy: where it is too long for a line, the shell is told that it goes on."""
        lines = [f"  {words[0]}"]
        for word in words[1:]:
            if len(f"{lines[-1]} {word} \\") <= self._width:
                lines[-1] += f" {word}"
            else:
                lines[-1] += " \\"
                lines.append(f"      {word}")
        for line in lines:
            self._line(line, soft=True)

    def _reports(self, pages: Sequence[Path]) -> None:
        """Where the reports are, a path a line; on a narrow terminal their names under their folders."""
        self._line("Reports to open in a browser:", "bold")
        if self._width >= _NARROW:
            for page in pages:
                self._path(page, f"  {shown_name(_short(page))}")
            return
        for folder in dict.fromkeys(page.parent for page in pages):
            self._line(f"  {shown_name(_short(folder))}/", soft=True)
            for page in pages:
                if page.parent == folder:
                    self._path(page, f"    {shown_name(page.name)}")

    def _path(self, path: Path, shown: str) -> None:
        text = Text(shown)
        text.stylize(f"link {path.as_uri()}")
        self._console.print(text, soft_wrap=True)


def _board(stages: Mapping[DemoPiece, PieceStage], width: int) -> Table:
    """A line for each piece; two where the terminal is too narrow for name and stage side by side."""
    board = Table(box=None, show_header=False, padding=(0, 2, 0, 0))
    for piece, stage in stages.items():
        moving = "" if stage in OVER or stage is PieceStage.MAKING else "> "
        shown = Text(moving + stage.value, _STYLES.get(stage, ""))
        if width < _NARROW:
            board.add_row(Text.assemble(_dropped_as(piece), "\n  ", shown))
        else:
            board.add_row(_dropped_as(piece), shown)
    return board


def _list(results: Sequence[PieceResult]) -> Group:
    """The same as the table, one below the other, for a narrow terminal."""
    parts: list[RenderableType] = []
    for result in results:
        verdict = _verdict(result.verdict)
        if result.differs:
            verdict.append(", not as expected", "bold red")
        below = [verdict, Text(result.piece.what)]
        if result.first_finding:
            below.append(Text(f"> {result.first_finding}", "dim"))
        parts.append(Text(_dropped_as(result.piece), "bold"))
        parts += [Padding(text, (0, 0, 0, 2), expand=False) for text in below]
        parts.append(Text(""))
    return Group(*parts)


def _table(results: Sequence[PieceResult]) -> Table:
    table = Table(box=box.SIMPLE_HEAD, show_edge=False, padding=(0, 1, 0, 0))
    table.add_column("Verdict", no_wrap=True)
    table.add_column("Expected", no_wrap=True)
    table.add_column("Dropped")
    for result in results:
        what = Text.assemble((_dropped_as(result.piece), "bold"), f"\n{result.piece.what}")
        if result.first_finding:
            what.append(f"\n> {result.first_finding}", "dim")
        what.append("\n")
        table.add_row(_verdict(result.verdict), Text("no", "bold red") if result.differs else "yes", what)
    return table


def _verdict(verdict: Verdict | None) -> Text:
    if verdict is None:
        return Text("none", "bold red")
    stage = PieceStage.READY if verdict is Verdict.READY else PieceStage.NEEDS_FIXING
    return Text(stage.value, _STYLES[stage])


def _dropped_as(piece: DemoPiece) -> str:
    return shown_name(f"{piece.inbox}/{piece.name}")


def _short(path: Path) -> str:
    """`path` from the working folder, where that is shorter."""
    here = Path.cwd()
    return str(path.relative_to(here)) if path.is_relative_to(here) and path != here else str(path)


def _command() -> str:
    """How this program was called, to be called again."""
    called = Path(sys.argv[0])
    return (
        f"{shlex.quote(sys.executable)} -m hotfolder" if called.suffix == ".py" else shlex.quote(sys.argv[0])
    )
