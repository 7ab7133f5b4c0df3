# What is said where Pillow's littleCMS cannot be used, and that it is said before anything is measured.
import ctypes
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from hotfolder.colour import littlecms_library
from hotfolder.colour.littlecms_library import library
from hotfolder.errors import MissingColourEngineError
from hotfolder.presses.loading import load_press


@pytest.fixture(autouse=True)
def fresh() -> Iterator[None]:
    library.cache_clear()
    yield
    library.cache_clear()


def test_the_installed_one_has_every_function_with_its_types() -> None:
    loaded = library()
    assert loaded.cmsCreateTransform.restype is ctypes.c_void_p
    assert len(loaded.cmsCreateTransform.argtypes) == 6
    handle = loaded.cmsCreate_sRGBProfile()
    assert loaded.cmsGetColorSpace(handle).to_bytes(4, "big") == b"RGB "
    assert loaded.cmsCloseProfile(handle) == 1


def test_a_library_that_lacks_functions_is_named_with_them(monkeypatch: pytest.MonkeyPatch) -> None:
    import _ctypes  # noqa: PLC0415 - any shared library that is surely there

    monkeypatch.setattr(littlecms_library, "_file", lambda: _ctypes.__file__)
    with pytest.raises(MissingColourEngineError, match=r"lacks cmsOpenProfileFromMem, .*cmsDoTransform"):
        library()


def test_a_pillow_without_it_is_told(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    (tmp_path / "PIL").mkdir()
    (tmp_path / "PIL" / "__init__.py").touch()
    monkeypatch.setattr(sys, "path", [str(tmp_path)])
    for name in [name for name in sys.modules if name.split(".")[0] == "PIL"]:
        monkeypatch.delitem(sys.modules, name)
    with pytest.raises(MissingColourEngineError, match="has no littleCMS"):
        library()


def test_a_file_that_is_no_library_is_told(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    file = tmp_path / "engine.so"
    file.write_bytes(b"not a library")
    monkeypatch.setattr(littlecms_library, "_file", lambda: str(file))
    with pytest.raises(MissingColourEngineError, match="cannot be loaded") as caught:
        library()
    assert str(caught.value).startswith("colours cannot be converted for a press: ")
    assert "reinstall Pillow" in str(caught.value)


@pytest.mark.parametrize("name", ["coated", "own.icc"])
def test_a_press_with_a_profile_is_not_loaded_without_it(
    name: str, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    profile = load_press("coated").profile
    assert profile is not None
    (tmp_path / "own.icc").write_bytes(profile.read_bytes())
    library.cache_clear()
    monkeypatch.setattr(littlecms_library, "_file", lambda: None)
    with pytest.raises(MissingColourEngineError):
        load_press(name, tmp_path)


def test_making_sure_of_it_takes_in_neither_pillow_nor_numpy() -> None:
    code = (
        "import sys; from hotfolder.presses.loading import load_press as l; l('coated'); print(*sys.modules)"
    )
    modules = subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True).stdout
    assert "hotfolder.colour.littlecms_library" in modules
    assert not {"PIL", "numpy"} & set(modules.split())
