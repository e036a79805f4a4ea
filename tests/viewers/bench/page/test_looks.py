"""Whether the page can be read and reached: contrast, sizes, names, the order of the keys, one screen, print."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from tests.viewers.bench.page.conftest import PATIENCE_MS
from tests.viewers.bench.page.fake import FakeBench
from tests.viewers.bench.page.served import served

AA_TEXT = 4.5
"""Contrast of text, WCAG 2.1, 1.4.3."""
AA_LARGE = 3.0
"""Of large text and of what shows a control, WCAG 2.1, 1.4.3 and 1.4.11."""
LEAST_TYPE_PX = 12.5
"""Smaller than this nobody reads at a bench: our choice."""
FIRST = (
    "#view",
    "#leading .mass b",
    "#leading .balance b",
    "#findings .finding.fail > p",
    "#findings .finding.fail .apply",
    '#numbers tr[data-code="mass"] td.change',
    '.field[data-key="fuselage.width"] input[type=range]',
    "#undo",
    "#save",
)
"""What answers the builder's first questions, and what they are changed with."""
STOPS = ["save", "view", "findings", "numbers", "search", "f-fuselage-width"]
"""Some of the keyboard's stops, in the order of reading."""
TOUCH_PX = 44.0
"""Of what a finger has to meet, WCAG 2.1, 2.5.5."""


PROBES = (Path(__file__).parent / "probes.js").read_text("utf-8").rstrip().rstrip(";")


def probe(page: Page, name: str, value: object = None) -> Any:
    """What one of the probes says of the page."""
    return page.evaluate(f"(value) => ({PROBES}).{name}(value)", value)


@pytest.fixture
def address() -> Iterator[str]:
    """A design that tips over, so that a failure and its remedy are on the page."""
    bench = FakeBench()
    bench.values["gear.track"] = 150.0
    with served(bench) as address:
        yield address


def opened(browser: Browser, address: str, width: int = 1366, height: int = 768, **how: object) -> Page:
    page = browser.new_page(viewport={"width": width, "height": height}, **how)
    page.set_default_timeout(PATIENCE_MS)
    page.goto(address)
    page.locator("#view[data-ready]").wait_for()
    page.locator("#findings .finding").first.wait_for()
    return page


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_every_text_on_the_page_has_contrast_and_size(browser: Browser, address: str, scheme: str) -> None:
    """Each visible text against what lies under it, in both papers, with sheets, tray and errors open."""
    page = opened(browser, address, color_scheme=scheme)
    seen = probe(page, "texts")
    page.get_by_role("tab", name="Carried").click()
    seen += probe(page, "texts")
    page.get_by_role("tab", name="Body").click()
    entry = page.locator('.field[data-key="fuselage.width"] input.value')
    entry.fill("wide")
    entry.press("Enter")
    page.locator(".error:visible").wait_for()
    page.get_by_text("what passes").or_(page.get_by_text("Parts", exact=True)).first.click()
    for name in ("Make …", "Versions"):
        page.get_by_role("button", name=name).click()
        seen += probe(page, "texts")
    page.keyboard.press("Escape")
    page.get_by_role("button", name="Save as").click()
    seen += probe(page, "texts")
    assert len(seen) > 150
    assert [(text["words"], round(text["ratio"], 2)) for text in seen if text["ratio"] < AA_TEXT] == []
    assert [(text["words"], text["px"]) for text in seen if text["px"] < LEAST_TYPE_PX] == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_marks_and_focus_stand_out_from_what_they_lie_on(browser: Browser, address: str, scheme: str) -> None:
    """Ink of rules, the slider's hand and the focus ring against paper, steel and bench."""
    page = opened(browser, address, color_scheme=scheme)
    ratios = probe(page, "marks")
    assert [pair for pair in ratios if pair[2] < AA_LARGE] == []


def test_every_control_has_a_name(browser: Browser, address: str) -> None:
    """Buttons, fields, sliders, choices, links and scrolling regions say what they are, sheets and search open too."""
    page = opened(browser, address)
    found = probe(page, "nameless")
    for name in ("Make …", "Versions"):
        page.get_by_role("button", name=name).click()
        found += probe(page, "nameless")
    page.get_by_role("searchbox").fill("a")
    found += probe(page, "nameless")
    assert found == []


@pytest.mark.parametrize(("width", "height"), [(1366, 768), (1366, 650), (1024, 700), (1920, 1080)])
def test_the_first_questions_are_on_one_screen(browser: Browser, address: str, width: int, height: int) -> None:
    """Drawing, mass, balance, the worst finding with its remedy, the change and the rulers show without scrolling."""
    page = opened(browser, address, width, height)
    assert page.evaluate("[document.documentElement.scrollHeight, document.documentElement.scrollWidth]") == [
        height,
        width,
    ]
    assert probe(page, "cutOff", FIRST) == []
    box = page.locator("#view").bounding_box()
    assert box is not None
    assert box["width"] * box["height"] > 0.3 * width * height


def test_fingers_meet_what_they_aim_at(browser: Browser, address: str) -> None:
    """On a touch screen of a tablet's size every button, field, tab and ruler is 44 px high."""
    page = opened(browser, address, 1180, 820, has_touch=True, is_mobile=True)
    small = probe(page, "small", TOUCH_PX)
    assert small == []
    assert (
        probe(page, "cutOff", ["#view", "#leading .mass b", "#findings .finding.fail .apply", "#undo", "#theme"]) == []
    )


def test_the_keyboard_reaches_everything_in_the_order_of_reading(browser: Browser, address: str) -> None:
    """Tab goes from the skip links over rail, drawing, findings and numbers to the rulers; each stop is seen."""
    page = opened(browser, address)
    stops = []
    for _ in range(60):
        page.keyboard.press("Tab")
        stops.append(probe(page, "stop"))
        if stops[-1][1] == "f-fuselage-width":
            break
    assert [name for name, _, is_shown in stops if not is_shown] == []
    regions = list(dict.fromkeys(region for region, _, _ in stops))
    assert regions == ["skip", "rail", "drawing", "notes", "schedule", "edge"]
    ids = [identity for _, identity, _ in stops]
    assert [identity for identity in ids if identity in STOPS] == STOPS


def test_the_skip_link_leads_to_the_dimensions(browser: Browser, address: str) -> None:
    """The first Tab and Enter put the focus at the rulers."""
    page = opened(browser, address)
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.closest('#edge') !== null")


def test_the_switch_of_papers_wins_over_the_system(browser: Browser, address: str) -> None:
    """Dark by the button on a light system, and it is still dark when the page is loaded again."""
    page = opened(browser, address, color_scheme="light")
    page.locator("#theme").click()
    assert page.evaluate("document.documentElement.dataset.theme") == "dark"
    page.reload()
    page.locator("#view[data-ready]").wait_for()
    assert page.evaluate("getComputedStyle(document.body).color") == "rgb(243, 234, 216)"


def test_the_printed_sheet(browser: Browser, address: str) -> None:
    """One or two pages with the title, the numbers, the failing finding, its remedy and the changes."""
    pdfium = pytest.importorskip("pypdfium2")
    page = opened(browser, address, color_scheme="dark")
    page.evaluate("window.dispatchEvent(new Event('beforeprint'))")
    document = pdfium.PdfDocument(page.pdf(prefer_css_page_size=True))
    text = " ".join("".join(sheet.get_textpage().get_text_range() for sheet in document).split())
    assert len(document) <= 2
    for words in (
        "Teasel Mk 2",
        "overturn angle 66.7 deg",
        "Remedy: widen the track to 250 mm",
        "gear.track 150 mm",
        "slowest level flight",
        "no clearance to fly",
    ):
        assert words in text


def test_nothing_is_asked_of_anywhere_else(browser: Browser, address: str) -> None:
    """Every request goes to the bench's own address, and the policy forbids inline scripts and styles."""
    asked: list[str] = []
    page = browser.new_page()
    page.on("request", lambda request: asked.append(request.url))
    page.goto(address)
    page.locator("#findings .finding").first.wait_for()
    assert len(asked) > 15
    assert [url for url in asked if not url.startswith((address, "data:", "blob:"))] == []
    html = page.request.get(address).text()
    assert "style=" not in html and "<style" not in html and "onclick" not in html


@pytest.mark.slow
def test_five_hundred_changes_leave_nothing_behind(browser: Browser) -> None:
    """Nodes and listeners after 500 changes are as many as after 50 (counted by the browser's own tools)."""
    bench = FakeBench()
    bench.values["gear.track"] = 150.0
    bench.work_s = 0.0
    with served(bench) as address:
        page = opened(browser, address)
        tools = page.context.new_cdp_session(page)

        def counted(times: int) -> dict[str, int]:
            probe(page, "change", times)
            page.wait_for_timeout(700)
            tools.send("HeapProfiler.collectGarbage")
            return tools.send("Memory.getDOMCounters")

        early = counted(50)
        late = counted(450)
    assert late["nodes"] <= early["nodes"] + 50
    assert late["jsEventListeners"] <= early["jsEventListeners"] + 5
