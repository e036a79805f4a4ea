"""What may be lost and what may not: undo, saving over others' work, other tabs, leaving, variants."""

from __future__ import annotations

from playwright.sync_api import Page, Route, expect

from tests.viewers.bench.page.fake import FakeBench
from tests.viewers.bench.page.hand import WIDTH, enter, number


def test_undo_redo_and_their_keys_say_what_they_take_back(page: Page, bench: FakeBench) -> None:
    """Ctrl+Z, Ctrl+Y and Ctrl+Shift+Z work from anywhere; the buttons name the step."""
    entry = enter(page, WIDTH, "100 mm")
    undo, redo = page.locator("#undo"), page.locator("#redo")
    expect(undo).to_have_attribute("title", "Undo body width 100 mm")
    page.keyboard.press("Control+z")
    expect(entry).to_have_value("92 mm")
    expect(redo).to_have_attribute("aria-label", "Redo body width 100 mm")
    page.keyboard.press("Control+y")
    expect(entry).to_have_value("100 mm")
    undo.click()
    expect(entry).to_have_value("92 mm")
    page.keyboard.press("Control+Shift+z")
    expect(entry).to_have_value("100 mm")


def test_another_tab_changed_it(page: Page, bench: FakeBench) -> None:
    """A change over a stale revision is dropped; the page says so and shows how the design stands."""

    def overtaken(route: Route) -> None:
        bench.step("elsewhere", None)
        bench.values[WIDTH] = 110.0
        route.continue_()

    # While the change is on its way: the page may look at the state at any time before.
    page.route("**/api/change", overtaken, times=1)
    enter(page, WIDTH, "80 mm")
    expect(page.locator("#notice")).to_contain_text("changed in another tab")
    expect(number(page, "mass")).to_have_text("824 g")
    assert bench.values[WIDTH] == 110.0


def test_saving_over_a_changed_file_asks_first(page: Page, bench: FakeBench) -> None:
    """The conflict is shown with the changes at stake; another name that exists is asked about too."""
    enter(page, WIDTH, "100 mm")
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


def test_a_weighed_aeroplane_is_saved_as_a_redesign(page: Page, bench: FakeBench) -> None:
    """Save tells that the log would speak of another aeroplane; the redesign proposed is one Enter away."""
    bench.remarks = ["This aeroplane was weighed."]
    enter(page, WIDTH, "100 mm")
    expect(page.locator("#file")).to_contain_text("1 change")
    page.keyboard.press("Control+s")
    dialog = page.get_by_role("dialog")
    expect(dialog).to_contain_text("This aeroplane was weighed.")
    dialog.get_by_role("button", name="Save as a redesign").click()
    expect(dialog.get_by_role("radio", name="A redesign")).to_be_checked()
    expect(dialog.get_by_label("File name")).to_have_value("teasel-mk3.toml")
    dialog.get_by_label("Name of the aeroplane").fill("Teasel wide")
    page.keyboard.press("Enter")
    expect(page.locator("#notice")).to_contain_text("a redesign of")
    assert bench.posts[-1][1]["as"] == "teasel-mk3.toml"
    assert bench.posts[-1][1]["redesign"] == "Teasel wide"


def test_save_as_offers_a_copy_or_a_redesign(page: Page, bench: FakeBench) -> None:
    """Where nothing was weighed a copy is proposed; the other kind brings its own file name and asks for a name."""
    page.get_by_role("button", name="Save as").click()
    dialog = page.get_by_role("dialog")
    expect(dialog.get_by_role("radio", name="A copy")).to_be_checked()
    expect(dialog.get_by_label("Name of the aeroplane")).to_be_hidden()
    dialog.get_by_role("radio", name="A redesign").check()
    expect(dialog.get_by_label("Name of the aeroplane")).to_have_value("Teasel Mk 3")
    expect(dialog.get_by_label("File name")).to_have_value("teasel-mk3.toml")
    dialog.get_by_role("radio", name="A copy").check()
    dialog.get_by_role("button", name="Save", exact=True).click()
    expect(page.locator("#notice")).to_contain_text("Saved as teasel-mk2-2.toml.")
    assert bench.posts[-1][1]["redesign"] is None


def test_reload_after_a_conflict_drops_the_edits(page: Page, bench: FakeBench) -> None:
    """Reading the file again shows the file's values."""
    entry = enter(page, WIDTH, "100 mm")
    expect(page.locator("#file")).to_contain_text("1 change")
    bench.disk = "changed"
    page.keyboard.press("Control+s")
    page.get_by_role("dialog").get_by_role("button", name="Read the file, drop mine").click()
    expect(entry).to_have_value("92 mm")
    assert [path for path, _ in bench.posts] == ["change", "save", "reload"]


def test_a_file_changed_on_disk_is_told_when_the_tab_is_looked_at_again(page: Page, bench: FakeBench) -> None:
    """Coming back to the tab asks the server, and the notice offers what can be done."""
    bench.disk = "changed"
    page.evaluate("window.dispatchEvent(new Event('focus'))")
    expect(page.locator("#notice")).to_contain_text("was changed on the disk")
    with page.expect_response("**/api/reload"):
        page.locator("#notice").get_by_role("button", name="Read it again").click()
    expect(page.locator("#notice")).to_be_hidden()
    assert bench.posts[-1][0] == "reload"


def test_leaving_with_changes_unsaved_warns(page: Page, bench: FakeBench) -> None:
    """beforeunload is cancelled when there is something to lose, and only then."""
    ask = "() => !window.dispatchEvent(new Event('beforeunload', { cancelable: true }))"
    assert page.evaluate(ask) is False
    enter(page, WIDTH, "100 mm")
    expect(page.locator("#file")).to_contain_text("1 change")
    assert page.evaluate(ask) is True
    page.keyboard.press("Control+z")
    expect(page.locator("#file")).to_contain_text("saved")


def test_variants_side_by_side(page: Page, bench: FakeBench) -> None:
    """Three columns: the prototype, a kept variant, now, or others chosen; open puts it back, forget drops it."""
    entry = enter(page, WIDTH, "100 mm")
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
    drawer.get_by_label("Version in the first column").select_option(label="wide")
    drawer.get_by_label("Version in the second column").select_option(label="as filed")
    expect(drawer.locator("tbody tr").first).to_have_text("mass814 g806 g806 g")
    drawer.get_by_role("button", name="Open wide").click()
    expect(entry).to_have_value("100 mm")
    drawer.get_by_role("button", name="Forget wide").click()
    expect(drawer.get_by_role("button", name="Forget wide")).to_have_count(0)
    drawer.get_by_role("button", name="back to 92 mm").click()
    expect(entry).to_have_value("92 mm")
    page.keyboard.press("Escape")
    expect(drawer).to_be_hidden()
    expect(page.locator("#open-versions")).to_be_focused()


def test_a_bench_that_is_gone_is_told(page: Page, bench: FakeBench) -> None:
    """No answer: one clear sentence, and the page stays and shows what would be lost."""
    enter(page, WIDTH, "100 mm")
    expect(page.locator("#file")).to_contain_text("1 change")
    page.route("**/api/change", lambda route: route.abort())
    enter(page, WIDTH, "101 mm")
    expect(page.locator("#notice")).to_contain_text("The bench does not answer")
    page.locator("#notice").get_by_role("button", name="Show what is not saved").click()
    expect(page.locator("#versions .edits").first).to_contain_text("fuselage.width 100 mm")
    page.unroute("**/api/change")
