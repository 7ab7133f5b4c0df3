# How a file is put together: what comes near a requirement and keeps it, and where breaches are shown.
from io import BytesIO
from pathlib import Path

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, Stream, String

from hotfolder.checks.shared.pdfx_levels import X4, Level
from tests.checks.pdf.pdfx.bases import Edit, base, edited, saved
from tests.checks.pdf.pdfx.cases.filters import NOTHING_BY_LZW
from tests.checks.pdf.pdfx.judged import broken, judged


def _earlier_version(pdf: pikepdf.Pdf) -> None:
    pdf.Root.Version = Name("/1.2")


def _filter_by_its_short_name(pdf: pikepdf.Pdf) -> None:
    picture = pdf.pages[0].obj.Resources.XObject.Picture
    picture.F = Name.FlateDecode  # the short form of Filter, met outside of content, moves nothing


def _pages_at_the_limits(pdf: pikepdf.Pdf) -> None:
    pdf.pages[1].obj.MediaBox = Array([0, 0, 340, 14_400])


@pytest.mark.parametrize("level", Level)
@pytest.mark.parametrize(
    "edit",
    [_earlier_version, _filter_by_its_short_name, _pages_at_the_limits],
)
def test_what_comes_near_and_keeps_the_level(level: Level, edit: Edit, tmp_path: Path) -> None:
    assert broken(judged(edited(level, edit), level, tmp_path)) == {}


@pytest.mark.parametrize("level", Level)
def test_an_entry_without_a_value_is_none(level: Level, tmp_path: Path) -> None:
    data = saved(base(level), level).replace(b"/ID [", b"/Encrypt null /ID [")
    assert broken(judged(data, level, tmp_path)) == {}


@pytest.mark.parametrize("level", sorted(X4))
def test_x4_takes_packed_objects_jpeg_2000_and_units_of_another_size(level: Level, tmp_path: Path) -> None:
    pdf = base(level)
    pdf.pages[1].obj.UserUnit = 2
    stream = Stream(pdf, b"")
    stream.write(b"", filter=Name.JPXDecode)
    pdf.Root.PieceInfo = Dictionary(Maker=Dictionary(Private=pdf.make_indirect(stream)))
    out = BytesIO()
    with pikepdf.open(BytesIO(saved(pdf, level))) as again:
        again.save(out, object_stream_mode=pikepdf.ObjectStreamMode.generate, deterministic_id=True)
    assert broken(judged(out.getvalue(), level, tmp_path)) == {}


def test_a_compressed_picture_is_shown_where_it_is_painted(tmp_path: Path) -> None:
    def edit(pdf: pikepdf.Pdf) -> None:
        picture = pdf.pages[0].obj.Resources.XObject.Picture
        picture.write(bytes([0x80, 0x00, 0x00]) + bytes(200), filter=Name.LZWDecode)

    conformance = judged(edited(Level.X3_2003, edit), Level.X3_2003, tmp_path)
    (requirement,) = [each for each in conformance.broken if each.requirement.id == "lzw-filter"]
    (breach,) = requirement.breaches
    assert breach.what.startswith("picture (object ")
    assert breach.what.endswith("is packed by LZWDecode")
    assert breach.page is not None
    assert breach.page.number == 1
    (box,) = breach.boxes
    assert (box.x0, box.y0, box.x1, box.y1) == pytest.approx((50, 300, 130, 380))


def test_compressed_content_is_shown_by_its_page(tmp_path: Path) -> None:
    def edit(pdf: pikepdf.Pdf) -> None:
        more = Stream(pdf, b"")
        more.write(NOTHING_BY_LZW, filter=Name.LZWDecode)
        page = pdf.pages[1].obj
        page.Contents = Array([page.Contents, pdf.make_indirect(more)])

    conformance = judged(edited(Level.X1A_2001, edit), Level.X1A_2001, tmp_path)
    (requirement,) = conformance.broken
    assert requirement.requirement.id == "lzw-filter"
    assert [breach.page.number for breach in requirement.breaches if breach.page is not None] == [2]


def test_a_file_that_is_referred_to_is_named(tmp_path: Path) -> None:
    def edit(pdf: pikepdf.Pdf) -> None:
        pdf.Root.PieceInfo = Dictionary(Maker=Dictionary(Type=Name.Filespec, F=String("lanterns.tif")))

    said = broken(judged(edited(Level.X1A_2003, edit), Level.X1A_2003, tmp_path))
    assert list(said) == ["file-reference"]
    assert "refers to another file, 'lanterns.tif' (object 1)" in said["file-reference"][0]
