"""The page by hand, over a bench that only pretends: sliders, typing, remedies, undo, saving, other tabs, keys."""

from __future__ import annotations

import shutil
from collections.abc import Iterator

import pytest

from tests.viewers.bench.page_fake import FakeBench, served

playwright = pytest.importorskip("playwright.sync_api")
CHROMIUM = shutil.which("chromium")
pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="no Chromium here")
WIDTH, TRACK, STATION = "fuselage.width", "gear.track", "equipment.battery.station"


@pytest.fixture(scope="module")
def browser() -> Iterator[playwright.Browser]:
    with playwright.sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox", "--disable-gpu"])
        yield browser
        browser.close()


@pytest.fixture
def bench() -> FakeBench:
    return FakeBench()


@pytest.fixture
def page(browser: playwright.Browser, bench: FakeBench) -> Iterator[playwright.Page]:
    """The page, open and at rest; no error may have been told to the console by the end."""
    with served(bench) as address:
        page = browser.new_page(viewport={"width": 1366, "height": 768})
        page.set_default_timeout(5000)
        errors: list[str] = []
        page.on("pageerror", lambda error: errors.append(str(error)))
        page.on(
            "console",
            lambda m: errors.append(m.text) if m.type == "error" and "Failed to load resource" not in m.text else None,
        )
        page.goto(address)
        page.locator("#view[data-ready]").wait_for()
        yield page
        page.close()
        assert errors == []


def field(page: playwright.Page, key: str) -> playwright.Locator:
    return page.locator(f'.field[data-key="{key}"]')


def tab(page: playwright.Page, name: str) -> None:
    page.get_by_role("tab", name=name).click()


def number(page: playwright.Page, code: str) -> playwright.Locator:
    return page.locator(f'#numbers tr[data-code="{code}"] td.now')


def changes(bench: FakeBench) -> list[dict[str, object]]:
    return [body for path, body in bench.posts if path == "change"]


def expect(locator: playwright.Locator) -> playwright.LocatorAssertions:
    return playwright.expect(locator)


def test_typed_inches_are_sent_as_typed_and_shown_in_the_unit_of_the_page(page, bench):
    """ "3 in" and Enter makes the width 76.2 mm, and mass and title block follow."""
    entry = field(page, WIDTH).locator("input.value")
    entry.fill("3 in")
    entry.press("Enter")
    expect(entry).to_have_value("76.2 mm")
    assert changes(bench)[-1]["settings"] == ['fuselage.width="3 in"']
    expect(number(page, "mass")).to_have_text("790 g")
    expect(page.locator("#leading .mass b")).to_have_text("790 g")
    expect(page.locator("#file")).to_contain_text("1 change not saved")


def test_a_bare_number_is_in_the_unit_that_the_field_shows(page, bench):
    """95 typed beside "92 mm" is 95 mm."""
    entry = field(page, WIDTH).locator("input.value")
    entry.fill("95")
    entry.press("Enter")
    expect(entry).to_have_value("95 mm")
    assert bench.values[WIDTH] == 95.0


def test_an_error_stands_under_its_field_and_escape_brings_back_what_holds(page, bench):
    """Nonsense stays to be mended, with the server's sentence under it, announced; nothing is changed."""
    entry = field(page, WIDTH).locator("input.value")
    entry.fill("wide")
    entry.press("Enter")
    error = field(page, WIDTH).locator(".error")
    expect(error).to_contain_text("is no length")
    expect(page.locator("#alarm")).to_contain_text("is no length")
    expect(entry).to_have_value("wide")
    expect(entry).to_have_attribute("aria-invalid", "true")
    assert error.get_attribute("id") in (entry.get_attribute("aria-describedby") or "").split()
    entry.press("Escape")
    expect(entry).to_have_value("92 mm")
    expect(error).to_be_hidden()
    assert bench.values == bench.filed


def test_a_geometry_that_cannot_be_names_the_part(page, bench):
    """A refusal with a part and no key is told under the field that asked for it."""
    tab(page, "Legs")
    entry = field(page, TRACK).locator("input.value")
    entry.fill("130 mm")
    entry.press("Enter")
    expect(field(page, TRACK).locator(".error")).to_contain_text("gear leg left: the leg cannot be bent so tightly")


def test_a_drag_is_one_request_at_a_time_the_last_value_wins_and_one_undo_takes_it_back(page, bench):
    """While the first change waits, forty more moves become one request; one undo ends where the drag began."""
    slider = field(page, WIDTH).locator("input[type=range]")
    bench.pause.clear()
    slider.evaluate(
        """s => { for (let v = 93; v <= 132; v += 1) { s.value = v; s.dispatchEvent(new Event("input", {bubbles: true})); } }"""
    )
    page.wait_for_function(
        "document.querySelector('.field[data-key=\"fuselage.width\"] input.value').value === '132 mm'"
    )
    bench.pause.set()
    expect(number(page, "mass")).to_have_text("846 g")
    slider.dispatch_event("change")
    sent = changes(bench)
    assert [body["settings"] for body in sent] == [['fuselage.width="93 mm"'], ['fuselage.width="132 mm"']]
    assert len({body["stroke"] for body in sent}) == 1
    page.keyboard.press("Control+z")
    expect(field(page, WIDTH).locator("input.value")).to_have_value("92 mm")
    expect(page.locator("#undo")).to_be_disabled()


def test_arrow_and_page_keys_move_the_ruler(page, bench):
    """An arrow is one step, Page Up a tenth of the rule; each press is a step for Undo."""
    slider = field(page, WIDTH).locator("input[type=range]")
    slider.focus()
    slider.press("ArrowRight")
    expect(number(page, "mass")).to_have_text("807 g")
    expect(slider).to_have_attribute("aria-valuetext", "93 mm")
    slider.press("PageUp")
    expect(slider).to_have_attribute("aria-valuetext", "102 mm")
    assert bench.values[WIDTH] == 102.0
    assert len(bench.done) == 2


def test_undo_redo_and_their_keys_say_what_they_take_back(page, bench):
    """Ctrl+Z, Ctrl+Y and Ctrl+Shift+Z work from anywhere; the buttons name the step."""
    entry = field(page, WIDTH).locator("input.value")
    entry.fill("100 mm")
    entry.press("Enter")
    undo, redo = page.locator("#undo"), page.locator("#redo")
    expect(undo).to_have_attribute("title", "Undo body width 100 mm")
    page.keyboard.press("Control+z")
    expect(entry).to_have_value("92 mm")
    expect(redo).to_have_attribute("aria-label", "Redo body width 100 mm")
    page.keyboard.press("Control+y")
    expect(entry).to_have_value("100 mm")
    undo.click()
    page.keyboard.press("Control+Shift+z")
    expect(entry).to_have_value("100 mm")


def test_back_to_filed(page, bench):
    """The arrow beside a changed value takes it back to the file's, and goes away."""
    entry = field(page, WIDTH).locator("input.value")
    entry.fill("100 mm")
    entry.press("Enter")
    expect(field(page, WIDTH).locator(".filed").first).to_contain_text("filed 92 mm · prototype 60 mm")
    field(page, WIDTH).locator(".back").click()
    expect(entry).to_have_value("92 mm")
    expect(field(page, WIDTH).locator(".back")).to_be_hidden()
    expect(page.locator("#file")).to_contain_text("saved")


def test_one_press_applies_a_remedy(page, bench):
    """A track that tips over fails with its remedy; the button sets the key, and the finding passes."""
    tab(page, "Legs")
    entry = field(page, TRACK).locator("input.value")
    entry.fill("160 mm")
    entry.press("Enter")
    first = page.locator("#findings .finding").first
    expect(first).to_contain_text("fails The overturn angle is 65.4 deg")
    expect(first.locator(".sets")).to_have_text("sets gear track 250 mm")
    first.get_by_role("button", name="Widen the track to 250 mm").click()
    expect(page.locator("#notes-count")).to_have_text("1 caution, 1 passes")
    expect(entry).to_have_value("250 mm")
    assert changes(bench)[-1]["words"] == "widen the track to 250 mm"
    expect(page.locator("#findings .finding").first).to_contain_text("By hand: open the throttle to no more than 52 %")


def test_slow_results_are_marked_while_they_are_worked_out(page, bench):
    """The numbers change at once; findings and flight estimates say that they follow, then do."""
    entry = field(page, WIDTH).locator("input.value")
    page.route("**/api/findings?*", lambda route: None)
    entry.fill("100 mm")
    entry.press("Enter")
    expect(number(page, "mass")).to_have_text("814 g")
    expect(page.locator("#notes-count")).to_have_text("being worked out …")
    expect(page.locator("#numbers tr.group")).to_have_text("flight, estimates: being worked out …")
    page.unroute("**/api/findings?*")
    entry.fill("101 mm")
    entry.press("Enter")
    expect(page.locator("#notes-count")).to_have_text("1 caution, 1 passes")
    expect(page.locator("#numbers tr.group")).to_have_text("flight, estimates")


def test_the_battery_slides_along_its_tray_with_its_bands(page, bench):
    """One row for each battery case, the usable band in words, and the slider moves the station."""
    tab(page, "Carried")
    tray = page.locator(".tray")
    expect(tray.locator(".tray-row[role=img]")).to_have_count(2)
    expect(tray.locator(".filed")).to_have_text("in its usable band, 46.0 to 70.0 mm")
    assert (
        tray.locator(".tray-row").nth(1).get_attribute("aria-label")
        == "2-cell, camera in: room 45.0 to 73.0 mm, balances none"
    )
    slider = tray.locator("input[type=range]")
    slider.evaluate(
        """s => { s.value = 75; s.dispatchEvent(new Event("input")); s.dispatchEvent(new Event("change")); }"""
    )
    expect(tray.locator(".filed")).to_contain_text("outside its usable band")
    assert bench.values[STATION] == pytest.approx(75.0, abs=0.5)


def test_every_group_and_the_search(page, bench):
    """Main dimensions first; "all" shows the rest; the search finds over all groups."""
    expect(field(page, "fuselage.wall")).to_have_count(0)
    page.get_by_role("button", name="All dimensions").click()
    expect(field(page, "fuselage.wall")).to_be_visible()
    page.get_by_role("searchbox").fill("span inner")
    expect(page.locator(".field")).to_have_count(1)
    expect(field(page, "wing.panels.0.span")).to_contain_text("Wing: span of the inner panel")
    page.get_by_role("searchbox").fill("no such thing")
    expect(page.locator(".empty")).to_have_text("No dimension is called that.")
    page.get_by_role("searchbox").press("Escape")
    expect(field(page, WIDTH)).to_be_visible()
    for name in ("Wing", "Tail", "Legs", "Carried", "Finish"):
        tab(page, name)
        expect(page.locator("#fields > *").first).to_be_visible()


def test_inches_are_a_view_only(page, bench):
    """The switch shows every value in inches and changes nothing; a ruler then sends inches."""
    page.locator("#system").click()
    expect(field(page, WIDTH).locator("input.value")).to_have_value("3.622 in")
    expect(page.locator("#file")).to_contain_text("saved")
    assert bench.values == bench.filed
    field(page, WIDTH).locator("input[type=range]").press("ArrowRight")
    expect(page.locator("#file")).to_contain_text("1 change")
    assert changes(bench)[-1]["settings"][0].endswith(' in"')
    assert changes(bench)[-1]["system"] == "imperial"


def test_another_tab_changed_it(page, bench):
    """A change over a stale revision is dropped; the page says so and shows how the design stands."""
    bench.step("elsewhere", None)
    bench.values[WIDTH] = 110.0
    entry = field(page, WIDTH).locator("input.value")
    entry.fill("80 mm")
    entry.press("Enter")
    expect(page.locator("#notice")).to_contain_text("changed in another tab")
    expect(number(page, "mass")).to_have_text("824 g")
    assert bench.values[WIDTH] == 110.0


def test_saving_over_a_changed_file_asks_first(page, bench):
    """The conflict is shown with the changes at stake; another name that exists is asked about too."""
    entry = field(page, WIDTH).locator("input.value")
    entry.fill("100 mm")
    entry.press("Enter")
    expect(page.locator("#file")).to_contain_text("1 change")
    bench.disk = "changed"
    page.locator("#save").click()
    dialog = page.get_by_role("dialog")
    expect(dialog).to_contain_text("was changed on the disk")
    expect(dialog).to_contain_text("fuselage.width 100 mm")
    dialog.get_by_role("button", name="Save mine under another name").click()
    dialog.get_by_label("File name").fill("kestrel")
    dialog.get_by_role("button", name="Save", exact=True).click()
    expect(dialog).to_contain_text("kestrel.toml is there already")
    dialog.get_by_role("button", name="Choose another name").click()
    dialog.get_by_label("File name").fill("heron.toml")
    dialog.get_by_label("File name").press("Enter")
    expect(page.locator("#notice")).to_contain_text("Saved as heron.toml.")
    saves = [body for path, body in bench.posts if path == "save"]
    assert [(body["as"], body["replace"]) for body in saves] == [
        (None, False),
        ("kestrel.toml", False),
        ("heron.toml", False),
    ]


def test_reload_after_a_conflict_drops_the_edits(page, bench):
    """Reading the file again shows the file's values."""
    entry = field(page, WIDTH).locator("input.value")
    entry.fill("100 mm")
    entry.press("Enter")
    expect(page.locator("#file")).to_contain_text("1 change")
    bench.disk = "changed"
    page.keyboard.press("Control+s")
    page.get_by_role("dialog").get_by_role("button", name="Read the file, drop mine").click()
    expect(entry).to_have_value("92 mm")
    assert [path for path, _ in bench.posts] == ["change", "save", "reload"]


def test_a_file_changed_on_disk_is_told_when_the_tab_is_looked_at_again(page, bench):
    """Coming back to the tab asks the server, and the notice offers what can be done."""
    bench.disk = "changed"
    page.evaluate("window.dispatchEvent(new Event('focus'))")
    expect(page.locator("#notice")).to_contain_text("was changed on the disk")
    page.locator("#notice").get_by_role("button", name="Read it again").click()
    expect(page.locator("#notice")).to_be_hidden()
    assert bench.posts[-1][0] == "reload"


def test_leaving_with_changes_unsaved_warns(page, bench):
    """beforeunload is cancelled when there is something to lose, and only then."""
    ask = "() => { const e = new Event('beforeunload', {cancelable: true}); window.dispatchEvent(e); return e.defaultPrevented; }"
    assert page.evaluate(ask) is False
    entry = field(page, WIDTH).locator("input.value")
    entry.fill("100 mm")
    entry.press("Enter")
    expect(page.locator("#file")).to_contain_text("1 change")
    assert page.evaluate(ask) is True
    page.keyboard.press("Control+z")
    expect(page.locator("#file")).to_contain_text("saved")


def test_variants_side_by_side(page, bench):
    """Three columns: the prototype, a kept variant, now; open puts it back, forget drops it."""
    entry = field(page, WIDTH).locator("input.value")
    entry.fill("100 mm")
    entry.press("Enter")
    expect(number(page, "mass")).to_have_text("814 g")
    page.get_by_role("button", name="Versions").click()
    drawer = page.locator("#versions")
    drawer.get_by_label("Keep this as").fill("wide")
    drawer.get_by_role("button", name="Keep").click()
    expect(drawer.locator(".edits").last).to_contain_text("wide 1 change, on the bench now")
    page.keyboard.press("Control+z")
    expect(number(page, "mass")).to_have_text("806 g")
    page.locator("#undo").click(trial=True, force=True)
    expect(drawer.locator("tbody tr").first).to_have_text("mass767 g814 g806 g")
    drawer.get_by_role("button", name="Open wide").click()
    expect(entry).to_have_value("100 mm")
    drawer.get_by_role("button", name="Forget wide").click()
    expect(drawer.get_by_role("button", name="Forget wide")).to_have_count(0)
    drawer.get_by_role("button", name="back to 92 mm").click()
    expect(entry).to_have_value("92 mm")
    page.keyboard.press("Escape")
    expect(drawer).to_be_hidden()
    expect(page.locator("#open-versions")).to_be_focused()


def test_a_job_shows_progress_and_can_be_stopped_while_the_page_stays_usable(page, bench):
    """Templates on A3: the progress line, then stop; a dimension changes meanwhile."""
    page.get_by_role("button", name="Make …").click()
    row = page.locator('#make li[data-what="templates"]')
    row.get_by_label("Paper").select_option("a3")
    row.get_by_role("button", name="Make: Cutting templates").click()
    expect(row).to_contain_text("cutting 3 of 9")
    entry = field(page, WIDTH).locator("input.value")
    entry.fill("100 mm")
    entry.press("Enter")
    expect(number(page, "mass")).to_have_text("814 g")
    row.get_by_role("button", name="Stop: Cutting templates").click()
    expect(row).to_contain_text("stopped")
    start = next(body for path, body in bench.posts if path == "jobs")
    assert start == {"revision": 1, "what": "templates", "options": {"paper": "a3"}}


def test_a_finished_job_links_its_files(page, bench):
    """Each file is a link of the bench's own, with its size."""
    file = {"name": "teasel-mk2.step", "bytes": 1_234_567, "url": "./api/jobs/0/files/teasel-mk2.step"}
    page.get_by_role("button", name="Make …").click()
    page.get_by_role("button", name="Make: STEP").click()
    bench.jobs[0].update(state="done", files=[file])
    link = page.get_by_role("link", name="teasel-mk2.step")
    expect(link).to_be_visible()
    assert link.get_attribute("href") == file["url"]
    expect(page.locator('#make li[data-what="step"]')).to_contain_text("1.2 MB")


def test_what_is_drawn_and_the_card_of_a_part(page, bench):
    """Views, see-through, prototype, cut, apart and groups reach the drawing; a picked part shows its card."""
    page.get_by_role("button", name="Side").click()
    page.get_by_role("button", name="See through").click()
    page.locator("#section").fill("0")
    page.locator("#explode").fill("40")
    page.get_by_text("Parts", exact=True).click()
    page.get_by_role("checkbox", name="wing").uncheck()
    calls = page.evaluate("stub.told.calls.map(([name, value]) => [name, value instanceof Set ? [...value] : value])")
    for expected in (
        ["look", "side"],
        ["setXray", True],
        ["setSection", 0],
        ["setExplode", 0.4],
        ["setHidden", ["wing"]],
    ):
        assert expected in calls
    page.evaluate("stub.hands.onPick('former F1')")
    card = page.locator("#card")
    expect(card).to_contain_text("foam board 5 mm · 4.2 g")
    expect(card).to_contain_text("calculated from its drawing")
    expect(card.get_by_role("img", name="Cutting outline of former F1")).to_be_visible()
    card.get_by_role("button").click()
    expect(card).to_be_hidden()


def test_dragging_in_the_drawing_moves_the_item_as_one_stroke(page, bench):
    """The view's drag becomes changes of one stroke in the drag's unit."""
    page.evaluate("""() => { const drag = bench.desk.state.scene.drags[0];
      stub.hands.onDrag(drag, 50, "start"); stub.hands.onDrag(drag, 55.2, "move"); stub.hands.onDrag(drag, 60.4, "end"); }""")
    expect(page.locator("#undo")).to_have_attribute("title", "Undo battery to 60 mm")
    assert bench.values[STATION] == 60.0
    assert len(bench.done) == 1


def test_a_bench_that_is_gone_is_told(page, bench):
    """No answer: one clear sentence, and the page stays."""
    page.route("**/api/change", lambda route: route.abort())
    entry = field(page, WIDTH).locator("input.value")
    entry.fill("100 mm")
    entry.press("Enter")
    expect(page.locator("#notice")).to_contain_text("The bench does not answer")
    page.unroute("**/api/change")
