"""Files whose output intent is not as a level wants it."""

from typing import Final

import pikepdf
from pikepdf import Array, Name, String

from hotfolder.checks.shared.pdfx_levels import ALL, X3, Level
from tests.checks.pdf.pdfx.bases import press_profile, profile_reference, profile_stream
from tests.checks.pdf.pdfx.cases.case import Case

_X4P: Final = frozenset({Level.X4P})
_X4: Final = frozenset({Level.X4})


def _no_intent(pdf: pikepdf.Pdf) -> None:
    del pdf.Root.OutputIntents


def _intent_for_an_archive(pdf: pikepdf.Pdf) -> None:
    pdf.Root.OutputIntents[0].S = Name.GTS_PDFA1


def _two_intents(pdf: pikepdf.Pdf) -> None:
    pdf.Root.OutputIntents.append(pdf.Root.OutputIntents[0])


def _no_identifier(pdf: pikepdf.Pdf) -> None:
    del pdf.Root.OutputIntents[0].OutputConditionIdentifier


def _identifier_as_a_name(pdf: pikepdf.Pdf) -> None:
    pdf.Root.OutputIntents[0].OutputConditionIdentifier = Name.FOGRA39


def _name_of_the_data(pdf: pikepdf.Pdf) -> None:
    pdf.Root.OutputIntents[0].OutputConditionIdentifier = String("FOGRA39L")


def _name_of_a_profile(pdf: pikepdf.Pdf) -> None:
    pdf.Root.OutputIntents[0].OutputConditionIdentifier = String("Coated FOGRA39 (ISO 12647-2:2004)")


def _custom_of_the_registry(pdf: pikepdf.Pdf) -> None:
    pdf.Root.OutputIntents[0].OutputConditionIdentifier = String("Custom")


def _custom_without_words(pdf: pikepdf.Pdf) -> None:
    intent = pdf.Root.OutputIntents[0]
    intent.OutputConditionIdentifier = String("Custom")
    del intent.RegistryName, intent.Info


def _no_reference(pdf: pikepdf.Pdf) -> None:
    del pdf.Root.OutputIntents[0].DestOutputProfileRef


def _short_check_sum(pdf: pikepdf.Pdf) -> None:
    pdf.Root.OutputIntents[0].DestOutputProfileRef.CheckSum = String(b"\1\2\3\4")


def _no_check_sum(pdf: pikepdf.Pdf) -> None:
    del pdf.Root.OutputIntents[0].DestOutputProfileRef.CheckSum


def _no_place(pdf: pikepdf.Pdf) -> None:
    pdf.Root.OutputIntents[0].DestOutputProfileRef.URLs = Array([])


def _reference_that_is_none(pdf: pikepdf.Pdf) -> None:
    pdf.Root.OutputIntents[0].DestOutputProfileRef = String("coated.icc")


def _profile_beside(pdf: pikepdf.Pdf) -> None:
    pdf.Root.OutputIntents[0].DestOutputProfile = profile_stream(pdf, press_profile(), 4)


def _reference_beside(pdf: pikepdf.Pdf) -> None:
    pdf.Root.OutputIntents[0].DestOutputProfileRef = profile_reference()


def _reference_instead(pdf: pikepdf.Pdf) -> None:
    _reference_beside(pdf)
    del pdf.Root.OutputIntents[0].DestOutputProfile


CASES: Final = (
    Case("no-output-intent", "none", _no_intent),
    Case("no-output-intent", "one for an archive", _intent_for_an_archive),
    Case("several-output-intents", "the same twice", _two_intents),
    Case("output-condition-name", "none", _no_identifier),
    Case("output-condition-name", "a name, not text", _identifier_as_a_name),
    Case("registered-name", "the name of the data", _name_of_the_data),
    Case("registered-name", "the name of a profile", _name_of_a_profile),
    Case("registered-name", "a house condition", _custom_of_the_registry),
    Case("output-condition-info", "a house condition without words", _custom_without_words),
    Case("profile-reference", "none", _no_reference, levels=_X4P),
    Case("profile-reference-entries", "a check sum of four bytes", _short_check_sum, levels=_X4P),
    Case("profile-reference-entries", "no check sum", _no_check_sum, levels=_X4P),
    Case("profile-reference-entries", "no place to get it from", _no_place, levels=_X4P),
    Case("profile-reference-entries", "text instead", _reference_that_is_none, levels=_X4P),
    Case("profile-reference-beside-profile", "both", _profile_beside, levels=_X4P),
    Case("profile-outside", "both", _reference_beside, levels=ALL - _X4P),
    Case("profile-outside", "a reference instead", _reference_instead, levels=_X4),
    # for colours as the eye sees them the profile is needed, whatever else is outside
    Case(
        "profile-outside",
        "a reference instead of a profile that is needed",
        _reference_instead,
        levels=X3,
        also=frozenset({"output-profile-for-colours"}),
    ),
)
