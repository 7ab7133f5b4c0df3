# The register of checks: every module is in it, and each tells why it is there.
import importlib
import pkgutil
import re
from pathlib import Path

import pytest

import hotfolder.checks
from hotfolder.checks import CHECKS, NOT_MEASURED, rule_by_id
from hotfolder.model.findings import Severity

SECTIONS = ["Why", "On paper", "Not flagged", "Source"]
FAMILIES = {"file", "size", "pictures", "colour", "ink", "type", "pdf"}
RULE_IDS = [rule.id for rule in CHECKS]


def docstring(rule_id: str) -> str:
    return importlib.import_module(rule_by_id(rule_id).check.__module__).__doc__ or ""


def test_every_module_of_a_family_is_a_rule_and_registered() -> None:
    modules = {
        module.name
        for family in FAMILIES
        for module in pkgutil.iter_modules([str(Path(hotfolder.checks.__file__).parent / family)])
        if not module.ispkg
    }
    assert {rule.check.__module__.rpartition(".")[2] for rule in CHECKS} == modules


def test_the_register_is_sorted_and_ids_are_not_repeated() -> None:
    assert sorted(set(RULE_IDS)) == RULE_IDS


@pytest.mark.parametrize("rule_id", RULE_IDS)
def test_a_module_is_named_for_its_rule(rule_id: str) -> None:
    rule = rule_by_id(rule_id)
    hotfolder_, checks, family, module = rule.check.__module__.split(".")
    assert (hotfolder_, checks, module) == ("hotfolder", "checks", rule_id.replace("-", "_"))
    assert family in FAMILIES
    assert rule is importlib.import_module(rule.check.__module__).RULE


@pytest.mark.parametrize("rule_id", RULE_IDS)
def test_a_docstring_has_its_sections_in_their_order(rule_id: str) -> None:
    first, blank, *rest = docstring(rule_id).splitlines()
    assert re.fullmatch(r"[A-Z][A-Za-z/ ]+: [^\n]+\.", first)
    assert first.startswith(f"{rule_by_id(rule_id).title}: ")
    assert blank == ""
    headings = [match[1] for line in rest if (match := re.match(r"([A-Z][a-z ]+): \S", line))]
    assert headings == SECTIONS


@pytest.mark.parametrize("rule_id", RULE_IDS)
def test_codes_and_ids_are_plain_words_and_have_a_weight(rule_id: str) -> None:
    rule = rule_by_id(rule_id)
    assert rule.settings.codes
    for word in (rule_id, *rule.settings.codes):
        assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", word)
    assert set(rule.settings.codes.values()) <= {Severity.MUST_FIX, Severity.ADVICE}
    assert rule.question.endswith("?")
    assert rule.since == "0.1"


@pytest.mark.parametrize("rule_id", RULE_IDS)
def test_a_rule_can_be_left_open_or_out_without_a_figure(rule_id: str) -> None:
    settings = rule_by_id(rule_id).settings
    assert settings.model_validate({"ask": True}).ask
    assert not settings.model_validate({"apply": False}).apply


def test_an_unknown_rule_is_a_key_error() -> None:
    with pytest.raises(KeyError):
        rule_by_id("no-such-rule")


def test_what_is_not_measured_is_told_in_words() -> None:
    assert "plates not drawn" in dict(NOT_MEASURED)
    assert all(sentence.endswith(".") for _, sentence in NOT_MEASURED)
