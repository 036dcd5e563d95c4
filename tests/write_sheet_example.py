"""Draws the forge sheet of the readme anew, as on A4: `.venv/bin/python -m tests.write_sheet_example`.

Needs chromium and pdftoppm (Debian: `apt install chromium poppler-utils`).
"""

import struct
import subprocess
import tempfile
import zlib
from pathlib import Path
from typing import Any

import numpy as np
from starlette.testclient import TestClient

from web.app import create_app
from web.settings import Settings

ROOT = Path(__file__).parent.parent
PICTURE = ROOT / "web" / "static" / "sheet-example.png"
RECIPE = "reed_bed_kitchen"
DOTS_PER_INCH = 90


def four_bit_png(pgm: bytes) -> bytes:
    """A grey picture as PNG of sixteen greys."""
    _, size, _, grey = pgm.split(b"\n", 3)
    wide, high = map(int, size.split())
    rows = np.frombuffer(grey, np.uint8).reshape(high, wide) // 17
    rows = np.pad(rows, ((0, 0), (0, wide % 2)))
    packed = (rows[:, ::2] << 4 | rows[:, 1::2]).astype(np.uint8)
    lines = zlib.compress(np.insert(packed, 0, 0, axis=1).tobytes(), 9)
    header = struct.pack(">II5B", wide, high, 4, 0, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))
        for name, body in ((b"IHDR", header), (b"IDAT", lines), (b"IEND", b""))
    )


def page_html(client: TestClient) -> str:
    """The forge sheet with its styles inside, so that no service has to listen."""
    address = client.get(f"/recipes/{RECIPE}", follow_redirects=False).headers["location"]
    html = client.get(address.replace("/plan?", "/sheet/forge?")).text
    for name in ("sheet", "drawing", "form", "paper", "print"):
        style = (ROOT / "web" / "static" / f"{name}.css").read_text(encoding="utf-8")
        start = html.index(f'<link rel="stylesheet" href="../static/{name}.css"')
        end = html.index(">", start) + 1
        html = f"{html[:start]}<style>{style}</style>{html[end:]}"
    return html


def write(playwright: Any) -> None:
    """The sheet through the browser's own print to a picture."""
    browser = playwright.chromium.launch(
        executable_path="/usr/bin/chromium", args=["--no-sandbox", "--headless"]
    )
    page = browser.new_page()
    page.set_content(page_html(TestClient(create_app(Settings(recipes=ROOT / "recipes")))))
    with tempfile.TemporaryDirectory() as folder:
        paper = Path(folder) / "sheet.pdf"
        page.pdf(path=str(paper), format="A4", prefer_css_page_size=False)
        command = ["pdftoppm", "-r", str(DOTS_PER_INCH), "-gray", "-singlefile", str(paper)]
        subprocess.run([*command, str(Path(folder) / "sheet")], check=True)
        PICTURE.write_bytes(four_bit_png((Path(folder) / "sheet.pgm").read_bytes()))
    browser.close()


if __name__ == "__main__":
    from playwright.sync_api import sync_playwright

    with sync_playwright() as started:
        write(started)
