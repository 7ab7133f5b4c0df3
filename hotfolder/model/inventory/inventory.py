"""The inventory as a whole, one part for each topic."""

from dataclasses import dataclass

from hotfolder.model.inventory.colour import ColourFacts
from hotfolder.model.inventory.fonts import FontEntries
from hotfolder.model.inventory.identification import IdentificationFacts
from hotfolder.model.inventory.interactive import InteractiveFacts
from hotfolder.model.inventory.layers import LayerFacts
from hotfolder.model.inventory.output_intents import OutputIntentFacts
from hotfolder.model.inventory.pages import PageEntries
from hotfolder.model.inventory.resources import ResourceFacts
from hotfolder.model.inventory.states import StateFacts, StrayOperator
from hotfolder.model.inventory.structure import StructureFacts
from hotfolder.model.inventory.whole_file import WholeFileFacts
from hotfolder.model.inventory.xobjects import XObjectFacts


@dataclass(frozen=True, slots=True)
class Inventory:
    """What an exchange standard asks of a PDF beside what the pages paint; each part has its own module."""

    identification: IdentificationFacts
    output_intents: OutputIntentFacts
    structure: StructureFacts
    whole_file: WholeFileFacts
    pages: tuple[PageEntries, ...]
    interactive: InteractiveFacts
    layers: LayerFacts
    colour: ColourFacts
    resources: ResourceFacts
    states: tuple[StateFacts, ...]
    stray_operators: tuple[StrayOperator, ...]
    xobjects: XObjectFacts
    fonts: tuple[FontEntries, ...]
