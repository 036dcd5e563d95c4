"""What forging tells the smith beside the numbers."""

from typing import Any

import pytest
from recipe_samples import changed, good, with_steps

from billet.contract.report import Notice
from billet.forging.forge import forge
from billet.forging.stack import build_stack
from billet.parse import parse_recipe
from billet.report.words import noticed

WELD: dict[str, Any] = {"do": "weld", "temperature_c": 1100, "minutes": 8, "height_mm": 28}
GRIND: dict[str, Any] = {"do": "grind", "per_face_mm": 4}


def told(mapping: dict[str, Any]) -> dict[str, Notice]:
    recipe = parse_recipe(mapping)
    return {finding.reason.code: noticed(finding) for finding in forge(recipe, build_stack(recipe)).findings}


@pytest.mark.parametrize(
    ("code", "mapping", "where", "words"),
    [
        ("weld-not-pressed", with_steps({**WELD, "height_mm": 33}), "steps[0]", "pressed by 4.3"),
        (
            "weld-not-pressed",
            with_steps({k: v for k, v in WELD.items() if k != "height_mm"}),
            "steps[0]",
            "not",
        ),
        (
            "nothing-to-weld",
            with_steps(WELD, {**WELD, "height_mm": 26}),
            "steps[1]",
            "one more welding heat",
        ),
        ("outer-layer-gone", good(), "steps[5]", "takes the outermost layer at the bottom (dark)"),
        (
            "outer-layer-gone",
            with_steps(WELD, GRIND),
            "steps[1]",
            "grinding takes the 2 outermost",
        ),
        (
            "pattern-disturbed",
            with_steps(WELD, {"do": "other", "what": "a twist", "temperature_c": 1050, "minutes": 3}),
            "steps[1]",
            "Step 2 (other): after a twist",
        ),
        ("on-edge", with_steps(WELD, {"do": "turn"}), "steps[1]", "stand on edge"),
        ("long-bar", changed("steps.5.height_mm", 4), "steps[5]", "the bar grows to"),
        ("tall-pile", changed("stack.width_mm", 12), "steps[3]", "may lean or buckle"),
        (
            "steel-not-laid",
            changed("steels.spare", "1095"),
            "steels.spare",
            "spare is named but never laid",
        ),
        ("measured", changed("steps.1.measured", {"height_mm": 12.2}), "steps[1]", "goes on from what was"),
        ("scale-from-memory", good(), "forge.scale_factor", "remembered constants"),
        (
            "outside-fit",
            changed("steps.1.temperature_c", 1180),
            "steps[1].temperature_c",
            "Step 2: the time of",
        ),
    ],
)
def test_tells(code: str, mapping: dict[str, Any], where: str, words: str) -> None:
    recipe = parse_recipe(mapping)
    findings = forge(recipe, build_stack(recipe)).findings
    notices = [noticed(f) for f in findings if f.reason.code == code]
    assert [n for n in notices if n.where == where and words in n.text], notices


def test_a_steel_that_scale_takes_whole_is_told() -> None:
    plates = [{"steel": "bright", "thickness_mm": 0.05}, {"steel": "dark", "thickness_mm": 20.0}]
    mapping = with_steps({**WELD, "height_mm": 17})
    mapping["stack"] = {"width_mm": 40, "length_mm": 150, "plates": plates}
    notice = told(mapping)["steel-gone"]
    assert (notice.where, notice.level) == ("steels.bright", "caution")


def test_a_plain_good_weld_says_nothing_of_itself() -> None:
    codes = set(told(with_steps(WELD)))
    assert codes == {"scale-from-memory"}


def test_nothing_is_said_of_scale_where_nothing_scales() -> None:
    assert not told(with_steps({**WELD, "atmosphere": "sealed"}))
    assert not told({**with_steps(WELD), "forge": {"scale_factor": 0}})
