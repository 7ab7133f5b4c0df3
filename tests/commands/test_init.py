# Laying a studio: what is made, and that nothing which is there is ever altered.
import errno
import os
import shutil
import stat
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from hotfolder.commands.init import InitReport, init_studio
from hotfolder.config.studio import MARKER, ChildLimits, NoticeSettings, Timing, load_studio
from hotfolder.errors import ConfigError, StorageError, UsageError
from hotfolder.rulebook.binding import load_rules_of
from hotfolder.store import delivery_folders
from hotfolder.store.layout import check_layout

FOLDERS = ("inbox", "outbox", "needs-fixing", ".work")


def tree(root: Path) -> dict[str, bytes | None]:
    """Every file with its bytes, every folder with None."""
    return {
        str(path.relative_to(root)): path.read_bytes() if path.is_file() else None
        for path in sorted(root.rglob("*"))
    }


def names_of(report: InitReport) -> set[str]:
    return {str(path.relative_to(report.studio.root)) for path in report.made}


def test_a_fresh_studio_has_all_that_the_daemon_needs(tmp_path: Path) -> None:
    root = tmp_path / "deep" / "studio"
    report = init_studio(root, [("quay", "flyer-offset-coated"), ("north", "newspaper-ad")])
    for printer in ("quay", "north"):
        assert all((root / printer / name).is_dir() for name in FOLDERS)
        assert (root / printer / "inbox/.hotfolder-inbox").is_file()
    assert (root / "audit").is_dir()
    assert (root / "rules/README.md").is_file()
    assert stat.S_IMODE((root / ".hotfolder").stat().st_mode) == 0o700
    studio = load_studio(root)
    assert {(printer.name, printer.rules) for printer in studio.printers} == {
        ("quay", "flyer-offset-coated"), ("north", "newspaper-ad"),
    }  # fmt: skip
    assert studio == report.studio
    assert report.added == ("quay", "north")
    assert {root.parent, root} < set(report.made)
    check_layout(studio)
    assert set(load_rules_of(studio)) == {("quay", None), ("north", None)}


def test_a_studio_without_a_named_printer_starts_with_one(tmp_path: Path) -> None:
    (printer,) = init_studio(tmp_path / "studio", []).studio.printers
    assert (printer.name, printer.rules) == ("first-printer", "office-pdf")
    assert printer.inbox.is_dir()


def test_a_share_whose_connection_is_broken_is_told_and_the_other_printers_get_what_is_missing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    root = tmp_path / "studio"
    studio = init_studio(root, [("quay", "poster"), ("mill", "poster")]).studio
    (studio.printer("mill").inbox / MARKER).unlink()

    def broken(real: Callable[..., os.stat_result]) -> Callable[..., os.stat_result]:
        def asked(path: object, **options: Any) -> os.stat_result:  # noqa: ANN401 - the system's own
            if isinstance(path, str | Path) and Path(path).is_relative_to(root / "quay"):
                raise OSError(errno.ENOTCONN, "Transport endpoint is not connected", str(path))
            return real(path, **options)

        return asked

    monkeypatch.setattr(os, "lstat", broken(os.lstat))
    monkeypatch.setattr(os, "stat", broken(os.stat))
    report = init_studio(root, [])
    assert report.made == (studio.printer("mill").inbox / MARKER,)
    assert [line.partition(": looking")[0] for line in report.kept] == ["not touched: quay"]


def test_delivery_folders_are_marked_and_a_share_that_is_away_is_left_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    root, share = tmp_path / "studio", tmp_path / "share"
    share.mkdir()
    quay = init_studio(root, [("quay", "poster")]).studio.printer("quay")
    for folder in (quay.outbox, quay.needs_fixing):
        assert (folder / ".hotfolder-delivery").is_file()

    def mount_of(folder: Path) -> int:
        return 2 if folder.resolve() == share else 1

    monkeypatch.setattr(delivery_folders, "_mount_of", mount_of)
    beneath = quay.outbox.rename(quay.folder / "beneath")
    quay.outbox.symlink_to(share)
    init_studio(root, [])
    assert (share / ".hotfolder-delivery").is_file()
    quay.outbox.unlink()
    beneath.rename(quay.outbox)
    (quay.outbox / ".hotfolder-delivery").unlink()
    report = init_studio(root, [])
    assert report.made == ()
    assert report.kept[0].startswith(f"not touched: '{quay.outbox}' is not available")
    assert list(quay.outbox.iterdir()) == []


def test_markers_of_inboxes_have_each_an_id(tmp_path: Path) -> None:
    studio = init_studio(tmp_path, [("a", "poster"), ("b", "poster")]).studio
    ids = {(printer.inbox / ".hotfolder-inbox").read_text().split("id: ")[1] for printer in studio.printers}
    assert len(ids) == 2
    assert all(len(text.strip()) == 32 for text in ids)


def test_what_the_comments_of_the_studio_file_say_is_true(tmp_path: Path) -> None:
    init_studio(tmp_path, [("quay", "poster")])
    text = (tmp_path / "hotfolder.toml").read_text()
    settings = text.split("# Printers.")[0].replace('# state = "/var/lib/hotfolder"', "# state left out")
    uncommented = "\n".join(
        line.removeprefix("# ") if " = " in line and line.startswith("# ") else line
        for line in settings.splitlines()
    )
    shown = tomllib.loads(uncommented)
    assert set(shown) == {"studio", "timing", "limits", "notices"}
    (tmp_path / "hotfolder.toml").write_text(uncommented)
    studio = load_studio(tmp_path)
    assert (studio.timing, studio.limits, studio.notices) == (Timing(), ChildLimits(), NoticeSettings())
    assert set(shown["timing"]) == {"scan", "quiet", "empty", "unreadable", "unfinished", "keep", "stop"}
    assert set(shown["limits"]) == {"time", "memory", "open_files", "file_size", "artwork_size"}
    assert set(shown["notices"]) == {"desktop", "gather"}


def test_the_example_in_the_studio_file_is_a_studio(tmp_path: Path) -> None:
    init_studio(tmp_path, [("first", "poster")])
    text = (tmp_path / "hotfolder.toml").read_text()
    example = text.split("# Printers.")[1].split("[printers.first]")[0].splitlines()[1:]
    (tmp_path / "hotfolder.toml").write_text("\n".join(line.removeprefix("#").strip() for line in example))
    (quay,) = load_studio(tmp_path).printers
    assert (quay.name, quay.rules, quay.reports) == ("quay", "flyer-offset-coated", "beside")
    assert [(product.name, product.rules) for product in quay.products] == [("cards", "business-card")]


def test_the_example_for_own_rules_is_a_rule_set(tmp_path: Path) -> None:
    init_studio(tmp_path, [("quay", "poster")])
    lines = (tmp_path / "rules/README.md").read_text().splitlines()
    (tmp_path / "rules/own.toml").write_text("\n".join(line[4:] for line in lines if line.startswith("    ")))
    (tmp_path / "hotfolder.toml").write_text('[printers.quay]\nrules = "own"\n')
    (ruleset,) = load_rules_of(load_studio(tmp_path)).values()
    assert ruleset.title == "Quay Print Works, flyers"


def test_run_again_it_makes_and_alters_nothing(tmp_path: Path) -> None:
    init_studio(tmp_path, [("quay", "poster")])
    before = tree(tmp_path)
    report = init_studio(tmp_path, [("quay", "poster")])
    assert (report.made, report.added, report.kept) == ((), (), ())
    assert init_studio(tmp_path, []).made == ()
    assert tree(tmp_path) == before


def test_what_is_missing_is_added_and_the_rest_stays(tmp_path: Path) -> None:
    init_studio(tmp_path, [("quay", "poster")])
    shutil.rmtree(tmp_path / "quay/outbox")
    (tmp_path / "quay/inbox/.hotfolder-inbox").unlink()
    (tmp_path / "quay/inbox/flyer.pdf").write_bytes(b"dropped")
    before = tree(tmp_path)
    report = init_studio(tmp_path, [])
    assert names_of(report) == {
        "quay/outbox", "quay/outbox/.hotfolder-delivery", "quay/inbox/.hotfolder-inbox",
    }  # fmt: skip
    after = tree(tmp_path)
    del before[".hotfolder/folders/quay.json"]  # it remembers the folder that is there now
    assert {name: after[name] for name in before} == before


def test_folders_of_a_product_are_laid_with_their_markers(tmp_path: Path) -> None:
    init_studio(tmp_path, [("quay", "poster")])
    with (tmp_path / "hotfolder.toml").open("a") as file:
        file.write('[printers.quay.products.cards]\nrules = "business-card"\n')
    report = init_studio(tmp_path, [])
    assert names_of(report) == {"quay/inbox/cards", "quay/inbox/cards/.hotfolder-inbox"}


def test_a_new_printer_is_written_at_the_end_and_no_line_is_altered(tmp_path: Path) -> None:
    before = b"# ours\r\n[printers.quay]\r\nrules = 'poster'   # by hand"
    (tmp_path / "hotfolder.toml").write_bytes(before)
    report = init_studio(tmp_path, [("quay", "poster"), ("Nord & Süd", "newspaper-ad")])
    after = (tmp_path / "hotfolder.toml").read_bytes()
    assert after.startswith(before)
    assert report.added == ("Nord & Süd",)
    assert [printer.rules for printer in load_studio(tmp_path).printers] == ["poster", "newspaper-ad"]
    assert (tmp_path / "Nord & Süd/inbox/.hotfolder-inbox").is_file()


@pytest.mark.parametrize("asked", [("quay", "business-card"), ("Quay", "poster")])
def test_a_printer_that_is_there_stays_as_it_is(tmp_path: Path, asked: tuple[str, str]) -> None:
    init_studio(tmp_path, [("quay", "poster")])
    before = tree(tmp_path)
    report = init_studio(tmp_path, [asked])
    assert (report.made, report.added, len(report.kept)) == ((), (), 1)
    assert tree(tmp_path) == before


def test_a_share_that_is_not_mounted_is_left_alone(tmp_path: Path) -> None:
    init_studio(tmp_path, [("quay", "poster")])
    (tmp_path / "quay").rename(tmp_path / "elsewhere")
    (tmp_path / "quay").mkdir()  # the empty mount point
    report = init_studio(tmp_path, [])
    assert (report.made, len(report.kept)) == ((), 1)
    assert list((tmp_path / "quay").iterdir()) == []
    (tmp_path / ".hotfolder/laid/quay").unlink()  # as the sentence says
    assert init_studio(tmp_path, []).kept == ()
    assert (tmp_path / "quay/inbox/.hotfolder-inbox").is_file()


@pytest.mark.parametrize(
    "printers",
    [
        [("audit", "poster")],
        [("a/b", "poster")],
        [("", "poster")],
        [("quay", "poster"), ("Quay", "poster")],
        [("quay", "poster"), ("quay", "business-card")],
        [("quay", "x\udce9.toml")],
    ],
)
def test_names_that_will_not_do_are_refused_before_anything_is_made(
    tmp_path: Path, printers: list[tuple[str, str]]
) -> None:
    with pytest.raises(UsageError):
        init_studio(tmp_path / "studio", printers)
    assert tree(tmp_path) == {}


def test_an_unknown_rule_set_is_refused_before_anything_is_made(tmp_path: Path) -> None:
    with pytest.raises(ConfigError) as caught:
        init_studio(tmp_path / "studio", [("quay", "postr")])
    assert "'poster'" in caught.value.troubles[0].remedy
    assert tree(tmp_path) == {}


def test_a_broken_studio_file_is_told_and_nothing_is_made(tmp_path: Path) -> None:
    (tmp_path / "hotfolder.toml").write_text("[printers.quay]\n")
    before = tree(tmp_path)
    with pytest.raises(ConfigError):
        init_studio(tmp_path, [("north", "poster")])
    assert tree(tmp_path) == before


def test_a_studio_file_that_cannot_be_added_to_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "hotfolder.toml").write_text('printers = { quay = { rules = "poster" } }\n')
    before = tree(tmp_path)
    with pytest.raises(UsageError):
        init_studio(tmp_path, [("north", "poster")])
    assert tree(tmp_path) == before


def test_a_rule_sets_path_from_a_shell_is_found_again_by_the_studio(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "quay.toml").write_text('title = "Quay"\nextends = "poster"\n')
    monkeypatch.chdir(tmp_path)
    studio = init_studio(Path("studio"), [("quay", "quay.toml")]).studio
    assert [ruleset.title for ruleset in load_rules_of(studio).values()] == ["Quay"]


def test_a_file_in_a_folders_place_is_told_and_kept(tmp_path: Path) -> None:
    (tmp_path / "audit").write_text("somebody's notes")
    with pytest.raises(StorageError):
        init_studio(tmp_path, [("quay", "poster")])
    assert (tmp_path / "audit").read_text() == "somebody's notes"


def test_the_report_names_what_was_made_and_the_next_step(tmp_path: Path) -> None:
    lines = list(init_studio(tmp_path / "my studio", [("quay", "poster")]).lines())
    assert "  made quay/inbox/" in lines
    assert "  made hotfolder.toml" in lines
    assert lines[-1].endswith(f"hotfolder run '{tmp_path}/my studio'")
    again = list(init_studio(tmp_path / "my studio", []).lines())
    assert len(again) == 2
