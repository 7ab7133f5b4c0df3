# The bits of meshes, written here one number after the other and read back.
from collections.abc import Sequence

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pikepdf import Dictionary

from hotfolder.pdf.meshes.records import (
    COONS,
    LATTICE,
    TENSOR,
    TRIANGLES,
    MeshLayout,
    MeshRecord,
    mesh_layout,
)


def written(layout: MeshLayout, records: Sequence[MeshRecord]) -> bytes:
    """Records as bytes, slowly: a string of 0 and 1 for each."""
    data = b""
    for record in records:
        fields = [(record.flag, layout.flag), *((each, layout.place) for each in record.places)]
        fields += [(each, layout.colour) for each in record.colours]
        bits = "".join(format(value, f"0{size}b") for value, size in fields if size)
        bits += "0" * (-len(bits) % 8)
        data += bytes(int(bits[at : at + 8], 2) for at in range(0, len(bits), 8))
    return data


@st.composite
def meshes(draw: st.DrawFn) -> tuple[MeshLayout, list[MeshRecord]]:
    kind = draw(st.sampled_from([TRIANGLES, LATTICE, COONS, TENSOR]))
    bits = st.integers(1, 32)
    flag = 0 if kind == LATTICE else draw(st.sampled_from([2, 4, 8]))
    layout = MeshLayout(kind, flag, draw(bits), draw(bits), draw(st.integers(1, 4)))
    records = []
    for _ in range(draw(st.integers(0, 4))):
        edge = draw(st.integers(0, 3)) if flag else 0
        points, colours = {COONS: (12, 4), TENSOR: (16, 4)}.get(kind, (1, 1))
        if edge and kind in {COONS, TENSOR}:
            points, colours = points - 4, colours - 2
        places = [draw(st.integers(0, 2**layout.place - 1)) for _ in range(2 * points)]
        shades = [draw(st.integers(0, 2**layout.colour - 1)) for _ in range(colours)]
        records.append(MeshRecord(edge, tuple(places), tuple(shades)))
    return layout, records


@given(meshes(), st.integers(0, 3))
def test_what_is_written_is_read_and_half_a_record_is_none(
    mesh: tuple[MeshLayout, list[MeshRecord]], cut: int
) -> None:
    layout, records = mesh
    data = written(layout, records)
    assert list(layout.records(data)) == records
    if records and cut:
        assert list(layout.records(data[:-1])) == records[:-1]


def test_a_colour_has_its_components_in_order() -> None:
    assert MeshLayout(TRIANGLES, 8, 8, 4, 3).parts(0x1AF) == [0x1, 0xA, 0xF]


@pytest.mark.parametrize(
    ("kind", "entries", "components", "layout"),
    [
        (TRIANGLES, {"Flag": 8, "Coordinate": 16, "Component": 8}, 3, MeshLayout(4, 8, 16, 8, 3)),
        (LATTICE, {"Flag": 8, "Coordinate": 16, "Component": 8}, 3, MeshLayout(5, 0, 16, 8, 3)),
        (COONS, {"Flag": 2, "Coordinate": 12, "Component": 4}, 4, MeshLayout(6, 2, 12, 4, 4)),
        (TENSOR, {"Flag": 8, "Coordinate": 33, "Component": 8}, 3, None),
        (TRIANGLES, {"Flag": 8, "Coordinate": 16}, 3, None),
        (TRIANGLES, {"Flag": -8, "Coordinate": 16, "Component": 8}, 3, None),
        (TRIANGLES, {"Flag": 8, "Coordinate": 16, "Component": 8}, 0, None),
        (3, {"Flag": 8, "Coordinate": 16, "Component": 8}, 3, None),
    ],
)
def test_a_layout_is_read_or_makes_no_sense(
    kind: int, entries: dict[str, int], components: int, layout: MeshLayout | None
) -> None:
    shading = Dictionary({f"/BitsPer{key}": value for key, value in entries.items()})
    assert mesh_layout(shading, kind, components) == layout


def test_corners_with_a_function_have_one_value() -> None:
    shading = Dictionary(BitsPerFlag=8, BitsPerCoordinate=16, BitsPerComponent=8, Function=Dictionary())
    layout = mesh_layout(shading, TRIANGLES, 3)
    assert layout == MeshLayout(TRIANGLES, 8, 16, 8, 1)
    assert layout is not None
    assert layout.in_whole_bytes
