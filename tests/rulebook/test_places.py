# Which file a rule set's name or path means.
from pathlib import Path

import pytest

from hotfolder.errors import ConfigError
from hotfolder.rulebook import load_rule_set, rules_folder, shipped_rule_sets

OWN = 'title = "Own"\nsource = "a test"\n'


@pytest.fixture
def studio(tmp_path: Path) -> Path:
    (tmp_path / "rules").mkdir()
    return tmp_path


def test_a_shipped_set_is_found_by_its_name() -> None:
    ruleset = load_rule_set("business-card")
    assert (ruleset.name, ruleset.path) == ("business-card", rules_folder() / "business-card.toml")
    assert "business-card" in shipped_rule_sets()


def test_a_studios_own_set_comes_before_the_shipped_one(studio: Path) -> None:
    (studio / "rules/business-card.toml").write_text(OWN)
    assert load_rule_set("business-card", studio).title == "Own"
    assert load_rule_set("business-card").title != "Own"


def test_a_path_counts_from_the_studio_or_from_the_working_folder(
    studio: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (studio / "printer.toml").write_text(OWN)
    assert load_rule_set("printer.toml", studio).path == studio / "printer.toml"
    assert load_rule_set(str(studio / "printer.toml")).title == "Own"
    monkeypatch.chdir(studio)
    assert load_rule_set("printer.toml").title == "Own"


def test_an_unknown_name_is_answered_with_the_nearest(studio: Path) -> None:
    (studio / "rules/quay-flyers.toml").write_text(OWN)
    for name, meant in (("bussiness-card", "business-card"), ("quay-flyer", "quay-flyers")):
        with pytest.raises(ConfigError) as caught:
            load_rule_set(name, studio)
        (trouble,) = caught.value.troubles
        assert f"'{meant}'" in trouble.remedy
        assert "poster" in trouble.remedy


@pytest.mark.parametrize("name", ["", "rules/poster", "../poster", "missing.toml", "folder.toml"])
def test_what_names_no_file_is_told(studio: Path, name: str) -> None:
    (studio / "folder.toml").mkdir()
    with pytest.raises(ConfigError) as caught:
        load_rule_set(name, studio)
    assert len(caught.value.troubles) == 1
