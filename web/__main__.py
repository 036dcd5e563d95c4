"""The command `billet-web`: the service on this machine."""

import argparse
import ipaddress
import sys
import threading
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlsplit

from billet import __version__
from web.lan import ANY_HOST, announce, local_address
from web.settings import Settings, default_recipes, usual_workers

MOST_WORKERS = 64
THIS_MACHINE = "127.0.0.1"
BEYOND = (
    "billet-web: {host} can be reached from other machines, in plain text and with no proxy in front; "
    "see DEVELOPERS.md, or name the proxy with --proxy\n"
)


@dataclass(frozen=True)
class Listening:
    """Where the service listens, and which proxy it believes about who asks."""

    host: str
    port: int
    proxy: str | None
    prefix: str
    lan: bool = False

    @property
    def warning(self) -> str:
        """A sentence where others can reach it and no proxy stands in front; else nothing."""
        beyond = self.proxy is None and not self.lan and not _of_this_machine(self.host)
        return BEYOND.format(host=self.host or "every address") if beyond else ""


def main(arguments: list[str] | None = None) -> int:
    """Start the service and stay until it is stopped."""
    settings, listening = read_arguments(arguments)
    import uvicorn

    from web.app import create_app
    from web.http.access_log import keep_recipes_out_of_the_log
    from web.http.connections import BACKLOG, Connection
    from web.routes.home import warm

    sys.stderr.write(listening.warning)
    if settings.lan_url is not None:
        announce(settings.lan_url)
    app = create_app(settings)
    threading.Thread(target=warm, args=(app.state.service,), daemon=True).start()
    config = uvicorn.Config(
        app,
        host=listening.host,
        port=listening.port,
        root_path=listening.prefix,
        forwarded_allow_ips=listening.proxy or "127.0.0.1",
        http=Connection,
        ws="none",
        backlog=BACKLOG,
        server_header=False,
        timeout_graceful_shutdown=int(settings.answer_s),
    )
    keep_recipes_out_of_the_log()
    uvicorn.Server(config).run()
    return 0


def read_arguments(arguments: list[str] | None) -> tuple[Settings, Listening]:
    """Settings, and where to listen. Exits with 2 and one sentence where they make no sense."""
    parser = _parser()
    asked = parser.parse_args(arguments)
    if not 0 <= asked.port <= 65535:
        parser.error(f"--port must be 0 to 65535, got {asked.port}")
    if not 0 <= asked.workers <= MOST_WORKERS:
        parser.error(f"--workers must be 0 to {MOST_WORKERS}, got {asked.workers}")
    if asked.public_url is not None:
        parts = urlsplit(asked.public_url)
        if parts.scheme not in ("http", "https") or not parts.netloc or parts.query or parts.fragment:
            parser.error("--public-url must be a whole address such as https://forge.example")
    if asked.prefix and (not asked.prefix.startswith("/") or asked.prefix.endswith("/")):
        parser.error(f"--prefix must begin with / and not end with it, got {asked.prefix}")
    recipes = asked.recipes or default_recipes()
    if asked.recipes is not None and not recipes.is_dir():
        parser.error(f"--recipes: there is no folder {recipes}")
    lan_url = _lan_url(parser, asked) if asked.lan else None
    settings = Settings(recipes=recipes, public_url=asked.public_url, workers=asked.workers, lan_url=lan_url)
    host = ANY_HOST if asked.lan else THIS_MACHINE if asked.host is None else asked.host
    return settings, Listening(host, asked.port, asked.proxy, asked.prefix, asked.lan)


def _lan_url(parser: argparse.ArgumentParser, asked: argparse.Namespace) -> str:
    """Where others on this network reach the service. Exits with 2 where that makes no sense."""
    if asked.host or asked.proxy:
        parser.error("--lan listens at every address by itself: give no --host and no --proxy with it")
    address = local_address()
    if address is None:
        parser.error("--lan: this machine is on no network")
    return f"http://{address}:{asked.port}{asked.prefix}"


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="billet-web", description="Plan layered bars in the browser, from this machine."
    )
    parser.add_argument("--version", action="version", version=f"billet {__version__}")
    parser.add_argument("--host", help=f"address to listen at ({THIS_MACHINE})")
    parser.add_argument(
        "--lan", action="store_true", help="listen on the local network, for a telephone at the anvil"
    )
    parser.add_argument("--port", type=int, default=8000, help="port to listen at (%(default)s)")
    parser.add_argument(
        "--public-url", help="where others reach the service; only with it do links and QR go on paper"
    )
    parser.add_argument(
        "--recipes",
        type=Path,
        help="folder of example recipes (./recipes, else those that ship with the program)",
    )
    parser.add_argument(
        "--workers",
        type=int,
        default=usual_workers(),
        help="processes that compute (%(default)s); 0 computes in the one that listens",
    )
    parser.add_argument(
        "--proxy", help="address of the reverse proxy in front, which is believed about who asks"
    )
    parser.add_argument(
        "--prefix", default="", help="path under which the proxy shows the service, such as /billet"
    )
    return parser


def _of_this_machine(host: str) -> bool:
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return host == "localhost"


if __name__ == "__main__":
    raise SystemExit(main())
