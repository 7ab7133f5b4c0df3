"""The report for people: one self-contained page, a marked proof with its notes."""

import base64
import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Final, TypeAlias

from jinja2 import Environment, FileSystemLoader, StrictUndefined, Template
from markupsafe import Markup

from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import OpenCause, Severity
from hotfolder.model.pages import Page
from hotfolder.model.pictures import EncodedPicture, PagePicture, PageProof, picture_fact
from hotfolder.report.as_html.ink_pictures import InkSection, condition_words, ink_section
from hotfolder.report.as_html.measurements import measurements
from hotfolder.report.as_html.proof import BADGE_RADIUS, Proof, lay_out, note_places
from hotfolder.report.model import Release, Report
from hotfolder.report.notes import Note, by_page, notes
from hotfolder.units import Length, LengthUnit
from hotfolder.wording.figures import bytes_words, comparison, measured_words, size_words
from hotfolder.wording.lists import counted, listed
from hotfolder.wording.pages import page_numbers
from hotfolder.wording.shown import shown_name

GENERATOR: Final = "hotfolder-report/1"

# Stands just below the verdict. A released job's note takes its place in the finished page, so
# that the parent process, which draws nothing, can mark a report. Text out of the artwork
# cannot forge it: everything shown is escaped.
RELEASED_PLACE: Final = "<!-- hotfolder:released -->"

_TEMPLATES: Final = Path(__file__).with_name("templates")
_FIRST_PAGES: Final = 12
_FIRST_GLANCES: Final = 10
_FIRST_INKS: Final = 2

Shown: TypeAlias = PageProof | PagePicture | Unmeasured


@dataclass(frozen=True, slots=True)
class _PageSection:
    """What the template shows of one page.

    legend: whether its lines are explained; once is enough for pages without notes. caption: what the
    picture is made from, where an earlier page did not say the same. inks: what its plates show.
    """

    page: Page
    size: str
    notes: tuple[Note, ...]
    picture: PagePicture | None
    no_picture: str
    proof: Proof | None
    legend: bool
    caption: str
    inks: InkSection | None


def report_html(report: Report, pictures: Sequence[Shown] = ()) -> str:
    """`report` as an HTML page that needs nothing from outside, with `pictures` of its pages.

    A `PageProof` shows the page as it will print, and what its plates carry; a `PagePicture` the page alone.
    """
    all_notes = notes(report)
    sections = _sections(report, all_notes, pictures)
    shown = {section.page.number for section in sections}
    style = (_TEMPLATES / "report.css").read_text(encoding="utf-8")
    return page_template().render(
        report=report,
        generator=GENERATOR,
        style=Markup(style),  # noqa: S704 - our own file
        style_hash=base64.b64encode(hashlib.sha256(style.encode("utf-8")).digest()).decode("ascii"),
        released=_released(report),
        count=_count_sentence(report),
        glances=all_notes[:_FIRST_GLANCES],
        glances_left=max(0, len(all_notes) - _FIRST_GLANCES),
        whole_file=[note for note in all_notes if note.finding.page not in shown],
        sections=sections[:_FIRST_PAGES],
        further_sections=sections[_FIRST_PAGES:],
        # A flyer shows all; of longer works the inks of pages without findings are folded away.
        ink_sections=[
            (section.inks, bool(section.notes) or len(sections) <= _FIRST_INKS)
            for section in sections
            if section.inks is not None
        ],
        unshown=page_numbers(
            [page.number for page in report.artwork.known_pages if page.number not in shown]
        ),
        passed=[report.titles.get(rule, rule) for rule in report.judgement.passed],
        unjudged=_unjudged(report),
        unjudged_count=_unjudged_count(report),
        questions=_questions(report),
        chapters=measurements(report.artwork, _condition(report)),
        badge_radius=BADGE_RADIUS,
        bleed=_bleed(report),
        conditions=listed(
            list(
                dict.fromkeys(
                    shown.condition for shown in pictures if isinstance(shown, PageProof) and shown.condition
                )
            )
        ),
    )


def page_template() -> Template:
    """The page's template. Compiling it takes as long as a page; once in a process is enough."""
    return _environment().get_template("report.html.jinja")


def released_note(release: Release) -> str:
    """What stands below the verdict of a released job, as a piece of HTML."""
    return _environment().get_template("released.html.jinja").render(release=release)


def mark_released(html: str, release: Release) -> str:
    """The finished page `html` with the note of `release` below its verdict.

    Raises ValueError where the page has no place for it: no report of ours, or released already.
    """
    if RELEASED_PLACE not in html:
        raise ValueError("this page has no place for the note of a release")
    return html.replace(RELEASED_PLACE, released_note(release), 1)


@cache
def _environment() -> Environment:
    environment = Environment(
        loader=FileSystemLoader(_TEMPLATES),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=_visible,
    )
    environment.filters |= {
        "bytes": bytes_words,
        "address": _address,
        "points": lambda value: f"{value:.2f}".rstrip("0").rstrip("."),
        "moment": lambda moment: moment.strftime("%Y-%m-%d %H:%M %Z").strip(),
    }
    environment.globals |= {
        "Severity": Severity,
        "comparison": lambda finding: comparison(finding.measured, finding.required),
        "measured_words": lambda finding: measured_words(finding.measured, finding.required),
        "note_places": note_places,
        "first_sentence": _first_sentence,
    }
    return environment


def _address(picture: EncodedPicture | PagePicture) -> Markup:
    """The picture as an address: base64 and a media type of ours, with nothing in it to escape or show."""
    return Markup(picture.data_uri)  # noqa: S704 - as said above


def _visible(value: object) -> object:
    """Text on its way into the page, with what cannot be seen written as an escape."""
    return shown_name(value) if isinstance(value, str) and not isinstance(value, Markup) else value


def _released(report: Report) -> Markup:
    if report.released is None:
        return Markup(RELEASED_PLACE)  # noqa: S704 - our own constant
    return Markup(released_note(report.released))  # noqa: S704 - out of an escaping template


def _sections(report: Report, all_notes: Sequence[Note], pictures: Sequence[Shown]) -> list[_PageSection]:
    """The pages that have a picture, should have had one, or have a finding."""
    proofs = {proof.printed.page: proof for proof in pictures if isinstance(proof, PageProof)}
    drawn = {picture.page: picture for picture in pictures if isinstance(picture, PagePicture)}
    drawn |= {number: proof.printed for number, proof in proofs.items()}
    missing = {picture.what: picture.reason for picture in pictures if isinstance(picture, Unmeasured)}
    bleed_pt = report.rule_set.product.bleed_pt
    notes_by_page = by_page(all_notes)
    sections: list[_PageSection] = []
    captions: set[str] = set()
    for page in report.artwork.known_pages:
        own = tuple(notes_by_page.get(page.number, ()))
        picture = drawn.get(page.number)
        reason = missing.get(picture_fact(page.number), "")
        # What was told in full on an earlier page is no reason for a page without a picture.
        if picture is None and not reason and all(note.again for note in own):
            continue
        shown, marked = proofs.get(page.number), lay_out(page, picture, own, bleed_pt)
        caption = condition_words(page, shown or picture)
        sections.append(
            _PageSection(
                page=page,
                size=_size(page),
                notes=own,
                picture=picture,
                no_picture=reason,
                proof=marked,
                legend=bool(own) or not sections,
                caption="" if caption in captions else caption,
                inks=ink_section(page, shown, marked, own, bleed_pt) if shown and marked else None,
            )
        )
        captions.add(caption)
    return sections


def _size(page: Page) -> str:
    box = page.boxes.media if isinstance(page.trim, Unmeasured) else page.trim.box
    if box is None:
        return "size not known"
    width, height = (box.width, box.height) if page.rotate in {0, 180} else (box.height, box.width)
    words = size_words(width, height)
    return f"{words}, whole sheet" if isinstance(page.trim, Unmeasured) else words


def _count_sentence(report: Report) -> str:
    """How much was found, as a sentence: `2 things must be fixed, 1 piece of advice`."""
    findings, unjudged = report.judgement.findings, report.judgement.unjudged
    must = sum(finding.severity is Severity.MUST_FIX for finding in findings)
    open_must = sum(item.severity is Severity.MUST_FIX for item in unjudged)
    parts = []
    if must:
        parts.append(f"{counted(must, 'thing')} must be fixed")
    if len(findings) > must:
        parts.append(counted(len(findings) - must, "piece of advice", "pieces of advice"))
    if open_must:
        parts.append(f"{counted(open_must, 'rule')} that must be kept could not be judged")
    if not parts:
        return "Nothing was found that breaks a rule."
    sentence = ", ".join(parts)
    return f"{sentence}."


def _bleed(report: Report) -> str:
    """The bleed that is wanted, in the unit that the rule set gives its sizes in."""
    product = report.rule_set.product
    unit = product.sizes[0].unit if product.sizes else LengthUnit.MM
    return str(Length(product.bleed_pt, unit))


def _condition(report: Report) -> str:
    """The printing condition in words; empty where the plates were drawn for none, or for another."""
    press = report.rule_set.press
    return press.title if press is not None and press.name == report.artwork.press else ""


def _unjudged(report: Report) -> list[tuple[list[str], OpenCause]]:
    """Why rules were left unjudged: each cause once, with the titles of its rules."""
    titles = report.titles
    return [
        ([titles.get(rule, rule) for rule in cause.rules], cause) for cause in report.judgement.open_causes
    ]


def _unjudged_count(report: Report) -> str:
    count = len({item.rule for item in report.judgement.unjudged})
    return counted(count, "rule") if count else ""


def _first_sentence(message: str) -> str:
    """The message up to its first full stop that ends a sentence."""
    return message.split(". ", 1)[0].removesuffix(".")


def _questions(report: Report) -> list[str]:
    """The rule set's questions to the printer that do not stand among the unjudged rules already."""
    asked = {item.reason for item in report.judgement.unjudged}
    return [question for question in report.rule_set.questions if question not in asked]
