"""One browser for a module's tests, and the page open in it over a bench that pretends."""

from __future__ import annotations

import shutil
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, ConsoleMessage, Page, expect, sync_playwright

from tests.viewers.bench.page.fake import FakeBench
from tests.viewers.bench.page.served import served

CHROMIUM = shutil.which("chromium")
PATIENCE_MS = 30_000
"""How long something may take to show on a machine that is busy elsewhere."""
expect.set_options(timeout=PATIENCE_MS)


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    if CHROMIUM is None:
        pytest.skip("no Chromium here")
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox", "--disable-gpu"])
        yield browser
        browser.close()


@pytest.fixture
def bench() -> FakeBench:
    return FakeBench()


@pytest.fixture
def page(browser: Browser, bench: FakeBench) -> Iterator[Page]:
    """The page, open and at rest; by the end the console may have told of no error but refused requests."""
    errors: list[str] = []

    def told(message: ConsoleMessage) -> None:
        if message.type == "error" and "Failed to load resource" not in message.text:
            errors.append(message.text)

    with served(bench) as address:
        page = browser.new_page(viewport={"width": 1366, "height": 768})
        page.set_default_timeout(PATIENCE_MS)
        page.on("pageerror", lambda error: errors.append(str(error)))
        page.on("console", told)
        page.goto(address)
        page.locator("#view[data-ready]").wait_for()
        yield page
        page.close()
        assert errors == []
