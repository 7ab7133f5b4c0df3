"""Makes the inventory of an open document."""

from collections.abc import Sequence
from dataclasses import dataclass

import pikepdf

from hotfolder.model.inventory.inventory import Inventory
from hotfolder.pdf.content.readers import Readers
from hotfolder.pdf.content.uses import Use
from hotfolder.pdf.inventory.colour import read_colour
from hotfolder.pdf.inventory.fonts import read_fonts
from hotfolder.pdf.inventory.identification import read_identification_facts
from hotfolder.pdf.inventory.interactive import read_interactive_facts
from hotfolder.pdf.inventory.layers import read_layers
from hotfolder.pdf.inventory.output_intents import read_intents
from hotfolder.pdf.inventory.pages import read_pages
from hotfolder.pdf.inventory.resources import read_resources
from hotfolder.pdf.inventory.states import read_states, read_stray_operators
from hotfolder.pdf.inventory.structure import read_structure
from hotfolder.pdf.inventory.whole_file import read_whole_file
from hotfolder.pdf.inventory.xobjects import read_xobjects


@dataclass(frozen=True, slots=True)
class Contents:
    """What there is to make an inventory of. pages: in order. uses: what the content of all pages uses.

    readers: those that read the pages, with what they know already.
    """

    pdf: pikepdf.Pdf
    pages: Sequence[pikepdf.Dictionary]
    uses: Sequence[Use]
    readers: Readers


def take_inventory(contents: Contents) -> Inventory:
    """The inventory; nothing is raised for what a file says."""
    return Inventory(
        identification=read_identification_facts(contents.pdf),
        output_intents=read_intents(contents.pdf),
        structure=read_structure(contents.pdf),
        whole_file=read_whole_file(contents.pdf, contents.pages, contents.uses),
        pages=read_pages(contents.pages),
        interactive=read_interactive_facts(contents.pdf, contents.pages),
        layers=read_layers(contents.pdf),
        colour=read_colour(contents.pdf, contents.pages, contents.uses, contents.readers),
        fonts=read_fonts(contents.uses, contents.readers),
        resources=read_resources(contents.pages, contents.uses),
        states=read_states(contents.uses),
        stray_operators=read_stray_operators(contents.uses),
        xobjects=read_xobjects(contents.pages, contents.uses),
    )
