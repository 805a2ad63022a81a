"""A whole procedure on paper: needs, steps with their messages and boxes, the way back, the checks owed."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Any

from benchleaf.currency_words import required_by
from benchleaf.diagnostics import Place
from benchleaf.drawings.safety_sign import safety_sign, sign_title
from benchleaf.pages.kinds.procedure import goal_line
from benchleaf.pages.pictures import source_of
from benchleaf.pages.record_notes import verification_of
from benchleaf.pages.requirements import preliminary, safety_summary, unchecked_words
from benchleaf.pages.safety_shown import in_severity
from benchleaf.pages.shown import Line, Need, Picture, SafetyMessage, StepView, TorqueCallout
from benchleaf.pages.step_view import ENERGY_VERBS, Scene, scenes
from benchleaf.paper.boxes import ActionData, actions_of
from benchleaf.paper.origins import Footnotes
from benchleaf.paper.picture_size import picture_size
from benchleaf.paper.plug_parts import diagrams, plug_rows, swap_rows
from benchleaf.paper.prose import prose_blocks
from benchleaf.paper.sheet import Paper, Sheet
from benchleaf.paper.state_lines import hold_lines, start_lines, stop_lines
from benchleaf.paper.subject import Subject, words_of
from benchleaf.paper.title_block import block_of
from benchleaf.paper.torque_rows import torque_rows
from benchleaf.paper.way_back import BackData, back_end, back_steps, ledger_rows, owed_rows

Pictures = Callable[[str], bytes | None]
"""The bytes of a picture by its path below the content folder; ``None`` when it cannot be had."""

PICTURE_WIDE, PICTURE_HIGH = 88.0, 66.0
"""Millimetres a picture has on the sheet."""
EMERGENCY = (("stop", "Stop"), ("extinguisher", "Extinguisher"), ("first_aid", "First aid"), ("number", "Call"))
UNCHECKED = (
    "Nothing in this step was checked: what it changes is not recorded. Afterwards everything counts as energised."
)


def sheet(subject: Subject, pictures: Pictures, paper: Paper = "a4") -> Sheet:
    """The procedure as one document."""
    return _Writer(subject, pictures, paper).sheet()


class _Writer:
    """Writes one procedure from top to bottom, handing out footnotes as it goes."""

    def __init__(self, subject: Subject, pictures: Pictures, paper: Paper) -> None:
        self.subject, self.pictures, self.paper = subject, pictures, paper
        self.files: dict[str, bytes] = {}
        self.photos: dict[str, str] = {}
        self.places: dict[str, Place] = {}
        self.notes = Footnotes()

    def sheet(self) -> Sheet:
        subject, procedure = self.subject, self.subject.procedure
        block = block_of(subject, "Procedure", self.paper)
        acts = tuple(scenes(subject.mbook, procedure))
        kept = [scene for scene in acts if scene.narrow.builts]
        goal = goal_line(subject.mbook, procedure)
        data: dict[str, Any] = {
            "block": dict(block.data),
            "title": str(procedure.title),
            "lead": f"Goal: {goal.words}{f' ({goal.note})' if goal.note else ''}." if goal is not None else "",
            "text": prose_blocks(str(procedure.text or "")),
            "warnings": list(self.warnings(kept)),
            "needs": two_columns([need_data(one) for one in preliminary(subject.hazards, procedure)]),
            "emergency": list(self.emergency()),
            "summary": [self.safety(one) for one in safety_summary(subject.hazards, procedure)],
            "start": start_lines(subject),
            "steps": [self.step(scene) for scene in kept],
            "plugs": plug_rows(subject, self.files),
            "diagrams": diagrams(subject, self.files),
            "torques": torque_rows(subject, self.notes),
            **ledger_rows(subject),
            "back": [self.back(one) for one in back_steps(subject)],
            **back_end(subject),
            **owed_rows(subject),
            "close": [[words, {"tick": True}] for words in CLOSE_UP],
        }
        data["origins"] = self.notes.listed
        return Sheet(
            name=f"{procedure.id}-procedure",
            title=str(data["block"]["full-title"]),
            template="procedure.typ",
            data=data,
            files={**block.files, **self.files},
            places=self.places,
        )

    def warnings(self, acts: Iterable[Scene]) -> Iterator[str]:
        verified = verification_of(self.subject.procedure)
        if verified.withdrawn:
            yield f"Withdrawn. {verified.withdrawn} Do not work from it."
        elif verified.state == "unverified":
            yield "Unverified: nobody has recorded that this was carried out as written."
        yield from self.subject.remarks
        unchecked = unchecked_words(acts)
        if unchecked:
            yield f"Nothing was checked in {unchecked}: prose only. Afterwards everything counts as energised."

    def emergency(self) -> Iterator[tuple[str, str]]:
        found = self.subject.full.book.shop.emergency
        for key, words in EMERGENCY:
            value = getattr(found, key) if found is not None else None
            yield words, str(value) if value else "not recorded"

    def safety(self, one: SafetyMessage) -> dict[str, Any]:
        data: dict[str, Any] = {"signal": one.signal, "hazard": one.hazard}
        data |= {
            "consequence": one.consequence or "Consequence not recorded.",
            "avoid": one.avoid or "How to avoid it is not recorded.",
        }
        if one.where:
            data["where"] = f"{one.where[0].upper()}{one.where[1:].rstrip('.')}."
        if one.applies is not None:
            data["only"] = one.applies.words
        if one.symbol:
            name = f"sign-{''.join(c for c in one.symbol if c.isalnum())}.svg"
            self.files[name] = safety_sign(one.symbol, captioned=False).svg.encode()
            data |= {"sign": name, "alt": f"Safety sign {one.symbol}: {sign_title(one.symbol)}"}
        return data

    def messages(self, scene: Scene) -> tuple[SafetyMessage, ...]:
        """The step's messages, on every machine whose hazards count."""
        if self.subject.hazards is self.subject.mbook:
            return self.subject.view(scene).safety
        return self.subject.view(Scene(self.subject.hazards, scene.procedure, scene.number, scene.step)).safety

    def step(self, scene: Scene) -> dict[str, Any]:
        view = self.subject.view(scene)
        data: dict[str, Any] = {
            "number": str(view.number),
            "title": view.title,
            "safety": [self.safety(one) for one in self.messages(scene)],
            "actions": [action_data(one) for one in actions_of(scene, self.notes)],
            "text": prose_blocks(view.text),
            "pictures": [made for one in view.pictures if (made := self.picture(scene, one)) is not None],
            "swaps": swap_rows(view.swaps),
            "torques": [self.torque(one) for one in view.torques if not one.later],
            "needs": needs_line(view),
            "holds": hold_lines(self.subject, view.number),
            "stop": stop_lines(self.subject, view.number),
        }
        optional = {
            "only": words_of(view.applies),
            "exposes": view.exposes[:1].upper() + view.exposes[1:],
            "powered": view.powered,
            "expect": view.expect,
            "else": f"{view.otherwise.code} {view.otherwise.means}".strip() if view.otherwise is not None else None,
            "unchecked": UNCHECKED if view.unchecked else None,
        }
        return data | {key: value for key, value in optional.items() if value}

    def back(self, one: BackData) -> dict[str, Any]:
        """A step of the way back with the messages of the step it undoes."""
        origins = {str(o.id): o for o in required_by(self.subject.full.machine, self.subject.procedure)}
        messages: list[SafetyMessage] = []
        if one.energises:
            for origin in origins.values():
                for scene in scenes(self.subject.hazards, origin):
                    if any(action.verb in ENERGY_VERBS for action in scene.actions):
                        messages += self.subject.view(scene).safety
        elif one.procedure in origins and one.number:
            origin = origins[str(one.procedure)]
            step = origin.steps[one.number - 1]
            messages += self.subject.view(Scene(self.subject.hazards, origin, one.number, step)).safety
        once = {(message.signal, message.hazard): message for message in reversed(messages)}
        return {**one.data, "brief": True, "safety": [self.safety(m) for m in in_severity(reversed(once.values()))]}

    def torque(self, one: TorqueCallout) -> dict[str, Any]:
        said = [f"order: {one.sequence}" if one.sequence else "order not recorded"]
        said += [f"friction {one.friction}" if one.friction else "friction not recorded"]
        if one.status == "disputed":
            said.append(f"Disputed. {one.interim or 'What to do meanwhile is not recorded.'}")
        if one.value is None and one.limit:
            said.append(f"Computed limit, not a torque to use: below {one.limit} ({one.limit_words})")
        said += list(one.against)
        value = (
            f"{one.value} {one.unit}{f' {one.tolerance}' if one.tolerance else ''}"
            if one.value
            else "Torque not recorded"
        )
        return {"value": value, "n": self.notes.marks(one.origins), "what": one.what, "count": one.count, "said": said}

    def picture(self, scene: Scene, one: Picture) -> dict[str, Any] | None:
        photo = next((p for p in scene.step.photos if self.subject.mbook.at.photo(str(p.file)) == one.path), None)
        path = source_of(self.subject.mbook, str(photo.file)) if photo is not None else None
        data = self.pictures(path) if path is not None else None
        if photo is None or path is None or data is None:
            return None
        name = self.photos.setdefault(path, f"photo-{len(self.photos) + 1}.{ending(data)}")
        self.files[name] = data
        self.places.setdefault(name, photo.file.place)
        own_wide, own_high = picture_size(data) or (float(one.width), float(one.height))
        wide = min(PICTURE_WIDE, PICTURE_HIGH * own_wide / own_high)
        shows = (
            one.shows if photo.shows else f"Picture for step {scene.number}: {scene.step.title}"
        )
        high = wide * own_high / own_wide
        return {
            "file": name,
            "alt": shows,
            "shows": shows,
            "width": round(wide, 2),
            "height": round(high, 2),
            "marks": [{"x": m.x, "y": m.y, "n": str(n), "words": m.words} for n, m in enumerate(one.marks, 1)],
        }


CLOSE_UP = (
    "Every line of the ledger is back, or its exception is written on the job sheet",
    "Tools and supplies counted; nothing left in the machine",
    "Labels off, caps and clamps counted",
    "Every check owed above carried out and signed",
    "Waste disposed of as listed under Supplies",
)


def ending(data: bytes) -> str:
    """The ending Typst tells the format by, from the first bytes."""
    if data.startswith(b"\x89PNG"):
        return "png"
    if data.startswith(b"\xff\xd8"):
        return "jpg"
    return "webp" if data[8:12] == b"WEBP" else "svg"


def action_data(one: ActionData) -> dict[str, Any]:
    data: dict[str, Any] = {"said": one.said, "parts": one.parts, "facts": list(one.facts), "boxes": list(one.boxes)}
    return data | ({"only": one.only} if one.only else {})


def need_data(one: Need) -> dict[str, Any]:
    return {"label": one.label, "lines": None if one.lines is None else [line_data(line) for line in one.lines]}


def two_columns(needs: list[dict[str, Any]]) -> list[list[dict[str, Any]]]:
    """The needs in two columns of about the same height, in their order."""
    high = [1 + len(one["lines"] or ()) for one in needs]
    cut = min(range(len(needs) + 1), key=lambda n: abs(sum(high[:n]) - sum(high[n:])))
    return [needs[:cut], needs[cut:]]


def line_data(one: Line) -> dict[str, Any]:
    data = {"words": one.words}
    if one.note:
        data["note"] = one.note
    if one.applies is not None:
        data["only"] = one.applies.words
    return data


def needs_line(view: StepView) -> str:
    """``Tools: Hexagon driver 2.5. People: 1. Time: 2 min.``"""
    said = []
    for need in view.needs:
        words = "not recorded" if need.lines is None else ", ".join(line.words for line in need.lines) or "none"
        said.append(f"{need.label}: {words}")
    return "   ".join(said)
