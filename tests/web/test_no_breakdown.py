"""Whatever is sent, the service answers in its own words: never with a breakdown."""

import json
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from starlette.testclient import TestClient
from test_forms import drafts

from web.form.actions import ACTIONS
from web.http.address import TooLong, encode
from web.http.links import SHEET_KINDS

SOME = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
TEXT = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
NAMES = (
    st.sampled_from(
        [
            "title",
            "units",
            "action",
            "steels[0].key",
            "steels[0].as",
            "steels[0].was",
            "steels[0].wt.C",
            "steels[1].harden_c[0]",
            "stack.layout",
            "stack.width_mm",
            "stack.pattern[0]",
            "stack.pattern[7]",
            "stack.plates[0].steel",
            "stack.thickness_mm[0]",
            "stack.thickness_mm[9]",
            "steps[0].do",
            "steps[0].lay[0].what",
            "steps[0].arrange",
            "steps[0].trim_mm[0]",
            "steps[2].measured.height_mm",
            "blade.made",
            "control.method",
            "sheet.share_recipe",
            "forge.scale_factor",
            "stack",
            "steps",
            "steels",
            "steps[0]",
        ]
    )
    | TEXT
)
WORDS = TEXT | st.sampled_from(
    [
        "1",
        "-1",
        "0",
        "1e9",
        "nan",
        "1/8",
        "1/0",
        "like",
        "own",
        "library",
        "plates",
        "lay",
        "weld",
        "restack",
        "plate",
        "on",
        "inch",
        "9" * 25,
        "9" * 3000,
    ]
)
ACTION = st.sampled_from(sorted(ACTIONS)).flatmap(
    lambda name: st.sampled_from([name, f"{name}:0", f"{name}:1.0", f"{name}:weld"])
)


@given(
    st.lists(st.tuples(NAMES, WORDS), max_size=12),
    ACTION,
    st.sampled_from(["/design", "/design/preview"]),
)
@SOME
def test_any_form_is_answered(
    client: TestClient, pairs: list[tuple[str, str]], action: str, path: str
) -> None:
    answer = client.post(path, data={**dict(pairs), "action": action})
    assert answer.status_code in (200, 303, 400)
    if answer.status_code == 303:
        assert client.get(answer.headers["location"]).status_code == 200


VALUES = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | TEXT,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(TEXT, inner, max_size=3),
    max_leaves=5,
)


@st.composite
def spoilt(draw: st.DrawFn) -> dict[str, Any]:
    """A recipe in the right shape with one thing in it replaced by anything."""
    recipe: Any = json.loads(json.dumps(draw(drafts())))
    at: Any = recipe
    while True:
        keys = list(at) if isinstance(at, dict) else list(range(len(at)))
        if not keys:
            return dict(recipe)
        key = draw(st.sampled_from(keys))
        if not isinstance(at[key], dict | list) or draw(st.booleans()):
            at[key] = draw(VALUES)
            return dict(recipe)
        at = at[key]


PATHS = ["/plan", "/plan.json", "/design", "/recipe.toml", *(f"/sheet/{kind}" for kind in SHEET_KINDS)]


@given(spoilt(), st.sampled_from(PATHS), st.sampled_from(["mm", "inch"]))
@SOME
def test_any_address_is_answered(client: TestClient, recipe: dict[str, Any], path: str, units: str) -> None:
    try:
        address = encode(recipe)
    except TooLong:
        return
    answer = client.get(path, params={"r": address, "units": units})
    assert answer.status_code in (200, 400, 422)


@given(
    st.binary(max_size=200),
    st.sampled_from(
        [
            "application/json",
            "text/plain",
            "multipart/form-data; boundary=x",
            "application/x-www-form-urlencoded",
            "",
        ]
    ),
    st.sampled_from(["/api/plan", "/design", "/upload", "/recipe.toml", "/sheet/forge", "/plan"]),
)
@SOME
def test_any_body_is_answered(client: TestClient, content: bytes, kind: str, path: str) -> None:
    answer = client.post(path, content=content, headers={"content-type": kind} if kind else {})
    assert answer.status_code < 500


@pytest.mark.parametrize("path", ["/state", "/api/state", "/pyrometer", "/steels", "/api/steels"])
@given(
    st.dictionaries(
        st.sampled_from(
            [
                "steel",
                "temperature",
                "temperature_c",
                "C",
                "Cr",
                "start",
                "q",
                "reading",
                "set",
                "true",
                "band",
                "walls",
                "units",
            ]
        ),
        WORDS,
        max_size=6,
    )
)
@SOME
def test_any_question_is_answered(client: TestClient, path: str, asked: dict[str, str]) -> None:
    assert client.get(path, params=asked).status_code in (200, 400, 414, 422)
