"""What the bytes of a file are known by everywhere in the program: their SHA-256."""

import hashlib
from io import BufferedIOBase, RawIOBase


def sha256_to_end(file: BufferedIOBase | RawIOBase) -> str:
    """The SHA-256 of the bytes from where `file` stands to its end, in hexadecimal digits (FIPS 180-4).

    OSError where they cannot be read.
    """
    return hashlib.file_digest(file, "sha256").hexdigest()
