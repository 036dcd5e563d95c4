"""A recipe as the part of an address: canonical JSON, deflated with its checksum, base64url.

The checksum (the zlib wrapping of RFC 1950) makes a mistyped or shortened link an error instead of
another recipe.
"""

import base64
import binascii
import zlib
from collections.abc import Mapping
from typing import Any

from billet import JsonRefused, canonical_json, read_json

CODED_BYTES = 2 * 1024
INFLATED_BYTES = 64 * 1024
RecipeMapping = dict[str, Any]


class AddressRefused(ValueError):
    """A coded recipe that cannot be read; its text may be shown."""


class TooLong(AddressRefused):
    """A recipe too long for an address."""


def encode(recipe: Mapping[str, Any]) -> str:
    """The coded recipe. Raises TooLong above 2 KiB coded or 64 KiB plain."""
    plain = canonical_json(recipe).encode()
    if len(plain) > INFLATED_BYTES:
        raise TooLong("this recipe is too long for a link; save it as a file")
    coded = base64.urlsafe_b64encode(zlib.compress(plain, 9)).rstrip(b"=")
    if len(coded) > CODED_BYTES:
        raise TooLong("this recipe is too long for a link; save it as a file")
    return coded.decode("ascii")


def decode(address: str) -> RecipeMapping:
    """The recipe's mapping, not yet checked as a recipe.

    Raises AddressRefused when the text is too long, damaged, or no JSON object.
    """
    if len(address) > CODED_BYTES:
        raise TooLong("this link is longer than a recipe's link can be; save the recipe as a file")
    try:
        packed = base64.b64decode(address + "=" * (-len(address) % 4), altchars=b"-_", validate=True)
    except (binascii.Error, ValueError):
        raise AddressRefused("the link is damaged: it holds characters that do not belong") from None
    try:
        recipe = read_json(_inflate(packed))
    except JsonRefused as refused:
        raise AddressRefused(f"the link holds no recipe: {refused}") from None
    if not isinstance(recipe, dict):
        raise AddressRefused("the link holds no recipe")
    return recipe


def _inflate(packed: bytes) -> bytes:
    """Inflate, counting: at most 64 KiB ever come into being."""
    inflater = zlib.decompressobj()
    try:
        plain = inflater.decompress(packed, INFLATED_BYTES + 1)
    except zlib.error:
        raise AddressRefused("the link is damaged: its checksum does not hold") from None
    if len(plain) > INFLATED_BYTES:
        raise TooLong("this link holds more than a recipe can be")
    if not inflater.eof or inflater.unused_data:
        raise AddressRefused("the link is damaged: it is shortened, or something hangs on it")
    return plain
