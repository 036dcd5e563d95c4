"""Answers of the bench that come late and in any order: what is typed meanwhile stays."""

from typing import Any

from .test_design import press


class Held:
    """The answers of the bench, held back until they are let go one by one."""

    def __init__(self, page: Any) -> None:
        self.page = page
        self.waiting: list[Any] = []
        page.route("**/design/preview", lambda route: self.waiting.append(route))

    def until(self, count: int) -> None:
        """Wait until this many are asked for and not let go."""
        for _ in range(200):
            if len(self.waiting) >= count:
                return
            self.page.wait_for_timeout(20)
        raise AssertionError(f"{len(self.waiting)} answers were asked for, not {count}")

    def let_go(self, place: int = 0) -> None:
        """Send one of those that wait, and let the page take its answer."""
        with self.page.expect_response("**/design/preview"):
            self.waiting.pop(place).continue_()
        self.page.wait_for_timeout(60)

    def rest(self) -> None:
        """Let everything go that is still asked for."""
        for _ in range(200):
            while self.waiting:
                self.let_go(len(self.waiting) - 1)
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
    """While one's own fire is put in, while two answers cross, under an untouched field, after a button."""
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
    kind(page, THICK, "11")
    held.until(1)
    kind(page, DRAWN, "6,5")
    held.until(2)
    held.let_go(1)
    kind(page, WIDE, "37")
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
    press(page, "Grind")
    held.until(1)
    kind(page, WIDE, "36")
    held.let_go()
    held.rest()
    assert stands(page, WIDE) == "36" and page.locator(".card").count() == 2
    assert page.faults == []
