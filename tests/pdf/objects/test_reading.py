# Objects of a file are read for what they are, whatever they hold.
import pikepdf
import pytest

from hotfolder.pdf.fonts.fonts import FontReader
from hotfolder.pdf.objects.reading import name


@pytest.mark.parametrize(
    ("written", "read"),
    [
        (b"/Black", "Black"),
        (b"/Gr#c3#bcn", "Grün"),
        # poppler's pdffonts gives a name's bytes as they are; `Gr\\xfcn` is what Latin-1 has for it.
        (b"/Gr#fcn", "Grün"),
        (b"/ABCDEF+#b5#d8,Bold", "ABCDEF+µØ,Bold"),
    ],
)
def test_a_name_is_utf_8_or_else_latin_1(written: bytes, read: str) -> None:
    assert name(pikepdf.Object.parse(written)) == read


def test_a_font_whose_name_is_in_an_old_encoding_is_a_subset_all_the_same() -> None:
    font = pikepdf.Object.parse(b"<< /Type /Font /Subtype /TrueType /BaseFont /ABCDEF+#b5#d8 >>")
    found = FontReader().read(font).facts
    assert (found.name, found.subset) == ("ABCDEF+µØ", True)
