"""Makes files with other programs, each in a scratch folder that holds the sources beside a picture."""

import os
import shutil
import subprocess
import tempfile
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Workshop:
    """A folder of files and what makes them. draw_picture: writes the picture that the sources place.

    makers: by the name of the file, what makes it in the scratch folder and tells where.
    """

    files: Path
    sources: Path
    draw_picture: Callable[[Path], None]
    makers: Mapping[str, Callable[[Path], Path]]

    def make(self, names: Iterable[str]) -> None:
        """Makes the files named, or all of them; what a program says goes to the terminal."""
        self.files.mkdir(exist_ok=True)
        for name in list(names) or self.makers:
            with tempfile.TemporaryDirectory() as scratch:
                folder = Path(scratch)
                for source in self.sources.iterdir():
                    shutil.copy(source, folder)
                self.draw_picture(folder)
                made = self.makers[name](folder)
                shutil.copyfile(made, self.files / f"{name}.pdf")


def run(folder: Path, program: str, *arguments: str) -> None:
    """Runs a program in `folder`; CalledProcessError where it fails."""
    # The epoch keeps the date of making out of the files of those programs that know of it.
    known = os.environ | {"HOME": str(folder), "SOURCE_DATE_EPOCH": "1767225600"}
    subprocess.run([program, *arguments], cwd=folder, check=True, env=known)
