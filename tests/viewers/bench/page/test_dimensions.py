"""Dimensions by hand: typed, slid, refused, taken back, searched for, shown in inches."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.viewers.bench.page.fake import FakeBench
from tests.viewers.bench.page.hand import STATION, TRACK, WIDTH, changes, enter, field, number, settled, tab


def test_typed_inches_are_sent_as_typed_and_shown_in_the_unit_of_the_page(page: Page, bench: FakeBench) -> None:
    """ "3 in" and Enter makes the width 76.2 mm, and mass and title block follow."""
    entry = enter(page, WIDTH, "3 in")
    expect(entry).to_have_value("76.2 mm")
    assert changes(page, bench)[-1]["settings"] == ['fuselage.width="3 in"']
    expect(number(page, "mass")).to_have_text("790 g")
    expect(page.locator("#leading .mass b")).to_have_text("790 g")
    expect(page.locator("#file")).to_contain_text("1 change not saved")


def test_a_bare_number_is_in_the_unit_that_the_field_shows(page: Page, bench: FakeBench) -> None:
    """95 typed beside "92 mm" is 95 mm."""
    entry = enter(page, WIDTH, "95")
    expect(entry).to_have_value("95 mm")
    assert bench.values[WIDTH] == 95.0


def test_an_error_stands_under_its_field_and_escape_brings_back_what_holds(page: Page, bench: FakeBench) -> None:
    """Nonsense stays to be mended, with the server's sentence under it, announced; nothing is changed."""
    entry = enter(page, WIDTH, "wide")
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


def test_a_geometry_that_cannot_be_names_the_part(page: Page, bench: FakeBench) -> None:
    """A refusal with a part and no key is told under the field that asked for it."""
    tab(page, "Legs")
    enter(page, TRACK, "130 mm")
    expect(field(page, TRACK).locator(".error")).to_contain_text("gear leg left: the leg cannot be bent so tightly")


def test_a_drag_is_one_request_at_a_time_and_one_undo(page: Page, bench: FakeBench) -> None:
    """While the first change waits, forty more moves become one request; one undo ends where the drag began."""
    slider = field(page, WIDTH).locator("input[type=range]")
    bench.pause.clear()
    slider.evaluate(
        """s => { for (let v = 93; v <= 132; v += 1) { s.value = v; s.dispatchEvent(new Event("input")); } }"""
    )
    expect(field(page, WIDTH).locator("input.value")).to_have_value("132 mm")
    bench.pause.set()
    expect(number(page, "mass")).to_have_text("846 g")
    slider.dispatch_event("change")
    sent = changes(page, bench)
    assert [body["settings"] for body in sent] == [['fuselage.width="93 mm"'], ['fuselage.width="132 mm"']]
    assert len({body["stroke"] for body in sent}) == 1
    page.keyboard.press("Control+z")
    expect(field(page, WIDTH).locator("input.value")).to_have_value("92 mm")
    expect(page.locator("#undo")).to_be_disabled()


def test_arrow_and_page_keys_move_the_ruler(page: Page, bench: FakeBench) -> None:
    """An arrow is one step, Page Up a tenth of the rule; each press is a step for Undo."""
    slider = field(page, WIDTH).locator("input[type=range]")
    slider.focus()
    slider.press("ArrowRight")
    expect(number(page, "mass")).to_have_text("807 g")
    expect(slider).to_have_attribute("aria-valuetext", "93 mm")
    slider.press("PageUp")
    expect(slider).to_have_attribute("aria-valuetext", "102 mm")
    expect(number(page, "mass")).to_have_text("816 g")
    assert bench.values[WIDTH] == 102.0
    assert len(bench.done) == 2


def test_a_key_held_down_is_one_step_for_undo(page: Page, bench: FakeBench) -> None:
    """Three repeats of an arrow key that is held, then its release: one undo goes back to the start."""
    slider = field(page, WIDTH).locator("input[type=range]")
    slider.focus()
    for _ in range(3):
        page.keyboard.down("ArrowRight")
    page.keyboard.up("ArrowRight")
    expect(number(page, "mass")).to_have_text("809 g")
    page.locator("#undo").click()
    expect(number(page, "mass")).to_have_text("806 g")
    expect(page.locator("#undo")).to_be_disabled()


def test_back_to_filed(page: Page, bench: FakeBench) -> None:
    """The arrow beside a changed value takes it back to the file's, and goes away."""
    entry = enter(page, WIDTH, "100 mm")
    expect(field(page, WIDTH).locator(".filed").first).to_contain_text("filed 92 mm · prototype 60 mm")
    field(page, WIDTH).locator(".back").click()
    expect(entry).to_have_value("92 mm")
    expect(field(page, WIDTH).locator(".back")).to_be_hidden()
    expect(page.locator("#file")).to_contain_text("saved")


def test_the_battery_slides_along_its_tray_with_its_bands(page: Page, bench: FakeBench) -> None:
    """One row for each battery case, the usable band in words, and the slider moves the station."""
    tab(page, "Carried")
    tray = page.locator(".tray")
    expect(tray.locator(".tray-row[role=img]")).to_have_count(2)
    expect(tray.locator(".filed")).to_have_text("in its usable band, 46 to 70 mm")
    assert (
        tray.locator(".tray-row").nth(1).get_attribute("aria-label")
        == "2-cell, camera in: room 45 to 73 mm, balances none"
    )
    slider = tray.locator("input[type=range]")
    slider.evaluate(
        """s => { s.value = 75; s.dispatchEvent(new Event("input")); s.dispatchEvent(new Event("change")); }"""
    )
    settled(page)
    expect(tray.locator(".filed")).to_contain_text("outside its usable band")
    assert bench.values[STATION] == pytest.approx(75.0, abs=0.5)


def test_every_group_and_the_search(page: Page, bench: FakeBench) -> None:
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


def test_inches_are_a_view_only(page: Page, bench: FakeBench) -> None:
    """The switch shows every value in inches and changes nothing; a ruler then sends inches."""
    page.locator("#system").click()
    expect(field(page, WIDTH).locator("input.value")).to_have_value("3.622 in")
    expect(page.locator("#file")).to_contain_text("saved")
    assert bench.values == bench.filed
    field(page, WIDTH).locator("input[type=range]").press("ArrowRight")
    expect(page.locator("#file")).to_contain_text("1 change")
    assert changes(page, bench)[-1]["settings"][0].endswith(' in"')
    assert changes(page, bench)[-1]["system"] == "imperial"


def test_what_the_file_leaves_out_is_left_out_again(page: Page, bench: FakeBench) -> None:
    """A field of nothing says so; what is typed into it goes back to nothing by its arrow, and by emptying it."""
    bench.unsaid = "fuselage.rib"
    page.reload()
    page.locator("#view[data-ready]").wait_for()
    entry, back = field(page, "fuselage.rib").locator("input.value"), field(page, "fuselage.rib").locator(".back")
    expect(entry).to_have_value("")
    expect(entry).to_have_attribute("placeholder", "not stated")
    expect(back).to_be_hidden()
    entry.fill("14 mm")
    entry.press("Enter")
    expect(back).to_have_attribute("title", "back to not stated, as filed")
    back.click()
    expect(page.locator("#undo")).to_have_attribute("title", "Undo body depth of the braces not stated")
    assert changes(page, bench)[-1]["settings"] == ['fuselage.rib="none"']
    entry.fill("14 mm")
    entry.press("Enter")
    entry.fill("")
    entry.press("Enter")
    assert [sent["settings"] for sent in changes(page, bench)[-2:]] == [
        ['fuselage.rib="14 mm"'],
        ['fuselage.rib="none"'],
    ]
    expect(entry).to_have_value("")


def test_a_dimension_is_called_by_no_word_twice(page: Page) -> None:
    """Away from its heading it is told by the heading too, unless its own name says that or the heading is a phrase."""
    called = page.evaluate("""async () => {
      const { named } = await import(new URL("page/ruler.js", location));
      const pairs = [["Body", "body width"], ["Wing", "root chord"], ["Legs and wheels", "track"]];
      return pairs.map((pair) => named(...pair));
    }""")
    assert called == ["body width", "wing root chord", "track"]


def test_a_bare_number_means_the_unit_of_its_ruler(page: Page, bench: FakeBench) -> None:
    """Whole, broken, with a comma or as a mixed fraction, as it is read off a rule; with a unit it stays as typed."""
    for typed, sent in (("95", "95 mm"), ("95,5", "95.5 mm"), ("95 1/2", "95 1/2 mm"), ("3 1/4 in", "3 1/4 in")):
        read = page.evaluate(
            """async (typed) => {
          const { withUnit } = await import(new URL("page/ruler.js", location));
          return withUnit(typed, bench.desk.fields.get("fuselage.width"));
        }""",
            typed,
        )
        assert read == sent
