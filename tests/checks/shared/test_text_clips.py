# Letters through which a picture is seen: which texts and which marks that is true of.
import time
from dataclasses import replace

from hotfolder.checks.shared.marks.text_clips import text_clips
from hotfolder.model.geometry import Box
from hotfolder.model.marks import Mark, MarkKind, Source, TextFacts
from tests.artwork.colours import BLUE
from tests.measure.inks.hand_plates import mm_box

LETTERS = mm_box(20, 20, 60, 30)
CLIP = Mark(
    MarkKind.TEXT, LETTERS, LETTERS, Source("Tj"), printed=False,
    text=TextFacts(12, "Any", invisible=True, glyphs=9, clips=True),
)  # fmt: skip


def photo(visible: Box | None = LETTERS) -> Mark:
    return Mark(MarkKind.IMAGE, mm_box(0, 0, 100, 100), visible, Source("Do"), fill=BLUE)


def test_a_picture_that_shows_within_letters_alone_is_seen_through_them() -> None:
    clips = text_clips([photo(mm_box(0, 0, 100, 100)), CLIP, photo()])
    assert (set(clips.texts), set(clips.painted)) == ({1}, {2})


def test_lines_of_one_text_object_clip_together() -> None:
    low = replace(CLIP, box=mm_box(20, 8, 70, 18))
    clips = text_clips([CLIP, low, photo(mm_box(20, 8, 70, 30))])
    assert (set(clips.texts), set(clips.painted)) == ({0, 1}, {2})


def test_letters_through_which_nothing_is_painted_are_not_seen() -> None:
    assert text_clips([CLIP]).texts == frozenset()
    assert text_clips([CLIP, photo(mm_box(0, 0, 100, 100))]).texts == frozenset()
    assert text_clips([CLIP, photo(None)]).texts == frozenset()
    assert text_clips([CLIP, replace(photo(), white=True)]).texts == frozenset()


def test_what_lies_in_the_letters_box_anyway_may_have_another_clip() -> None:
    small = replace(photo(), box=mm_box(22, 22, 30, 28), visible=mm_box(22, 22, 30, 28))
    assert text_clips([CLIP, small]).painted == frozenset()


def test_text_in_mode_3_is_no_clip() -> None:
    invisible = replace(CLIP, text=TextFacts(12, "Any", invisible=True, glyphs=9))
    assert text_clips([invisible, photo()]).texts == frozenset()


def test_many_texts_through_which_many_things_are_painted_take_no_time() -> None:
    began = time.process_time()
    clips = text_clips([*[CLIP] * 50_000, *[photo()] * 50_000])
    assert (len(clips.texts), len(clips.painted)) == (50_000, 50_000)
    assert time.process_time() - began < 3
