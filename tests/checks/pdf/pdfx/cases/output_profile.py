"""Files whose output intent brings a profile that a level does not take, or none."""

from collections.abc import Callable
from typing import Final

import pikepdf
from pikepdf import Dictionary, Name, String

from hotfolder.checks.shared.pdfx_levels import ALL, X1A, X3, X4, Level
from tests.checks.pdf.pdfx.bases import deflated, press_profile, profile_stream
from tests.checks.pdf.pdfx.cases.case import Case
from tests.checks.pdf.pdfx.profiles_by_hand import profile_by_hand

_X4: Final = frozenset({Level.X4})
_WITH_PROFILE: Final = ALL - {Level.X4P}

Change = Callable[[bytes], bytes]
Edit = Callable[[pikepdf.Pdf], None]


def embedded(pdf: pikepdf.Pdf) -> pikepdf.Object:
    """The output profile of a file; that of PDF/X-4 is put beside the reference in one of PDF/X-4p."""
    intent = pdf.Root.OutputIntents[0]
    if "/DestOutputProfile" not in intent:
        intent.DestOutputProfile = profile_stream(pdf, press_profile(), 4)
    return intent.DestOutputProfile


def changed(change: Change) -> Edit:
    """Changes the bytes of the output profile."""

    def edit(pdf: pikepdf.Pdf) -> None:
        stream = embedded(pdf)
        packed = deflated(pdf, change(stream.read_bytes()))
        stream.write(packed.read_raw_bytes(), filter=Name.FlateDecode)

    return edit


def _at(place: int, new: bytes) -> Change:
    return lambda profile: profile[:place] + new + profile[place + len(new) :]


def _without_profile(pdf: pikepdf.Pdf) -> None:
    intent = pdf.Root.OutputIntents[0]
    del intent.DestOutputProfile, intent.RegistryName


def _by_the_registry_alone(pdf: pikepdf.Pdf) -> None:
    del pdf.Root.OutputIntents[0].DestOutputProfile


def _no_stream(pdf: pikepdf.Pdf) -> None:
    embedded(pdf)
    pdf.Root.OutputIntents[0].DestOutputProfile = Dictionary(N=4)


def _for_a_screen(pdf: pikepdf.Pdf) -> None:
    embedded(pdf)
    profile = profile_by_hand(device_class="prtr")
    pdf.Root.OutputIntents[0].DestOutputProfile = profile_stream(pdf, profile, 3)


def _three_components(pdf: pikepdf.Pdf) -> None:
    embedded(pdf).N = 3


def _no_components(pdf: pikepdf.Pdf) -> None:
    del embedded(pdf)["/N"]


def _without_tables(profile: bytes) -> bytes:
    return profile.replace(b"B2A0", b"xxx0").replace(b"B2A1", b"xxx1")


def _name_of_another(pdf: pikepdf.Pdf) -> None:
    embedded(pdf)
    pdf.Root.OutputIntents[0].OutputConditionIdentifier = String("FOGRA52")


def _another_for_an_archive(pdf: pikepdf.Pdf) -> None:
    profile = profile_stream(pdf, profile_by_hand(), 3)
    pdf.Root.OutputIntents.append(
        Dictionary(S=Name.GTS_PDFA1, OutputConditionIdentifier=String("sRGB"), DestOutputProfile=profile)
    )


_PROFILE_WANTED: Final = frozenset({"output-profile-for-colours"})
# PDF/X-4p refers to a profile: one in the file is one too many
_BESIDE: Final = frozenset({"profile-reference-beside-profile"})


def _of_each_level(breaks: str, name: str, edit: Edit) -> tuple[Case, ...]:
    return (
        Case(breaks, name, edit, levels=_WITH_PROFILE),
        Case(breaks, name, edit, levels=frozenset({Level.X4P}), also=_BESIDE),
    )


CASES: Final = (
    Case("output-profile-missing", "none", _without_profile, levels=X1A | _X4),
    Case("output-profile-missing", "none", _without_profile, levels=X3, also=_PROFILE_WANTED),
    Case("output-profile-missing", "a name of the registry alone", _by_the_registry_alone, levels=_X4),
    Case("output-profile-for-colours", "a name of the registry alone", _by_the_registry_alone, levels=X3),
    *_of_each_level("output-profile-unreadable", "no stream", _no_stream),
    *_of_each_level("output-profile-unreadable", "no profile", changed(lambda _: b"no profile" * 20)),
    *_of_each_level("output-profile-unreadable", "cut short", changed(lambda profile: profile[:5000])),
    *_of_each_level("output-profile-class", "of a screen", changed(_at(12, b"mntr"))),
    *_of_each_level("output-profile-space", "for Lab", changed(_at(16, b"Lab "))),
    Case("output-profile-space", "for RGB", _for_a_screen, levels=X1A),
    *_of_each_level("output-profile-version", "version 5", changed(_at(8, b"\5"))),
    Case("output-profile-version", "version 4", changed(_at(8, b"\4")), levels=ALL - X4),
    *_of_each_level("output-profile-components", "three", _three_components),
    *_of_each_level("output-profile-components", "none", _no_components),
    *_of_each_level("output-profile-tables", "none to the press", changed(_without_tables)),
    *_of_each_level("output-profile-of-another-condition", "FOGRA52", _name_of_another),
    Case("different-output-profiles", "one for an archive", _another_for_an_archive, levels=_X4),
)
