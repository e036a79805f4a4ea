"""What the page does for the builder: remedies, slow results, jobs, the drawing and its parts."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from tests.viewers.bench.page.fake import FakeBench
from tests.viewers.bench.page.hand import STATION, TRACK, WIDTH, changes, enter, number, tab


def test_one_press_applies_a_remedy(page: Page, bench: FakeBench) -> None:
    """A track that tips over fails with its remedy; the button sets the key, and the finding passes."""
    tab(page, "Legs")
    entry = enter(page, TRACK, "160 mm")
    first = page.locator("#findings .finding").first
    expect(first).to_contain_text("fails The overturn angle is 65.4 deg")
    expect(first.locator(".sets")).to_have_text("sets track 250 mm")
    first.get_by_role("button", name="Widen the track to 250 mm").click()
    expect(page.locator("#notes-count")).to_have_text("1 caution, 1 passes")
    expect(entry).to_have_value("250 mm")
    assert changes(page, bench)[-1]["words"] == "widen the track to 250 mm"
    expect(page.locator("#findings .finding").first).to_contain_text("By hand: open the throttle to no more than 52 %")


def test_remedies_are_offered_once_they_were_tried(page: Page, bench: FakeBench) -> None:
    """What fails is told first, with a word that its remedies are being tried; the button comes when they were."""
    tab(page, "Legs")
    bench.trial.clear()
    enter(page, TRACK, "160 mm")
    first = page.locator("#findings .finding").first
    expect(first).to_contain_text("fails The overturn angle is 65.4 deg")
    expect(first.locator(".trial")).to_have_text("trying what would mend it …")
    expect(page.locator("#notes-count")).to_contain_text("trying remedies …")
    expect(first.get_by_role("button")).to_have_count(0)
    bench.trial.set()
    expect(first.get_by_role("button", name="Widen the track to 250 mm")).to_be_visible()
    expect(page.locator("#notes-count")).to_have_text("1 fails, 1 caution")


def test_slow_results_are_marked_while_they_are_worked_out(page: Page, bench: FakeBench) -> None:
    """The numbers change at once; findings and flight estimates say that they follow, then do."""
    page.route("**/api/findings?*", lambda route: None)
    enter(page, WIDTH, "100 mm")
    expect(number(page, "mass")).to_have_text("814 g")
    expect(page.locator("#notes-count")).to_have_text("being worked out …")
    expect(page.locator("#numbers tr.group")).to_have_text("flight, estimates: being worked out …")
    page.unroute("**/api/findings?*")
    enter(page, WIDTH, "101 mm")
    expect(page.locator("#notes-count")).to_have_text("1 caution, 1 passes")
    expect(page.locator("#numbers tr.group")).to_have_text("flight, estimates")


def test_a_job_shows_progress_and_can_be_stopped_while_the_page_stays_usable(page: Page, bench: FakeBench) -> None:
    """Templates on A3: the progress line, then stop; a dimension changes meanwhile."""
    page.get_by_role("button", name="Make …").click()
    row = page.locator('#make li[data-what="templates"]')
    row.get_by_label("Paper").select_option("a3")
    row.get_by_role("button", name="Make: Cutting templates").click()
    expect(row).to_contain_text("cutting 3 of 9")
    enter(page, WIDTH, "100 mm")
    expect(number(page, "mass")).to_have_text("814 g")
    row.get_by_role("button", name="Stop: Cutting templates").click()
    expect(row).to_contain_text("stopped")
    start = next(body for path, body in bench.posts if path == "jobs")
    assert start == {"revision": 1, "what": "templates", "options": {"paper": "a3"}}


def test_a_finished_job_links_its_files(page: Page, bench: FakeBench) -> None:
    """Each file is a link of the bench's own, with its size."""
    file = {"name": "teasel-mk2.step", "bytes": 1_234_567, "url": "./api/jobs/0/files/teasel-mk2.step"}
    page.get_by_role("button", name="Make …").click()
    page.get_by_role("button", name="Make: STEP").click()
    expect(page.locator("#make")).to_contain_text("cutting 3 of 9")
    bench.jobs[0].update(state="done", files=[file])
    link = page.get_by_role("link", name="teasel-mk2.step")
    expect(link).to_be_visible()
    assert link.get_attribute("href") == file["url"]
    expect(page.locator('#make li[data-what="step"]')).to_contain_text("1.2 MB")


def test_what_is_drawn_and_the_card_of_a_part(page: Page, bench: FakeBench) -> None:
    """Views, see-through, prototype, cut, apart and groups reach the drawing; a picked part shows its card."""
    page.get_by_role("button", name="Side").click()
    page.get_by_role("button", name="See through").click()
    expect(page.get_by_role("button", name="Side")).to_have_attribute("aria-pressed", "true")
    page.locator("#view").press("4")
    expect(page.get_by_role("button", name="Top")).to_have_attribute("aria-pressed", "true")
    page.locator("#view").press("ArrowLeft")
    expect(page.get_by_role("button", name="Top")).to_have_attribute("aria-pressed", "false")
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


def test_dragging_in_the_drawing_moves_the_item_as_one_stroke(page: Page, bench: FakeBench) -> None:
    """The view's drag becomes changes of one stroke in the drag's unit."""
    page.evaluate("""() => {
      const drag = bench.desk.state.scene.drags[0];
      for (const [at, phase] of [[50, "start"], [55.2, "move"], [60.4, "end"]]) stub.hands.onDrag(drag, at, phase);
    }""")
    expect(page.locator("#undo")).to_have_attribute("title", "Undo battery to 60 mm")
    assert bench.values[STATION] == 60.0
    assert len(bench.done) == 1
