# Pictures of 100 megapixels in a PDF: what making a plate of one takes in memory, in a process of its own.
import subprocess
import sys
from pathlib import Path
from typing import Final

import pytest

MOST_MB: Final = 600

# A picture of 10,000 x 10,000 pixels made of one tile, so that making it takes little itself.
SCRIPT: Final = """
import resource, sys, zlib
import numpy as np
from pikepdf import Array, Dictionary, Name, String
from hotfolder.drawing.spaces.view import View
from hotfolder.pdf.objects.matrix import Matrix
from hotfolder.pdf.objects.resources import Resources
from tests.drawing.spaces.view_sheets import Sheet, grid_frame, image, press_conversions

kind, side = sys.argv[1], 10_000
random = np.random.default_rng(0)
channels = {"indexed": 1, "cmyk": 4}.get(kind, 3)
row = np.tile(random.integers(0, 256, 2000 * channels, dtype=np.uint8), side // 2000)
machine, parts = zlib.compressobj(1), []
for number in range(side):
    data = np.roll(row, number * channels).tobytes()
    parts.append(machine.compress(data if kind != "differenced" else b"\\0" + data))
data = b"".join(parts) + machine.flush()
entries = {"Filter": Name.FlateDecode, "ColorSpace": {"cmyk": Name.DeviceCMYK}.get(kind, Name.DeviceRGB)}
if kind == "indexed":
    entries["ColorSpace"] = Array([Name.Indexed, Name.DeviceRGB, 255, String(bytes(range(256)) * 3)])
if kind == "differenced":
    entries["DecodeParms"] = Dictionary(Predictor=15, Colors=3, Columns=side)
frame = grid_frame(3, 2500, 2500)
sheet = Sheet(press_conversions(), frame)
found = image(sheet.pdf, data, side, side, **entries)
whole = 2500 * frame.pixel_pt
for view in (View.of_inks(("Cyan", "Magenta", "Yellow")), View.of_inks(("Black",)), View.screen()):
    placed = sheet.images.resampled(found, Resources(), Matrix(whole, 0, 0, whole, 0, 0), frame, view)
    assert placed is not None and len(placed.image.read_bytes()) in {2500 * 2500, 3 * 2500 * 2500}
print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024)
"""


@pytest.mark.slow
@pytest.mark.parametrize("kind", ["deflated", "differenced", "cmyk", "indexed"])
def test_a_picture_of_100_megapixels_takes_less_than_600_mb(kind: str) -> None:
    root = Path(__file__).parents[3]
    done = subprocess.run(
        [sys.executable, "-c", SCRIPT, kind],
        cwd=root,
        capture_output=True,
        text=True,
        timeout=300,
        check=True,
    )
    assert 60 < int(done.stdout) < MOST_MB
