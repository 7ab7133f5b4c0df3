# Facts stay the same, however the same page is written; and no bytes make measuring raise.

import io
from fractions import Fraction
from pathlib import Path

import pikepdf
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pikepdf import Array, Dictionary, Name, String

from hotfolder.measure import measure
from hotfolder.model.facts import Unmeasured
from tests.corpus import corpus_files, corpus_folder, problems_with
from tests.pdf.drawn_page import Drawn, corners, helvetica, only
from tests.pdf.remade import facts, in_forms, in_units, mended, resaved, turned
from tests.producers import produced_files

_WAYS_OF_SAVING: dict[str, dict[str, object]] = {
    "linearised": {"linearize": True},
    "object streams": {"object_stream_mode": pikepdf.ObjectStreamMode.generate},
    "no object streams": {"object_stream_mode": pikepdf.ObjectStreamMode.disable},
    "decompressed": {"stream_decode_level": pikepdf.StreamDecodeLevel.generalized, "compress_streams": False},
    "recompressed": {"recompress_flate": True},
    "for reading": {"qdf": True},
    "old": {"force_version": "1.4"},
    "locked with a blank password": {"encryption": pikepdf.Encryption(owner="owner", user="")},
}

# One thing of each kind that a page paints; numbers are put in.
_THINGS = [
    "0.2 0.4 0.6 rg {x} {y} {w} {h} re f",
    "1 0 0 0 k {x} {y} {w} {h} re B*",
    "{n} w {x} {y} m {w} {h} l {y} {x} l s",
    "1 J 1 j {n} w {x} {y} m {w} {h} {y} {x} {h} {w} c S",
    "{x} {y} {w} {h} re W n",
    "{x} {y} m {w} {h} l {y} {w} l W* n",
    "BT /F {n} Tf {x} {y} Td (Type) Tj 0.7 0.7 -0.7 0.7 {w} {h} Tm (turned) Tj ET",
    "q {w} 0 0 {h} {x} {y} cm /Photo Do Q",
    "q {w} {n} -{n} {h} {x} {y} cm /Photo Do Q",
    "q 1 0 0 1 {x} {y} cm /Symbol Do 1 0 0 1 {n} {n} cm /Symbol Do /Symbol Do Q",
    "/Half gs {x} {y} {w} {h} re f",
    "/Over gs",
    "q {x} {y} {w} {h} re W n /Ramp sh Q",
    "/Pattern cs /RampFill scn {x} {y} {w} {h} re f",
    "/Pattern cs /Tiles scn {x} {y} {w} {h} re f",
    "/Spot cs 0.5 scn {x} {y} {w} {h} re f",
    "/OC /Notes BDC {x} {y} {w} {h} re f EMC",
    "q {n} 0 0 {n} 0 0 cm",
    "Q",
]
_NUMBERS = st.integers(1, 290)
_CONTENTS = st.lists(
    st.builds(
        lambda thing, x, y, w, h, n: thing.format(x=x, y=y, w=w, h=h, n=n),
        st.sampled_from(_THINGS), _NUMBERS, _NUMBERS, _NUMBERS, _NUMBERS, st.integers(1, 30),
    ),
    min_size=1, max_size=15,
).map("\n".join)  # fmt: skip


def _page(content: str) -> bytes:
    """A page of 300 x 400 points, with what the things above name."""
    drawn = Drawn()
    ramp = Dictionary(FunctionType=2, Domain=Array([0, 1]), C0=Array([0, 0, 0]), C1=Array([1, 1, 1]), N=1)
    axial = Dictionary(
        ShadingType=2, ColorSpace=Name.DeviceRGB, Coords=Array([50, 0, 150, 80]), Function=ramp
    )
    drawn.resource("Shading", "Ramp", axial)
    drawn.resource("Pattern", "RampFill", Dictionary(PatternType=2, Shading=axial))
    tile = {
        "PatternType": 1,
        "PaintType": 1,
        "TilingType": 1,
        "XStep": 7,
        "YStep": 7,
        "Resources": Dictionary(),
    }
    cell = drawn.stream(b"0 1 0 0 k 0 0 4 4 re f 1 w 0 0 m 6 6 l S", BBox=Array([0, 0, 7, 7]), **tile)
    drawn.resource("Pattern", "Tiles", cell)
    drawn.resource("XObject", "Photo", drawn.image(20, 30, b"\0" * 1800))
    symbol = drawn.form(b"0 0 9 9 re f 3 3 m 20 9 l S", BBox=Array([0, 0, 12, 12]))
    drawn.resource("XObject", "Symbol", symbol)
    drawn.resource("ExtGState", "Half", Dictionary(ca=0.5, BM=Name.Multiply))
    drawn.resource("ExtGState", "Over", Dictionary(OP=True, OPM=1))
    tint = Dictionary(FunctionType=2, Domain=Array([0, 1]), C0=Array([1]), C1=Array([0]), N=1)
    drawn.resource("ColorSpace", "Spot", Array([Name.Separation, Name.Moss, Name.DeviceGray, tint]))
    off = drawn.pdf.make_indirect(Dictionary(Type=Name.OCG, Name=String("Notes")))
    drawn.pdf.Root.OCProperties = Dictionary(OCGs=Array([off]), D=Dictionary(OFF=Array([off])))
    drawn.resource("Properties", "Notes", off).resource("Font", "F", helvetica())
    drawn.page.obj.Contents = drawn.pdf.make_stream(content.encode())
    file = io.BytesIO()
    drawn.pdf.save(file)
    return file.getvalue()


_SETTINGS = settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)


@_SETTINGS
@given(_CONTENTS, st.sampled_from(sorted(_WAYS_OF_SAVING)))
def test_facts_survive_saving_in_any_way(tmp_path: Path, content: str, way: str) -> None:
    page = _page(content)
    assert facts(resaved(page, **_WAYS_OF_SAVING[way]), tmp_path).like(facts(page, tmp_path))


@_SETTINGS
@given(_CONTENTS, st.integers(1, 4))
def test_facts_survive_forms_around_the_page(tmp_path: Path, content: str, levels: int) -> None:
    page = _page(content)
    assert facts(in_forms(page, levels), tmp_path).like(facts(page, tmp_path))


@_SETTINGS
@given(_CONTENTS)
def test_facts_turn_with_the_page(tmp_path: Path, content: str) -> None:
    page = _page(content)
    made, moved = turned(page)
    assert facts(made, tmp_path).like(facts(page, tmp_path, moved))


@_SETTINGS
@given(_CONTENTS, st.sampled_from([0.5, 2.0, 2.5, 10.0]))
def test_facts_are_points_whatever_the_unit(tmp_path: Path, content: str, unit: float) -> None:
    page = _page(content)
    assert facts(in_units(page, unit), tmp_path).like(facts(page, tmp_path))


# The same of files by other programs


@pytest.fixture(params=produced_files(), ids=lambda path: path.stem)
def produced(request: pytest.FixtureRequest) -> bytes:
    found = request.param
    assert isinstance(found, Path)
    return found.read_bytes()


@pytest.mark.parametrize("way", _WAYS_OF_SAVING)
def test_facts_of_a_program_survive_saving_in_any_way(produced: bytes, way: str, tmp_path: Path) -> None:
    wanted = facts(produced, tmp_path)
    assert sum(map(len, wanted.pages)) > 0
    assert facts(resaved(produced, **_WAYS_OF_SAVING[way]), tmp_path).like(wanted)


def test_facts_of_a_program_survive_forms_turns_and_units(produced: bytes, tmp_path: Path) -> None:
    _survives_all(produced, tmp_path)


def _survives_all(data: bytes, folder: Path) -> None:
    plain = in_forms(data, 0)  # without annotations, which the other ways leave out
    wanted = facts(in_forms(plain, 1), folder)
    made, moved = turned(plain)
    assert facts(in_forms(plain, 3), folder).like(wanted)
    assert facts(in_units(plain, 2.0), folder).like(wanted)
    assert facts(made, folder).like(facts(in_forms(plain, 1), folder, moved))


@pytest.mark.slow
@pytest.mark.parametrize("name", [file.name for file in corpus_files() if file.name.endswith(".pdf")])
def test_facts_of_real_files_survive_saving_forms_turns_and_units(name: str, tmp_path: Path) -> None:
    path = corpus_folder() / name
    file = next(each for each in corpus_files() if each.name == name)
    if problems_with(file):
        pytest.skip(str(problems_with(file)))
    try:
        data = mended(path.read_bytes())
        pikepdf.open(io.BytesIO(data), attempt_recovery=False).close()
    except pikepdf.PikepdfError:
        pytest.skip(f"qpdf does not open {name}, or writes it with its faults")
    wanted = facts(data, tmp_path)
    if not wanted.pages:
        pytest.skip(f"{name} has no pages, and qpdf does not write it in every way")
    for how in _WAYS_OF_SAVING.values():
        assert facts(resaved(data, **how), tmp_path).like(wanted)
    _survives_all(data, tmp_path)


# Matrices


_TENTHS = st.integers(-40, 40).map(lambda tenths: Fraction(tenths, 10))
_MATRIX = st.tuples(_TENTHS, _TENTHS, _TENTHS, _TENTHS, _TENTHS, _TENTHS)


@settings(max_examples=100, deadline=None)
@given(st.lists(st.tuples(_MATRIX, st.booleans()), min_size=1, max_size=6))
def test_a_chain_of_matrices_through_forms_equals_their_product(
    chain: list[tuple[tuple[Fraction, ...], bool]],
) -> None:
    # Each matrix stands in a form's dictionary or before `cm`; the slow way reckons with fractions.
    drawn = Drawn()
    content, resources = b"0 0 1 1 re f", drawn.page.obj.Resources
    corners_of_it = [(Fraction(0), Fraction(0)), (Fraction(1), Fraction(0)), (Fraction(0), Fraction(1)),
                     (Fraction(1), Fraction(1))]  # fmt: skip
    for (a, b, c, d, e, f), by_form in chain:
        corners_of_it = [(a * x + c * y + e, b * x + d * y + f) for x, y in corners_of_it]
        numbers = [float(each) for each in (a, b, c, d, e, f)]
        if by_form:
            big = Array([-(10**9), -(10**9), 10**9, 10**9])
            form = drawn.form(content, Matrix=Array(numbers), BBox=big, Resources=resources)
            resources = Dictionary(XObject=Dictionary(X=form))
            content = b"/X Do"
        else:
            content = b"%s cm " % " ".join(map(str, numbers)).encode() + content
    drawn.page.obj.Resources = resources
    box = only(drawn.read(content)).box
    xs, ys = zip(*corners_of_it, strict=True)
    assert corners(box) == pytest.approx((min(xs), min(ys), max(xs), max(ys)), abs=1e-3, rel=1e-9)


# Bytes


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.binary(max_size=400),
    st.sampled_from([b"", b"%PDF-1.7\n", b"\x89PNG\r\n\x1a\n", b"II*\0", b"8BPS\0\1"]),
)
def test_no_bytes_make_measuring_raise(tmp_path: Path, data: bytes, start: bytes) -> None:
    path = tmp_path / "any"
    path.write_bytes(start + data)
    artwork = measure(path)
    assert artwork.file.bytes == len(start + data)


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.sampled_from(produced_files()),
    st.lists(st.tuples(st.floats(0, 1), st.binary(min_size=1, max_size=8), st.booleans()), max_size=12),
    st.floats(0.05, 1),
)
def test_no_damage_to_a_file_makes_measuring_raise(
    tmp_path: Path, piece: Path, damage: list[tuple[float, bytes, bool]], kept: float
) -> None:
    data = bytearray(piece.read_bytes())
    for place, put, inserted in damage:
        at = int(place * len(data))
        data[at : at if inserted else at + len(put)] = put
    path = tmp_path / "damaged.pdf"
    path.write_bytes(data[: int(kept * len(data))] if kept < 0.5 else data)
    artwork = measure(path)
    # A file that could not be opened says why.
    assert artwork.problems or not isinstance(artwork.pages, Unmeasured)
    for page in artwork.known_pages:
        for mark in page.known_marks:
            assert mark.box.x0 <= mark.box.x1
            assert mark.visible is None or page.boxes.media is not None
