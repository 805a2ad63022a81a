"""Which names of files and folders work everywhere: on every desk, in every archive, in every address."""

from __future__ import annotations

import re
import unicodedata

# Names that Windows keeps for devices, with or without an ending
# (Microsoft, "Naming Files, Paths, and Namespaces").
_RESERVED = re.compile(r"(?:con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³]|conin\$|conout\$)(?:\..*)?$", re.IGNORECASE)
_FORBIDDEN = '<>:"|?*\\'  # the same page
_LONGEST = 200  # bytes; the file systems in use take 255, and a page's name is longer than its record's


def odd_name(name: str) -> str:
    """What is wrong with one name (no slashes in it), as the message to print; empty when nothing is."""
    if any(unicodedata.category(character) in ("Cc", "Cs", "Cf", "Zl", "Zp") for character in name):
        return "the file name has an invisible or broken character"
    if not name or name.startswith("-"):
        return "the file name begins with a hyphen, which commands take for a switch"
    if name != name.strip() or name.endswith("."):
        return "the file name begins or ends with a space, or ends with a dot"
    forbidden = next((character for character in name if character in _FORBIDDEN), None)
    if forbidden:
        return f"the file name has a '{forbidden}', which some systems refuse"
    if _RESERVED.match(name):
        return f"some systems keep the name '{name.split('.')[0]}' for themselves"
    if len(name.encode("utf-8")) > _LONGEST:
        return f"the file name is longer than {_LONGEST} bytes"
    return ""


def shown_name(name: str) -> str:
    """The name as it can be printed: what is no text in it, or invisible, as ``\\x..`` or ``\\u....``."""
    text = name.encode("utf-8", "surrogateescape").decode("utf-8", "backslashreplace")
    return "".join(
        character.encode("unicode_escape").decode("ascii")
        if unicodedata.category(character) in ("Cc", "Cs", "Cf", "Zl", "Zp")
        else character
        for character in text
    )
