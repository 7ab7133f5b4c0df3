# A rule set's model, and how each kind of mistake in its file is told.
from datetime import date
from pathlib import Path

import pytest

from hotfolder.checks import CHECKS
from hotfolder.checks.size.bleed import BleedSettings
from hotfolder.errors import ConfigError
from hotfolder.model.ruleset import Product
from hotfolder.presses.loading import load_press
from hotfolder.rulebook import load_rule_set
from hotfolder.units import parse_size

HEADER = 'title = "Flyers"\nsource = "data sheet"\n'


def written(folder: Path, text: str) -> str:
    path = folder / "sample.toml"
    path.write_text(HEADER + text)
    return str(path)


def troubles_of(folder: Path, text: str) -> list[tuple[int | None, str, str]]:
    """Line within `text`, key, and problem with remedy of each mistake."""
    with pytest.raises(ConfigError) as caught:
        load_rule_set(written(folder, text))
    above = HEADER.count("\n")
    return [
        (trouble.line and trouble.line - above, trouble.key, f"{trouble.problem}. {trouble.remedy}")
        for trouble in caught.value.troubles
    ]


def test_what_a_rule_set_says(tmp_path: Path) -> None:
    ruleset = load_rule_set(
        written(
            tmp_path,
            'checked = 2026-11-25\n[trim-size]\nsizes = ["A5", "85 x 55 mm"]\n[bleed]\nwanted = "0.125 in"\n',
        )
    )
    assert (ruleset.name, ruleset.title, ruleset.source) == ("sample", "Flyers", "data sheet")
    assert ruleset.checked == date(2026, 11, 25)
    assert [applied.rule.id for applied in ruleset.rules] == ["bleed", "trim-size"]
    assert ruleset.product == Product((parse_size("A5"), parse_size("85 x 55 mm")), 9.0)
    assert ruleset.questions == ()


def test_a_set_may_name_a_press_and_ask_for_paper_white(tmp_path: Path) -> None:
    named = load_rule_set(written(tmp_path, 'press = "FOGRA39L"\npaper_white = true\n'))
    assert (named.press, named.paper_white) == (load_press("coated"), True)
    bare = load_rule_set(written(tmp_path, ""))
    assert (bare.press, bare.paper_white) == (None, False)


def test_a_condition_without_a_profile_is_no_mistake(tmp_path: Path) -> None:
    press = load_rule_set(written(tmp_path, 'press = "FOGRA51"\n')).press
    assert press is not None
    assert press.profile is None


def test_a_profile_lies_beside_the_file_that_names_it(tmp_path: Path) -> None:
    shipped = load_press("coated").profile
    assert shipped is not None
    base = tmp_path / "bases" / "base.toml"
    base.parent.mkdir()
    base.write_text(HEADER + 'press = "ours.icc"\npaper_white = true\n')
    (tmp_path / "bases" / "ours.icc").write_bytes(shipped.read_bytes())
    extending = load_rule_set(written(tmp_path, 'extends = "bases/base.toml"\n'))
    assert extending.press is not None
    assert extending.press.profile == base.parent / "ours.icc"
    assert extending.paper_white


def test_a_set_may_name_another_press_than_its_base(tmp_path: Path) -> None:
    (tmp_path / "base.toml").write_text(HEADER + 'press = "coatde"\n')
    extending = load_rule_set(written(tmp_path, 'extends = "base.toml"\npress = "uncoated"\n'))
    assert extending.press == load_press("uncoated")


def test_a_mistake_in_a_bases_press_is_told_there(tmp_path: Path) -> None:
    (tmp_path / "base.toml").write_text(HEADER + 'press = "coatde"\n')
    with pytest.raises(ConfigError) as caught:
        load_rule_set(written(tmp_path, 'extends = "base.toml"\n'))
    assert [(each.file.name, each.line, each.key) for each in caught.value.troubles] == [
        ("base.toml", 3, "press")
    ]


def test_rules_stand_in_the_registers_order(tmp_path: Path) -> None:
    text = '[trim-size]\nsizes = ["A5"]\n[readable]\n[bleed]\nwanted = "3 mm"\n'
    ids = [applied.rule.id for applied in load_rule_set(written(tmp_path, text)).rules]
    assert ids == [rule.id for rule in CHECKS if rule.id in ids]
    assert set(ids) == {"trim-size", "readable", "bleed"}


def test_a_figure_that_is_left_open_becomes_a_question(tmp_path: Path) -> None:
    ruleset = load_rule_set(written(tmp_path, "[trim-size]\nask = true\n[bleed]\nask = true\n"))
    asked = {rule.id: rule.question for rule in CHECKS}
    assert ruleset.questions == (asked["bleed"], asked["trim-size"])
    assert ruleset.product == Product()


def test_without_a_rule_for_the_size_a_files_own_word_counts(tmp_path: Path) -> None:
    assert load_rule_set(written(tmp_path, '[bleed]\nwanted = "1 in"\n')).product == Product(
        (), 72.0, any_size=True
    )


def test_sizes_that_are_asked_for_are_not_known_even_where_a_base_names_some(tmp_path: Path) -> None:
    text = '[trim-size]\nask = true\nsizes = ["A4"]\n[bleed]\nask = true\nwanted = "3 mm"\n'
    assert load_rule_set(written(tmp_path, text)).product == Product()


@pytest.mark.parametrize("missing", ["title", "source"])
def test_a_set_says_what_it_is_and_where_it_comes_from(tmp_path: Path, missing: str) -> None:
    path = tmp_path / "sample.toml"
    path.write_text("".join(line for line in HEADER.splitlines(keepends=True) if missing not in line))
    with pytest.raises(ConfigError) as caught:
        load_rule_set(str(path))
    assert [trouble.key for trouble in caught.value.troubles] == [missing]


@pytest.mark.parametrize(
    ("text", "line", "key", "would_do"),
    [
        ('[bled]\nwanted = "3 mm"', 1, "bled", "'bleed'"),
        ("chekced = 2026-11-25", 1, "chekced", "'checked'"),
        ("checked = 2026-11-25T08:00:00", 1, "checked", "2026-11-25"),
        ('checked = "yesterday"', 1, "checked", "2026-11-25"),
        ('[bleed]\nwantd = "3 mm"\nwanted = "3 mm"', 2, "bleed.wantd", "'wanted'"),
        ('press = "coatde"', 1, "press", "'coated'"),
        ('press = "no-such-file.icc"', 1, "press", "path"),
        ("press = 39", 1, "press", "quotation marks"),
        ('paper_white = "yes"', 1, "paper_white", "true or false"),
        ('[total-ink]\nlimit = "330"', 2, "total-ink.limit", "'300 %'"),
        ('[total-ink]\nlimit = "330 %"\narea = "15"', 3, "total-ink.area", "'15 mm2'"),
        ('[total-ink]\nlimit = "330 %"\narea = 15.0', 3, "total-ink.area", "unit"),
        ("[bleed]\nwanted = 3", 2, "bleed.wanted", "'3 mm'"),
        ("[bleed]\nwanted = 3.0", 2, "bleed.wanted", "3 mm"),
        ('[bleed]\nwanted = "3"', 2, "bleed.wanted", "'3 mm'"),
        ('[bleed]\nwanted = "three mm"', 2, "bleed.wanted", "'3 mm'"),
        ("[bleed]\nwanted = true", 2, "bleed.wanted", "'3 mm'"),
        ("[image-resolution]\nwanted = 300", 2, "image-resolution.wanted", "'300 ppi'"),
        ("[image-resolution]\nwanted = 300.0", 2, "image-resolution.wanted", "300 ppi"),
        ('[image-resolution]\nwanted = "300 dpi"', 2, "image-resolution.wanted", "'300 ppi'"),
        ('[trim-size]\nsizes = "A5"', 2, "trim-size.sizes", "in brackets"),
        ('[trim-size]\nsizes = [\n"A4",\n"A55"]', 4, "trim-size.sizes[1]", "'A5'"),
        ("[trim-size]", 1, "trim-size", "sizes"),
        ('[bleed]\nwanted = "3 mm"\nseverity.shrot = "advice"', 3, "bleed.severity.shrot", "box-short"),
        ('[bleed]\nwanted = "3 mm"\nseverity.cut-off = "fatal"', 3, "bleed.severity.cut-off", "'must-fix'"),
        ('[bleed]\nwanted = "3 mm"\nseverity = "advice"', 3, "bleed.severity", "table"),
        ("bleed = 3", 1, "bleed", "[bleed]"),
        ('[page-count]\npages = [1, "two"]', 2, "page-count.pages[1]", "whole number"),
        ('[file-type]\naccept = ["pdf", "jpg"]', 2, "file-type.accept[1]", "'jpeg'"),
    ],
)
def test_a_mistake_is_told_by_line_and_key_with_what_would_do(
    tmp_path: Path, text: str, line: int, key: str, would_do: str
) -> None:
    ((told_line, told_key, words),) = troubles_of(tmp_path, text)
    assert (told_line, told_key) == (line, key)
    assert would_do in words


def test_all_mistakes_are_told_at_once(tmp_path: Path) -> None:
    text = '[bleed]\nwanted = "3"\ntolerance = 1\n[colour]\n[trim-size]\nsizes = ["A4", "A44"]\n'
    assert [(line, key) for line, key, _ in troubles_of(tmp_path, text)] == [
        (2, "bleed.wanted"),
        (3, "bleed.tolerance"),
        (4, "colour"),
        (6, "trim-size.sizes[1]"),
    ]


def test_settings_of_a_rule_that_does_not_apply_are_not_asked_for(tmp_path: Path) -> None:
    assert load_rule_set(written(tmp_path, "[trim-size]\napply = false\n")).rules == ()


def test_lengths_keep_the_unit_in_which_they_are_written(tmp_path: Path) -> None:
    ruleset = load_rule_set(written(tmp_path, '[bleed]\nwanted = "0.25 in"\n'))
    settings = ruleset.rules[0].settings
    assert isinstance(settings, BleedSettings)
    assert str(settings.wanted) == "0.25 in"
    assert ruleset.product.bleed_pt == 18  # 72 pt an inch
