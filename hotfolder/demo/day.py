"""The day of the demonstration: pieces are made and dropped, and where each of them is can be seen."""

import time
from collections.abc import Mapping
from concurrent.futures import Future, ThreadPoolExecutor
from enum import Enum
from pathlib import Path
from typing import Final

from hotfolder.config.studio import Studio
from hotfolder.demo.artwork.festival import faces
from hotfolder.demo.artwork.pieces import DemoPiece
from hotfolder.desk.closed_jobs import ClosedJob, closed_jobs
from hotfolder.model.findings import Verdict
from hotfolder.store.refusals import refusals

ORIGINALS: Final = "artwork"
_SLOW_PARTS: Final = 8
_SLOW_PAUSE_S: Final = 0.25


class PieceStage(Enum):
    """How far a piece is."""

    MAKING = "is being made"
    COPYING = "copied in, bit by bit"
    WAITING = "waits in the inbox"
    MEASURING = "taken, being measured"
    READY = "ready"
    NEEDS_FIXING = "needs fixing"


OVER: Final = frozenset({PieceStage.READY, PieceStage.NEEDS_FIXING})


class DemoDay:
    """Drops the pieces into the studio's inboxes, as designers would, and looks where they are."""

    def __init__(self, studio: Studio, pieces: tuple[DemoPiece, ...]) -> None:
        self._studio = studio
        self._pieces = pieces
        self._dropped: dict[DemoPiece, PieceStage] = {}
        self._hands = ThreadPoolExecutor(max_workers=2, thread_name_prefix="designer")
        self._work: list[Future[None]] = []

    def begin(self) -> None:
        """Start to make and drop the pieces; what goes wrong with that is raised by `look`."""
        self._work.append(self._hands.submit(self._make_all))

    def look(self) -> Mapping[DemoPiece, PieceStage]:
        """Where each piece is, by what lies in the folders and stands in the audit log."""
        for work in self._work:
            if work.done():
                work.result()
        closed = self.closed()
        return {piece: self._stage(piece, closed.get(piece)) for piece in self._pieces}

    def closed(self) -> Mapping[DemoPiece, ClosedJob]:
        """The jobs that came to their end, by piece."""
        jobs = {(job.printer, job.product, job.name): job for job in closed_jobs(self._studio.audit).values()}
        by_piece = {piece: jobs.get((piece.printer, piece.product, piece.name)) for piece in self._pieces}
        return {piece: job for piece, job in by_piece.items() if job is not None}

    def close(self) -> None:
        """Drop nothing more."""
        self._hands.shutdown(cancel_futures=True)

    def _stage(self, piece: DemoPiece, closed: ClosedJob | None) -> PieceStage:
        if closed is not None:
            return PieceStage.READY if closed.verdict is Verdict.READY else PieceStage.NEEDS_FIXING
        dropped = self._dropped.get(piece, PieceStage.MAKING)
        if dropped is not PieceStage.WAITING:
            return dropped
        return PieceStage.WAITING if self._place(piece).exists() else PieceStage.MEASURING

    def _place(self, piece: DemoPiece) -> Path:
        return self._studio.root / piece.inbox / piece.name

    def _make_all(self) -> None:
        fonts = faces()
        for piece in self._pieces:
            data = piece.make(fonts)
            original = self._studio.root / ORIGINALS / piece.name
            original.parent.mkdir(exist_ok=True)
            original.write_bytes(data)
            if piece.slowly:
                self._work.append(self._hands.submit(self._drop, piece, data, _SLOW_PARTS))
            else:
                self._drop(piece, data, 1)

    def _drop(self, piece: DemoPiece, data: bytes, parts: int) -> None:
        """Copy into the inbox in so many parts, with a pause between two."""
        self._dropped[piece] = PieceStage.COPYING
        place = self._place(piece)
        size = -(-len(data) // parts)
        with refusals("copying", place), place.open("xb", buffering=0) as file:
            for start in range(0, len(data), size):
                if start:
                    time.sleep(_SLOW_PAUSE_S)
                file.write(data[start : start + size])
        self._dropped[piece] = PieceStage.WAITING
