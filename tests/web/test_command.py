"""The command `billet-web`: where it listens, what it refuses, and that it starts."""

import importlib
import re
import shlex
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from pathlib import Path

import pytest

from web.__main__ import read_arguments

ROOT = Path(__file__).resolve().parent.parent.parent


def test_it_listens_on_this_machine_alone_unless_told() -> None:
    settings, listening = read_arguments([])
    assert (listening.host, listening.port) == ("127.0.0.1", 8000)
    assert settings.public_url is None
    assert settings.recipes.name == "recipes"


def test_it_takes_what_it_is_told(tmp_path: Path) -> None:
    settings, listening = read_arguments(
        [
            "--host",
            "0.0.0.0",
            "--port",
            "9000",
            "--public-url",
            "https://forge.example",
            "--recipes",
            str(tmp_path),
        ]
    )
    assert (listening.host, listening.port, settings.public_url, settings.recipes) == (
        "0.0.0.0",
        9000,
        "https://forge.example",
        tmp_path,
    )


@pytest.mark.parametrize(
    "arguments",
    [
        ["--port", "99999"],
        ["--port", "x"],
        ["--public-url", "forge.example"],
        ["--public-url", "ftp://x"],
        ["--public-url", "https://x?y=1"],
        ["--recipes", "no-such-folder"],
        ["--colour", "red"],
        ["--workers", "-1"],
        ["--workers", "65"],
        ["--prefix", "billet"],
        ["--prefix", "/billet/"],
    ],
)
def test_it_refuses_with_one_sentence(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as refused:
        read_arguments(arguments)
    assert refused.value.code == 2
    assert "error:" in capsys.readouterr().err


def test_it_starts_and_holds_its_limits_over_a_real_connection() -> None:
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    running = subprocess.Popen(
        [sys.executable, "-m", "web", "--port", str(port)],
        cwd=ROOT,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    try:
        base = f"http://127.0.0.1:{port}"
        assert _status(base + "/api/steels?q=1084", patience_s=60) == 200
        assert _status(base + "/plan?r=" + "a" * 5000) == 414
        assert _status(base + "/api/plan", body=b"x" * 3_000_000) == 413
        assert _status(base + "/api/plan", body=b"[" * 20_000, patience_s=60) == 400
    finally:
        running.terminate()
        running.wait(30)


def _status(address: str, body: bytes | None = None, patience_s: float = 0.0) -> int:
    request = urllib.request.Request(address, data=body, headers={"content-type": "application/json"})
    until = time.monotonic() + patience_s
    while True:
        try:
            with urllib.request.urlopen(request, timeout=15) as answer:
                return int(answer.status)
        except urllib.error.HTTPError as refused:
            with refused:
                if refused.code != 503 or time.monotonic() > until:
                    return int(refused.code)
        except urllib.error.URLError:
            if time.monotonic() > until:
                raise
            time.sleep(0.2)


def test_the_service_file_and_the_factory_of_the_guide_are_taken(tmp_path: Path) -> None:
    guide = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    [line] = [line for line in guide.splitlines() if line.startswith("ExecStart=")]
    program, *told = shlex.split(line.removeprefix("ExecStart="))
    assert program.endswith("/billet-web")
    told[told.index("--recipes") + 1] = str(tmp_path)
    settings, listening = read_arguments(told)
    assert (listening.proxy, listening.prefix, settings.workers) == ("127.0.0.1", "/billet", 2)
    assert listening.warning == ""
    [factory] = re.findall(r"--factory (\S+) --http (\S+)", guide)
    for place in factory:
        module, _, name = place.partition(":")
        assert callable(getattr(importlib.import_module(module), name))


@pytest.mark.parametrize(
    ("told", "warned"),
    [
        ([], False),
        (["--host", "localhost"], False),
        (["--host", "::1"], False),
        (["--host", "127.0.0.5"], False),
        (["--host", "0.0.0.0"], True),
        (["--host", "::"], True),
        (["--host", "forge.example"], True),
        (["--host", "0.0.0.0", "--proxy", "192.0.2.1"], False),
    ],
)
def test_it_warns_where_others_can_reach_it_without_a_proxy(told: list[str], warned: bool) -> None:
    warning = read_arguments(told)[1].warning
    assert bool(warning) is warned
    assert ("--proxy" in warning) is warned
