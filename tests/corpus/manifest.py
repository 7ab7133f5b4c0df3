"""Reads the manifests: the packages that the corpus comes out of, and the files taken from each."""

import tomllib
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path, PurePosixPath
from typing import Any, Final

MANIFEST: Final = Path(__file__).with_name("manifest.toml")
MANIFEST_OF_SLOW_TESTS: Final = Path(__file__).with_name("manifest-slow.toml")
MANIFEST_OF_LABELLED_FILES: Final = Path(__file__).with_name("manifest-labelled.toml")


class Client(StrEnum):
    """The package client that fetches a package."""

    PIP = "pip"
    APT = "apt-get"
    NPM = "npm"


@dataclass(frozen=True, slots=True)
class CorpusFile:
    """A file of the corpus. member: its path in the package's archive; sha256: of the file, unpacked."""

    package: str
    member: str
    sha256: str

    @property
    def name(self) -> str:
        """Where the file lies under the corpus folder; one that is packed by itself is unpacked."""
        return f"{self.package}/{PurePosixPath(self.member.removesuffix('.gz')).name}"


@dataclass(frozen=True, slots=True)
class Package:
    """A package: who fetches it, its version, why it is taken, and its files.

    backend: the build backend that a source package of Python's asks for.
    """

    client: Client
    name: str
    version: str
    why: str
    backend: str | None
    files: tuple[CorpusFile, ...]


def read_manifest(*, slow: bool = False, labelled: bool = False) -> tuple[Package, ...]:
    """The packages of the manifest, in its order.

    slow: those that only the slow tests take as well; labelled: also those with files that claim PDF/X.
    """
    manifests = (
        MANIFEST,
        *([MANIFEST_OF_SLOW_TESTS] if slow else []),
        *([MANIFEST_OF_LABELLED_FILES] if labelled else []),
    )
    return tuple(_package(table) for manifest in manifests for table in _tables(manifest))


def _tables(manifest: Path) -> list[dict[str, Any]]:
    with manifest.open("rb") as stream:
        found: list[dict[str, Any]] = tomllib.load(stream)["package"]
    return found


def _package(table: dict[str, Any]) -> Package:
    return Package(
        client=Client(table["client"]),
        name=table["name"],
        version=table["version"],
        why=table["why"],
        backend=table.get("backend"),
        files=tuple(
            CorpusFile(table["name"], table["folder"] + member, sha256)
            for member, sha256 in table["files"].items()
        ),
    )
