"""How a file is put together as a whole: its versions, trailer, streams and objects."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class StructureFacts:
    """The file as a whole.

    header_version, catalog_version: as written (`1.3`); empty where there is none. id_parts: how many
    non-empty strings its identifier has. encrypted: there is an encryption dictionary. object_streams:
    objects, or the table of contents, are kept in streams (ISO 32000-2, 7.5.7 and 7.5.8).
    """

    header_version: str
    catalog_version: str
    id_parts: int
    encrypted: bool
    object_streams: bool
