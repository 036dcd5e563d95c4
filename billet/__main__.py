"""`python -m billet` is the command `billet`."""

from billet.cli.command import main

if __name__ == "__main__":
    raise SystemExit(main())
