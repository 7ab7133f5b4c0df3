"""Reads the few XMP properties that matter here (ISO 16684-1), as RDF, from untrusted bytes.

A property may stand as an element or as an attribute, and may be repeated inside the history
or the list of ingredients of placed files; only the document's own top level counts.
Declarations of entities are refused, so nothing can expand; depth is limited.
"""

from dataclasses import dataclass, field
from typing import Final
from xml.parsers import expat

from hotfolder.errors import UnreadableXmpError
from hotfolder.pdf.objects.document_limits import XMP_DEPTH
from hotfolder.pdf.objects.reading import printable

_RDF: Final = "http://www.w3.org/1999/02/22-rdf-syntax-ns#"
_XML_LANG: Final = "http://www.w3.org/XML/1998/namespace lang"

# Namespaces: ISO 16684-1, 8.3 to 8.4, Adobe PDF schema; PDF/X identification as in ISO 15930-7.
_PROPERTIES: Final = {
    "http://www.npes.org/pdfx/ns/id/ GTS_PDFXVersion": "pdfx_version",
    "http://www.npes.org/pdfx/ns/id/ GTS_PDFXConformance": "pdfx_conformance",
    "http://purl.org/dc/elements/1.1/ title": "title",
    "http://ns.adobe.com/xap/1.0/ CreatorTool": "creator_tool",
    "http://ns.adobe.com/xap/1.0/ CreateDate": "created",
    "http://ns.adobe.com/xap/1.0/ ModifyDate": "modified",
    "http://ns.adobe.com/xap/1.0/ MetadataDate": "described",
    "http://ns.adobe.com/xap/1.0/mm/ DocumentID": "document_id",
    "http://ns.adobe.com/xap/1.0/mm/ VersionID": "version_id",
    "http://ns.adobe.com/xap/1.0/mm/ RenditionClass": "rendition_class",
    # where programs copy entries of Info to that the standards do not know
    "http://ns.adobe.com/pdfx/1.3/ GTS_PDFXVersion": "copied_version",
    "http://ns.adobe.com/pdf/1.3/ Producer": "producer",
    "http://ns.adobe.com/pdf/1.3/ Trapped": "trapped",
}


@dataclass(frozen=True, slots=True)
class Xmp:
    """What a document's XMP says; None for what it does not say or leaves empty.

    described: when the XMP itself was last changed (MetadataDate). copied_version: the PDF/X level in the
    place to which programs copy what Info has beyond the standard entries; it identifies nothing.
    """

    pdfx_version: str | None = None
    pdfx_conformance: str | None = None
    title: str | None = None
    creator_tool: str | None = None
    producer: str | None = None
    trapped: str | None = None
    created: str | None = None
    modified: str | None = None
    described: str | None = None
    document_id: str | None = None
    version_id: str | None = None
    rendition_class: str | None = None
    copied_version: str | None = None


def read_xmp(data: bytes) -> Xmp:
    """The properties in an XMP packet; UnreadableXmpError where it cannot be parsed."""
    collector = _Collector()
    parser = expat.ParserCreate(namespace_separator=" ")
    parser.buffer_text = True
    parser.StartElementHandler = collector.start
    parser.EndElementHandler = collector.end
    parser.CharacterDataHandler = collector.text
    parser.StartDoctypeDeclHandler = _refuse
    parser.EntityDeclHandler = _refuse
    try:
        words = data.decode(
            "utf-16" if data.startswith((b"\xff\xfe", b"\xfe\xff")) else "utf-8-sig", "replace"
        )
        # Packets are padded with spaces for editing in place; some writers pad with zeros.
        parser.Parse(words.strip("\0 \t\r\n"), True)  # noqa: FBT003 - the parser takes it by position only
    except (expat.ExpatError, ValueError) as error:
        raise UnreadableXmpError(str(error)) from error
    return Xmp(**collector.properties)


def _refuse(*_: object) -> None:
    message = "declares a document type or entities"
    raise UnreadableXmpError(message)


@dataclass(slots=True)
class _Collector:
    """Collects the properties of `_PROPERTIES` while the parser walks: their text by the fields of `Xmp`."""

    properties: dict[str, str] = field(default_factory=dict)
    _path: list[str] = field(default_factory=list)
    _wanted: str | None = None  # the property that the parser stands in
    _depth: int = 0  # length of the path at that property
    _default_language: bool = False
    _words: list[str] = field(default_factory=list)

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        if len(self._path) >= XMP_DEPTH:
            message = f"elements nest deeper than {XMP_DEPTH}"
            raise UnreadableXmpError(message)
        if self._top_level() and tag == f"{_RDF} Description":
            for key, value in attributes.items():
                if key in _PROPERTIES:
                    self._keep(_PROPERTIES[key], value)
        elif self._in_description() and tag in _PROPERTIES:
            self._wanted, self._depth = _PROPERTIES[tag], len(self._path)
            self._words = []
        elif self._wanted is not None and tag == f"{_RDF} li":
            self._words = []
            self._default_language = attributes.get(_XML_LANG) == "x-default"
        self._path.append(tag)

    def text(self, words: str) -> None:
        if self._wanted is not None:
            self._words.append(words)

    def end(self, tag: str) -> None:
        self._path.pop()
        if self._wanted is None:
            return
        value = "".join(self._words)
        if tag == f"{_RDF} li":
            self._keep(self._wanted, value, instead=self._default_language)
            self._words = []
        elif len(self._path) == self._depth:
            self._keep(self._wanted, value)
            self._wanted = None

    def _keep(self, key: str, value: str, *, instead: bool = False) -> None:
        value = printable(value)
        if value and (instead or key not in self.properties):
            self.properties[key] = value

    def _top_level(self) -> bool:
        """Whether the parser stands directly in the packet's RDF."""
        return bool(self._path) and self._path[-1] == f"{_RDF} RDF" and self._path.count(f"{_RDF} RDF") == 1

    def _in_description(self) -> bool:
        """Whether the parser stands directly in a description of the document itself."""
        return self._path[-2:] == [f"{_RDF} RDF", f"{_RDF} Description"] and self._wanted is None
