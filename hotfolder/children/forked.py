"""Does a piece of work in a process of its own, so that whatever ends it ends nothing else.

The renderer draws in one call that nobody can break off, and a file may be made to crash it, to keep it busy
or to have it fill the memory. Forked where all facts are at hand, it costs some milliseconds, and leaves
behind a process that knows them and can still say what became of the rest.
"""

import ctypes
import gc
import os
import signal
import sys
import traceback
from collections.abc import Callable
from typing import Final

from hotfolder.children.endings import ProcessorTime, signal_in_words

_OUT_OF_MEMORY: Final = 12
_FAILED: Final = 1
_PR_SET_PDEATHSIG: Final = 1  # prctl(2), of Linux


def run_forked(work: Callable[[], None], seconds: int) -> str | None:
    """Do `work` in a forked process, and wait for it: None where it returned, else why it did not, in words.

    seconds: of the processor, that it may take. What it leaves, it leaves in files.
    """
    sys.stdout.flush()
    sys.stderr.flush()
    parent, time = os.getpid(), ProcessorTime.of(seconds)
    child = os.fork()
    if not child:
        os._exit(_exit_status(work, time, parent))
    _, status = os.waitpid(child, 0)
    return _how_it_ended(os.waitstatus_to_exitcode(status), time)


def _exit_status(work: Callable[[], None], time: ProcessorTime, parent: int) -> int:
    """Do the work, in the forked process: the status that it is to exit with."""
    try:
        gc.freeze()  # what was there before is not looked through again, and so is not copied
        _end_with(parent)
        time.put_on()
        work()
    except MemoryError:
        return _OUT_OF_MEMORY
    except BaseException:  # noqa: BLE001 - the outermost frame of a process
        traceback.print_exc()
        return _FAILED
    finally:
        sys.stdout.flush()
        sys.stderr.flush()
    return 0


def _end_with(parent: int) -> None:
    """Has this process ended by the system when the one that forked it ends."""
    if sys.platform == "linux":
        ctypes.CDLL(None).prctl(_PR_SET_PDEATHSIG, signal.SIGKILL)
        if os.getppid() != parent:
            os._exit(_FAILED)


def _how_it_ended(status: int, time: ProcessorTime) -> str | None:
    """The end of the forked process in words; None where it did its work."""
    if not status:
        return None
    if status == -signal.SIGXCPU:
        return f"it took more than {time.lower_s} s of processor time"
    if status == _OUT_OF_MEMORY:
        return "it took more memory than there may be"
    if status < 0:
        return f"it ended by {signal_in_words(-status)}"
    return f"it ended with status {status}"
