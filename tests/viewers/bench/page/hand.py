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


def enter(page: Page, key: str, text: str) -> Locator:
    """Type into a dimension's field and press Enter; the field, with the answer shown."""
    entry = field(page, key).locator("input.value")
    entry.fill(text)
    entry.press("Enter")
    settled(page)
    return entry


def settled(page: Page) -> None:
    """Everything sent has been answered and is shown."""
    page.evaluate("bench.desk.settled()")


def changes(page: Page, bench: FakeBench) -> list[Json]:
    """The changes that the bench was asked for, none still on its way."""
    settled(page)
    return [body for path, body in bench.posts if path == "change"]
