# Presses on the command line: the list of them, and `measure --press`.
from pathlib import Path

import pytest

from hotfolder.commands import measure as measure_command
from hotfolder.commands.measure import measure_file
from hotfolder.commands.presses import list_presses
from hotfolder.errors import ConfigError
from hotfolder.model.press import Press
from hotfolder.presses.loading import conditions_without_profile, shipped_presses
from hotfolder.report.as_json.strict import JsonObject
from tests.journeys.real_studio import run_hotfolder


def test_the_list_tells_name_title_total_ink_and_origin_of_each_press() -> None:
    lines = list_presses().splitlines()
    for press in shipped_presses():
        at = lines.index(press.name)
        assert press.title in lines[at + 1]
        assert f"{press.total_ink_percent:g} % of ink at most" in lines[at + 2]
        assert lines[at + 3].strip() == press.origin
    known_by_name = {line.split("  ")[1] for line in lines if line.startswith("  ")}
    assert {press.name for press in conditions_without_profile()} <= known_by_name


def test_the_command_prints_the_list() -> None:
    done = run_hotfolder("presses")
    assert done.returncode == 0
    # Long lines are folded to the terminal's width; the words are the same.
    assert done.stdout.split() == list_presses().split()


def test_an_unknown_press_is_wrong_use_and_suggests_the_nearest(tmp_path: Path) -> None:
    file = tmp_path / "a.pdf"
    file.write_bytes(b"%PDF-1.7")
    done = run_hotfolder("measure", file, "--press", "coatd")
    assert done.returncode == 2
    assert "Did you mean 'coated'?" in done.stderr
    assert done.stdout == ""


@pytest.mark.parametrize(("words", "name"), [(None, None), ("FOGRA39", "coated"), ("FOGRA51", "FOGRA51")])
def test_measure_gives_its_press_to_the_child(
    words: str | None, name: str | None, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    given: list[Press | None] = []

    def child(_file: Path, _folder: Path, _supervisor: object, press: Press | None) -> JsonObject:
        given.append(press)
        return {}

    monkeypatch.setattr(measure_command, "measure_file_in_child", child)
    assert measure_file(tmp_path / "a.pdf", words, as_json=True) == 0
    assert [press.name if press else None for press in given] == [name]


def test_measure_refuses_what_is_no_press_before_anything_is_read(tmp_path: Path) -> None:
    with pytest.raises(ConfigError):
        measure_file(tmp_path / "gone.pdf", "no such condition", as_json=True)
