"""The fields of a strip in their groups: each with its words, its question and its usual value."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from functools import cache

from tiler.browser.answers.belonging import Belonging, belonging
from tiler.browser.answers.wishes import known_printers
from tiler.browser.form import ACCEPT, CHILD, CORRECT, PRINTER, Given, every_option, name_of, one_of, sent_to
from tiler.browser.pictures.measuring import where_to_measure
from tiler.browser.said import label
from tiler.commands.interview.path import QUESTIONS
from tiler.commands.interview.question import Question
from tiler.commands.one_piece.elastic_options import ELASTIC
from tiler.commands.one_piece.open_options import BUTTONS, ENDS, RUNNING_ON
from tiler.commands.one_piece.option import PieceOption, Value
from tiler.commands.one_piece.options import GROUPS
from tiler.commands.one_piece.page_options import PAPER, TITLE

SPARE_ROWS = 2
"""Empty rows below those of a field that may be filled in several times."""

FIRST, FITTING, ENDING, CASING, PRINTING = (
    "What it is",
    "After a fitting",
    "Ends, ties and buttons",
    "Elastic in the band",
    "Title and paper",
)
TITLES = (
    FIRST,
    "Edge, as measured",
    "Neckline, as a shape",
    "Fabric",
    "Strip",
    "Length of the strip",
    FITTING,
    "What the pattern has",
    "Opening",
    ENDING,
    CASING,
    PRINTING,
)
"""The groups in the order of the page; those of the help that are not named here follow."""

OPEN = (FIRST, "Edge, as measured", "Fabric", "Strip")
"""Groups that are unfolded from the start."""

_PLACE = next(question for question in QUESTIONS if question.key == "place")
"""What is asked for the kind of the edge."""

FIRST_ASKED = ("finish", "kind", "units")

_AFTER = {"edge": "back", "part": "edge"}
"""Fields that stand behind another one on the page: what few measure comes behind what most do."""

_PAGE: dict[str, tuple[str, Value, str]] = {
    CHILD: (ENDING, Value.FLAG, "Is it for a child's garment? Then rules hold for free ends at its neck."),
    ACCEPT: (ENDING, Value.FLAG, "Draw free ends at the neck of a child's garment all the same."),
    PRINTER: (PRINTING, Value.CHOICE, "What this printer does to the strip is then said beside it."),
    CORRECT: (PRINTING, Value.FLAG, "Undo the error of that printer in the PDF, which is then for no other one."),
}
"""The fields of the page itself: their group, their kind, and what they do."""


@dataclass(frozen=True)
class Field:
    """One field: its name, what stands on and below it, the words to choose from, and what was filled in."""

    name: str
    kind: Value
    label: str
    asks: str
    why: str = ""
    example: str = ""
    usual: str = ""
    words: tuple[tuple[str, str], ...] = ()
    repeated: bool = False
    values: tuple[str, ...] = ()
    drawing: str = ""
    few: bool = False
    belongs: bool = True

    @property
    def is_filled(self) -> bool:
        """Whether anything stands in it."""
        return any(self.values)

    @property
    def shows(self) -> bool:
        """Whether it is shown: where it has a meaning, and where something stands in it."""
        return self.belongs or self.is_filled

    @property
    def rows(self) -> list[tuple[str, ...]]:
        """What stands in each row of inputs: one, or a name and a length."""
        across = 2 if self.kind is Value.NAMED else 1
        values = [*self.values, ""] if len(self.values) % across else list(self.values)
        rows = [tuple(values[at : at + across]) for at in range(0, len(values), across)]
        if self.repeated:
            rows += [("",) * across] * SPARE_ROWS
        return rows or [("",)]


@dataclass(frozen=True)
class Group:
    """Fields under one heading: those that are asked for, and those that few need."""

    title: str
    asked: tuple[Field, ...]
    more: tuple[Field, ...]
    begins_open: bool

    @property
    def fields(self) -> tuple[Field, ...]:
        """All of them."""
        return (*self.asked, *self.more)

    def is_open(self, told: Collection[str]) -> bool:
        """Whether it is unfolded: from the start, or since an answer stands in it, or something is ``told`` there."""
        return self.begins_open or any(field.is_filled or field.name in told for field in self.fields)

    def more_open(self, told: Collection[str]) -> bool:
        """Whether the fields that few need are unfolded."""
        return any(field.is_filled or field.name in told for field in self.more)


def groups(form: Given, ties: bool) -> list[Group]:
    """Return the form as it is filled in; with ``ties`` at a child's neck it asks whether they are let pass."""
    has_meaning = belonging(form)
    fields: dict[str, list[Field]] = {title: [] for title in TITLES}
    for title, option in _grouped():
        fields.setdefault(title, []).append(_field(option, form, has_meaning))
    known = known_printers()
    for name, (title, kind, asks) in _PAGE.items():
        words = tuple((one, one) for one in known) if name == PRINTER else ()
        belongs = {CHILD: "free-before" in has_meaning.names, ACCEPT: ties}.get(name, bool(known))
        value = one_of(form, name)
        fields[title].append(Field(name, kind, label(name), asks, words=words, values=(value,), belongs=belongs))
    return [_group(title, own) for title, own in fields.items() if own]


def left_out(groups: Iterable[Group]) -> list[str]:
    """Return the names of the fields that are not shown."""
    return [field.name for group in groups for field in group.fields if not field.shows]


@cache
def _grouped() -> tuple[tuple[str, PieceOption], ...]:
    """Return every option with the title of its group on the page."""
    of_help = {option.names: title for title, options in GROUPS.items() for option in options}
    own = {option.names: ENDING for option in (*ENDS, *RUNNING_ON, *BUTTONS)}
    own |= {option.names: CASING for option in ELASTIC} | {option.names: PRINTING for option in (TITLE, *PAPER)}
    own |= {option.names: FITTING for option in every_option() if "trials" in option.place}
    own |= {option.names: FIRST for option in every_option() if name_of(option) in FIRST_ASKED}
    order = {name_of(option): float(place) for place, option in enumerate(every_option())}
    for name, before in _AFTER.items():
        order[name] = order[before] + 0.1
    options = sorted(every_option(), key=lambda option: order[name_of(option)])
    return tuple((own.get(option.names) or of_help[option.names], option) for option in options)


def _group(title: str, fields: list[Field]) -> Group:
    asked = tuple(field for field in fields if not field.few)
    more = tuple(field for field in fields if field.few)
    return Group(title, asked or more, more if asked else (), title in OPEN)


def _field(option: PieceOption, form: Given, belonging: Belonging) -> Field:
    name = name_of(option)
    question = _PLACE if name == "kind" else option.question
    told = f"{option.help[0].upper()}{option.help[1:]}."
    # of the finishes of a binding a band is none, and the question lists both
    words = question.words if question and name == "finish" else option.words
    return Field(
        name,
        option.value,
        label(name),
        question.asks if question else told,
        question.why if question else "",
        question.example if question and question.example else "",
        (question.usual({}) or "") if question and name == "finish" else option.default,
        tuple(_words(words, option.question)),
        option.repeated,
        tuple(sent_to(option, form)),
        where_to_measure(name),
        few=question is None or question.optional or option.repeated or name not in belonging.needed,
        belongs=name in belonging.names,
    )


def _words(words: Iterable[str], question: Question | None) -> Iterable[tuple[str, str]]:
    meanings: Mapping[str, str] = question.meanings if question else {}
    for word in words:
        meaning = meanings.get(word, "")
        yield word, f"{word}: {meaning}" if meaning else word
