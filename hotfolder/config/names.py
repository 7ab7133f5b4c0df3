"""Names of files and folders as file systems compare them."""

import unicodedata


def same_name_key(name: str) -> str:
    """What is equal for names that some file system takes for the same: in any case, composed or not."""
    return unicodedata.normalize("NFC", unicodedata.normalize("NFC", name).casefold())
