"""What ends the drawing of a page takes nothing from the other pages, and leaves the judging."""

import faulthandler
import json
import os
import signal
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pikepdf
import pytest

from hotfolder.children.orders import ExamineOrder, MeasureOrder
from hotfolder.drawing import PlateDrawer
from hotfolder.model.facts import Unmeasured
from hotfolder.model.jobs import FileToExamine
from hotfolder.model.plates import PagePlates
from hotfolder.rulebook import load_named_rule_set
from hotfolder.workshop import workshop

_NOT_KNOWN = "how the inks lie on paper is not known: "


def _crash() -> None:
    faulthandler.disable()  # a crash that is meant is not worth a page of the test log
    os.kill(os.getpid(), signal.SIGSEGV)


def _for_ever() -> None:
    while True:
        pass


def _file(folder: Path, pages: int) -> Path:
    pdf = pikepdf.new()
    for number in range(pages):
        page = pdf.add_blank_page(page_size=(300, 300))
        page.obj.Contents = pdf.make_stream(f"0 0 0 1 k {20 * number} 20 100 100 re f".encode())
        page.obj.TrimBox = pikepdf.Array([10, 10, 290, 290])
    pdf.save(folder / "pages.pdf")
    return folder / "pages.pdf"


def _at_page(monkeypatch: pytest.MonkeyPatch, broken: set[int], work: Callable[[], None]) -> None:
    draw = PlateDrawer.draw

    def drawn(self: PlateDrawer, page_number: int) -> PagePlates | Unmeasured:
        if page_number in broken:
            work()
        return draw(self, page_number)

    monkeypatch.setattr(PlateDrawer, "draw", drawn)


def _measured(folder: Path, pages: int) -> list[Any]:
    """The ink of each page, as the facts tell it; None where it is not known."""
    press = load_named_rule_set("flyer-offset-coated", None).press
    workshop.measure_only(MeasureOrder(_file(folder, pages), "pages.pdf", folder, press))
    read = json.loads((folder / "artwork.json").read_text())
    return [page["ink"] for page in read["pages"]]


def _examined(folder: Path, pages: int) -> dict[str, Any]:
    rules = load_named_rule_set("flyer-offset-coated", None)
    path = _file(folder, pages)
    workshop.examine(ExamineOrder(FileToExamine(path, path.name, folder), rules, with_page=True))
    assert (folder / "report.html").is_file()
    read: dict[str, Any] = json.loads((folder / "report.json").read_text())
    return read


def _open_inks(report: dict[str, Any]) -> set[tuple[int | None, str]]:
    """Pages, and why their inks are not known; None for all pages."""
    reasons = ((unjudged.get("page"), unjudged["reason"]) for unjudged in report["unjudged"])
    return {(page, reason.removeprefix(_NOT_KNOWN)) for page, reason in reasons if _NOT_KNOWN in reason}


def test_only_the_page_that_brings_the_renderer_down_is_without_inks(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    _at_page(monkeypatch, {2}, _crash)
    first, second, third = _measured(tmp_path, 3)
    assert second is None
    for ink in (first, third):
        assert list(ink["plates"]) == ["Black"]


def test_a_page_that_was_not_drawn_is_told_in_the_report_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    _at_page(monkeypatch, {2}, _crash)
    assert _open_inks(_examined(tmp_path, 3)) == {
        (2, "the page was not drawn: too heavy, it ended by SIGSEGV")
    }


def test_facts_of_a_finished_page_are_those_of_a_page_that_nothing_comes_after(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = _measured(tmp_path, 3)
    _at_page(monkeypatch, {3}, _crash)
    assert _measured(tmp_path, 3)[:2] == whole[:2]


def test_a_page_that_takes_all_the_time_takes_nothing_from_those_before(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(workshop, "CPU_SECONDS", 7)
    _at_page(monkeypatch, {2}, _for_ever)
    reasons = dict(_open_inks(_examined(tmp_path, 3)))
    assert reasons.keys() == {2, 3}
    assert reasons[2].startswith("the page was not drawn: too heavy, it took more than ")
    assert reasons[3].startswith("its pages were not drawn: too heavy, it took more than ")


def test_a_file_of_which_each_page_brings_the_renderer_down_is_given_up(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    _at_page(monkeypatch, set(range(1, 9)), _crash)
    reasons = " ".join(reason for _, reason in _open_inks(_examined(tmp_path, 8)))
    assert "the page was not drawn: too heavy, it ended by SIGSEGV" in reasons
    assert "its pages were not drawn: too heavy, it ended by SIGSEGV" in reasons


def test_what_breaks_after_all_pages_are_drawn_costs_the_pictures_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(workshop, "page_proofs", lambda *_: _crash())
    assert _open_inks(_examined(tmp_path, 2)) == set()


def test_where_reading_takes_all_the_time_no_page_is_drawn_and_all_else_is_judged(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(workshop, "CPU_SECONDS", 5)
    report = _examined(tmp_path, 2)
    assert any("reading the file took 0 s of processor time" in reason for _, reason in _open_inks(report))
    assert report["findings"]


def test_pages_that_there_is_no_time_to_read_are_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(workshop, "READING_SECONDS", 0)
    report = _examined(tmp_path, 2)
    reasons = " ".join(unjudged["reason"] for unjudged in report["unjudged"])
    assert "took 0 s of processor time; it was not read" in reasons
