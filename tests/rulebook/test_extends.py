# One rule set built on another: merged key by key, told by the file in which a value stands.
from pathlib import Path

import pytest

from hotfolder.checks.size.bleed import BleedSettings
from hotfolder.checks.size.trim_sizes.trim_settings import TrimSizeSettings
from hotfolder.errors import ConfigError, ConfigTrouble
from hotfolder.model.findings import Severity
from hotfolder.model.ruleset import RuleSet, RuleSettings
from hotfolder.rulebook import load_rule_set
from hotfolder.units import Length, parse_size

BASE = """\
title = "General"
source = "data sheet"
checked = 2026-11-25

[trim-size]
sizes = ["A4", "A5"]
tolerance = "1 mm"
severity.mixed = "advice"

[bleed]
wanted = "3 mm"
"""


def write(folder: Path, **files: str) -> None:
    for name, text in files.items():
        (folder / f"{name}.toml").write_text(text)


def settings_of(ruleset: RuleSet, rule: str) -> RuleSettings:
    return next(applied.settings for applied in ruleset.rules if applied.rule.id == rule)


def troubles_of(path: Path) -> tuple[ConfigTrouble, ...]:
    with pytest.raises(ConfigError) as caught:
        load_rule_set(str(path))
    return caught.value.troubles


def test_tables_are_merged_key_by_key(tmp_path: Path) -> None:
    own = 'title = "Cards"\nextends = "base"\n[trim-size]\nsizes = ["A6"]\nseverity.off = "off"\n'
    write(tmp_path, base=BASE, own=own)
    ruleset = load_rule_set(str(tmp_path / "own.toml"))
    trim = settings_of(ruleset, "trim-size")
    assert isinstance(trim, TrimSizeSettings)
    assert trim.sizes == (parse_size("A6"),)
    assert trim.tolerance == Length.of_mm(1)
    assert trim.severity == {"mixed": Severity.ADVICE, "off": Severity.OFF}
    bleed = settings_of(ruleset, "bleed")
    assert isinstance(bleed, BleedSettings)
    assert bleed.wanted == Length.of_mm(3)


def test_the_header_says_what_is_whose(tmp_path: Path) -> None:
    write(tmp_path, base=BASE, own='source = "a letter"\nextends = "base"\n', bare='extends = "base.toml"\n')
    own = load_rule_set(str(tmp_path / "own.toml"))
    assert own.title == "General"
    assert own.source == "a letter; where it says nothing, base: data sheet"
    assert own.checked is None  # the day belongs to the base's page
    assert load_rule_set(str(tmp_path / "bare.toml")).source == "base: data sheet"


def test_a_figure_answers_the_question_of_the_base(tmp_path: Path) -> None:
    write(tmp_path, base=BASE.replace('wanted = "3 mm"', "ask = true"))
    write(tmp_path, own='title = "Own"\nsource = "call"\nextends = "base.toml"\n[bleed]\nwanted = "2 mm"\n')
    ruleset = load_rule_set(str(tmp_path / "own.toml"))
    bleed = settings_of(ruleset, "bleed")
    assert isinstance(bleed, BleedSettings)
    assert (bleed.ask, bleed.wanted) == (False, Length.of_mm(2))
    assert ruleset.questions == ()


def test_a_weight_answers_no_question(tmp_path: Path) -> None:
    write(tmp_path, base=BASE.replace('wanted = "3 mm"', "ask = true"))
    own = 'title = "Own"\nsource = "call"\nextends = "base.toml"\n[bleed]\nseverity.not-drawn = "advice"\n'
    write(tmp_path, own=own)
    assert len(load_rule_set(str(tmp_path / "own.toml")).questions) == 1


def test_a_rule_can_be_taken_out(tmp_path: Path) -> None:
    write(tmp_path, base=BASE, own='extends = "base"\n[bleed]\napply = false\n')
    ruleset = load_rule_set(str(tmp_path / "own.toml"))
    assert [applied.rule.id for applied in ruleset.rules] == ["trim-size"]
    assert ruleset.product.bleed_pt == 0


def test_a_rule_that_was_taken_out_can_be_put_back(tmp_path: Path) -> None:
    write(
        tmp_path,
        base=BASE,
        middle='extends = "base"\n[bleed]\napply = false\n',
        own='extends = "middle"\n[bleed]\napply = true\n',
    )
    ruleset = load_rule_set(str(tmp_path / "own.toml"))
    assert [applied.rule.id for applied in ruleset.rules] == ["bleed", "trim-size"]


def test_a_mistake_is_told_in_the_file_where_it_stands(tmp_path: Path) -> None:
    base = BASE.replace('"3 mm"', '"3"')
    write(tmp_path, base=base, own='extends = "base"\n[bleed]\ntolerance = "x"\n[trim-size]\nsize = 1\n')
    assert [
        (trouble.file.stem, trouble.line, trouble.key) for trouble in troubles_of(tmp_path / "own.toml")
    ] == [
        ("base", 11, "bleed.wanted"),
        ("own", 3, "bleed.tolerance"),
        ("own", 5, "trim-size.size"),
    ]


def test_a_mistake_that_is_written_over_is_none(tmp_path: Path) -> None:
    write(tmp_path, base=BASE.replace('"3 mm"', '"3"'), own='extends = "base"\n[bleed]\nwanted = "2 mm"\n')
    assert load_rule_set(str(tmp_path / "own.toml")).product.bleed_pt == Length.of_mm(2).points


def test_a_circle_is_told_with_its_way(tmp_path: Path) -> None:
    write(tmp_path, a='extends = "b"\n', b='\nextends = "c.toml"\n', c='extends = "a"\n')
    (trouble,) = troubles_of(tmp_path / "a.toml")
    assert (trouble.file.stem, trouble.line, trouble.key) == ("c", 1, "extends")
    assert "a -> b -> c -> a" in trouble.problem


def test_a_set_that_extends_itself_is_told(tmp_path: Path) -> None:
    write(tmp_path, alone='extends = "./alone.toml"\n')
    (trouble,) = troubles_of(tmp_path / "alone.toml")
    assert trouble.key == "extends"


def test_a_studios_set_may_build_on_the_shipped_one_of_its_name(tmp_path: Path) -> None:
    (tmp_path / "rules").mkdir()
    write(tmp_path / "rules", poster='title = "Ours"\nextends = "poster"\n[bleed]\nwanted = "5 mm"\n')
    own, shipped = load_rule_set("poster", tmp_path), load_rule_set("poster")
    assert own.title == "Ours"
    assert own.product.bleed_pt == Length.of_mm(5).points
    assert own.product.sizes == shipped.product.sizes


@pytest.mark.parametrize("extends", ['"flyer-ofset-coated"', '"missing.toml"', '"a/b"', "3"])
def test_a_base_that_is_none_is_told_where_it_is_named(tmp_path: Path, extends: str) -> None:
    write(tmp_path, own=f"\nextends = {extends}\n")
    (trouble,) = troubles_of(tmp_path / "own.toml")
    if extends != '"missing.toml"':
        assert (trouble.line, trouble.key) == (2, "extends")
    assert trouble.remedy
