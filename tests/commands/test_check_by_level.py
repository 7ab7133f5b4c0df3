# `hotfolder check --pdfx`: files held against a level of PDF/X, alone or beside a rule set.
import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from pikepdf import Encryption, Pdf
from PIL import Image

from hotfolder.checks.pdf.pdfx.judging import requirements_of
from hotfolder.checks.shared.pdfx_levels import Level
from hotfolder.cli import cli
from hotfolder.errors import UsageError
from tests.checks.pdf.pdfx.bases import base, saved


def run(*arguments: str | Path) -> Result:
    return CliRunner().invoke(cli, list(map(str, arguments)))


@pytest.fixture
def x3(tmp_path: Path) -> Path:
    path = tmp_path / "lantern-walk.pdf"
    path.write_bytes(saved(base(Level.X3_2003), Level.X3_2003))
    return path


@pytest.mark.parametrize("words", ["PDF/X-3:2003", "x-3:2003"])
def test_a_file_that_keeps_a_level_is_ready_and_says_how_much_of_it_was_judged(x3: Path, words: str) -> None:
    result = run("check", x3, "--pdfx", words)
    assert result.exit_code == 0
    assert f"{len(requirements_of(Level.X3_2003))} requirements of PDF/X-3:2003" in result.output


def test_each_requirement_that_is_broken_is_a_finding_of_its_own(x3: Path) -> None:
    result = run("check", x3, "--pdfx", "X-4", "--json")
    assert result.exit_code == 1
    report = json.loads(result.output)
    assert {finding["rule"] for finding in report["findings"]} == {"pdfx-level"}
    assert "wrong-identifier" in {finding["code"] for finding in report["findings"]}


def test_a_picture_is_no_file_of_a_level(tmp_path: Path) -> None:
    picture = tmp_path / "lantern.png"
    Image.new("RGB", (40, 40), "white").save(picture)
    result = run("check", picture, "--pdfx", "X-4")
    assert result.exit_code == 1
    assert "The file is no PDF" in result.output


def test_a_file_that_opens_only_with_a_password_breaks_each_level_by_that_alone(
    x3: Path, tmp_path: Path
) -> None:
    locked = tmp_path / "locked.pdf"
    with Pdf.open(x3) as pdf:
        pdf.save(locked, encryption=Encryption(owner="ours", user="theirs"))
    result = run("check", locked, "--pdfx", "X-3:2003", "--json")
    report = json.loads(result.output)
    assert result.exit_code == 1
    assert [finding["code"] for finding in report["findings"]] == ["encrypted"]
    assert report["findings"][0]["severity"] == "must-fix"
    assert len(report["unjudged"]) == 1


def test_beside_a_rule_set_the_level_stands_for_what_that_says_of_levels(x3: Path) -> None:
    result = run("check", x3, "--rules", "flyer-offset-coated", "--pdfx", "X-1a:2001", "--json")
    rules = {finding["rule"] for finding in json.loads(result.output)["findings"]}
    assert {"pdfx-level", "trim-size"} <= rules
    assert "pdfx-claim" not in rules


@pytest.mark.parametrize(
    ("words", "answer"),
    [
        ("X-6", "PDF/X-6 is recognised and not judged"),
        ("X-7", "there is no PDF/X level 'X-7'"),
        (None, "say what to judge by"),
    ],
)
def test_what_is_no_level_that_is_judged_is_refused(x3: Path, words: str | None, answer: str) -> None:
    result = run("check", x3, *(("--pdfx", words) if words is not None else ()))
    assert isinstance(result.exception, UsageError)
    assert answer in str(result.exception)
