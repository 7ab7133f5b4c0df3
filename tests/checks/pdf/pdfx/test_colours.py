# Colours that come near to breaking a requirement and keep it, and where breaches are told to be.
import re
from collections.abc import Callable
from pathlib import Path

import pytest
from pikepdf import Array, Dictionary, Name, Pdf, Stream, String

from hotfolder.checks.shared.pdfx_levels import Level
from hotfolder.model.geometry import Box
from tests.checks.pdf.pdfx.bases import edited
from tests.checks.pdf.pdfx.cases.painting import (
    Entry,
    draw,
    lab,
    paint_in,
    profiled,
    resource,
    separation,
    tint_to,
)
from tests.checks.pdf.pdfx.judged import broken, judged, left_open
from tests.checks.pdf.pdfx.profiles_by_hand import profile_by_hand

X1A, X3, X4 = Level.X1A_2003, Level.X3_2003, Level.X4
_RGB = "1 0.2 0 rg 60 60 40 20 re f"


def _chosen_and_not_painted(pdf: Pdf) -> None:
    draw(pdf, "q 1 0 0 rg 0 0 1 RG Q")


def _not_used_at_all(pdf: Pdf) -> None:
    resource(pdf, "ColorSpace", "Unused", lab())


def _clipped_away(pdf: Pdf) -> None:
    draw(pdf, f"q 0 0 10 10 re W n {_RGB} Q")


def _text_that_is_not_painted(pdf: Pdf) -> None:
    draw(pdf, "BT 1 0 0 rg 3 Tr /F1 12 Tf 60 60 Td (AB) Tj ET")


def _in_arrays(pdf: Pdf) -> None:
    resource(pdf, "ColorSpace", "Boxed", Array([Name.DeviceCMYK]))
    draw(pdf, "q /Boxed cs 0 1 0 0 scn 60 60 20 20 re f Q")


def _table_of_cmyk(pdf: Pdf) -> None:
    table = pdf.make_indirect(Stream(pdf, bytes(8)))
    paint_in(pdf, pdf.make_indirect(Array([Name.Indexed, Name.DeviceCMYK, 1, table])), "1")


def _registration_and_no_ink(pdf: Pdf) -> None:
    resource(pdf, "ColorSpace", "Every", separation(pdf, "All", Name.DeviceCMYK, 4))
    paint_in(pdf, separation(pdf, "None", Name.DeviceGray, 1))
    draw(pdf, "q /Every cs 1 scn 5 5 10 1 re f Q")


def _mix_with_none_twice(pdf: Pdf) -> None:
    inks = Array([Name.Moss, Name("/None"), Name("/None")])
    paint_in(pdf, Array([Name.DeviceN, inks, Name.DeviceCMYK, tint_to(pdf, 4, 3)]), "0.5 0 0")


def _default_that_is_the_same(pdf: Pdf) -> None:
    resource(pdf, "ColorSpace", "DefaultCMYK", Array([Name.DeviceCMYK]))


def _default_for_what_is_not_used(pdf: Pdf) -> None:
    resource(pdf, "ColorSpace", "DefaultRGB", profiled(pdf))


@pytest.mark.parametrize(
    "edit",
    [
        _chosen_and_not_painted,
        _not_used_at_all,
        _clipped_away,
        _text_that_is_not_painted,
        _in_arrays,
        _table_of_cmyk,
        _registration_and_no_ink,
        _mix_with_none_twice,
        _default_that_is_the_same,
        _default_for_what_is_not_used,
    ],
)
def test_colours_that_x1a_takes(edit: Callable[[Pdf], None], tmp_path: Path) -> None:
    conformance = judged(edited(X1A, edit), X1A, tmp_path)
    assert broken(conformance) == {}
    assert left_open(conformance) == []


def _default_of_the_page(pdf: Pdf) -> None:
    resource(pdf, "ColorSpace", "DefaultRGB", profiled(pdf))
    draw(pdf, _RGB)


def _default_of_the_form(pdf: Pdf) -> None:
    form = Stream(pdf, b"1 0 0 rg 0 0 10 10 re f")
    form.Type, form.Subtype, form.BBox = Name.XObject, Name.Form, Array([0, 0, 10, 10])
    form.Resources = Dictionary(ColorSpace=Dictionary(DefaultRGB=profiled(pdf)))
    resource(pdf, "XObject", "Patch", pdf.make_indirect(form))
    draw(pdf, "q 1 0 0 1 60 60 cm /Patch Do Q")


def _form_that_takes_those_of_the_page(pdf: Pdf) -> None:
    _default_of_the_form(pdf)
    form = pdf.pages[0].obj.Resources.XObject.Patch
    pdf.pages[0].obj.Resources.ColorSpace.DefaultRGB = form.Resources.ColorSpace.DefaultRGB
    del form["/Resources"]


def _lab_with_white(pdf: Pdf) -> None:
    paint_in(pdf, lab(), "60 40 20")


def _spot_in_lab(pdf: Pdf) -> None:
    paint_in(pdf, separation(pdf, "Moss", lab(), 3))


def _profile_with_alternate_and_range(pdf: Pdf) -> None:
    limits = Array([0, 1, 0, 1, 0, 1])
    paint_in(pdf, profiled(pdf, Alternate=Name.DeviceRGB, Range=limits), "1 0 0")


def _registered_without_profile(pdf: Pdf) -> None:
    del pdf.Root.OutputIntents[0]["/DestOutputProfile"]


@pytest.mark.parametrize(
    "edit",
    [
        _default_of_the_page,
        _default_of_the_form,
        _form_that_takes_those_of_the_page,
        _lab_with_white,
        _spot_in_lab,
        _profile_with_alternate_and_range,
    ],
)
@pytest.mark.parametrize("level", [X3, X4])
def test_colours_that_levels_with_profiles_take(
    level: Level, edit: Callable[[Pdf], None], tmp_path: Path
) -> None:
    conformance = judged(edited(level, edit), level, tmp_path)
    assert broken(conformance) == {}
    assert left_open(conformance) == []


def test_the_name_of_a_registered_condition_tells_what_the_press_prints_with(tmp_path: Path) -> None:
    conformance = judged(edited(X3, _registered_without_profile), X3, tmp_path)
    assert "device-colour" not in {*broken(conformance), *left_open(conformance)}


def test_colours_are_left_open_where_the_press_is_not_known(tmp_path: Path) -> None:
    def edit(pdf: Pdf) -> None:
        _registered_without_profile(pdf)
        pdf.Root.OutputIntents[0].OutputConditionIdentifier = String("Press of the house")

    assert "device-colour" in left_open(judged(edited(X3, edit), X3, tmp_path))


def test_a_default_of_another_number_of_components_stands_for_nothing(tmp_path: Path) -> None:
    def edit(pdf: Pdf) -> None:
        resource(pdf, "ColorSpace", "DefaultRGB", profiled(pdf, profile_by_hand("CMYK", "prtr"), 4))
        draw(pdf, _RGB)

    assert set(broken(judged(edited(X4, edit), X4, tmp_path))) == {"device-colour"}


def _on_a_layer_that_is_off(pdf: Pdf) -> None:
    properties = pdf.Root.OCProperties
    properties.D.OFF, properties.D.ON = properties.D.ON, Array([])
    draw(pdf, f"/OC /Layer BDC {_RGB} EMC")


def test_colours_on_a_layer_that_is_off_in_print_do_not_count(tmp_path: Path) -> None:
    assert "device-colour" not in broken(judged(edited(X4, _on_a_layer_that_is_off), X4, tmp_path))


@pytest.mark.parametrize("space", [Name.DeviceCMYK, Name.DeviceGray])
def test_groups_may_blend_in_the_colours_of_the_press(space: Name, tmp_path: Path) -> None:
    def edit(pdf: Pdf) -> None:
        pdf.pages[0].obj.Group = Dictionary(S=Name.Transparency, CS=space)

    assert broken(judged(edited(X4, edit), X4, tmp_path)) == {}


def test_groups_may_blend_in_rgb_that_has_a_profile_or_a_default(tmp_path: Path) -> None:
    def edit(pdf: Pdf) -> None:
        pdf.pages[0].obj.Group = Dictionary(S=Name.Transparency, CS=profiled(pdf))
        resource(pdf, "ColorSpace", "DefaultRGB", profiled(pdf))
        pdf.pages[1].obj.Group = Dictionary(S=Name.Transparency, CS=Name.DeviceRGB)

    assert broken(judged(edited(X4, edit), X4, tmp_path)) == {}


def test_pages_that_are_no_transparency_group_blend_in_nothing(tmp_path: Path) -> None:
    def edit(pdf: Pdf) -> None:
        pdf.pages[0].obj.Group = Dictionary(CS=Name.DeviceRGB)

    assert "blend-space" not in broken(judged(edited(X4, edit), X4, tmp_path))


def test_pictures_are_not_touched_by_the_overprint_mode(tmp_path: Path) -> None:
    def edit(pdf: Pdf) -> None:
        picture = pdf.pages[0].obj.Resources.XObject.Picture
        picture.ColorSpace = profiled(pdf, profile_by_hand("CMYK", "prtr"), 4)
        draw(pdf, "q /Over gs 20 0 0 20 60 60 cm /Picture Do Q")

    assert broken(judged(edited(X4, edit), X4, tmp_path)) == {}


def test_a_breach_names_what_is_painted_its_page_and_its_place(tmp_path: Path) -> None:
    def edit(pdf: Pdf) -> None:
        pdf.pages[1].contents_add(Stream(pdf, b"1 0 0 rg 100 60 40 20 re f"))

    (requirement,) = judged(edited(X1A, edit), X1A, tmp_path).broken
    (breach,) = requirement.breaches
    assert breach.what == "shapes in RGB (DeviceRGB)"
    assert breach.page is not None
    assert breach.page.number == 2
    assert breach.boxes == (Box(100, 60, 140, 80),)


def test_pictures_are_named_by_their_object_numbers(tmp_path: Path) -> None:
    def edit(pdf: Pdf) -> None:
        xobjects = pdf.pages[0].obj.Resources.XObject
        for name in ("One", "Two"):
            copy = Stream(pdf, xobjects.Picture.read_bytes(), xobjects.Picture.stream_dict)
            copy.ColorSpace = Name.DeviceRGB
            xobjects[f"/{name}"] = pdf.make_indirect(copy)
        draw(pdf, "q 20 0 0 20 60 60 cm /One Do 1 0 0 1 2 0 cm /Two Do Q 1 0 0 rg 60 60 2 2 re f")

    (requirement,) = judged(edited(X1A, edit), X1A, tmp_path).broken
    words = {each.what for each in requirement.breaches}
    assert len(words) == 1
    assert re.fullmatch(r"shapes and pictures \d+ and \d+ in RGB \(DeviceRGB\)", words.pop())


def test_a_sound_picture_is_not_told_with_what_looks_the_same(tmp_path: Path) -> None:
    def edit(pdf: Pdf) -> None:
        paint_in(pdf, profiled(pdf, Alternate=Name.DeviceCMYK), "1 0 0")

    (requirement,) = judged(edited(X4, edit), X4, tmp_path).broken
    assert requirement.requirement.id == "profile-entries"
    assert [(each.what[:9], each.boxes) for each in requirement.breaches] == [
        ("shapes in", (Box(60, 60, 100, 80),))
    ]


def test_a_picture_is_told_without_what_looks_the_same_and_is_sound(tmp_path: Path) -> None:
    def edit(pdf: Pdf) -> None:
        paint_in(pdf, profiled(pdf), "1 0 0")
        pdf.pages[0].obj.Resources.XObject.Screen.ColorSpace = profiled(pdf, Range=Array([0]))

    (requirement,) = judged(edited(X4, edit), X4, tmp_path).broken
    assert [each.what.split()[0] for each in requirement.breaches] == ["picture"]


def test_what_cannot_be_told_from_a_sound_space_is_told_without_a_place(tmp_path: Path) -> None:
    def edit(pdf: Pdf) -> None:
        paint_in(pdf, profiled(pdf), "1 0 0")
        resource(pdf, "ColorSpace", "Other", profiled(pdf, Range=Array([0])))
        draw(pdf, "/Other cs 0 1 0 scn 60 20 40 20 re f")

    (requirement,) = judged(edited(X4, edit), X4, tmp_path).broken
    assert [(each.what.split()[0], each.boxes) for each in requirement.breaches] == [("something", ())]


def test_a_group_is_told_where_it_lies(tmp_path: Path) -> None:
    def edit(pdf: Pdf) -> None:
        form = Stream(pdf, b"1 0 0 0 k 0 0 10 10 re f")
        form.Type, form.Subtype, form.BBox = Name.XObject, Name.Form, Array([0, 0, 10, 10])
        form.Resources, form.Group = Dictionary(), Dictionary(S=Name.Transparency, CS=Name.DeviceRGB)
        resource(pdf, "XObject", "Veiled", pdf.make_indirect(form))
        draw(pdf, "q 1 0 0 1 60 60 cm /Veiled Do Q")

    (requirement,) = judged(edited(X4, edit), X4, tmp_path).broken
    assert [each.boxes for each in requirement.breaches] == [(Box(60, 60, 70, 70),)]


def test_colours_of_what_an_annotation_prints_count(tmp_path: Path) -> None:
    def edit(pdf: Pdf) -> None:
        look = Stream(pdf, b"1 0 0 rg 0 0 8 8 re f")
        look.Type, look.Subtype, look.BBox = Name.XObject, Name.Form, Array([0, 0, 8, 8])
        look.Resources = Dictionary()
        mark = Dictionary(
            Type=Name.Annot, Subtype=Name.PrinterMark, Rect=Array([4, 4, 12, 12]), F=4,
            AP=Dictionary(N=pdf.make_indirect(look)),
        )  # fmt: skip
        pdf.pages[0].obj.Annots = Array([pdf.make_indirect(mark)])

    (requirement,) = judged(edited(X1A, edit), X1A, tmp_path).broken
    assert requirement.requirement.id == "rgb-colour"
    assert [each.boxes for each in requirement.breaches] == [(Box(4, 4, 12, 12),)]


def test_colours_in_a_soft_mask_count_without_a_place(tmp_path: Path) -> None:
    def edit(pdf: Pdf) -> None:
        group = Stream(pdf, b"1 0 0 rg 0 0 10 10 re f")
        group.Type, group.Subtype, group.BBox = Name.XObject, Name.Form, Array([0, 0, 10, 10])
        group.Resources, group.Group = Dictionary(), Dictionary(S=Name.Transparency, CS=Name.DeviceCMYK)
        mask = Dictionary(S=Name.Luminosity, G=pdf.make_indirect(group))
        resource(pdf, "ExtGState", "Masked", Dictionary(Type=Name.ExtGState, SMask=mask))
        draw(pdf, "q /Masked gs 0 1 0 0 k 60 60 10 10 re f Q")

    (requirement,) = judged(edited(X4, edit), X4, tmp_path).broken
    assert [(each.what[:14], each.boxes) for each in requirement.breaches] == [("a soft mask in", ())]


def _hostile(pdf: Pdf) -> None:
    circle = pdf.make_indirect(Array([Name.DeviceN, Array([Name.Moss, 7]), Name.DeviceCMYK, 3]))
    circle[2] = circle
    circle.append(Dictionary(Colorants=Dictionary(Moss=circle, Fern=circle), Process=circle))
    stream = pdf.make_indirect(Stream(pdf, b"\x00" * 40))
    stream.N, stream.Alternate, stream.Range = Name.Three, Array([Name.ICCBased, stream]), 7
    odd: tuple[Entry, ...] = (
        circle,
        Array([Name.ICCBased, stream]),
        Array([Name.ICCBased]),
        Array([Name.Indexed, circle, -4, 12]),
        Array([Name.Lab, Array([])]),
        Array([Name.Separation]),
        Array([]),
        Dictionary(),
        7,
    )
    for index, space in enumerate(odd):
        resource(pdf, "ColorSpace", f"Odd{index}", space)
        draw(pdf, f"q /Odd{index} cs 0.5 0.5 scn 60 60 20 20 re f Q")
    resource(pdf, "ColorSpace", "DefaultCMYK", circle)
    pdf.pages[0].obj.Group = Dictionary(S=Name.Transparency, CS=circle)
    pdf.Root.OutputIntents[0].OutputConditionIdentifier = 7


@pytest.mark.parametrize("level", Level)
def test_spaces_that_make_no_sense_are_told_and_raise_nothing(level: Level, tmp_path: Path) -> None:
    assert "unknown-colour-space" in broken(judged(edited(level, _hostile), level, tmp_path))
