"""The output intent and its profile."""

from collections.abc import Callable
from typing import Final

from pikepdf import Array, Pdf

from hotfolder.checks.shared.pdfx_levels import Level
from tests.checks.pdf.pdfx.bases import press_profile, profile_reference
from tests.checks.pdf.pdfx.mutations.mutation import (
    KEEPS,
    Edit,
    Expected,
    Mutation,
    drops,
    everywhere,
    only,
    sets,
    stream,
    then,
    told,
)
from tests.checks.pdf.pdfx.profiles_by_hand import profile_by_hand

_INTENT: Final = "Root/OutputIntents/0"


def _not_4p(ids: str) -> Expected:
    return _but_4p(told(ids, ids, ids))


def _but_4p(expects: Expected) -> Expected:
    """Without PDF/X-4p, which has its profile outside."""
    return {level: ids for level, ids in expects.items() if level is not Level.X4P}


def _profile(change: Callable[[bytes], bytes], entries: str = "/N 4") -> Edit:
    return sets(f"{_INTENT}/DestOutputProfile", stream(change(press_profile()), entries))


def _patched(place: int, new: bytes) -> Callable[[bytes], bytes]:
    return lambda data: data[:place] + new + data[place + len(new) :]


def _of_archive(*, same_profile: bool) -> Edit:
    def edit(pdf: Pdf) -> None:
        intents = pdf.Root.OutputIntents
        sets(
            "Root/OutputIntents",
            "[null << /Type /OutputIntent /S /GTS_PDFA1 /OutputConditionIdentifier (Own) /Info (Own) >>]",
        )(pdf)
        pdf.Root.OutputIntents[0] = intents[0]
        if same_profile and "/DestOutputProfile" in intents[0]:
            pdf.Root.OutputIntents[1].DestOutputProfile = intents[0].DestOutputProfile
        elif not same_profile:
            pdf.Root.OutputIntents[1].DestOutputProfile = stream(profile_by_hand(), "/N 3")(pdf)

    return edit


def _twice(pdf: Pdf) -> None:
    pdf.Root.OutputIntents = Array([pdf.Root.OutputIntents[0], pdf.Root.OutputIntents[0]])


def _direct(pdf: Pdf) -> None:
    intent = pdf.Root.OutputIntents[0]
    sets("Root/OutputIntents", "[<< >>]")(pdf)
    for key, value in intent.items():
        pdf.Root.OutputIntents[0][key] = value


def _reference_beside(pdf: Pdf) -> None:
    pdf.Root.OutputIntents[0].DestOutputProfileRef = profile_reference()


_WRONG_REFERENCE: Final = only(Level.X4P, "profile-reference-entries")
_REFERENCE: Final = f"{_INTENT}/DestOutputProfileRef"

MUTATIONS: Final = (
    Mutation("no output intent", everywhere("no-output-intent"), drops("Root/OutputIntents")),
    Mutation(
        "an empty list of output intents", everywhere("no-output-intent"), sets("Root/OutputIntents", "[]")
    ),
    Mutation(
        "an output intent for archives alone",
        everywhere("no-output-intent"),
        sets(f"{_INTENT}/S", "/GTS_PDFA1"),
    ),
    Mutation("an output intent for archives beside", KEEPS, _of_archive(same_profile=True)),
    Mutation(
        "an output intent for archives beside, with another profile",
        told("", "", "different-output-profiles", x4p=""),
        _of_archive(same_profile=False),
    ),
    Mutation("the output intent twice", everywhere("several-output-intents"), _twice),
    Mutation("the output intent within the list", KEEPS, _direct),
    Mutation(
        "the list of output intents by reference",
        KEEPS,
        sets("Root/OutputIntents", lambda pdf: pdf.make_indirect(pdf.Root.OutputIntents)),
    ),
    Mutation("the output intent's type left out", KEEPS, drops(f"{_INTENT}/Type")),
    Mutation(
        "no name of the condition",
        everywhere("output-condition-name"),
        drops(f"{_INTENT}/OutputConditionIdentifier"),
    ),
    Mutation(
        "an empty name of the condition",
        everywhere("output-condition-name"),
        sets(f"{_INTENT}/OutputConditionIdentifier", "()"),
    ),
    Mutation(
        "the condition in UTF-16",
        KEEPS,
        sets(f"{_INTENT}/OutputConditionIdentifier", "<FEFF0046004F00470052004100330039>"),
    ),
    Mutation("no registry, with profile and words", KEEPS, drops(f"{_INTENT}/RegistryName")),
    Mutation("no words on the condition, which is registered", KEEPS, drops(f"{_INTENT}/Info")),
    Mutation(
        "no words on the condition, which is not registered",
        everywhere("output-condition-info"),
        then(
            drops(f"{_INTENT}/Info"),
            drops(f"{_INTENT}/RegistryName"),
            sets(f"{_INTENT}/OutputConditionIdentifier", "(Lantern press)"),
        ),
    ),
    Mutation(
        "empty words on the condition, which is not registered",
        everywhere("output-condition-info"),
        then(
            sets(f"{_INTENT}/Info", "()"),
            drops(f"{_INTENT}/RegistryName"),
            sets(f"{_INTENT}/OutputConditionIdentifier", "(Lantern press)"),
        ),
    ),
    Mutation(
        "a condition of one's own",
        KEEPS,
        then(
            drops(f"{_INTENT}/RegistryName"), sets(f"{_INTENT}/OutputConditionIdentifier", "(Lantern press)")
        ),
    ),
    Mutation(
        "a condition of another registry", KEEPS, sets(f"{_INTENT}/RegistryName", "(http://www.example.org)")
    ),
    Mutation(
        "the registry's newer address", KEEPS, sets(f"{_INTENT}/RegistryName", "(https://www.color.org)")
    ),
    # Corrected from a breach: the standard recommends it, and no more.
    Mutation("no condition in words", KEEPS, drops(f"{_INTENT}/OutputCondition")),
    Mutation(
        "no profile of a registered condition",
        _but_4p(told("", "output-profile-for-colours", "output-profile-missing")),
        drops(f"{_INTENT}/DestOutputProfile"),
    ),
    Mutation(
        "no profile of a condition of one's own",
        _but_4p(
            told(
                "output-profile-missing",
                "output-profile-missing output-profile-for-colours",
                "output-profile-missing",
            )
        ),
        then(
            drops(f"{_INTENT}/DestOutputProfile"),
            drops(f"{_INTENT}/RegistryName"),
            sets(f"{_INTENT}/OutputConditionIdentifier", "(Lantern press)"),
        ),
    ),
    Mutation(
        "a profile that is none",
        _not_4p("output-profile-unreadable"),
        _profile(lambda _: b"no profile" * 20),
    ),
    Mutation("an empty profile", _not_4p("output-profile-unreadable"), _profile(lambda _: b"")),
    Mutation(
        "a profile that is cut off in its head",
        _not_4p("output-profile-unreadable"),
        _profile(lambda data: data[:90]),
    ),
    Mutation(
        "a profile without its mark", _not_4p("output-profile-unreadable"), _profile(_patched(36, b"xxxx"))
    ),
    Mutation(
        "a screen's profile by its class", _not_4p("output-profile-class"), _profile(_patched(12, b"mntr"))
    ),
    Mutation(
        "a scanner's profile by its class", _not_4p("output-profile-class"), _profile(_patched(12, b"scnr"))
    ),
    Mutation(
        "a profile of version 4",
        _but_4p(told("output-profile-version", "output-profile-version", "")),
        _profile(_patched(8, b"\4")),
    ),
    Mutation("a profile of version 5", _not_4p("output-profile-version"), _profile(_patched(8, b"\5"))),
    Mutation(
        "a profile of four colours said to be of three",
        _not_4p("output-profile-components"),
        _profile(lambda data: data, "/N 3"),
    ),
    Mutation(
        "a profile of which nobody says how many colours",
        _not_4p("output-profile-components"),
        _profile(lambda data: data, ""),
    ),
    Mutation(
        "a profile with its device space beside it",
        _not_4p(""),
        _profile(lambda data: data, "/N 4 /Alternate /DeviceCMYK"),
    ),
    Mutation("a profile outside of the file too", _not_4p("profile-outside"), _reference_beside),
    Mutation(
        "a profile in the file too",
        only(Level.X4P, "profile-reference-beside-profile"),
        _profile(lambda data: data),
    ),
    Mutation("no reference to a profile", only(Level.X4P, "profile-reference"), drops(_REFERENCE)),
    *(
        Mutation(f"a reference without {key}", _WRONG_REFERENCE, drops(f"{_REFERENCE}/{key}"))
        for key in ("CheckSum", "ICCVersion", "ProfileCS", "ProfileName", "URLs")
    ),
    Mutation(
        "a reference with a checksum of 15 bytes",
        _WRONG_REFERENCE,
        sets(f"{_REFERENCE}/CheckSum", f"<{'0a' * 15}>"),
    ),
    Mutation("a reference with no address in its list", _WRONG_REFERENCE, sets(f"{_REFERENCE}/URLs", "[]")),
    Mutation(
        "a reference with two addresses",
        only(Level.X4P),
        sets(
            f"{_REFERENCE}/URLs",
            "[<< /FS /URL /F (http://www.example.org/a) >> << /FS /URL /F (http://www.example.org/b) >>]",
        ),
    ),
)
