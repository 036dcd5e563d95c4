"""Every kind of page in a real browser: faults, policy, other hosts, phone width, targets, rules of WCAG."""

from pathlib import Path
from typing import Any

import pytest

from .conftest import PHONE, WIDE, page_kinds

AXE = (Path(__file__).parent / "axe" / "axe.min.js").read_text(encoding="utf-8")
# every rule in light colours; the dark scheme alters nothing but colours
RULES = {
    "light": {"type": "tag", "values": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]},
    "dark": {"type": "rule", "values": ["color-contrast", "link-in-text-block"]},
}
RUN_AXE = """async only => (await axe.run({runOnly: only})).violations.map(
    v => v.id + ': ' + v.nodes.slice(0, 3).map(n => n.target.join(' ')).join(' | '))"""
SMALL_TARGETS = """() => [...document.querySelectorAll('a, button, input, select, summary')].filter(e => {
    const box = e.getBoundingClientRect(), style = getComputedStyle(e);
    const label = e.closest('label');
    const inline = style.display === 'inline' && e.tagName === 'A';
    const seen = box.width > 0 && style.visibility !== 'hidden' && e.tabIndex >= 0;
    return seen && !inline && !label && Math.min(box.width, box.height) < 24;
}).map(e => e.outerHTML.slice(0, 90))"""
KINDS = list(page_kinds(""))


@pytest.fixture(scope="module")
def addresses(kept: dict[str, str]) -> dict[str, str]:
    return page_kinds(kept["reed_bed_kitchen"])


@pytest.mark.parametrize("kind", KINDS)
def test_no_fault_no_other_host_and_no_sideways_scrolling_on_a_phone(
    kind: str, page: Any, addresses: dict[str, str], address: str
) -> None:
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(addresses[kind])
    page.wait_for_load_state("networkidle", timeout=60_000)  # pictures are drawn when first asked for
    expected = ["404"] if kind == "refusal" else []
    assert [f for f in page.faults if not any(e in f for e in expected)] == []
    assert [url for url in asked if not url.startswith((address, "data:"))] == []
    page.set_viewport_size(PHONE)
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    assert page.evaluate(SMALL_TARGETS) == []


@pytest.fixture(scope="module")
def bypassing(browser: Any, address: str) -> Any:
    """A page without the policy, so that axe may be put in; the policy itself is tried above."""
    made = {
        scheme: browser.new_context(base_url=address, color_scheme=scheme, bypass_csp=True)
        for scheme in ("light", "dark")
    }
    yield {scheme: context.new_page() for scheme, context in made.items()}
    for context in made.values():
        context.close()


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("kind", KINDS)
def test_no_rule_of_accessibility_is_broken(
    kind: str, scheme: str, bypassing: Any, addresses: dict[str, str]
) -> None:
    opened = bypassing[scheme]
    opened.set_viewport_size(WIDE)
    opened.goto(addresses[kind])
    opened.add_script_tag(content=AXE)
    broken = {"wide": opened.evaluate(RUN_AXE, RULES[scheme])}
    opened.set_viewport_size(PHONE)
    if kind == "empty design":
        opened.locator("#step-1-more > summary").click()
    broken["phone"] = opened.evaluate(RUN_AXE, RULES[scheme])
    assert broken == {"wide": [], "phone": []}
