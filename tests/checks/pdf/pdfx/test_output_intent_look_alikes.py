# Output intents that come near to breaking a requirement and keep it, and what is left open.
from pathlib import Path

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, String

from hotfolder.checks.pdf.pdfx.registered_conditions import registered_name
from hotfolder.checks.shared.pdfx_levels import ALL, X1A, X3, Level
from hotfolder.presses.loading import conditions_without_profile
from tests.checks.pdf.pdfx.bases import Edit, edited, profile_stream
from tests.checks.pdf.pdfx.cases.output_profile import changed
from tests.checks.pdf.pdfx.judged import broken, judged, left_open
from tests.checks.pdf.pdfx.profiles_by_hand import profile_by_hand


def intent_with(**entries: object) -> Edit:
    """Gives entries of the output intent other values; None takes one out."""

    def edit(pdf: pikepdf.Pdf) -> None:
        intent = pdf.Root.OutputIntents[0]
        for key, value in entries.items():
            if value is None:
                del intent[f"/{key}"]
            else:
                intent[f"/{key}"] = value

    return edit


@pytest.mark.parametrize("level", Level)
@pytest.mark.parametrize("registry", ["https://registry.color.org", "http://www.color.org/", "www.color.org"])
def test_the_icc_registry_has_several_spellings(level: Level, registry: str, tmp_path: Path) -> None:
    data = edited(level, intent_with(RegistryName=String(registry)))
    assert broken(judged(data, level, tmp_path)) == {}


@pytest.mark.parametrize("level", Level)
def test_an_intent_for_another_standard_may_stand_beside(level: Level, tmp_path: Path) -> None:
    def edit(pdf: pikepdf.Pdf) -> None:
        first = pdf.Root.OutputIntents[0]
        beside = Dictionary(S=Name.GTS_PDFA1, OutputConditionIdentifier=String("FOGRA39"))
        if "/DestOutputProfile" in first:
            beside.DestOutputProfile = first.DestOutputProfile
        pdf.Root.OutputIntents.append(beside)

    assert broken(judged(edited(level, edit), level, tmp_path)) == {}


@pytest.mark.parametrize("level", sorted(X1A))
def test_a_name_of_the_registry_stands_for_the_profile(level: Level, tmp_path: Path) -> None:
    conformance = judged(edited(level, intent_with(DestOutputProfile=None)), level, tmp_path)
    assert (broken(conformance), left_open(conformance)) == ({}, [])


@pytest.mark.parametrize("level", sorted(X1A))
def test_a_name_that_may_be_in_the_registry_leaves_open_what_depends_on_it(
    level: Level, tmp_path: Path
) -> None:
    edit = intent_with(DestOutputProfile=None, Info=None, OutputConditionIdentifier=String("LANTERN99"))
    conformance = judged(edited(level, edit), level, tmp_path)
    assert broken(conformance) == {}
    assert left_open(conformance) == ["registered-name", "output-condition-info", "output-profile-missing"]


@pytest.mark.parametrize("level", sorted(ALL - {Level.X4P}))
def test_a_house_condition_with_its_profile_and_in_words_is_taken(level: Level, tmp_path: Path) -> None:
    edit = intent_with(OutputConditionIdentifier=String("Press 4, matt"), RegistryName=None)
    conformance = judged(edited(level, edit), level, tmp_path)
    assert (broken(conformance), left_open(conformance)) == ({}, [])


@pytest.mark.parametrize("level", sorted(ALL - X1A - {Level.X4P}))
def test_x3_and_x4_take_a_profile_for_rgb(level: Level, tmp_path: Path) -> None:
    def edit(pdf: pikepdf.Pdf) -> None:
        profile = profile_by_hand(device_class="prtr")
        pdf.Root.OutputIntents[0].DestOutputProfile = profile_stream(pdf, profile, 3)

    said = broken(judged(edited(level, edit), level, tmp_path))
    assert not {name for name in said if name.startswith(("output-", "no-output"))}


def test_x4_takes_a_profile_of_version_4(tmp_path: Path) -> None:
    edit = changed(lambda profile: profile[:8] + b"\4\x30" + profile[10:])
    assert broken(judged(edited(Level.X4, edit), Level.X4, tmp_path)) == {}


def test_a_profile_that_is_filled_up_at_its_end_can_be_read(tmp_path: Path) -> None:
    edit = changed(lambda profile: profile + bytes(64))
    assert broken(judged(edited(Level.X3_2003, edit), Level.X3_2003, tmp_path)) == {}


@pytest.mark.parametrize("level", sorted(X3))
def test_x3_wants_a_profile_only_for_colours_as_the_eye_sees_them(level: Level, tmp_path: Path) -> None:
    def edit(pdf: pikepdf.Pdf) -> None:
        del pdf.Root.OutputIntents[0].DestOutputProfile
        content = pdf.pages[0].obj.Contents
        content.write(content.read_bytes().replace(b"/Screen Do", b""))

    assert broken(judged(edited(level, edit), level, tmp_path)) == {}


@pytest.mark.parametrize("value", [String("none"), Dictionary(), Array([String("none")])])
def test_output_intents_that_are_none(value: pikepdf.Object, tmp_path: Path) -> None:
    def edit(pdf: pikepdf.Pdf) -> None:
        pdf.Root.OutputIntents = value

    assert "no-output-intent" in broken(judged(edited(Level.X1A_2003, edit), Level.X1A_2003, tmp_path))


def test_the_conditions_that_are_known_by_name_are_known_to_be_registered() -> None:
    names = [press.name for press in conditions_without_profile()]
    assert names
    assert [name for name in names if registered_name(name) is None] == []
