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
_INJURY = re.compile(
    r"\b(injur\w*|burns?(?= (?:you|to|on|the skin|the hand))|shock\w*|kills?|death|wound\w*|crush(?:es|ed)?|electrocut\w*|"
    r"blind\w*|scald\w*|cuts? (?:you|your|skin)|bruis\w*|poison\w*|amputat\w*|hands?|fingers?|skin|eyes?|lungs?|hurts?|"
    r"the heart|breathing|back strain|a fall)\b",
    re.IGNORECASE,
)
_LACKS = {"consequence": "what happens", "avoid": "how to avoid it"}
SYMBOL = re.compile(r"[WMPEF][0-9]{3}")


def run(derived: Derived) -> Iterator[Finding]:
    for message in derived.library.safety.values():
        said = " ".join(str(one) for one in (message.consequence, message.hazard) if one)
        hurts = _INJURY.search(said)
        place = message.place_of("signal")
        if message.signal == "NOTICE" and hurts:
            text = f"'{hurts.group()}' is injury, and NOTICE is for damage only"
            yield Finding("injury-under-notice", text, place, "use CAUTION, WARNING or DANGER by how bad it can get")
        elif message.signal != "NOTICE" and message.consequence is not None and not hurts:
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
