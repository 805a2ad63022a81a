"""A safety message whose signal word does not fit its consequence, or that lacks one of its parts.

After ANSI Z535.4: DANGER, WARNING and CAUTION are for injury, NOTICE is for damage only. A message says the hazard, the
consequence and how to avoid it. The symbol is the number of an ISO 7010 sign.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding, Severity

CODES = ("injury-under-notice", "damage-above-notice", "message-incomplete", "unknown-symbol")
_PERSON = re.compile(
    r"\b(injur\w*|electric shock|kills?|death|wound\w*|electrocut\w*|blind(?:s|ed|ness)?|scald\w*|bruis\w*|poison\w*|"
    r"amputat\w*|hands?|fingers?|skin|eyes?|lungs?|heart|hurts?)\b",
    re.IGNORECASE,
)
"""Words that name a person's body or an injury beyond doubt."""
_MAY_HURT = re.compile(
    rf"{_PERSON.pattern}|\b(burns?|shock|die|dies|cuts?|crush\w*|falls?|breath\w*|strain\w*|trap\w*)\b", re.I
)
"""The same, and words that can name one: enough for a message above NOTICE."""
_LACKS = {"consequence": "what happens", "avoid": "how to avoid it"}
SYMBOL = re.compile(r"[WMPEF][0-9]{3}")


def run(derived: Derived) -> Iterator[Finding]:
    for message in derived.library.safety.values():
        hurts = _PERSON.search(message.consequence or "")
        may_hurt = _MAY_HURT.search(message.consequence or "")
        place = message.place_of("signal")
        if message.signal == "NOTICE" and hurts:
            text = f"'{hurts.group()}' is injury, and NOTICE is for damage only"
            yield Finding("injury-under-notice", text, place, "use CAUTION, WARNING or DANGER by how bad it can get")
        elif message.signal != "NOTICE" and message.consequence is not None and not may_hurt:
            text = f"{message.signal} is for injury, and the consequence names none"
            yield Finding(
                "damage-above-notice", text, place, "use NOTICE, or say who is hurt and how", Severity.WARNING
            )
        for key in ("consequence", "avoid"):
            if getattr(message, key) is None:
                text = f"the message '{message.id}' does not say {_LACKS[key]}"
                yield Finding("message-incomplete", text, message.place, f"add `{key}:`", Severity.WARNING)
        if message.symbol is not None and not SYMBOL.fullmatch(message.symbol):
            text = f"'{message.symbol}' is not the number of an ISO 7010 sign"
            yield Finding(
                "unknown-symbol", text, message.symbol.place, "a letter and three digits: `W012` is electricity"
            )
