"""Fetches the corpus from the packages themselves, with the plain package clients."""

import fcntl
import gzip
import hashlib
import os
import shutil
import subprocess
import sys
import tarfile
import tempfile
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from pathlib import Path
from typing import Final

from tests.corpus.manifest import Client, Package, read_manifest
from tests.corpus.place import corpus_folder, problems_with, read_left_out, write_left_out

_CLIENT_TIMEOUT_S: Final = 120
_AT_ONCE: Final = 4  # downloads: waiting for the network, not work
_STANDIN: Final = Path(__file__).with_name("standin_backend.py")


class NotFetchedError(Exception):
    """A package could not be had, or is not the one meant; the text says which and why."""


def fetch_corpus(*, slow: bool = False) -> dict[str, str]:
    """Fetches what is missing; gives what could not be had, by package, with the reason.

    slow: also what only the slow tests take, and what claims to be PDF/X. Processes that ask at the same
    time wait for each other. Packages of a Debian release other than the one that the manifest was written
    on are left out of the corpus, and noted.
    """
    with _locked():
        wanted = read_manifest(slow=slow, labelled=slow)
        missing = [package for package in wanted if any(map(problems_with, package.files))]
        with ThreadPoolExecutor(_AT_ONCE) as pool:
            reasons = dict(zip((each.name for each in missing), pool.map(_fetch, missing), strict=True))
        failed = {name: reason for name, reason in reasons.items() if reason is not None}
        names = {package.name for package in wanted}
        kept = {name: reason for name, reason in read_left_out().items() if name not in names}
        of_debian = {package.name for package in missing if package.client is Client.APT}
        write_left_out(kept | {name: failed[name] for name in failed if name in of_debian})
        return failed


@contextmanager
def _locked() -> Iterator[None]:
    folder = corpus_folder()
    folder.mkdir(parents=True, exist_ok=True)
    with (folder / ".lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        yield


def _fetch(package: Package) -> str | None:
    """Fetches one package; gives why it could not be had."""
    try:
        with tempfile.TemporaryDirectory() as scratch:
            _unpack(package, _archive(package, Path(scratch)))
    except NotFetchedError as error:
        return str(error)
    return None


def _archive(package: Package, scratch: Path) -> Path:
    """The package's archive as a tar file."""
    target = scratch / "download"
    target.mkdir()
    match package.client:
        case Client.PIP:
            return _pip(package, scratch, target)
        case Client.APT:
            return _apt(package, target)
        case Client.NPM:
            return _npm(package, target)


def _pip(package: Package, scratch: Path, target: Path) -> Path:
    environment = dict(os.environ)
    if package.backend is not None:
        _lay_standin(package.backend, scratch / "backends")
        environment |= {"PYTHONPATH": str(scratch / "backends"), "PIP_USE_PEP517": "1"}
    _run(
        [
            sys.executable, "-m", "pip", "download", "--quiet", "--disable-pip-version-check",
            "--no-cache-dir", "--retries", "1", "--timeout", "15", "--no-deps", "--no-binary", ":all:",
            "--no-build-isolation", "--dest", str(target), f"{package.name}=={package.version}",
        ],
        target,
        environment,
    )  # fmt: skip
    return _only_file(target)


def _lay_standin(backend: str, folder: Path) -> None:
    """Lays the stand-in where Python finds it under the backend's name, `flit_core.buildapi` say."""
    path = folder.joinpath(*backend.split(".")).with_suffix(".py")
    path.parent.mkdir(parents=True)
    for parent in path.relative_to(folder).parents:
        (folder / parent / "__init__.py").touch()
    shutil.copyfile(_STANDIN, path)


def _apt(package: Package, target: Path) -> Path:
    _run(["apt-get", "download", "-qq", f"{package.name}={package.version}"], target, dict(os.environ))
    deb = _only_file(target)
    tar = target / "files.tar"
    with tar.open("wb") as stream:
        subprocess.run(["dpkg-deb", "--fsys-tarfile", str(deb)], stdout=stream, check=True)
    return tar


def _npm(package: Package, target: Path) -> Path:
    _run(
        ["npm", "pack", "--silent", "--ignore-scripts", f"{package.name}@{package.version}"],
        target,
        dict(os.environ),
    )
    return _only_file(target)


def _run(command: list[str], folder: Path, environment: dict[str, str]) -> None:
    if shutil.which(command[0]) is None:
        message = f"{command[0]} is not installed"
        raise NotFetchedError(message)
    try:
        done = subprocess.run(
            command, cwd=folder, env=environment, capture_output=True, text=True, check=False,
            timeout=_CLIENT_TIMEOUT_S, stdin=subprocess.DEVNULL,
        )  # fmt: skip
    except subprocess.TimeoutExpired:
        message = f"{command[0]} took longer than {_CLIENT_TIMEOUT_S} s"
        raise NotFetchedError(message) from None
    if done.returncode:
        said = done.stderr.strip().splitlines() or ["it said nothing"]
        raise NotFetchedError(said[-1])


def _only_file(folder: Path) -> Path:
    (found,) = folder.iterdir()
    return found


def _unpack(package: Package, archive: Path) -> None:
    """Takes the files meant out of the archive, each only if it is the one meant."""
    with tarfile.open(archive) as tar:
        for file in package.files:
            try:
                stream = tar.extractfile(file.member)
            except KeyError:
                stream = None
            if stream is None:
                message = f"{file.member} is not in {package.name} {package.version}"
                raise NotFetchedError(message)
            data = stream.read()
            if file.member.endswith(".gz"):
                data = gzip.decompress(data)
            if hashlib.sha256(data).hexdigest() != file.sha256:
                message = f"{file.member} is not the file that the manifest means"
                raise NotFetchedError(message)
            path = corpus_folder() / file.name
            path.parent.mkdir(exist_ok=True)
            path.write_bytes(data)
