"""What the supervisor's tests let a child do; each is named as text, as the real entries are."""

import os
import signal
import time
from pathlib import Path


def write_and_return(order: Path) -> None:
    order.write_text(f"{os.getpid()} {os.getpgrp()}")


def say_and_raise(order: Path) -> None:
    print(f"about to fail over {order.name}", flush=True)  # noqa: T201 - what a child prints goes to its log
    raise ValueError("no such thing")


def kill_itself(order: Path) -> None:
    order.write_text("begun")
    os.kill(os.getpid(), signal.SIGKILL)


def sleep_long(order: Path) -> None:
    order.write_text(str(os.getpid()))
    time.sleep(60)


def work_without_end(_order: Path) -> None:
    while True:
        pass


def work_a_fourth_of_two_seconds(order: Path) -> None:
    began = time.monotonic()
    while time.monotonic() - began < 2:
        until = time.process_time() + 0.02
        while time.process_time() < until:
            pass
        time.sleep(0.06)
    order.write_text(str(time.monotonic() - began))


def take_memory(order: Path) -> None:
    try:
        taken = bytearray(3_000_000_000)
    except MemoryError:
        order.write_text("refused")
    else:
        order.write_text(f"got {len(taken)}")


def write_much(order: Path) -> None:
    try:
        order.write_bytes(b"x" * 20_000_000)
    except OSError as error:
        order.with_suffix(".refused").write_text(str(error.errno))
