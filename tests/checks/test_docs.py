# The page of rules in the documentation says what the checks say.
from pathlib import Path

from hotfolder.checks import CHECKS, NOT_MEASURED
from hotfolder.checks.docs import rules_page

PAGE = Path(__file__).parents[2] / "docs" / "rules.md"


def test_the_page_is_up_to_date() -> None:
    # Made anew by: python -m hotfolder.checks.docs > docs/rules.md
    assert PAGE.read_text(encoding="utf-8") == rules_page()


def test_every_rule_stands_there_with_its_reasons_and_codes() -> None:
    page = rules_page()
    for rule in CHECKS:
        chapter = page.partition(f"\n## {rule.id}\n")[2].partition("\n## ")[0]
        for section in ("Why", "On paper", "Not flagged", "Source"):
            assert f"**{section}**: " in chapter
        for code, severity in rule.settings.codes.items():
            assert f"| `{code}` | {severity.words} |" in chapter
        for name in rule.settings.model_fields.keys() - {"apply", "ask", "severity"}:
            assert name in chapter
    assert all(why in page for _, why in NOT_MEASURED)
