"""A value that mends a finding: chosen, looked for, put on the bench in one press, taken back."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import Locator, Page, expect

from tests.viewers.bench.page.fake import FakeBench
from tests.viewers.bench.page.hand import TRACK, changes, enter, settled, tab

NOW = {
    "value": 0.16,
    "message": None,
    "conditions": [{"condition": "ground.overturn passes", "value": 65.4, "unit": "deg"}],
}
ANSWER = {
    "setting": 'gear.track="246 mm"',
    "is_round": True,
    "conditions": [{"condition": "ground.overturn passes", "value": 54.8, "unit": "deg"}],
}
FOUND: dict[str, Any] = {
    "key": TRACK,
    "unit": "m",
    "now": NOW,
    "holds_now": False,
    "answer": ANSWER,
    "nearest": None,
    "cannot_be_built": [],
    "at_the_cost_of": [
        {"code": "wire.length", "verdict": "caution", "message": "the wire is longer than a length of stock"}
    ],
}
REDESIGN = "teasel-mk2-found.toml"


def asked(page: Page) -> Locator:
    """The row of the sheet, open, with a track that tips over on the bench and its remedies tried."""
    tab(page, "Legs")
    enter(page, TRACK, "160 mm")
    expect(page.locator("#notes")).to_have_attribute("data-tried", "true")
    page.get_by_role("button", name="Make …").click()
    return page.locator('#make li[data-what="solve"]')


def sought(row: Locator) -> None:
    """Begin to look for it."""
    row.get_by_role("button", name="Find: Find the value").click()
    expect(row.get_by_role("button", name="Stop: Find the value")).to_be_visible()


def done(bench: FakeBench, **found: Any) -> None:
    """Let the job end with an answer."""
    answer = {**FOUND, **found}
    names = ["teasel-mk2-answer.json", *([REDESIGN] if answer["answer"] else [])]
    bench.written["teasel-mk2-answer.json"] = answer
    address = "./api/jobs/0/files/"
    bench.jobs[0].update(state="done", files=[{"name": n, "bytes": 300, "url": address + n} for n in names])


def test_the_failing_finding_and_what_its_remedy_sets_are_offered_first(page: Page, bench: FakeBench) -> None:
    """What is asked for is the worst finding and the key of its remedy, between the ends of its ruler."""
    row = asked(page)
    expect(row.get_by_label("Finding that it is to mend")).to_have_value("ground.overturn")
    expect(row.get_by_label("Dimension to look for")).to_have_value(TRACK)
    row.get_by_label("From").fill("150")
    row.get_by_role("button", name="Find: Find the value").click()
    expect(row.get_by_role("button", name="Stop: Find the value")).to_be_focused()
    start = next(body for path, body in bench.posts if path == "jobs")
    options = {"key": TRACK, "code": "ground.overturn", "between": ["150 mm", "500 mm"]}
    assert start == {"revision": 2, "what": "solve", "options": options}
    bench.jobs[0].update(line='variant 12: gear.track="246 mm"')
    expect(row).to_contain_text("12 values tried")
    row.get_by_role("button", name="Stop: Find the value").click()
    expect(row).to_contain_text("stopped")


def test_the_answer_goes_on_the_bench_in_one_press(page: Page, bench: FakeBench) -> None:
    """It is told with its cost and its redesign; a press sets it, undo takes it back and offers it again."""
    row = asked(page)
    sought(row)
    done(bench)
    told = row.locator(".answer")
    expect(told).to_contain_text("To be mended: the overturn angle is 65.4 deg; 55.0 deg is allowed")
    expect(told).to_contain_text("Track 246 mm mends it: 54.8 deg instead of 65.4 deg.")
    expect(told).not_to_contain_text("changed while")
    expect(told).to_contain_text("At the cost of:caution: The wire is longer")
    expect(row.get_by_role("link")).to_have_text(REDESIGN)
    put = told.get_by_role("button")
    expect(put).to_have_text("Put track 246 mm on the bench")
    put.click()
    expect(put).to_have_text("Track 246 mm is on the bench")
    expect(put).to_be_disabled()
    expect(told).to_be_focused()
    assert changes(page, bench)[-1]["settings"] == [ANSWER["setting"]]
    assert bench.values[TRACK] == 246.0
    page.keyboard.press("Control+z")
    expect(put).to_be_enabled()
    settled(page)
    assert bench.values[TRACK] == 160.0


def test_an_answer_to_what_was_on_the_bench_before_says_so(page: Page, bench: FakeBench) -> None:
    """Where the design was changed while the value was looked for, that is told with it."""
    row = asked(page)
    sought(row)
    enter(page, TRACK, "150 mm")
    done(bench)
    expect(row.locator(".answer")).to_contain_text("The design was changed while this was looked for")
    expect(row.locator(".answer").get_by_role("button")).to_be_enabled()


def test_where_there_is_no_answer_the_nearest_is_told(page: Page, bench: FakeBench) -> None:
    """Words instead of a button: how near it comes, what cannot be built, and what to do next."""
    row = asked(page)
    nearest = {**ANSWER, "setting": 'gear.track="199.123456789 mm"', "value": 0.199123456789}
    unbuilt = [{"from": 0.1, "to": 0.12, "message": "gear: bend_radius must not exceed track"}]
    sought(row)
    done(bench, answer=None, nearest=nearest, cannot_be_built=unbuilt)
    told = row.locator(".answer")
    expect(told).to_contain_text("No value between these ends mends it. It comes nearest with track 199.1 mm.")
    expect(told).to_contain_text("gear: bend radius must not exceed track")
    expect(told.get_by_role("button")).to_have_count(0)
    expect(row.get_by_role("link")).to_have_count(0)


def test_a_finding_that_no_press_mends_leads_to_it(page: Page, bench: FakeBench) -> None:
    """The button under it opens the sheet with that finding chosen and the dimension next to hand."""
    page.get_by_role("button", name="Find a value that mends it").click()
    row = page.locator('#make li[data-what="solve"]')
    expect(row.get_by_label("Finding that it is to mend")).to_have_value("ground.full-throttle")
    expect(row.get_by_label("Dimension to look for")).to_be_focused()
    row.get_by_label("To", exact=True).fill("")
    row.get_by_role("button", name="Find: Find the value").click()
    expect(row).to_contain_text("Say between which two values")
    assert [path for path, _ in bench.posts if path == "jobs"] == []


def test_what_was_refused_for_want_of_room_is_forgiven(page: Page, bench: FakeBench) -> None:
    """A job that had to wait says so until another has ended."""
    page.get_by_role("button", name="Make …").click()
    page.get_by_role("button", name="Make: STEP").click()
    expect(page.get_by_role("button", name="Stop: STEP")).to_be_visible()
    busy = {"status": 409, "json": {"error": "2 things are being made already", "kind": "busy"}}
    page.route(
        "**/api/jobs", lambda route: route.fulfill(**busy) if route.request.method == "POST" else route.continue_()
    )
    row = page.locator('#make li[data-what="weigh"]')
    row.get_by_role("button", name="Make").click()
    expect(row).to_contain_text("2 things are being made already")
    bench.jobs[0].update(state="done")
    expect(row).not_to_contain_text("2 things are being made already")


def test_a_refusal_calls_the_dimension_as_the_page_does(page: Page, bench: FakeBench) -> None:
    """What the command says of a key is told of its label, line by line."""
    page.get_by_role("button", name="Make …").click()
    page.get_by_role("button", name="Make: STEP").click()
    expect(page.get_by_role("button", name="Stop: STEP")).to_be_visible()
    bench.jobs[0].update(state="failed", error="2 problems\n  gear.track abc: is not a length\n  gear.tracks: unknown")
    expect(page.locator('#make li[data-what="step"] .job-line')).to_have_text(
        "2 problems track abc: is not a length gear.tracks: unknown"
    )
