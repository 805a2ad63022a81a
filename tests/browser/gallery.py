"""Invented values for every shared drawing of the theme: one page to look at, one bench view to work through."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from benchleaf.currency_words import Currency
from benchleaf.pages.page import Frame, Page
from benchleaf.pages.shown import (
    Applies,
    BenchView,
    CodeRef,
    Line,
    ListedState,
    MachineChoice,
    ModificationChoice,
    Need,
    Origin,
    Picture,
    PictureMark,
    RecordNote,
    SafetyMessage,
    ShownValue,
    StepView,
    Term,
    TorqueCallout,
    VariantChoice,
    Verification,
)
from benchleaf.render import THEME_FOLDER

CURRENCY = Currency(words="amber plough seven", issued="2026-03-02", newest="2026-03-18")
FOLDERS = (str(Path(__file__).parent / "templates"), THEME_FOLDER)
FRAME = Frame(
    name="Plover workshop manual",
    find="find.html",
    menu=(("Machines", "index.html"), ("Codes", "codes.html"), ("Spares", "spares.html")),
)
CHOICE = MachineChoice(
    id="lc30",
    name="Plover LC30 label cutter",
    variants=(
        VariantChoice(id="mk1", words="single-speed feed", tell="One button on the panel", serials=(("0100", "0499"),)),
        VariantChoice(id="mk2", words="two-speed feed", tell="Two buttons on the panel", serials=(("0500", ""),)),
    ),
    modifications=(
        ModificationChoice(
            id="lift",
            words="lifting-motor board stands in for the lid switch",
            tell="Is there a lifting column at the back?",
            serials=("0312",),
        ),
    ),
)
MK1 = Applies("mk1, single-speed feed", (Term("variant", "mk1"),))
MK2 = Applies("mk2, two-speed feed", (Term("variant", "mk2"),))
LIFT = Applies("machines with the lift", (Term("modification", "lift"),))
NO_LIFT = Applies("machines without the lift", (Term("without", "lift"),))
LATE = Applies("serials 0500 to 0899", (Term("serials", first="0500", last="0899"),))

DANGER = SafetyMessage(
    signal="DANGER",
    hazard="Mains voltage at PS1 and at XP1",
    consequence="Touching it kills.",
    avoid="Unplug XP1, keep the plug with you, and prove dead at `PS1-J1` before you touch anything.",
    where="behind the control tray",
    symbol="W012",
)
WARNING = SafetyMessage(
    signal="WARNING",
    hazard="The knife shaft turns on its own when the belt is moved",
    consequence="It cuts fingers to the bone.",
    avoid="Block the shaft with Y1 before you reach in.",
    symbol="W022",
    applies=LIFT,
)
CAUTION = SafetyMessage(
    signal="CAUTION",
    hazard="Edge of the bottom plate",
    consequence=None,
    avoid="Wear gloves of cut level B.",
)
NOTICE = SafetyMessage(
    signal="NOTICE",
    hazard="The sensor board does not bear a static discharge",
    consequence="It fails weeks later, and the code it then shows names another board.",
    avoid="Wear the wrist strap and join it to the frame.",
)
MEASURED = Origin(kind="measured", words="RV on serial 0221, 2026-02-11, click driver", place="lc30/machine.yaml:41")
NOTE = Origin(kind="service note", words="bulletin 12, dry", place="lc30/machine.yaml:42")
TORQUES = (
    TorqueCallout(
        what="Tray screws",
        count="2 of M3 × 6, PH1",
        value="0.5",
        unit="N·m",
        tolerance="± 0.1 N·m",
        friction="dry, unplated",
        sequence="left, then right",
        status="agreed",
        origins=(MEASURED, NOTE),
    ),
    TorqueCallout(
        what="Cover screws",
        count="4 of M3 × 8, PH1",
        limit="0.9 N·m at the lowest plausible friction (steel 8.8 in steel, K from 0.12).",
    ),
    TorqueCallout(what="Shaft nut", value="4.0", unit="N·m", status="disputed", origins=(MEASURED, NOTE)),
)
STATES = (
    ListedState(mark="live", name="Still live", words="`XP1:L`, `XP1:N` up to switch Q1", note="while XP1 is plugged"),
    ListedState(mark="off", name="Off", words="Top cover, control tray"),
    ListedState(mark="open", name="Open", words="`A1-J3`, `A1-J5`", applies=MK2),
    ListedState(mark="lifted", name="Lifted lead", words="PE at the frame stud"),
    ListedState(mark="wet", name="Wet", words="Coolant line L2, open at the pump"),
    ListedState(mark="hot", name="Hot", words="Heater plate, time to cool not recorded: measure"),
    ListedState(mark="hold", name="Hold point", words="Do not stop here."),
    ListedState(mark="pause", name="Pause point", words="The machine may stay like this any time."),
    ListedState(mark="unknown", name="Not recorded", words="Ties on the right side"),
)
PICTURE = Picture(
    path="picture.svg",
    width=640,
    height=400,
    shows="The control tray from the front, drawn out to the service position",
    marks=(
        PictureMark(x=0.2, y=0.35, words="Tray screw, left"),
        PictureMark(x=0.8, y=0.35, words="Tray screw, right"),
        PictureMark(x=0.5, y=0.7, words="Connector A1-J3"),
    ),
)
STEPS = (
    StepView(
        number=1,
        title="Unplug the machine and prove it dead",
        anchor="step-1",
        path="step.html",
        safety=(NOTICE, DANGER),
        actions=(
            "Unplug **XP1** and keep the plug with you.",
            "Discharge **C1** through the discharge tool.",
            "Prove dead between `PS1-J1:L` and `PS1-J1:N`: below 5 V AC.",
        ),
        energy=True,
        expect="below 5 V AC, tester proved before and after",
        otherwise=CodeRef(code="still-live", means="find what still feeds it", path="step.html"),
    ),
    StepView(
        number=2,
        title="Draw the control tray out to the service position",
        anchor="step-2",
        path="step.html",
        safety=(WARNING,),
        actions=(
            "Label, photograph and unplug `A1-J3`, then `A1-J5`.",
            "Remove **2 tray screws**.",
            "Pull the tray to the front, 140 mm, until it catches.",
        ),
        pictures=(PICTURE,),
        torques=TORQUES[:1],
        needs=(
            Need(label="Tool", lines=(Line(words="Driver PH1", path="step.html"),)),
            Need(label="People", lines=(Line(words="1"),)),
        ),
        stop=STATES[6],
    ),
    StepView(
        number=3,
        title="Lift the single-speed board off",
        anchor="step-3",
        applies=MK1,
        text="The board sits on *four* stand-offs; the rear left one is the earth. Do not bend it.",
        unchecked=True,
    ),
    StepView(
        number=4, title="Note the colour of the belt", anchor="step-4", text="Write it on the job card.", applies=LATE
    ),
)
NEEDS = (
    Need(label="Conditions", lines=(Line(words="Machine emptied of labels", path="step.html"),)),
    Need(label="People", lines=(Line(words="2", note="from step 6, the knife shaft weighs 18 kg"),)),
    Need(label="Time", lines=None),
    Need(
        label="Support equipment",
        lines=(
            Line(words="Driver PH1"),
            Line(words="Discharge tool, 100 ohm"),
            Line(words="Two-pole tester", note="CAT III"),
        ),
    ),
    Need(label="Supplies", lines=()),
    Need(label="Spares", lines=(Line(words="Tie T4", note="cut at step 3", applies=MK2),)),
)
RECORD = RecordNote(
    file="lc30/teardown/board-out.yaml",
    line=1,
    issue="3",
    date="2026-03-01",
    reason="torque of the tray screws adjudicated",
    verification=Verification(),
)
TEXT = """Look at the *rear left* stand-off first.

# A heading of the author's

- one
- two with `code`

> A remark quoted from an old job card.

1. Raw HTML is text: <script>alert(1)</script>
2. A [link within](item/a1.html) and [one to the web](https://example.org/), and a [bad one](javascript:alert(1)).
"""


def gallery_page(path: str = "gallery/index.html") -> Page:
    context: dict[str, Any] = {
        "lead": "Everything the manual is *drawn* with, in one place.",
        "crumbs": (("Machines", "index.html"), ("Plover LC30", "index.html"), ("Gallery", None)),
        "choice": CHOICE,
        "record": RECORD,
        "proved": Verification(state="verified at the machine", date="2026-03-04", serial="0221"),
        "at_table": Verification(state="verified at the table", date="2026-03-02"),
        "needs": NEEDS,
        "messages": (NOTICE, CAUTION, WARNING, DANGER),
        "steps": STEPS,
        "torques": TORQUES,
        "values": (
            ShownValue(text="0.05 ± 0.01 Ω", machine="0.05", status="single observation", origins=(MEASURED,)),
            ShownValue(text="100 kΩ or 220 kΩ", status="disputed", origins=(MEASURED, NOTE)),
        ),
        "states": STATES,
        "codes": (CodeRef(code="07", means="Vacuum below 20 kPa for 3 s", path="codes.html"), CodeRef(code="E-0417")),
        "rows": (
            ("A1-J3", "A1-J4", "1", "24 V DC on a signal input", "A, circle"),
            ("A1-J5", "A2-J1", "not recorded", "not recorded, counts as the worst", "B, square"),
        ),
        "text": TEXT,
    }
    return Page(path=path, template="gallery.html", title="Gallery", kind="gallery", context=context)


def bench_page(path: str = "bench/board-out.html", *, content: str = "a1", issue: str = "3") -> Page:
    view = BenchView(
        procedure="board-out",
        path="gallery/index.html",
        title="Take the control board out",
        issue=issue,
        content=content,
        steps=STEPS,
        before=("Read the conditions on the procedure's page first.",),
        after=("The ledger is open until every line is ticked.",),
    )
    return Page(
        path=path,
        template="pages/bench.html",
        title="Bench: take the control board out",
        kind="bench",
        context={"bench": view, "record": RECORD, "choice": CHOICE, "currency": CURRENCY},
    )
