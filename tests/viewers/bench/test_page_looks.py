"""Whether the page can be read and reached: contrast, sizes, names, order of the keys, one screen, the printed sheet."""

from __future__ import annotations

import shutil
from collections.abc import Iterator

import pytest

from tests.viewers.bench.page_fake import FakeBench, served

playwright = pytest.importorskip("playwright.sync_api")
CHROMIUM = shutil.which("chromium")
pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="no Chromium here")

AA_TEXT = 4.5
"""Contrast of text, WCAG 2.1, 1.4.3."""
AA_LARGE = 3.0
"""Of large text and of what shows a control, WCAG 2.1, 1.4.3 and 1.4.11."""
LEAST_TYPE_PX = 12.5
"""Smaller than this nobody reads at a bench: our choice."""
TOUCH_PX = 44.0
"""Of what a finger has to meet, WCAG 2.1, 2.5.5."""

TEXTS = """() => {
  const rgb = (text) => text.match(/[\\d.]+/g).map(Number);
  const part = (v) => (v / 255 <= 0.04045 ? v / 255 / 12.92 : ((v / 255 + 0.055) / 1.055) ** 2.4);
  const light = ([r, g, b]) => 0.2126 * part(r) + 0.7152 * part(g) + 0.0722 * part(b);
  const ground = (node) => {
    for (let at = node; at; at = at.parentElement) {
      const found = rgb(getComputedStyle(at).backgroundColor);
      if (found.length < 4 || found[3] > 0.99) return found;
    }
    return [255, 255, 255];
  };
  const seen = [];
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const words = walk.currentNode.textContent.trim();
    const host = walk.currentNode.parentElement;
    if (!words || !host.checkVisibility() || host.closest(".unseen, .skip, :disabled, script, noscript")) continue;
    seen.push([words, host]);
  }
  for (const input of document.querySelectorAll("input[type=text], input[type=search], select")) if (input.checkVisibility()) seen.push([input.value || input.placeholder, input]);
  return seen.map(([words, host]) => {
    const style = getComputedStyle(host);
    const [a, b] = [light(rgb(style.color)), light(ground(host))].sort((x, y) => y - x);
    return { words, ratio: (a + 0.05) / (b + 0.05), px: parseFloat(style.fontSize) };
  });
}"""

NAMELESS = """() => [...document.querySelectorAll("button, input, select, a, summary, [tabindex='0']")].filter((node) => {
  if (!node.checkVisibility()) return false;
  const by = (node.getAttribute("aria-labelledby") || "").split(" ").map((id) => document.getElementById(id)?.textContent || "").join("");
  return !(node.getAttribute("aria-label") || by || node.textContent.trim() || [...(node.labels || [])].map((label) => label.textContent.trim()).join(""));
}).map((node) => node.outerHTML)"""

CUT_OFF = """(selectors) => selectors.filter((selector) => {
  const node = document.querySelector(selector);
  const box = node.getBoundingClientRect();
  for (let at = node.parentElement; at; at = at.parentElement) {
    const clip = at.getBoundingClientRect();
    if (getComputedStyle(at).overflow !== "visible" && (box.top < clip.top - 1 || box.bottom > clip.bottom + 1 || box.right > clip.right + 1)) return true;
  }
  return box.width < 1 || box.top < 0 || box.left < 0 || box.bottom > innerHeight + 1 || box.right > innerWidth + 1;
})"""


@pytest.fixture(scope="module")
def browser() -> Iterator[playwright.Browser]:
    with playwright.sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox", "--disable-gpu"])
        yield browser
        browser.close()


@pytest.fixture
def address() -> Iterator[str]:
    """A design that tips over, so that a failure and its remedy are on the page."""
    bench = FakeBench()
    bench.values["gear.track"] = 150.0
    with served(bench) as address:
        yield address


def opened(
    browser: playwright.Browser, address: str, width: int = 1366, height: int = 768, **how: object
) -> playwright.Page:
    page = browser.new_page(viewport={"width": width, "height": height}, **how)
    page.set_default_timeout(5000)
    page.goto(address)
    page.locator("#view[data-ready]").wait_for()
    page.locator("#findings .finding").first.wait_for()
    return page


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_every_text_on_the_page_has_contrast_and_size(browser, address, scheme):
    """Each visible text against what lies under it, in both papers, with sheets, tray and errors open."""
    page = opened(browser, address, color_scheme=scheme)
    seen = page.evaluate(TEXTS)
    page.get_by_role("tab", name="Carried").click()
    seen += page.evaluate(TEXTS)
    page.get_by_role("tab", name="Body").click()
    entry = page.locator('.field[data-key="fuselage.width"] input.value')
    entry.fill("wide")
    entry.press("Enter")
    page.locator(".error:visible").wait_for()
    page.get_by_text("what passes").or_(page.get_by_text("Parts", exact=True)).first.click()
    for name in ("Make …", "Versions"):
        page.get_by_role("button", name=name).click()
        seen += page.evaluate(TEXTS)
    page.keyboard.press("Escape")
    page.get_by_role("button", name="Save as").click()
    seen += page.evaluate(TEXTS)
    assert len(seen) > 150
    assert [(text["words"], round(text["ratio"], 2)) for text in seen if text["ratio"] < AA_TEXT] == []
    assert [(text["words"], text["px"]) for text in seen if text["px"] < LEAST_TYPE_PX] == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_marks_and_focus_stand_out_from_what_they_lie_on(browser, address, scheme):
    """Ink of rules, the slider's hand and the focus ring against paper, steel and bench."""
    page = opened(browser, address, color_scheme=scheme)
    ratios = page.evaluate("""() => {
      const style = getComputedStyle(document.documentElement);
      const rgb = (name) => style.getPropertyValue(name).trim().match(/[0-9a-f]{2}/gi).map((h) => parseInt(h, 16) / 255);
      const light = (name) => rgb(name).map((v) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4)).reduce((sum, v, i) => sum + v * [0.2126, 0.7152, 0.0722][i], 0);
      const ratio = (a, b) => { const [x, y] = [light(a), light(b)].sort((p, q) => q - p); return (x + 0.05) / (y + 0.05); };
      return ["--ink", "--balance", "--focus"].flatMap((mark) => ["--paper", "--steel", "--bench", "--shade"].map((under) => [mark, under, ratio(mark, under)]));
    }""")
    assert [pair for pair in ratios if pair[2] < AA_LARGE] == []


def test_every_control_has_a_name(browser, address):
    """Buttons, fields, sliders, choices, links and scrolling regions say what they are, sheets and search open too."""
    page = opened(browser, address)
    found = page.evaluate(NAMELESS)
    for name in ("Make …", "Versions"):
        page.get_by_role("button", name=name).click()
        found += page.evaluate(NAMELESS)
    page.get_by_role("searchbox").fill("a")
    found += page.evaluate(NAMELESS)
    assert found == []


@pytest.mark.parametrize(("width", "height"), [(1366, 768), (1366, 650), (1024, 700), (1920, 1080)])
def test_the_first_questions_are_on_one_screen(browser, address, width, height):
    """Drawing, mass, balance, the worst finding with its remedy, the change and the rulers show without scrolling."""
    page = opened(browser, address, width, height)
    assert page.evaluate("[document.documentElement.scrollHeight, document.documentElement.scrollWidth]") == [
        height,
        width,
    ]
    wanted = ["#view", "#leading .mass b", "#leading .balance b", "#findings .finding.fail > p", "#findings .finding.fail .apply",
              '#numbers tr[data-code="mass"] td.change', '.field[data-key="fuselage.width"] input[type=range]', "#undo", "#save"]  # fmt: skip
    assert page.evaluate(CUT_OFF, wanted) == []
    box = page.locator("#view").bounding_box()
    assert box is not None
    assert box["width"] * box["height"] > 0.3 * width * height


def test_fingers_meet_what_they_aim_at(browser, address):
    """On a touch screen of a tablet's size every button, field, tab and ruler is 44 px high."""
    page = opened(browser, address, 1180, 820, has_touch=True, is_mobile=True)
    small = page.evaluate(
        """(least) => [...document.querySelectorAll("button, input:not([type=checkbox]), select, summary")].filter((node) => node.checkVisibility() && !node.closest("#findings details, .skip") && node.getBoundingClientRect().height < least).map((node) => node.id || node.outerHTML)""",
        TOUCH_PX,
    )
    assert small == []
    assert (
        page.evaluate(CUT_OFF, ["#view", "#leading .mass b", "#findings .finding.fail .apply", "#undo", "#theme"]) == []
    )


def test_the_keyboard_reaches_everything_in_the_order_of_reading(browser, address):
    """Tab goes from the skip links over rail, drawing, findings and numbers to the dimensions; each stop shows its focus."""
    page = opened(browser, address)
    stops = []
    for _ in range(60):
        page.keyboard.press("Tab")
        stops.append(
            page.evaluate("""() => { const node = document.activeElement; const style = getComputedStyle(node);
          return [node.closest("header, #drawing, #notes, #schedule, #edge")?.id ?? node.className, node.id, style.outlineStyle !== "none" || node.matches(".skip")]; }""")
        )
        if stops[-1][1] == "f-fuselage-width":
            break
    assert [name for name, _, is_shown in stops if not is_shown] == []
    regions = list(dict.fromkeys(region for region, _, _ in stops))
    assert regions == ["skip", "", "drawing", "notes", "schedule", "edge"]
    ids = [identity for _, identity, _ in stops]
    assert [identity for identity in ids if identity in ("save", "view", "findings", "numbers", "search", "f-fuselage-width")] == [
        "save", "view", "findings", "numbers", "search", "f-fuselage-width"]  # fmt: skip


def test_the_skip_link_leads_to_the_dimensions(browser, address):
    """The first Tab and Enter put the focus at the rulers."""
    page = opened(browser, address)
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.closest('#edge') !== null")


def test_the_switch_of_papers_wins_over_the_system(browser, address):
    """Dark by the button on a light system, and it is still dark when the page is loaded again."""
    page = opened(browser, address, color_scheme="light")
    page.locator("#theme").click()
    assert page.evaluate("document.documentElement.dataset.theme") == "dark"
    page.reload()
    page.locator("#view[data-ready]").wait_for()
    assert page.evaluate("getComputedStyle(document.body).color") == "rgb(243, 234, 216)"


def test_the_printed_sheet(browser, address):
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


def test_nothing_is_asked_of_anywhere_else(browser, address):
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


def test_five_hundred_changes_leave_nothing_behind(browser, address):
    """Nodes and listeners after 500 changes are as many as after 50 (counted by the browser's own tools)."""
    page = opened(browser, address)
    tools = page.context.new_cdp_session(page)

    def counted(times: int) -> dict[str, int]:
        page.evaluate(
            """async (times) => { for (let i = 0; i < times; i += 1)
          await bench.desk.change([["fuselage.width", `fuselage.width="${60 + (i % 70)} mm"`]], { words: "x" }); }""",
            times,
        )
        page.wait_for_timeout(700)
        tools.send("HeapProfiler.collectGarbage")
        return tools.send("Memory.getDOMCounters")

    early = counted(50)
    late = counted(450)
    assert late["nodes"] <= early["nodes"] + 50
    assert late["jsEventListeners"] <= early["jsEventListeners"] + 5
