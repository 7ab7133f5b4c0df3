"""A test that skips for want of a tool fails where all tools are promised."""

import os
from collections.abc import Generator

import pytest

# What the machine is, not what is installed on it: such a test may skip anywhere.
OF_THE_MACHINE = (
    "this user may read and write everything",
    "second file system",
    "/dev/shm",
    "may not mount",
    "no file systems in user space here",
    "needs root",
)
NEED_ALL_TOOLS = bool(os.environ.get("HOTFOLDER_TESTS_NEED_ALL_TOOLS"))


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(
    item: pytest.Item,  # noqa: ARG001 - pytest's form
    call: pytest.CallInfo[None],
) -> Generator[None, pytest.TestReport, pytest.TestReport]:
    """Turn a skip into a failure where the environment promises every tool."""
    report = yield
    reason = str(call.excinfo.value) if call.excinfo else ""
    allowed = any(words in reason for words in OF_THE_MACHINE)
    if NEED_ALL_TOOLS and report.skipped and not allowed and not hasattr(report, "wasxfail"):
        report.outcome = "failed"
        report.longrepr = f"skipped where every tool is promised: {reason}"
    return report
