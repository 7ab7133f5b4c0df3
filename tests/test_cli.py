"""The command line as programs and newcomers meet it: exit codes, JSON, help, suggestions."""

import json
import re
import shlex
from pathlib import Path

import click
import pytest

from hotfolder.cli import cli
from tests.journeys.real_studio import office_pdf, run_hotfolder

README = Path(__file__).parent.parent / "README.md"


def commands(group: click.Group, path: tuple[str, ...] = ()) -> list[tuple[tuple[str, ...], click.Command]]:
    found: list[tuple[tuple[str, ...], click.Command]] = []
    for name, command in group.commands.items():
        found.append(((*path, name), command))
        if isinstance(command, click.Group):
            found += commands(command, (*path, name))
    return found


COMMANDS = dict(commands(cli))


def parses(words: list[str]) -> bool:
    """Whether the command line takes these words, as far as it can say without running anything."""
    context = click.Context(cli, info_name="hotfolder")
    group: click.Group = cli
    while words and isinstance(group.get_command(context, words[0]), click.Command):
        command = group.get_command(context, words.pop(0))
        if not isinstance(command, click.Group) or not words:
            assert command is not None
            for parameter in command.params:
                if isinstance(parameter.type, click.Path):
                    parameter.type.exists = False
            command.make_context("hotfolder", words)
            return True
        group = command
    return False


@pytest.mark.parametrize("path", COMMANDS, ids=" ".join)
def test_each_help_is_short_and_ends_with_an_example_that_parses(path: tuple[str, ...]) -> None:
    done = run_hotfolder(*path, "--help")
    lines = done.stdout.rstrip().splitlines()
    assert done.returncode == 0
    assert len(lines) <= 24
    assert lines[-2].strip() == "Example:"
    words = shlex.split(lines[-1].partition(" > ")[0])
    assert words[:1] == ["hotfolder"]
    assert tuple(words[1 : 1 + len(path)]) == path
    assert parses(words[1:])


def test_every_command_that_the_readme_shows_parses() -> None:
    text = README.read_text()
    shown = re.findall(r"(?:^|`|\$ |/bin/)(hotfolder [a-z][^`\n|>&]*)", text, re.MULTILINE)
    assert len(shown) >= 12
    for line in shown:
        words = shlex.split(line)[1:]
        assert words[0] in cli.commands, line
        if len(words) > 1:  # a bare name only speaks of the command
            assert parses(words), line


@pytest.mark.parametrize(
    ("words", "near"),
    [
        (("chek", "x.pdf"), "check"),
        (("rules", "shw"), "show"),
        (("rules", "explain", "bleeed"), "bleed"),
        (("rules", "show", "flyer-ofset-coated"), "flyer-offset-coated"),
    ],
)
def test_an_unknown_name_suggests_the_nearest_and_is_wrong_use(words: tuple[str, ...], near: str) -> None:
    done = run_hotfolder(*words)
    assert done.returncode == 2
    assert near in done.stderr
    assert "Traceback" not in done.stderr


@pytest.fixture
def good(tmp_path: Path) -> Path:
    path = tmp_path / "good.pdf"
    path.write_bytes(office_pdf("good"))
    return path


@pytest.fixture
def bad(tmp_path: Path) -> Path:
    path = tmp_path / "bad.pdf"
    path.write_bytes(b"no PDF")
    return path


def test_check_says_0_for_ready_and_1_for_needs_fixing(good: Path, bad: Path) -> None:
    assert run_hotfolder("check", good, "--rules", "office-pdf").returncode == 0
    assert run_hotfolder("check", bad, "--rules", "office-pdf").returncode == 1
    assert run_hotfolder("check", good, bad, "--rules", "office-pdf").returncode == 1


@pytest.mark.parametrize(
    "words",
    [
        ("--rules", "no-such-set"),
        ("--rules", "no/such/path.toml"),
        (),
        ("--rules", "office-pdf", "--nonsense"),
    ],
)
def test_check_says_2_for_wrong_use(good: Path, words: tuple[str, ...]) -> None:
    assert run_hotfolder("check", good, *words).returncode == 2


def test_check_of_a_file_that_is_not_there_is_wrong_use(tmp_path: Path) -> None:
    assert run_hotfolder("check", tmp_path / "gone.pdf", "--rules", "office-pdf").returncode == 2


def test_a_mistake_in_a_rule_set_is_told_with_file_line_and_key(good: Path, tmp_path: Path) -> None:
    own = tmp_path / "own.toml"
    own.write_text('title = "Own"\nsource = "test"\nextends = "office-pdf"\n\n[bleed]\nwanted = "3"\n')
    done = run_hotfolder("check", good, "--rules", own)
    assert done.returncode == 2
    assert f"{own}:6: bleed.wanted" in done.stderr
    assert "'3 mm'" in done.stderr


def test_check_prints_one_object_for_one_file_and_one_a_line_for_several(good: Path, bad: Path) -> None:
    one = json.loads(run_hotfolder("check", good, "--rules", "office-pdf", "--json").stdout)
    assert one["schema"] == "hotfolder-report/1"
    assert one["verdict"] == "ready"
    lines = run_hotfolder("check", good, bad, "--rules", "office-pdf", "--json").stdout.splitlines()
    several = [json.loads(line) for line in lines]
    assert one == several[0] | {"made_at": one["made_at"]}
    assert [(report["file"]["name"], report["verdict"]) for report in several] == [
        ("good.pdf", "ready"),
        ("bad.pdf", "needs-fixing"),
    ]


def test_check_writes_reports_where_asked_and_overwrites_nothing(
    good: Path, bad: Path, tmp_path: Path
) -> None:
    folder = tmp_path / "reports"
    done = run_hotfolder("check", good, bad, "--rules", "office-pdf", "--report", folder)
    assert done.returncode == 1
    names = [f"{name}.pdf.report{ending}" for name in ("bad", "good") for ending in (".html", ".json")]
    assert sorted(path.name for path in folder.iterdir()) == names
    assert all(str(folder / name) in done.stdout for name in names)
    page = (folder / "good.pdf.report.html").read_text()
    assert "data:image/" in page  # the marked page
    assert json.loads((folder / "bad.pdf.report.json").read_text())["verdict"] == "needs-fixing"

    (folder / "good.pdf.report.json").unlink()
    again = run_hotfolder("check", good, "--rules", "office-pdf", "--report", folder, "--json")
    assert json.loads(again.stdout)["verdict"] == "ready"
    assert str(folder / "good.pdf.report (2).html") in again.stderr
    assert (folder / "good.pdf.report.html").read_text() == page
    assert (folder / "good.pdf.report (2).json").is_file()


@pytest.fixture
def studio(tmp_path: Path) -> Path:
    root = tmp_path / "studio"
    assert run_hotfolder("init", root).returncode == 0
    own = 'title = "Quay, leaflets"\nsource = "a call"\nextends = "office-pdf"\n\n[bleed]\nwanted = "2 mm"\n'
    (root / "rules" / "quay-leaflets.toml").write_text(own)
    return root


def test_a_studios_own_rule_sets_are_found(studio: Path, good: Path) -> None:
    shown = run_hotfolder("rules", "show", "quay-leaflets", "--studio", studio)
    assert shown.stdout.startswith("quay-leaflets: Quay, leaflets\n")
    assert run_hotfolder("rules", "--studio", studio, "show", "quay-leaflets").stdout == shown.stdout
    assert run_hotfolder("rules", "show", "quay-leaflets").returncode == 2
    assert "quay-leaflets             Quay, leaflets" in run_hotfolder("rules", "--studio", studio).stdout
    explained = run_hotfolder("rules", "explain", "bleed", "--studio", studio).stdout
    assert "quay-leaflets (must fix)" in explained
    assert "wanted: 2 mm" in explained
    checked = run_hotfolder("check", good, "--rules", "quay-leaflets", "--studio", studio)
    assert "by quay-leaflets" in checked.stdout
    assert run_hotfolder("check", good, "--rules", "office-pdf", "--studio", good.parent).returncode == 2


def test_measure_prints_facts_and_no_judgement(good: Path, bad: Path) -> None:
    facts = json.loads(run_hotfolder("measure", good, "--json").stdout)
    assert facts["schema"] == "hotfolder-artwork/1"
    assert [page["boxes"]["trim"] for page in facts["pages"]] == [
        pytest.approx([0, 0, 595.28, 841.89], abs=0.01)
    ]
    unreadable = run_hotfolder("measure", bad, "--json")
    assert unreadable.returncode == 0
    assert json.loads(unreadable.stdout)["pages"] is None


def test_check_leaves_the_file_as_it_was(good: Path) -> None:
    before = (good.read_bytes(), good.stat().st_mtime_ns, sorted(good.parent.iterdir()))
    run_hotfolder("check", good, "--rules", "flyer-offset-coated")
    assert (good.read_bytes(), good.stat().st_mtime_ns, sorted(good.parent.iterdir())) == before
