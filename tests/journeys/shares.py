"""File systems in user space that stand for network shares: no events, no leases, links that may not be.

A share is a folder that another machine lends (`lent`), and the place where it is mounted here (`here`). What
is written into `lent` is written by the other machine: this one is not told.
"""

import os
import shutil
import subprocess
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Final

_SFTP_SERVERS: Final = ("/usr/lib/openssh/sftp-server", "/usr/libexec/openssh/sftp-server")


def _bindfs(share: "Share") -> Sequence[str]:
    return ("bindfs", "-f", str(share.lent), str(share.here))


def _mergerfs(share: "Share") -> Sequence[str]:
    return ("mergerfs", "-f", str(share.lent), str(share.here))


def _sshfs(share: "Share") -> Sequence[str]:
    """The server is started by a script in the place of a connection to another machine."""
    script = share.lent.with_name(f"{share.lent.name}.sh")
    server = next(path for path in _SFTP_SERVERS if Path(path).exists())
    script.write_text(f"#!/bin/sh\nexec {server}\n", encoding="ascii")
    script.chmod(0o700)
    return ("sshfs", "-f", "-o", f"ssh_command={script}", f"there:{share.lent}", str(share.here))


KINDS: Final[dict[str, Callable[["Share"], Sequence[str]]]] = {
    "bindfs": _bindfs,
    "mergerfs": _mergerfs,
    "sshfs": _sshfs,
}


_CAP_SYS_ADMIN: Final = 21


def why_not(kind: str) -> str | None:
    """Why a share of this kind cannot be had here; None where it can."""
    if not os.access("/dev/fuse", os.R_OK | os.W_OK):
        return "no file systems in user space here: /dev/fuse"
    if not _may_mount():
        return "this process may not mount"
    if shutil.which(kind) is None:
        return f"no {kind} here"
    if kind == "sshfs" and not any(Path(path).exists() for path in _SFTP_SERVERS):
        return "no sftp-server here"
    return None


def _may_mount() -> bool:
    """By capabilities(7): CAP_SYS_ADMIN, or a helper program that may gain it (prctl(2), no_new_privs)."""
    status = dict(line.split(":", 1) for line in Path("/proc/self/status").read_text().splitlines())
    has_right = bool(int(status["CapEff"], 16) >> _CAP_SYS_ADMIN & 1)
    helper_may_gain_it = status["NoNewPrivs"].strip() == "0" and os.geteuid() != 0
    return has_right or helper_may_gain_it


class Share:
    """One share of a kind that can be had here; `mount` first, `unmount` at last."""

    def __init__(self, kind: str, lent: Path, here: Path) -> None:
        self.lent, self.here = lent, here
        self._kind = kind
        self._server: subprocess.Popen[bytes] | None = None
        for folder in (lent, here):
            folder.mkdir(parents=True, exist_ok=True)

    def mount(self) -> None:
        beneath = self.here.stat().st_dev
        self._server = subprocess.Popen(KINDS[self._kind](self))
        until = time.monotonic() + 20
        while self.here.stat().st_dev == beneath:
            assert self._server.poll() is None, f"{self._kind} ended with {self._server.returncode}"
            assert time.monotonic() < until, f"{self._kind} does not mount"
            time.sleep(0.05)

    def break_off(self) -> None:
        """The connection is lost: every call is answered with an error, and the mount is still there."""
        assert self._server is not None
        self._server.kill()
        self._server.wait(20)

    def unmount(self) -> None:
        """Lazily, as a machine does whose share is gone; no matter if it is unmounted already."""
        for command in (["fusermount3", "-uz"], ["fusermount", "-uz"], ["umount", "-l"]):
            if (
                shutil.which(command[0])
                and subprocess.run([*command, self.here], capture_output=True, check=False).returncode == 0
            ):
                break
        if self._server is not None:
            self.break_off()
            self._server = None
