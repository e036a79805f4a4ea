"""One browser for the drawing's tests, and the small aeroplane drawn in it."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page

from tests.viewers.bench.view.drawn import CHROMIUM, OPEN, SIZE, Json, Shapes, browser, open_page, scene, show


@pytest.fixture(scope="module")
def opened() -> Iterator[Browser]:
    if CHROMIUM is None:
        pytest.skip("no browser here")
    with browser() as running:
        yield running


@pytest.fixture(scope="module")
def shapes() -> Shapes:
    return Shapes()


@pytest.fixture(scope="module")
def drawn(shapes: Shapes) -> Json:
    return scene(shapes)


@pytest.fixture(scope="module")
def tab(opened: Browser, shapes: Shapes) -> Iterator[Page]:
    """A page that several drawings are made on, one after the other: loading the 3D library takes longest."""
    made = open_page(opened, shapes)
    yield made
    made.close()


@pytest.fixture
def page(tab: Page, drawn: Json) -> Iterator[Page]:
    """The small aeroplane drawn."""
    tab.set_viewport_size(SIZE)
    tab.mouse.move(1, 1)
    tab.evaluate(OPEN)
    assert show(tab, drawn)
    yield tab
    tab.evaluate("() => { view.dispose(); document.activeElement.blur(); }")
