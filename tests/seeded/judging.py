"""Plants a fault or a look-alike in a sound page, judges the file, and compares with what is due."""

import io
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pikepdf

from hotfolder.checks.judge import judge
from hotfolder.drawing.plates.drawer import PlateDrawer
from hotfolder.measure import measure
from hotfolder.measure.inks.ink import measure_ink
from hotfolder.model.findings import Finding, Judgement, Quantity
from hotfolder.model.geometry import Box
from hotfolder.model.ruleset import RuleSet
from hotfolder.rulebook import load_rule_set
from hotfolder.workshop.placing import place
from hotfolder.workshop.rule_figures import ink_limits
from tests.seeded.bases import Base
from tests.seeded.kinds import Fault, LookAlike, Told
from tests.seeded.planting import Sheet

_HERE = Path(__file__).parent
_SAME_PT = 0.01


@cache
def rule_set(name: str = "seed.toml") -> RuleSet:
    """A rule set of this folder."""
    return load_rule_set(str(_HERE / name))


def judged(data: bytes, file_name: str = "flyer.pdf", rules: str = "seed.toml") -> Judgement:
    """What the rules say of the file that `data` are."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / "artwork"
        path.write_bytes(data)
        chosen = rule_set(rules)
        artwork = place(measure(path, file_name), chosen.product)
        with PlateDrawer(path, artwork, chosen.press) as drawer:
            return judge(
                measure_ink(drawer, artwork, chosen.press, limits=ink_limits(artwork, chosen)), chosen
            )


def seeded(fault: Fault, base: Base) -> tuple[bytes, Told]:
    """The file with the fault, and what is due."""
    sheet = Sheet.of(base.path)
    told = fault.plant(sheet)
    data = written(sheet, dict(fault.save))
    return (fault.spoil(data) if fault.spoil is not None else data), told


def with_look_alike(look_alike: LookAlike, base: Base) -> bytes:
    """The file with the look-alike."""
    sheet = Sheet.of(base.path)
    look_alike.plant(sheet)
    return written(sheet, dict(look_alike.save))


def written(sheet: Sheet, save: dict[str, Any]) -> bytes:
    """The file as PDF 1.4 has it, or as `save` says."""
    file = io.BytesIO()
    save.setdefault("object_stream_mode", pikepdf.ObjectStreamMode.disable)
    sheet.pdf.save(file, **save)
    return file.getvalue()


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of one fault, or one look-alike, on one base.

    wrong: in words, empty where all is as due. told: all that was found, as `rule.code`.
    """

    wrong: tuple[str, ...]
    told: frozenset[str]

    @property
    def is_right(self) -> bool:
        """Whether all is as due."""
        return not self.wrong


def outcome_of_fault(fault: Fault, base: Base) -> Outcome:
    """Whether the fault is found by its rule, at its place, with its figure, and nothing else with it."""
    data, told = seeded(fault, base)
    judgement = judged(data, fault.file_name, fault.rules)
    return Outcome(tuple(wrong_with(judgement, fault, told)), _codes(judgement))


def outcome_of_look_alike(look_alike: LookAlike, base: Base) -> Outcome:
    """Whether nothing is said of the look-alike."""
    judgement = judged(with_look_alike(look_alike, base), rules=look_alike.rules)
    return Outcome(tuple(_said(judgement)), _codes(judgement))


def _codes(judgement: Judgement) -> frozenset[str]:
    return frozenset(each.name for each in _found(judgement))


def _found(judgement: Judgement) -> list[Finding]:
    """All findings, those that have the cause of another one with it."""
    return [each for finding in judgement.findings for each in (finding, *finding.follows)]


def _said(judgement: Judgement) -> Iterator[str]:
    for finding in judgement.findings:
        yield f"told: {finding.rule}.{finding.code}: {finding.message}"
    for unjudged in judgement.unjudged:
        yield f"not judged: {unjudged.rule}: {unjudged.reason}"


def wrong_with(judgement: Judgement, fault: Fault, told: Told) -> Iterator[str]:
    """What is wrong with what is told of a fault, in words; nothing where all is as due."""
    due = f"{fault.rule}.{fault.code}"
    by_its_rule = [each for each in _found(judgement) if each.name == due]
    if len(by_its_rule) != 1:
        yield f"{due} is told {len(by_its_rule)} times"
    for finding in by_its_rule[:1]:
        yield from _wrong_figure(finding, told)
        yield from _wrong_place(finding, told)
    if fault.breaks:
        return
    for finding in _found(judgement):
        if finding.name != due and finding.name not in fault.also:
            yield f"also told: {finding.name}: {finding.message}"
    for unjudged in judgement.unjudged:
        yield f"not judged: {unjudged.rule}: {unjudged.reason}"


def _wrong_figure(finding: Finding, told: Told) -> Iterator[str]:
    measured, due = finding.measured, told.measured
    if isinstance(due, tuple):
        right = _is_near(measured, due, told)
    elif isinstance(due, frozenset):
        right = measured in due
    elif due is not None and due.endswith("..."):
        right = isinstance(measured, str) and measured.startswith(due.removesuffix("..."))
    else:
        right = measured == due
    if not right:
        yield f"measured {measured!r}, not {due!r} {told.unit}"


def _is_near(measured: Quantity | str | None, due: tuple[float, ...], told: Told) -> bool:
    return (
        isinstance(measured, Quantity)
        and measured.unit == told.unit
        and len(measured.values) == len(due)
        and all(abs(one - other) <= told.within for one, other in zip(measured.values, due, strict=True))
    )


def _wrong_place(finding: Finding, told: Told) -> Iterator[str]:
    if finding.page != told.page:
        yield f"on page {finding.page}, not {told.page}"
    if tuple(place.page for place in finding.further) != told.further:
        yield f"further on {finding.further}, not {told.further}"
    if told.inside is not None:
        if not finding.boxes or not all(told.inside.holds(box, told.close_pt) for box in finding.boxes):
            yield f"at {_corners(finding.boxes)}, not in {_corners((told.inside,))}"
    elif not _match(finding.boxes, told.boxes, told.close_pt):
        yield f"at {_corners(finding.boxes)}, not {_corners(told.boxes)}"


def _match(boxes: tuple[Box, ...], due: tuple[Box, ...], close_pt: float) -> bool:
    def near(one: Box, other: Box) -> bool:
        return one.holds(other, close_pt + _SAME_PT) and other.holds(one, close_pt + _SAME_PT)

    return (
        len(boxes) == len(due)
        and all(any(near(one, other) for other in boxes) for one in due)
        and all(any(near(one, other) for other in due) for one in boxes)
    )


def _corners(boxes: tuple[Box, ...]) -> str:
    return "; ".join(f"{box.x0:.1f} {box.y0:.1f} {box.x1:.1f} {box.y1:.1f}" for box in boxes) or "nowhere"
