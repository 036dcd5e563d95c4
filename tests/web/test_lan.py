"""`billet-web --lan`: where it listens, what it warns of, the code in the terminal."""

import io

import pytest

from web import __main__ as command
from web.lan import ANY_HOST, announce, local_address


def test_lan_listens_everywhere_and_tells_where(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(command, "local_address", lambda: "192.0.2.7")
    settings, listening = command.read_arguments(["--lan", "--port", "8123"])
    assert settings.lan_url == "http://192.0.2.7:8123"
    assert listening.host == ANY_HOST and listening.warning == ""


def test_without_it_this_machine_alone_is_answered() -> None:
    settings, listening = command.read_arguments([])
    assert settings.lan_url is None and listening.host == "127.0.0.1"


@pytest.mark.parametrize("more", [["--host", "127.0.0.1"], ["--proxy", "127.0.0.1"]])
def test_lan_takes_no_other_address(
    more: list[str], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(command, "local_address", lambda: "192.0.2.7")
    with pytest.raises(SystemExit) as left:
        command.read_arguments(["--lan", *more])
    assert left.value.code == 2 and "--lan" in capsys.readouterr().err


def test_on_no_network_it_says_so(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(command, "local_address", lambda: None)
    with pytest.raises(SystemExit) as left:
        command.read_arguments(["--lan"])
    assert left.value.code == 2 and "no network" in capsys.readouterr().err


def test_the_terminal_shows_who_can_reach_it_and_a_code() -> None:
    out = io.StringIO()
    announce("http://192.0.2.7:8000", out)
    told = out.getvalue()
    assert "everyone on this network" in told and "no password" in told
    assert told.rstrip().endswith("http://192.0.2.7:8000")
    assert "\u2588" in told


def test_a_terminal_without_the_letters_gets_the_address() -> None:
    out = io.TextIOWrapper(io.BytesIO(), encoding="ascii")
    announce("http://192.0.2.7:8000", out)
    out.seek(0)
    assert "type the address" in out.read()


def test_the_address_of_this_machine_is_one_that_others_can_reach() -> None:
    address = local_address()
    assert address is None or not address.startswith("127.")
