"""One browser for the drawing's tests, and the small aeroplane drawn in it."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page

from tests.viewers.bench.view.drawn import CHROMIUM, Json, Shapes, browser, open_page, scene, show


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


@pytest.fixture
def page(opened: Browser, shapes: Shapes, drawn: Json) -> Iterator[Page]:
    """The small aeroplane drawn."""
    made = open_page(opened, shapes)
    assert show(made, drawn)
    yield made
    made.close()
