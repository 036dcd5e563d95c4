"""The description of the interface is true: the service is tried against it."""

from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, settings
from jsonschema_rs import validator_for
from schemathesis.specs.openapi.checks import positive_data_acceptance
from starlette.testclient import TestClient

from web.app import create_app
from web.settings import Settings, default_recipes

app = create_app(Settings(recipes=default_recipes()))
schema = schemathesis.openapi.from_asgi("/openapi.json", app)
refusals = schema.config.checks.negative_data_rejection
refusals.expected_statuses = [*refusals.expected_statuses, "413"]
"""A body over 64 KiB is refused before anybody reads what is wrong in it."""
FEW = settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))


@schema.parametrize()
@FEW
def test_the_service_keeps_its_description(case: schemathesis.Case) -> None:
    """All checks but one: a schema cannot hold what must be true between two keys of a recipe."""
    case.call_and_validate(excluded_checks=[positive_data_acceptance])


def described(client: TestClient) -> dict[str, Any]:
    told: dict[str, Any] = client.get("/openapi.json").json()
    return told


def test_only_the_interface_is_described(client: TestClient) -> None:
    assert set(described(client)["paths"]) == {
        "/api/plan",
        "/api/steels",
        "/api/state",
        "/api/sweep",
        "/api/partners",
        "/api/wish",
    }


@pytest.mark.parametrize("status", ["400", "405", "413", "414", "415", "422", "429", "500", "503"])
def test_refusals_are_described(client: TestClient, status: str) -> None:
    answers = described(client)["paths"]["/api/plan"]["post"]["responses"]
    content = answers[status]["content"]
    assert content["application/problem+json"]["schema"]["$ref"].endswith("/Problem")


def test_the_report_is_described_to_its_last_key(client: TestClient, recipe: dict[str, Any]) -> None:
    """The schema made of the dataclasses holds the report, and refuses one with a key missing."""
    told = described(client)
    whole = {"$ref": "#/components/schemas/Report", "components": told["components"]}
    report = client.post("/api/plan", json=recipe).json()
    check = validator_for(whole)
    check.validate(report)
    assert not check.is_valid({key: value for key, value in report.items() if key != "blade"})
    del report["schedule"][0]["yield"]
    assert not check.is_valid(report)


def test_the_example_of_the_description_can_be_planned(client: TestClient) -> None:
    body = described(client)["paths"]["/api/plan"]["post"]["requestBody"]["content"]["application/json"]
    assert client.post("/api/plan", json=body["example"]).status_code == 200


def test_the_recipe_of_the_description_is_the_one_of_the_library(
    client: TestClient, recipe: dict[str, Any]
) -> None:
    told = described(client)
    whole = {"$ref": "#/components/schemas/Recipe", "components": told["components"]}
    check = validator_for(whole)
    check.validate(recipe)
    assert not check.is_valid({**recipe, "flavour": "sweet"})
