# The rule sets that a studio's printers and products have.
import pickle
from pathlib import Path

import pytest

from hotfolder.checks.size.trim_sizes.trim_settings import TrimSizeSettings
from hotfolder.config.studio import Studio, load_studio
from hotfolder.errors import ConfigError, ConfigTrouble
from hotfolder.rulebook.binding import load_rules_of


def studio_of(root: Path, text: str) -> Studio:
    (root / "hotfolder.toml").write_text(text)
    return load_studio(root)


def troubles_of(studio: Studio) -> tuple[ConfigTrouble, ...]:
    with pytest.raises(ConfigError) as caught:
        load_rules_of(studio)
    return caught.value.troubles


def test_each_printer_and_each_product_has_its_rule_set(tmp_path: Path) -> None:
    (tmp_path / "own.toml").write_text('title = "Ours"\nextends = "poster"\n')
    text = (
        '[printers.quay]\nrules = "flyer-offset-coated"\n'
        '[printers.quay.products.cards]\nrules = "business-card"\n'
        '[printers.west]\nrules = "own.toml"\n'
    )
    rules = load_rules_of(studio_of(tmp_path, text))
    assert {place: ruleset.name for place, ruleset in rules.items()} == {
        ("quay", None): "flyer-offset-coated",
        ("quay", "cards"): "business-card",
        ("west", None): "own",
    }


def test_an_unknown_rule_set_is_told_by_its_line_in_the_studio_file(tmp_path: Path) -> None:
    text = (
        '[printers.quay]\nrules = "poster"\nproducts.cards.rules = "busines-card"\n'
        '[printers.west]\nrules = "missing.toml"\n'
    )
    troubles = troubles_of(studio_of(tmp_path, text))
    assert [(trouble.file.name, trouble.line, trouble.key) for trouble in troubles] == [
        ("hotfolder.toml", 3, "printers.quay.products.cards.rules"),
        ("hotfolder.toml", 5, "printers.west.rules"),
    ]
    assert "'business-card'" in troubles[0].remedy


def test_a_studio_file_that_changes_meanwhile_is_told_by_the_lines_that_were_read(tmp_path: Path) -> None:
    studio = studio_of(tmp_path, '[printers.quay]\ntitle = "Quay"\nrules = "busines-card"\n')
    (tmp_path / "hotfolder.toml").write_text("# half of what is being wri\n[printers.quay\n")
    (trouble,) = troubles_of(studio)
    assert (trouble.line, trouble.key) == (3, "printers.quay.rules")


def test_a_mistake_in_a_rule_set_is_told_there_and_once(tmp_path: Path) -> None:
    (tmp_path / "own.toml").write_text('title = "Ours"\nsource = "a letter"\n[bleed]\nwanted = 3\n')
    text = '[printers.a]\nrules = "own.toml"\n[printers.b]\nrules = "own.toml"\n'
    (trouble,) = troubles_of(studio_of(tmp_path, text))
    assert (trouble.file, trouble.line, trouble.key) == (tmp_path / "own.toml", 4, "bleed.wanted")


def test_each_inbox_knows_what_the_others_take(tmp_path: Path) -> None:
    text = (
        '[printers.quay]\nrules = "flyer-offset-coated"\n'
        '[printers.quay.products.cards]\nrules = "business-card"\n'
        '[printers.west]\nrules = "poster"\n'
    )
    rules = load_rules_of(studio_of(tmp_path, text))
    (settings,) = [
        applied.settings
        for applied in rules["west", None].rules
        if isinstance(applied.settings, TrimSizeSettings)
    ]
    assert [other.inbox for other in settings.elsewhere] == ["quay/inbox", "quay/inbox/cards"]
    assert "A5" in [size.name for size in settings.elsewhere[0].sizes]
    again = pickle.loads(pickle.dumps(settings))  # an order goes to its child so
    assert again.elsewhere == settings.elsewhere
