"""Codes and symptoms that lead nowhere, and tests whose outcomes do not add up.

A code that no symptom and no step leads to, and that does not say how it is shown, is found by nobody. A cause without
a remedy ends the search in the open. The shares of a cause over the outcomes of a test add up to 1; what is missing
goes to the one outcome called `rest`, so a test with something missing needs it.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from benchleaf.derived import Derived
from benchleaf.diagnostics import Finding, Severity
from benchleaf.records.codes import Cause, FaultTest
from benchleaf.scope import plain_code
from benchleaf.suggest import closest
from benchleaf.troubles.causes import causes_of

CODES = ("code-unreached", "remedy-missing", "unknown-cause", "shares-disagree", "no-cause", "symptom-unheard")
EXACT = 1e-6


def run(derived: Derived) -> Iterator[Finding]:
    for machine in derived.library.machines.values():
        reached = {plain_code(code) for symptom in machine.symptoms.values() for code in symptom.see}
        targets = [step.else_ for p in machine.procedures.values() for step in p.steps if step.else_ is not None]
        reached |= {plain_code(target.code) for target in targets if target.code is not None}
        for code in machine.codes.values():
            if code.shown is None and plain_code(code.code) not in reached:
                message = f"nothing leads to code {code.code}: no symptom, no step, and it does not say how it is shown"
                help = "add `shown:`, or name it under `see:` of a symptom"
                yield Finding("code-unreached", message, code.code.place, help, Severity.WARNING)
            if not code.causes:
                message = f"code {code.code} has no causes"
                yield Finding(
                    "no-cause", message, code.code.place, "add `causes:` with what cures each", Severity.WARNING
                )
            yield from _trouble(code, causes_of(code, machine))
        for symptom in machine.symptoms.values():
            causes = causes_of(symptom, machine)
            if not causes:
                message, help = f"symptom '{symptom.id}' leads to no cause", "add `see:` with a code, or `causes:`"
                yield Finding("no-cause", message, symptom.id.place, help, Severity.WARNING)
            if not symptom.heard_as:
                message = f"symptom '{symptom.id}' does not say how it is heard"
                help = "add `heard-as:` with the customer's words: the search finds it by them"
                yield Finding("symptom-unheard", message, symptom.id.place, help, Severity.WARNING)
            yield from _trouble(symptom, causes)


def _trouble(trouble: Any, causes: dict[str, Cause]) -> Iterator[Finding]:
    for cause in trouble.causes.values():
        if cause.remedy is None:
            message, help = f"cause '{cause.id}' has no remedy", "add `remedy:` with a procedure, or `replace ITEM`"
            yield Finding("remedy-missing", message, cause.place, help, Severity.WARNING)
    for test in trouble.tests.values():
        yield from _test(test, causes)


def _test(test: FaultTest, causes: dict[str, Cause]) -> Iterator[Finding]:
    rests = [name for name, outcome in test.outcomes.items() if outcome.rest]
    if len(rests) > 1:
        message = f"test '{test.id}' has {len(rests)} outcomes called `rest`"
        yield Finding("shares-disagree", message, test.outcomes[rests[1]].place, "only one can take what is left")
    totals = dict.fromkeys(causes, 0.0)
    for outcome in test.outcomes.values():
        for name in outcome.names:
            if name not in causes:
                near = closest(name, tuple(causes))
                help = f"did you mean '{near[0]}'?" if near else f"the causes are {', '.join(causes) or 'not recorded'}"
                yield Finding("unknown-cause", f"'{name}' is not a cause here", name.place, help)
            else:
                totals[name] += outcome.shares[name]
    for cause, total in totals.items():
        if total > 1 + EXACT:
            message = f"the shares of '{cause}' over the outcomes of '{test.id}' add up to {total:g}, not 1"
            yield Finding("shares-disagree", message, test.place, "a share is how often this cause gives this outcome")
        elif total < 1 - EXACT and not rests and test.outcomes:
            message = f"{1 - total:g} of '{cause}' goes to no outcome of '{test.id}'"
            yield Finding("shares-disagree", message, test.place, "name it in an outcome, or add one `name: rest`")
