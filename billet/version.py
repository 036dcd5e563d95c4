"""Version of the program and of the data it ships with."""

VERSION = "1.3.0"
DATA_VERSION = "2026-11"
