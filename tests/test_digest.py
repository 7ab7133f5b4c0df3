"""The digest of a file, against an example of the standard (FIPS 180-4, "abc")."""

from pathlib import Path

from hotfolder.digest import sha256_to_end

OF_ABC = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"


def test_the_digest_is_that_of_the_bytes_from_here_to_the_end(tmp_path: Path) -> None:
    path = tmp_path / "flyer.pdf"
    path.write_bytes(b"--abc")
    with path.open("rb") as buffered, path.open("rb", buffering=0) as plain:
        for file in (buffered, plain):
            file.seek(2)
            assert sha256_to_end(file) == OF_ABC
