"""One real service and one chromium for all browser tests; skipped in one line where there is no browser."""

import socket
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

CHROMIUM = Path("/usr/bin/chromium")
ARGUMENTS = [
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
]  # fmt: skip
RECIPES = Path(__file__).resolve().parents[2] / "recipes"
PATIENT = {"answer_s": 60.0, "wait_for_a_place_s": 60.0}  # a busy machine fails nothing
WIDE, PHONE = {"width": 1280, "height": 900}, {"width": 360, "height": 740}


@contextmanager
def served(**settings: Any) -> Iterator[str]:
    """A service with these settings that listens on a free port of this machine: its address."""
    import uvicorn

    from web.app import create_app
    from web.settings import Settings

    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    app = create_app(Settings(**{"recipes": RECIPES, **PATIENT, **settings}))
    server = uvicorn.Server(uvicorn.Config(app, host="127.0.0.1", port=port, log_level="error"))
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    deadline = time.monotonic() + 20.0
    while not server.started and time.monotonic() < deadline:
        time.sleep(0.05)
    assert server.started
    yield f"http://127.0.0.1:{port}"
    server.should_exit = True
    thread.join(10.0)


@pytest.fixture(scope="package")
def address() -> Iterator[str]:
    """Where the service listens."""
    with served() as where:
        yield where


@pytest.fixture(scope="package")
def browser() -> Iterator[Any]:
    """Debian's chromium; closed before other tests, which run event loops of their own."""
    if not CHROMIUM.exists():
        pytest.skip(f"the browser tests need {CHROMIUM} (Debian: apt install chromium)")
    playwright = pytest.importorskip("playwright.sync_api", reason="the browser tests need playwright")
    with playwright.sync_playwright() as started:
        launched = started.chromium.launch(executable_path=str(CHROMIUM), args=ARGUMENTS)
        yield launched
        launched.close()


@pytest.fixture(scope="package")
def context(browser: Any, address: str) -> Iterator[Any]:
    """A normal context that all pages share in turn: to open one takes seconds of processor."""
    opened = browser.new_context(viewport=WIDE, base_url=address)
    opened.set_default_timeout(30_000)
    yield opened
    opened.close()


@pytest.fixture
def page(context: Any, address: str) -> Iterator[Any]:
    """A page that keeps nothing of those before it; every fault of the console or the policy is recorded."""
    opened = context.new_page()
    told = context.new_cdp_session(opened)
    told.send("Storage.clearDataForOrigin", {"origin": address, "storageTypes": "all"})
    told.detach()
    opened.faults = []
    opened.on("console", lambda m: opened.faults.append(m.text) if m.type in {"error", "warning"} else None)
    opened.on("pageerror", lambda error: opened.faults.append(str(error)))
    yield opened
    opened.close()


@pytest.fixture(scope="package")
def kept(browser: Any, address: str) -> dict[str, str]:
    """The coded recipe of every example, by the name of its file."""
    context = browser.new_context(base_url=address)
    found = {}
    for path in sorted(RECIPES.glob("*.toml")):
        answer = context.request.get(f"/recipes/{path.stem}", max_redirects=0)
        found[path.stem] = answer.headers["location"].split("r=", 1)[1].split("&")[0]
    context.close()
    return found


def page_kinds(coded: str) -> dict[str, str]:
    """One address of every kind of page."""
    return {
        "home": "/", "design": f"/design?r={coded}", "empty design": "/design", "plan": f"/plan?r={coded}",
        "study": f"/study?r={coded}", "uncertainty": f"/uncertainty?r={coded}", "steels": "/steels",
        "steel": "/steels/1095", "scrap": "/scrap", "state": "/state?steel=52100&temperature=845",
        "methods": "/methods",
        "glossary": "/glossary", "pyrometer": "/pyrometer", "forge sheet": f"/sheet/forge?r={coded}",
        "hardening sheet": f"/sheet/harden?r={coded}", "buyer sheet": f"/sheet/buyer?r={coded}",
        "label": f"/sheet/label?r={coded}", "anvil": f"/anvil?r={coded}", "lan": "/lan",
        "refusal": "/nowhere", "wish": "/wish", "partners": "/partners?steel=1084",
        "sweep": f"/sweep?r={coded}&place=steps%5B0%5D.minutes&low=6&high=18&step=6",
    }  # fmt: skip


@pytest.fixture(scope="module")
def printing(browser: Any, address: str) -> Any:
    context = browser.new_context(base_url=address)
    yield context.new_page()
    context.close()
