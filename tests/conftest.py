"""A test that skips for want of a tool fails where all tools are promised."""

import os
from collections.abc import Generator

import pytest

NEED_ALL_TOOLS = bool(os.environ.get("HOTFOLDER_TESTS_NEED_ALL_TOOLS"))


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(
    item: pytest.Item,  # noqa: ARG001 - pytest's form
    call: pytest.CallInfo[None],
) -> Generator[None, pytest.TestReport, pytest.TestReport]:
    """Turn a skip into a failure where the environment promises every tool."""
    report = yield
    if NEED_ALL_TOOLS and report.skipped and not hasattr(report, "wasxfail"):
        reason = call.excinfo.value if call.excinfo else "skipped"
        report.outcome = "failed"
        report.longrepr = f"skipped where every tool is promised: {reason}"
    return report
