"""How often a file is tried whose child gave no result: the same for the desk and for the commands."""

from hotfolder.model.jobs import ChildFailure, Failures, Obstacle

DIED = ChildFailure("was ended by SIGKILL")
OVERRAN = ChildFailure("took longer than 60 s", again=False)


def test_a_child_that_died_is_tried_once_more() -> None:
    once = Failures().and_then(DIED)
    assert (once.obstacle, once.attempt) == (None, 2)
    assert once.and_then(DIED).obstacle == Obstacle("measuring it was ended by SIGKILL, twice")


def test_a_child_that_took_too_long_is_not_tried_again() -> None:
    assert Failures().and_then(OVERRAN).obstacle == Obstacle("measuring it took longer than 60 s")
    assert Failures().and_then(DIED).and_then(OVERRAN).obstacle == Obstacle(
        "measuring it took longer than 60 s"
    )


def test_a_file_that_was_not_tried_has_no_obstacle() -> None:
    assert (Failures().obstacle, Failures().attempt) == (None, 1)
