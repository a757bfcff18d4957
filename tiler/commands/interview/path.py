"""All that ``tiler start`` asks, and which of it belongs to the answers so far."""

from __future__ import annotations

from collections.abc import Iterator

from tiler.commands.interview.edge_questions import EDGE_QUESTIONS
from tiler.commands.interview.question import Answers, Question
from tiler.commands.interview.strip_questions import STRIP_QUESTIONS

QUESTIONS = EDGE_QUESTIONS + STRIP_QUESTIONS
"""All questions, in the order in which they are asked."""


def path(answers: Answers) -> Iterator[Question]:
    """Give the questions that belong to these answers, in their order."""
    return (question for question in QUESTIONS if question.asked(answers))
