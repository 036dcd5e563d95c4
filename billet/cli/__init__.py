"""The command `billet`: arguments and files in, text, JSON or CSV out; it computes nothing itself.

Exit 0 with an answer, 1 where the answer could not be written, 2 for what is refused, 130 when it is
broken off. Only what a command needs is imported, when it is asked for.
"""

from billet.cli.command import main

__all__ = ["main"]
