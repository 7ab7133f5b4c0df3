"""Stands in for a Python package's build backend while pip downloads its source archive.

Pip keeps a source archive only after its backend has told the package's name and version, and would
install that backend and run the package's own code for it. This one tells both from the file that
every source archive has for the purpose, so that nobody's code is run (PEP 517,
`prepare_metadata_for_build_wheel`; source distribution format, `PKG-INFO`). It can build nothing.

It is run by pip's own process, apart from the tests, with the unpacked archive as working folder.
"""

import sys
from email.parser import Parser
from pathlib import Path

# `setuptools.build_meta:__legacy__` is the backend of packages that name none.
__legacy__ = sys.modules[__name__]


def prepare_metadata_for_build_wheel(metadata_directory: str, config_settings: object = None) -> str:
    """Writes the name and the version to a `.dist-info` folder and gives its name."""
    del config_settings  # a hook's form
    told = Parser().parsestr(Path("PKG-INFO").read_text(encoding="utf-8"), headersonly=True)
    folder = Path(metadata_directory) / f"{told['Name'].replace('-', '_')}-{told['Version']}.dist-info"
    folder.mkdir()
    (folder / "METADATA").write_text(
        f"Metadata-Version: 2.1\nName: {told['Name']}\nVersion: {told['Version']}\n", encoding="utf-8"
    )
    return folder.name
