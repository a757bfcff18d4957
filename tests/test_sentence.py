"""This checks places and sentences: what is printed of them, and that they keep their keys."""

from __future__ import annotations

import pickle

import pytest

from tiler.errors import SpecError, UnreadableError
from tiler.sentence import Key, Phrase, Place, Sentence, SizeKey, joined, worded

EDGE = Place("crew.toml", ("pieces", 0, "edge"))


@pytest.mark.parametrize(
    ("place", "text"),
    [
        (Place("crew.toml"), "crew.toml"),
        (Place("--sizes"), "--sizes"),
        (Place("", ("paper", "margin")), "paper.margin"),
        (EDGE.at("front-half"), "crew.toml: pieces[0].edge.front-half"),
        (EDGE.at("corners", SizeKey("M"), 2), "crew.toml: pieces[0].edge.corners.M[2]"),
        (EDGE.at("a\x1b"), r"crew.toml: pieces[0].edge.'a\x1b'"),
        (EDGE.at("x" * 41), f"crew.toml: pieces[0].edge.{'x' * 37}..."),
    ],
)
def test_a_place_is_written_as_its_path(place: Place, text: str) -> None:
    assert str(place) == text


def test_a_size_is_said_once() -> None:
    assert EDGE.at("whole", SizeKey("M")).at_size("M").size is None
    assert EDGE.at("M").at_size("M").size == "M"
    fault = SpecError("is zero", EDGE.at("whole"))
    assert str(fault.at_size("M")) == "crew.toml: pieces[0].edge.whole: is zero (size M)"
    assert str(SpecError("is zero").at_size("M")) == "is zero (size M)"
    assert str(fault.at_size(None)) == str(fault)


def test_a_fault_of_a_file_becomes_one_of_the_place_that_names_it() -> None:
    fault = UnreadableError("front.svg is damaged").at(EDGE.at("whole"))
    assert isinstance(fault, UnreadableError)
    assert str(fault) == "crew.toml: pieces[0].edge.whole: front.svg is damaged"
    assert str(SpecError("is zero", Place("hem.svg")).at(EDGE)) == "crew.toml: pieces[0].edge: hem.svg: is zero"


def test_a_sentence_reads_as_a_spec_and_is_reworded_part_by_part() -> None:
    hint = Sentence(Key("whole", '"24 cm"'), ", or ", Key("front"))
    sentence = Sentence("is missing; write ", hint, "; ", Phrase.NAME_FABRIC, " whole")
    assert sentence == 'is missing; write whole = "24 cm", or front; name its fabric whole'
    assert worded(sentence, lambda part: f"<{part}>") == (
        'is missing; write <whole = "24 cm">, or <front>; <name its fabric> whole'
    )


def test_a_plain_text_stays_as_it_is() -> None:
    assert worded("whole = front, name its fabric", lambda _part: "") == "whole = front, name its fabric"


def test_parts_are_joined_as_a_list() -> None:
    both = joined(" and ", map(Key, ("front", "back")))
    assert both == "front and back"
    assert worded(both, lambda part: f"--{part}") == "--front and --back"


def test_faults_and_sentences_pass_from_process_to_process() -> None:
    fault = SpecError(Sentence("contradicts ", Key("whole", '"1 in"', ("edge",))), EDGE.at_size("M"))
    again = pickle.loads(pickle.dumps(fault))
    assert (str(again), again.place) == (str(fault), fault.place)
    (key,) = [part for part in again.why.parts if isinstance(part, Key)]
    assert (key.name, key.value, key.within) == ("whole", '"1 in"', ("edge",))
