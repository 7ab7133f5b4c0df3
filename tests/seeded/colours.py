"""Colour spaces for planted paint: each function gives the name under which the page knows the space."""

from pikepdf import Array, Dictionary, Name
from PIL import ImageCms

from tests.seeded.planting import Sheet


def separation(sheet: Sheet, ink: str, *full: float) -> str:
    """One ink; `full` is what it looks like at full strength, in CMYK, RGB or grey."""
    return sheet.space(*separation_definition(ink, *full))


def separation_definition(ink: str, *full: float) -> tuple[object, ...]:
    """The parts of the array that defines a space of one ink."""
    looks = {4: Name.DeviceCMYK, 3: Name.DeviceRGB, 1: Name.DeviceGray}[len(full)]
    paper = [0 if len(full) == 4 else 1] * len(full)
    tint = Dictionary(FunctionType=2, Domain=Array([0, 1]), C0=Array(paper), C1=Array([*full]), N=1)
    return Name.Separation, Name(f"/{ink}"), looks, tint


def several_inks(sheet: Sheet, *inks: str) -> str:
    """Several inks with one look for all, which no test looks at."""
    tint = sheet.pdf.make_stream(f"{{ {'pop ' * len(inks)} 0.2 0.1 0 0 }}".encode())
    tint.FunctionType, tint.Domain = 4, Array([0, 1] * len(inks))
    tint.Range = Array([0, 1] * 4)
    return sheet.space(Name.DeviceN, Array([Name(f"/{ink}") for ink in inks]), Name.DeviceCMYK, tint)


def lab(sheet: Sheet) -> str:
    """CIE Lab under D50."""
    white = Array([0.9642, 1, 0.8249])
    return sheet.space(Name.Lab, Dictionary(WhitePoint=white, Range=Array([-128, 127, -128, 127])))


def srgb(sheet: Sheet) -> str:
    """The profile of a common screen."""
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    return icc_based(sheet, profile, 3)


def icc_based(sheet: Sheet, profile: bytes, components: int) -> str:
    """A space by an ICC profile."""
    stream = sheet.pdf.make_stream(profile)
    stream.N = components
    return sheet.space(Name.ICCBased, stream)
