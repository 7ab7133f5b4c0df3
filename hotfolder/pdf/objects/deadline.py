"""The time that there is for reading a document: processor time, which a busy machine does not use up."""

import math
import time
from typing import Final, NamedTuple, Self


class Deadline(NamedTuple):
    """When the time for a piece of work is over.

    seconds: what it may take of the processor, for what people are told; until: the processor time of this
    process by then.
    """

    seconds: float
    until: float

    @classmethod
    def after(cls, seconds: float) -> Self:
        """The deadline that lies so many seconds of the processor ahead."""
        return cls(seconds, time.process_time() + seconds)

    def is_over(self) -> bool:
        """Whether the time is used up."""
        return time.process_time() > self.until


NO_DEADLINE: Final = Deadline(math.inf, math.inf)
