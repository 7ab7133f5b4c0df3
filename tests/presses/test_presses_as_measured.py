# The shipped presses: against the measurements that each was made from, and in what they do to greys,
# blacks and total ink; which names and files a rule set may give for a press.
#
# Measurements: the characterisation data of Debian's icc-profiles-free (FOGRA: www.fogra.org; CGATS TR).
import shutil
import tomllib
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from hotfolder.colour.colour_difference import ciede2000
from hotfolder.colour.conversions import Conversions, Intent
from hotfolder.colour.icc import read_profile
from hotfolder.errors import ConfigError
from hotfolder.model.press import Press
from hotfolder.presses.building import DATA, HERE, MOST_BLACK_PERCENT
from hotfolder.presses.loading import conditions_without_profile, load_press, shipped_presses

TABLE: dict[str, Any] = tomllib.loads((HERE / "presses.toml").read_text())
ENTRIES = {entry["name"]: entry for entry in TABLE["press"]}
PRESSES = {press.name: press for press in shipped_presses()}

each_press = pytest.mark.parametrize("name", PRESSES)

# CIEDE2000 between profile and measurements: mean and worst, as measured (rounded up) on 2026-11-25.
FIT = {
    "coated": (0.17, 0.60),
    "uncoated": (0.18, 0.64),
    "uncoated-yellowish": (0.25, 0.79),
    "web-coated": (0.15, 0.66),
    "supercalendered": (0.28, 1.09),
    "coated-us": (0.15, 0.60),
    "web-coated-us-grade-3": (0.10, 0.56),
    "web-coated-us-grade-5": (0.26, 0.98),
    "newsprint-us": (0.23, 1.20),
}


@cache
def conversions(name: str) -> Conversions:
    return Conversions(PRESSES[name], paper_white=True)


def measured(name: str) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Inks from 0 to 1 and CIELAB of every patch that the press's profile was made from."""
    path = DATA / ENTRIES[name]["data"]
    if not path.is_file():
        pytest.skip(f"not installed: {path.name} of icc-profiles-free")
    text = path.read_text(encoding="latin-1")
    fields = text.partition("BEGIN_DATA_FORMAT")[2].partition("END_DATA_FORMAT")[0].split()
    lines = text.partition("BEGIN_DATA\n")[2].partition("END_DATA")[0].splitlines()
    rows = np.array([line.split() for line in lines if line.strip()], float)
    inks = rows[:, [fields.index(f"CMYK_{ink}") for ink in "CMYK"]]
    return inks / 100, rows[:, [fields.index(f"LAB_{axis}") for axis in "LAB"]]


@each_press
def test_a_profile_tells_the_colours_that_were_measured(name: str) -> None:
    inks, lab = measured(name)
    off = ciede2000(conversions(name).press_to_lab(inks), lab)
    mean, worst = FIT[name]
    said = f"{len(inks)} patches: mean {off.mean():.3f}, worst {off.max():.3f} at {inks[off.argmax()]}"
    assert len(inks) >= 900, said
    assert off.mean() <= mean, said
    assert off.max() <= worst, said


def converted(name: str, intent: Intent) -> NDArray[np.float64]:
    """What a grid of 17 x 17 x 17 screen colours and all greys become, in percent of each ink."""
    steps = np.linspace(0, 1, 17)
    grid = np.stack(np.meshgrid(steps, steps, steps), axis=-1).reshape(-1, 3)
    return conversions(name).to_press(np.concatenate([grid, greys()]), intent=intent) * 100


def greys() -> NDArray[np.float64]:
    return np.repeat(np.linspace(0, 1, 256)[:, None], 3, axis=1)


@each_press
@pytest.mark.parametrize("intent", list(Intent))
def test_no_converted_colour_gets_more_ink_than_the_limit(name: str, intent: Intent) -> None:
    limit = PRESSES[name].total_ink_percent
    assert limit is not None
    most = converted(name, intent).sum(axis=1).max()
    # Between two steps of a table that keep the limit there may be a little more. The absolute intent is for
    # proofs; nobody separates with it.
    spare = 4 if intent is Intent.ABSOLUTE else 0.5
    assert most <= limit + spare, f"{most:.1f} % of ink"
    if intent is Intent.PERCEPTUAL:
        assert most >= limit - 20, f"only {most:.1f} % of ink: the limit is another one"


@each_press
def test_black_takes_a_light_part_in_a_middle_grey_and_nearly_all_of_the_darkest(name: str) -> None:
    black = conversions(name).to_press(greys())[:, 3] * 100
    middle = black[128]
    # Common practice; newspapers are separated with more black than other work.
    lightest, most = (15, 25) if name != "newsprint-us" else (25, 31)
    assert lightest <= middle <= most, f"{middle:.1f} % of black in a middle grey"
    assert 87 <= black.max() <= MOST_BLACK_PERCENT, f"{black.max():.1f} % of black at most"
    assert black[0] == black.max()  # the darkest of all is black itself
    # From light to dark black never falls back by more than a step of the table may.
    assert np.diff(black).max() <= 0.5, f"{np.diff(black).max():.2f} % less black in a darker grey"


@each_press
def test_greys_are_printed_grey(name: str) -> None:
    """Against the paper as white; the lightness of the darkest is lifted to the press's black."""
    ways = Conversions(PRESSES[name])
    lab = ways.press_to_lab(ways.to_press(greys()))
    chroma = np.hypot(lab[:, 1], lab[:, 2])
    assert chroma.max() <= 2.2, f"{chroma.max():.2f} at grey {chroma.argmax()}"
    assert np.diff(lab[:, 0]).min() >= -0.1  # lighter, step by step, as far as the table is even


@each_press
def test_a_profile_says_what_it_is_and_whose_measurements_it_tells(name: str) -> None:
    press = PRESSES[name]
    assert press.profile is not None
    data = press.profile.read_bytes()
    profile = read_profile(data)
    assert profile is not None
    assert (profile.space, profile.device_class) == ("CMYK", "prtr")
    assert profile.name == f"hotfolder: {name}, after {ENTRIES[name]['condition']}"
    assert ENTRIES[name]["measured"].encode() in data
    assert ENTRIES[name]["measured"] in press.origin
    assert len(data) < 250_000


def test_the_presses_are_those_of_the_table_and_each_has_its_profile() -> None:
    assert list(PRESSES) == [entry["name"] for entry in TABLE["press"]]
    assert {path.stem for path in HERE.glob("*.icc")} == set(PRESSES)
    assert not {press.name for press in conditions_without_profile()} & set(PRESSES)


@pytest.mark.parametrize(
    ("word", "name"),
    [
        ("coated", "coated"),
        ("Coated", "coated"),
        ("FOGRA39", "coated"),
        ("fogra39l", "coated"),
        ("FOGRA 29", "uncoated"),
        ("CGATS TR 006", "coated-us"),
        ("CGATS TR006", "coated-us"),
        ("CGATS/SWOP TR003 2007", "web-coated-us-grade-3"),
        ("tr-002", "newsprint-us"),
        ("uncoated yellowish", "uncoated-yellowish"),
    ],
)
def test_a_press_is_known_by_its_name_and_by_that_of_its_condition(word: str, name: str) -> None:
    assert load_press(word) is PRESSES[name]


@pytest.mark.parametrize("word", ["FOGRA51", "fogra 52", "FOGRA47L", "CGATS21-2-CRPC6", "IFRA26"])
def test_a_condition_without_a_profile_is_known_and_nothing_takes_its_place(word: str) -> None:
    press = load_press(word)
    assert press.profile is None
    assert press in conditions_without_profile()


@pytest.mark.parametrize(
    ("word", "near"), [("coatd", "'coated'"), ("FOGRA93", "'FOGRA"), ("newsprint", "'newsprint-us'")]
)
def test_an_unknown_name_suggests_the_nearest_and_lists_what_there_is(word: str, near: str) -> None:
    with pytest.raises(ConfigError) as error:
        load_press(word)
    (trouble,) = error.value.troubles
    assert word in trouble.problem
    assert f"Did you mean {near}" in trouble.remedy
    assert all(name in trouble.remedy for name in PRESSES)


@pytest.fixture
def own(tmp_path: Path) -> Path:
    """A folder with a printer's profile in it."""
    folder = tmp_path / "studio"
    folder.mkdir()
    shutil.copy(HERE / "coated.icc", folder / "Mill press 2.ICC")
    return folder


def test_a_profile_file_counts_from_the_folder_that_names_it(own: Path) -> None:
    path = own / "Mill press 2.ICC"
    wanted = Press(path.name, "hotfolder: coated, after FOGRA39", path, None, f"the profile file {path.name}")
    assert load_press("Mill press 2.ICC", own) == wanted
    assert load_press(str(path), own.parent) == wanted


def test_a_path_counts_from_the_working_folder_without_one(
    own: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(own)
    found = load_press("Mill press 2.ICC").profile
    assert found == own / "Mill press 2.ICC"


def broken(own: Path, what: str) -> str:
    """A file that is no press's profile."""
    data = bytearray((HERE / "coated.icc").read_bytes())
    match what:
        case "missing":
            return "gone.icc"
        case "folder":
            (own / "x.icc").mkdir()
            return "x.icc"
        case "empty":
            data = bytearray()
        case "of a screen":
            data[12:20] = b"mntrRGB "
        case "for reading only":
            while (at := data.find(b"B2A", 128, 600)) >= 0:
                data[at : at + 3] = b"X2X"
        case "cut short":
            data = data[:2000]
    (own / "x.icc").write_bytes(data)
    return "x.icc"


@pytest.mark.parametrize(
    ("what", "word"),
    [
        ("missing", "cannot be read"),
        ("folder", "cannot be read"),
        ("empty", "no ICC profile"),
        ("of a screen", "RGB"),
        ("for reading only", "no tables"),
        ("cut short", "no tables"),
    ],
)
def test_a_file_that_is_no_presss_profile_is_a_mistake_at_that_file(own: Path, what: str, word: str) -> None:
    name = broken(own, what)
    with pytest.raises(ConfigError) as error:
        load_press(name, own)
    (trouble,) = error.value.troubles
    assert trouble.file == own / name
    assert word in trouble.problem
    assert trouble.remedy
