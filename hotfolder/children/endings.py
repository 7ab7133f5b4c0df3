"""How a process ends whose time is up, and what the signal that ended one is called in words.

The system counts processor time against two limits: at the lower it sends SIGXCPU, at the higher SIGKILL. It
sends SIGKILL as well where memory runs short. So that the two can be told apart, the limits here always
differ, and SIGXCPU ends the process that gets it.
"""

import resource
import signal
from dataclasses import dataclass
from typing import Final

_BETWEEN_S: Final = 2  # from the lower limit to the higher one
_LEAST_S: Final = 1


@dataclass(frozen=True, slots=True)
class ProcessorTime:
    """The limits of a process's processor time, in whole seconds; the lower one is what it may take."""

    lower_s: int
    higher_s: int

    @classmethod
    def of(cls, seconds: int) -> "ProcessorTime":
        """Limits for so many seconds, or for as many as the higher limit of this process itself leaves."""
        _, highest = resource.getrlimit(resource.RLIMIT_CPU)
        higher = seconds + _BETWEEN_S
        if highest != resource.RLIM_INFINITY:
            higher = min(higher, highest)
        return cls(max(_LEAST_S, min(seconds, higher - 1)), higher)

    def put_on(self) -> None:
        """Limits this process, for good."""
        signal.signal(signal.SIGXCPU, signal.SIG_DFL)
        resource.setrlimit(resource.RLIMIT_CPU, (self.lower_s, self.higher_s))


def signal_in_words(number: int) -> str:
    """The name of a signal that ended a process, with what it is known to be sent for."""
    try:
        name = signal.Signals(number).name
    except ValueError:
        return f"signal {number}"
    return f"{name}, which the system sends where memory runs short" if number == signal.SIGKILL else name
