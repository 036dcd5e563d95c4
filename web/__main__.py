"""The command `billet-web`: the service on this machine."""

import argparse
import threading
from pathlib import Path
from urllib.parse import urlsplit

from billet import __version__
from web.settings import Settings, default_recipes


def main(arguments: list[str] | None = None) -> int:
    """Start the service and stay until it is stopped."""
    settings, host, port = read_arguments(arguments)
    import uvicorn

    from web.app import create_app
    from web.routes.home import warm

    app = create_app(settings)
    threading.Thread(target=warm, args=(app.state.service,), daemon=True).start()
    uvicorn.run(app, host=host, port=port, server_header=False)
    return 0


def read_arguments(arguments: list[str] | None) -> tuple[Settings, str, int]:
    """Settings, host and port. Exits with 2 and one sentence where they make no sense."""
    parser = argparse.ArgumentParser(
        prog="billet-web", description="Plan layered bars in the browser, from this machine."
    )
    parser.add_argument("--version", action="version", version=f"billet {__version__}")
    parser.add_argument("--host", default="127.0.0.1", help="address to listen at (%(default)s)")
    parser.add_argument("--port", type=int, default=8000, help="port to listen at (%(default)s)")
    parser.add_argument(
        "--public-url", help="where others reach the service; only with it do links and QR go on paper"
    )
    parser.add_argument(
        "--recipes",
        type=Path,
        help="folder of example recipes (./recipes, else those that ship with the program)",
    )
    asked = parser.parse_args(arguments)
    if not 0 <= asked.port <= 65535:
        parser.error(f"--port must be 0 to 65535, got {asked.port}")
    if asked.public_url is not None:
        parts = urlsplit(asked.public_url)
        if parts.scheme not in ("http", "https") or not parts.netloc or parts.query or parts.fragment:
            parser.error("--public-url must be a whole address such as https://forge.example")
    recipes = asked.recipes or default_recipes()
    if asked.recipes is not None and not recipes.is_dir():
        parser.error(f"--recipes: there is no folder {recipes}")
    return Settings(recipes=recipes, public_url=asked.public_url), asked.host, asked.port


if __name__ == "__main__":
    raise SystemExit(main())
