# What lies still is told once, after its time, and again only if it went and came back.
from hotfolder.desk.claimed_files import KEPT
from hotfolder.desk.held import HeldItems
from hotfolder.desk.studio_view import QUEUED, InboxEntry, InWork, StudioView
from hotfolder.intake.settling import ARRIVING
from hotfolder.model.jobs import HeldNotice

FOLDER = InboxEntry(
    "quay", None, "posters", "a folder, but not a product of this printer; drop its files one by one"
)
UNFINISHED = InboxEntry("quay", "cards", "card.pdf", "not whole yet: the end of a PDF is missing")
AWAY = InboxEntry("mill", None, "", "cannot be opened: No such file or directory")


def view(
    *,
    waiting: tuple[InboxEntry, ...] = (),
    left: tuple[InboxEntry, ...] = (),
    away: tuple[InboxEntry, ...] = (),
    jobs: tuple[InWork, ...] = (),
) -> StudioView:
    return StudioView("2026-01-02T03:04:05+00:00", 1, "desk", waiting, left, away, jobs)


def names(notices: tuple[HeldNotice, ...]) -> list[str]:
    return [notice.name for notice in notices]


def test_a_dropped_folder_is_told_at_once_and_once() -> None:
    held = HeldItems(patience_s=60)
    assert held.due(view(left=(FOLDER,)), 0) == (HeldNotice("quay", None, "posters", FOLDER.why),)
    assert held.due(view(left=(FOLDER,)), 1000) == ()


def test_it_is_told_again_when_it_went_and_came_back() -> None:
    held = HeldItems(patience_s=60)
    held.due(view(left=(FOLDER,)), 0)
    held.due(view(), 10)
    assert names(held.due(view(left=(FOLDER,)), 20)) == ["posters"]


def test_what_systems_leave_behind_is_not_told() -> None:
    thumbnails = InboxEntry("quay", None, "Thumbs.db", "a thumbnail cache")
    assert HeldItems(patience_s=0).due(view(left=(thumbnails,)), 0) == ()


def test_a_file_that_waits_and_an_inbox_that_is_away_are_told_after_their_time() -> None:
    held = HeldItems(patience_s=60)
    seen = view(waiting=(UNFINISHED,), away=(AWAY,))
    assert held.due(seen, 100) == ()
    assert held.due(seen, 159) == ()
    assert names(held.due(seen, 160)) == ["", "card.pdf"]
    assert held.due(seen, 400) == ()


def test_what_only_passes_is_never_told() -> None:
    passing = (InboxEntry("quay", None, "a.pdf", ARRIVING), InboxEntry("quay", None, "b.pdf", QUEUED))
    kept = InWork("quay", "20260102-030405-0001", KEPT)
    worked_on = InWork("quay", "20260102-030405-0002", "")
    held = HeldItems(patience_s=0)
    assert held.due(view(waiting=passing, jobs=(kept, worked_on)), 0) == ()


def test_a_job_that_waits_is_told_with_its_reason() -> None:
    waits = InWork("quay", "20260102-030405-0001", "the outbox of quay is not available")
    assert HeldItems(patience_s=0).due(view(jobs=(waits,)), 0) == (
        HeldNotice("quay", None, "job 20260102-030405-0001", "the outbox of quay is not available"),
    )
