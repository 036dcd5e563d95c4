"""The service in the shop: where others on this network reach it, and what they see."""

import socket
import sys
from typing import TextIO

import segno

ANY_HOST = "0.0.0.0"
ELSEWHERE = ("192.0.2.1", 9)
"""An address of the range kept for documentation: nothing is sent to it, it only picks the way out."""
WARNING = (
    "billet-web: everyone on this network can open {url}\n"
    "  They see the example recipes and can plan bars of their own; a plan whose link they have, they can\n"
    "  open. There is no password, and nothing is encrypted. What you keep in your browser stays there.\n"
    "  Not for a network that strangers use. It ends with Ctrl-C.\n"
)


def local_address() -> str | None:
    """This machine's address on the network it goes out by; None where it is on none."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as out:
        try:
            out.connect(ELSEWHERE)
        except OSError:
            return None
        address = str(out.getsockname()[0])
    return None if address.startswith("127.") else address


def announce(url: str, out: TextIO = sys.stderr) -> None:
    """Who can reach the service and what it shows, and its address as a code to scan."""
    out.write(WARNING.format(url=url))
    try:
        segno.make(url, error="l", micro=False).terminal(out=out, compact=True, border=2)
    except UnicodeEncodeError:
        out.write("  (this terminal shows no code to scan; type the address)\n")
    out.write(f"  {url}\n")
