"""Answers of the bench that come late and in any order: what is typed meanwhile stays."""

from typing import Any

from .test_design import press, settled


class Held:
    """The answers of the bench, held back until they are let go; those the page gave up are gone."""

    def __init__(self, page: Any) -> None:
        self.page = page
        self.asked = 0
        self.waiting: list[Any] = []
        self.over: list[Any] = []
        page.route("**/design/preview", self._hold)
        page.on("requestfailed", self._given_up)
        page.on("requestfinished", self._came)

    def _hold(self, route: Any) -> None:
        self.asked += 1
        self.waiting.append(route)

    def _given_up(self, request: Any) -> None:
        self.waiting = [route for route in self.waiting if route.request != request]
        self.over.append(request)

    def _came(self, request: Any) -> None:
        self.over.append(request)

    def until(self, asked: int) -> None:
        """Wait until so many are asked for in all."""
        for _ in range(1500):
            if self.asked >= asked:
                return
            self.page.wait_for_timeout(20)
        raise AssertionError(f"{self.asked} answers were asked for, not {asked}")

    def let_go(self) -> None:
        """Send the one that waits, and let the page take its answer, unless it gives it up meanwhile."""
        sent = self.waiting.pop()
        sent.continue_()
        for _ in range(1500):
            if sent.request in self.over:
                self.page.wait_for_timeout(60)
                return
            self.page.wait_for_timeout(20)
        raise AssertionError("no answer came")

    def rest(self) -> None:
        """Let everything go that is still asked for."""
        for _ in range(1500):
            if self.waiting:
                self.let_go()
            if not self.page.locator("#bench.waiting").count():
                return
            self.page.wait_for_timeout(20)
        raise AssertionError("the page still waits for an answer")


def stands(page: Any, name: str) -> str:
    return str(page.input_value(f'[name="{name}"]'))


def kind(page: Any, name: str, text: str) -> None:
    """Typed key by key, as a hand does it."""
    field = page.locator(f'[name="{name}"]')
    field.select_text()
    field.press_sequentially(text)


THICK, WIDE, DRAWN = "stack.plates[0].thickness_mm", "stack.width_mm", "steps[0].height_mm"


def test_what_is_typed_outlives_every_answer(page: Any) -> None:
    """While one's own fire is put in, another answer is due, under an untouched field, after a button."""
    page.goto("/glossary")
    page.evaluate("localStorage.setItem('billet.shop', JSON.stringify({'mine.fire': 'kiln_ordinary'}))")
    held = Held(page)
    page.goto("/design?start=one")
    held.until(1)
    kind(page, THICK, "9")
    kind(page, WIDE, "38")
    held.let_go()
    assert (stands(page, THICK), stands(page, WIDE)) == ("9", "38")
    held.rest()
    assert stands(page, "mine.fire") == "kiln_ordinary"
    asked = held.asked
    kind(page, THICK, "11")
    held.until(asked + 1)
    kind(page, DRAWN, "6,5")
    held.until(asked + 2)
    kind(page, WIDE, "37")
    held.let_go()
    held.rest()
    assert [stands(page, name) for name in (THICK, DRAWN, WIDE)] == ["11", "6.5", "37"]
    page.locator("#step-1-more > summary").click()
    before = stands(page, "steps[0].minutes")
    kind(page, THICK, "30")
    page.locator('[name="steps[0].minutes"]').focus()
    held.rest()
    assert float(stands(page, "steps[0].minutes")) > float(before)
    assert "proposed" in page.locator('.field:has([name="steps[0].minutes"])').inner_text()
    page.locator("#gap-1 > summary").click()
    asked = held.asked
    press(page, "Grind")
    held.until(asked + 1)
    dimension = page.locator('[id="at-steps[0].height_mm"]')
    dimension.fill("7")
    held.let_go()
    held.rest()
    assert stands(page, DRAWN) == "7" and page.locator(".card").count() == 2
    assert page.faults == []


def test_undo_takes_a_button_back_whose_answer_has_not_come_and_redo_waits_for_it(page: Any) -> None:
    page.goto("/design?start=one")
    held = Held(page)
    first = stands(page, THICK)
    kind(page, THICK, "9")
    held.rest()
    page.locator("#gap-1 > summary").click()
    asked = held.asked
    press(page, "Grind")
    held.until(asked + 1)
    page.keyboard.press("Control+z")
    held.until(asked + 2)
    held.rest()
    assert page.locator(".card").count() == 1 and stands(page, THICK) == "9"
    page.keyboard.press("Control+z")
    held.rest()
    assert stands(page, THICK) == first
    asked = held.asked
    press(page, "Grind")
    held.until(asked + 1)
    page.keyboard.press("Control+y")
    page.locator("[data-do=redo]").first.click()
    held.rest()
    assert page.locator(".card").count() == 2 and stands(page, THICK) == first
    kind(page, THICK, "8")
    held.rest()
    page.locator("#step-2-more > summary").click()
    page.locator("#step-2 button", has_text="Take out").click()
    held.rest()
    assert page.locator(".card").count() == 1
    asked = held.asked
    page.keyboard.press("Control+z")
    held.until(asked + 1)
    held.waiting.pop().abort()
    page.wait_for_selector("#wrong >> text=press again")
    page.keyboard.press("Control+z")
    held.rest()
    assert page.locator(".card").count() == 2 and stands(page, THICK) == "8", "one change is undone, not two"
    assert page.faults == ["Failed to load resource: net::ERR_FAILED"], (
        "the answer that did not come, no more"
    )


OPEN = "[...document.querySelectorAll('#bench details[open]')].map(part => part.id)"
PLACE = """() => { const field = document.activeElement; window.before ??= field;
    return [field === window.before, field.value, field.selectionStart,
            document.getElementById('answer').scrollTop, Math.round(field.getBoundingClientRect().top)]; }"""


def test_an_answer_leaves_the_hand_where_it_is(page: Any) -> None:
    """The field itself, its caret and where it is seen, what is open, how far the answer is scrolled."""
    page.goto("/design?start=several")
    page.locator("#bar-2 > summary").click()
    page.locator("#part-blade > summary").click()
    opened = page.evaluate(OPEN)
    assert "part-blade" in opened and ("bar-2" in opened) != ("bar-1" in opened)
    page.locator(f'[name="{WIDE}"]').click()
    page.evaluate("document.getElementById('answer').scrollTop = 120")
    for key in ("Home", "ArrowRight", "5"):
        page.keyboard.press(key)
    place = page.evaluate(PLACE)
    assert place[:4] == [True, "450", 2, 120]
    before = page.url
    settled(page)
    assert page.url != before, "the answer came"
    assert page.evaluate(PLACE) == place and page.evaluate(OPEN) == opened
    page.locator("#step-1-more > summary").click()
    press(page, "Add a steel")
    page.wait_for_selector("#bench:not(.waiting)")
    assert {*opened, "step-1-more"} <= set(page.evaluate(OPEN)) and page.faults == []
