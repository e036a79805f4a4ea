"""Where things are on the page, for the tests that use it by hand."""

from __future__ import annotations

from playwright.sync_api import Locator, Page

from tests.viewers.bench.page.fake import FakeBench, Json

WIDTH, TRACK, STATION = "fuselage.width", "gear.track", "equipment.battery.station"


def field(page: Page, key: str) -> Locator:
    """A dimension's whole place: label, ruler, field, notes."""
    return page.locator(f'.field[data-key="{key}"]')


def tab(page: Page, name: str) -> None:
    """Turn to a group of dimensions."""
    page.get_by_role("tab", name=name).click()


def number(page: Page, code: str) -> Locator:
    """What a number is now."""
    return page.locator(f'#numbers tr[data-code="{code}"] td.now')


def changes(bench: FakeBench) -> list[Json]:
    """The changes that the bench was asked for."""
    return [body for path, body in bench.posts if path == "change"]
