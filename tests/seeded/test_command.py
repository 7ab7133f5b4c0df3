# The command prints both tables, and ends with 1 where anything went wrong.
import pytest

from tests.seeded import __main__ as command
from tests.seeded.bases import BASES
from tests.seeded.faults import FAULTS
from tests.seeded.kinds import Fault, Told
from tests.seeded.look_alikes import LOOK_ALIKES


def run(monkeypatch: pytest.MonkeyPatch, *faults: Fault) -> int:
    monkeypatch.setattr(command, "BASES", BASES[:2])
    monkeypatch.setattr(command, "FAULTS", faults)
    monkeypatch.setattr(command, "LOOK_ALIKES", LOOK_ALIKES[:1])
    return command.main()


def test_all_as_due(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(monkeypatch, FAULTS[0]) == 0
    lines = [" ".join(line.split()) for line in capsys.readouterr().out.splitlines()]
    assert f"{FAULTS[0].name} {FAULTS[0].rule}.{FAULTS[0].code} 2 of 2" in lines
    assert f"{LOOK_ALIKES[0].name} {LOOK_ALIKES[0].rule} 2 of 2" in lines
    assert lines.count("1 kinds on 2 pages as due 2 of 2") == 2


def test_a_fault_that_is_not_found(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    nothing = Fault("nothing at all", "bleed", "not-drawn", lambda _: Told())
    assert run(monkeypatch, nothing) == 1
    out = capsys.readouterr().out
    assert "0 of 2" in out
    assert f"nothing at all, on {BASES[0].name}: bleed.not-drawn is told 0 times" in out
