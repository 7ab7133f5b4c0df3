# What a studio file may say, and where and how its mistakes are told.
from pathlib import Path

import pytest

from hotfolder.config.studio import (
    ChildLimits,
    NoticeSettings,
    Printer,
    ProductFolder,
    Studio,
    Timing,
    load_studio,
    name_problem,
)
from hotfolder.config.tomlfile import read_toml
from hotfolder.errors import ConfigError

WHOLE = """\
[studio]
name = "Harbour Studio"
state = "elsewhere/state"

[printers.quay]
title = "Quay Print Works"
rules = "flyer-offset-coated"
reports = "folder"
[printers.quay.products.cards]
rules = "business-card"

[printers."Müller 2"]
rules = "own/posters.toml"

[timing]
scan = "500 ms"
quiet = "7.5 s"
empty = "1 h"
stop = "2 min"

[limits]
time = "90 s"
memory = "1.5 GB"
open_files = 64
file_size = "200 MB"

[notices]
desktop = false
gather = "1 s"
"""


def studio_of(root: Path, text: str) -> Studio:
    (root / "hotfolder.toml").write_text(text, encoding="utf-8")
    return load_studio(root)


def troubles_of(root: Path, text: str) -> list[tuple[int | None, str, str]]:
    """Line, key and remedy of each mistake that the studio file has."""
    with pytest.raises(ConfigError) as caught:
        studio_of(root, text)
    assert {trouble.file for trouble in caught.value.troubles} == {root / "hotfolder.toml"}
    return [(trouble.line, trouble.key, trouble.remedy) for trouble in caught.value.troubles]


def test_everything_that_a_studio_file_may_say(tmp_path: Path) -> None:
    assert studio_of(tmp_path, WHOLE) == Studio(
        root=tmp_path,
        name="Harbour Studio",
        printers=(
            Printer(
                name="quay",
                title="Quay Print Works",
                folder=tmp_path / "quay",
                rules="flyer-offset-coated",
                products=(ProductFolder("cards", "business-card"),),
                reports="folder",
            ),
            Printer(
                name="Müller 2", title="Müller 2", folder=tmp_path / "Müller 2", rules="own/posters.toml"
            ),
        ),
        limits=ChildLimits(seconds=90, memory_bytes=1_500_000_000, open_files=64, file_bytes=200_000_000),
        timing=Timing(scan_s=0.5, quiet_s=7.5, empty_s=3600, stop_s=120),
        notices=NoticeSettings(desktop=False, gather_s=1),
        state=tmp_path / "elsewhere" / "state",
        written=read_toml(tmp_path / "hotfolder.toml"),
    )


def test_what_holds_where_the_file_says_nothing(tmp_path: Path) -> None:
    studio = studio_of(tmp_path, '[printers.quay]\nrules = "poster"\n')
    assert (studio.timing, studio.limits, studio.notices) == (Timing(), ChildLimits(), NoticeSettings())
    assert studio.timing.empty_s == 600  # ten unchanged minutes
    assert studio.state == studio.hidden == tmp_path / ".hotfolder"
    assert studio.printers[0].reports == "beside"


def test_folders_of_a_studio(tmp_path: Path) -> None:
    studio = studio_of(tmp_path, WHOLE)
    quay = studio.printer("quay")
    assert quay.inbox == tmp_path / "quay/inbox"
    assert quay.inbox_of(quay.products[0]) == tmp_path / "quay/inbox/cards"
    assert quay.outbox == tmp_path / "quay/outbox"
    assert quay.ready_sidecars == tmp_path / "quay/outbox/reports"
    assert studio.printer("Müller 2").ready_sidecars == tmp_path / "Müller 2/outbox"
    assert quay.needs_fixing == tmp_path / "quay/needs-fixing"
    assert quay.work == tmp_path / "quay/.work"
    assert studio.audit == tmp_path / "audit"
    assert studio.lock_file == tmp_path / ".hotfolder/lock"  # in the studio, wherever the state lies
    with pytest.raises(KeyError):
        studio.printer("nobody")


def test_a_folder_without_a_studio_file_is_told(tmp_path: Path) -> None:
    with pytest.raises(ConfigError) as caught:
        load_studio(tmp_path)
    assert caught.value.troubles[0].file == tmp_path
    with pytest.raises(ConfigError):
        load_studio(tmp_path / "missing")


def test_all_mistakes_are_told_at_once_in_the_order_of_the_file(tmp_path: Path) -> None:
    told = troubles_of(
        tmp_path,
        '[studio]\nnam = "x"\n'
        '[printers.quay]\ntitle = 3\nreports = "besides"\n'
        "[timing]\nscan = 2\n[printer.b]\n",
    )
    assert [(line, key) for line, key, _ in told] == [
        (2, "studio.nam"),
        (3, "printers.quay.rules"),  # missing: the line of the table that lacks it
        (4, "printers.quay.title"),
        (5, "printers.quay.reports"),
        (7, "timing.scan"),
        (8, "printer"),
    ]


@pytest.mark.parametrize(
    ("text", "key", "would_do"),
    [
        ("[timing]\nquiet = 5", "timing.quiet", "'2 s'"),
        ('[timing]\nquiet = "5"', "timing.quiet", "'10 min'"),
        ('[timing]\nquiet = "0 s"', "timing.quiet", "greater than 0"),
        ('[limits]\nmemory = "2"', "limits.memory", "'2 GB'"),
        ("[limits]\nopen_files = 4", "limits.open_files", "32"),
        ('[limits]\nopen_files = "64"', "limits.open_files", "whole number"),
        ('[notices]\ndesktop = "yes"', "notices.desktop", "true or false"),
        ('[printers.q]\nrules = "x"\nreports = "below"', "printers.q.reports", "'beside' or 'folder'"),
        ("[printers.q]\nrules = 1", "printers.q.rules", "quotation marks"),
        ('[printers.q]\nrules = ""', "printers.q.rules", "at least 1 character"),
        ("[printers.q]\n", "printers.q.rules", 'rules = "office-pdf"'),
        ("printers = 3", "printers", "[brackets]"),
        ('[printers]\nquay = "poster"', "printers.quay", "[brackets]"),
        ('[timings]\nscan = "2 s"', "timings", "'timing'"),
        ('[printers.q]\nrules = "x"\nproduct = 1', "printers.q.product", "'products'"),
        (
            '[printers.q]\nrules = "x"\n[printers.q.products.c]\nrule = "x"',
            "printers.q.products.c.rule",
            "'rules'",
        ),
    ],
)
def test_a_mistake_says_what_would_do(tmp_path: Path, text: str, key: str, would_do: str) -> None:
    remedies = {told_key: remedy for _, told_key, remedy in troubles_of(tmp_path, text)}
    assert would_do in remedies[key]


@pytest.mark.parametrize(
    ("first", "second"),
    [("Quay", "quay"), ("Straße", "STRASSE"), ("caf\u00e9", "cafe\u0301"), ("CAF\u00c9", "cafe\u0301")],
)
def test_printers_that_a_share_would_mix_up_are_told(tmp_path: Path, first: str, second: str) -> None:
    text = f'[printers."{first}"]\nrules = "x"\n[printers."{second}"]\nrules = "x"\n'
    assert [line for line, _, _ in troubles_of(tmp_path, text)] == [3]


def test_products_that_a_share_would_mix_up_are_told(tmp_path: Path) -> None:
    text = '[printers.q]\nrules = "x"\n[printers.q.products]\nCards.rules = "x"\ncards.rules = "x"\n'
    assert [line for line, _, _ in troubles_of(tmp_path, text)] == [5]


def test_products_of_two_printers_may_have_one_name(tmp_path: Path) -> None:
    text = "".join(
        f'[printers.{name}]\nrules = "x"\nproducts.cards.rules = "y"\n' for name in ("east", "west")
    )
    assert [printer.products[0].name for printer in studio_of(tmp_path, text).printers] == ["cards", "cards"]


@pytest.mark.parametrize(
    "name",
    [
        "", ".hidden", "~work", "-rf", " quay", "quay ", "quay.", "a/b", "a\\b", "a:b", "what?",
        "line\nbreak", "audit", "Audit", "rules", "hotfolder.toml", "x" * 101, "\udce9",
    ],
)  # fmt: skip
def test_names_that_cannot_be_a_shared_folder(name: str) -> None:
    assert name_problem(name) is not None


@pytest.mark.parametrize("name", ["quay", "Müller & Söhne", "Print-Works_2", "印刷所", "a b", "o'clock"])
def test_names_that_can_be_a_folder(name: str) -> None:
    assert name_problem(name) is None


def test_a_printer_cannot_have_the_name_of_a_studio_folder(tmp_path: Path) -> None:
    assert [line for line, _, _ in troubles_of(tmp_path, '[printers.audit]\nrules = "x"\n')] == [1]


def test_loading_touches_nothing(tmp_path: Path) -> None:
    studio_of(tmp_path, WHOLE)
    assert [path.name for path in tmp_path.iterdir()] == ["hotfolder.toml"]
