"""The pieces that are dropped: into which inbox, what is the matter with them, and what is to come of it."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from hotfolder.demo.artwork.colours import PRESS, SCREEN
from hotfolder.demo.artwork.festival import Faces, card, flyer, poster, programme
from hotfolder.demo.artwork.publication import Export, pdf_of

# The printers of the demonstration, and the subfolder of one for another product.
OFFSET: Final = "gullwick"
CARDS: Final = "cards"
COPIES: Final = "marrowby"
BANNERS: Final = "broadsail"


@dataclass(frozen=True, slots=True)
class DemoPiece:
    """A file for an inbox.

    what: what it is, for the reader of the demonstration. must_fix, advice: the codes (`rule.code`) of
    all that is to be found. more_may_follow: whether these draw others after them, as damage does.
    slowly: whether it is copied in bit by bit, as over a slow line.
    """

    printer: str
    name: str
    what: str
    make: Callable[[Faces], bytes]
    product: str | None = None
    must_fix: frozenset[str] = frozenset()
    advice: frozenset[str] = frozenset()
    more_may_follow: bool = False
    slowly: bool = False

    @property
    def is_to_be_ready(self) -> bool:
        """Whether it has nothing that must be fixed."""
        return not self.must_fix

    @property
    def inbox(self) -> str:
        """The inbox from the studio's folder, with a slash between the folders."""
        return "/".join([self.printer, "inbox", *([self.product] if self.product else [])])


def pieces() -> tuple[DemoPiece, ...]:
    """All pieces, in the order in which they are dropped."""
    return (
        DemoPiece(
            OFFSET,
            "lampfall-flyer.pdf",
            "a good flyer: PDF/X-1a, 3 mm bleed, picture at 300 ppi",
            _good_flyer,
            slowly=True,
        ),
        DemoPiece(
            OFFSET,
            "lampfall-flyer-no-bleed.pdf",
            "the same flyer, exported without its bleed",
            lambda fonts: pdf_of((flyer(fonts, PRESS, 300),), Export("Flyer", bleed_mm=0)),
            must_fix=frozenset({"bleed.cut-off"}),
        ),
        DemoPiece(
            OFFSET,
            "lampfall-flyer-from-the-web.pdf",
            "screen colours, a coarse picture, text almost at the cut",
            lambda fonts: pdf_of(
                (flyer(fonts, SCREEN, 96, small_print_mm=0.9),), Export("Flyer", pdfx=False)
            ),
            must_fix=frozenset(
                {
                    "colour-spaces.forbidden",
                    "image-resolution.below-floor",
                    "pdfx-claim.absent",
                    "safe-margin.cut-by-trim",
                }
            ),
        ),
        DemoPiece(
            OFFSET,
            "box-office-card.pdf",
            "its picture has 300 ppi; cards want 400",
            lambda fonts: pdf_of((card(fonts, 300),), Export("Card")),
            product=CARDS,
            must_fix=frozenset({"image-resolution.below-floor"}),
        ),
        DemoPiece(
            OFFSET,
            "box-office-card-400-ppi.pdf",
            "the card with more pixels",
            lambda fonts: pdf_of((card(fonts, 400),), Export("Card")),
            product=CARDS,
        ),
        DemoPiece(
            BANNERS,
            "lampfall-poster.jpg",
            "an A2 poster as JPEG, for a printer that takes that",
            lambda fonts: poster(fonts, 100),
        ),
        DemoPiece(
            OFFSET,
            "lampfall-poster.jpg",
            "the same JPEG in the wrong inbox",
            lambda fonts: poster(fonts, 100),
            must_fix=frozenset({"file-type.refused", "trim-size.wrong", "image-resolution.below-floor"}),
        ),
        DemoPiece(
            COPIES,
            "programme.pdf",
            "the font of its text is not in the file",
            lambda fonts: pdf_of(
                programme(fonts), Export("Programme", fonts_left_out=frozenset({fonts.text.name}))
            ),
            must_fix=frozenset({"fonts-embedded.not-embedded"}),
        ),
        DemoPiece(
            COPIES,
            "Spielplan f\u00fcr M\u00e4rz \U0001f3ee.pdf",
            "a good programme; its name may not travel well",
            lambda fonts: pdf_of(programme(fonts), Export("Programme")),
            advice=frozenset({"file-name.characters"}),
        ),
        DemoPiece(
            COPIES,
            "notes-for-the-printer.pdf",
            "no PDF at all, only called so",
            lambda _: b"Dear printer, the real file comes tomorrow. Promised!\n",
            must_fix=frozenset({"file-type.unknown"}),
        ),
        DemoPiece(
            OFFSET,
            "lampfall-flyer-torn-off.pdf",
            "the good flyer, but copying broke off half way",
            lambda fonts: _first_half(_good_flyer(fonts)),
            must_fix=frozenset({"readable.damaged"}),
            more_may_follow=True,
        ),
    )


def _good_flyer(fonts: Faces) -> bytes:
    return pdf_of((flyer(fonts, PRESS, 300),), Export("Flyer"))


def _first_half(data: bytes) -> bytes:
    return data[: len(data) // 2]
