"""How long the page stays: while a window is open, a minute more, and for ever before the first one."""

from __future__ import annotations

import re

from tests.browser.conftest import Clock, Window
from tiler.browser.presence import MOST_WINDOWS, Presence


def test_nothing_ends_before_the_first_window(presence: Presence, clock: Clock) -> None:
    clock.now += 1e6
    assert not presence.over


def test_it_ends_a_minute_after_the_last_window_is_closed(presence: Presence, clock: Clock) -> None:
    for name in "ab":
        presence.shown(name)
        presence.beats(name)
    presence.closed("a")
    clock.now += 100
    assert not presence.over
    presence.closed("b")
    clock.now += 59
    assert not presence.over
    clock.now += 1
    assert presence.over


def test_another_page_of_the_same_window_keeps_it(presence: Presence, clock: Clock) -> None:
    presence.shown("a")
    presence.beats("a")
    presence.shown("b")
    presence.closed("a")
    clock.now += 61
    assert not presence.over


def test_a_window_that_falls_silent_is_closed(presence: Presence, clock: Clock) -> None:
    """This test ensures that a hidden window, which beats once a minute, counts as open, and a crashed one does not."""
    presence.shown("a")
    for _ in range(50):
        presence.beats("a")
        clock.now += 65
        assert not presence.over
    clock.now += 120
    assert presence.over


def test_a_window_without_scripts_counts_for_half_an_hour_after_its_last_request(
    presence: Presence, clock: Clock
) -> None:
    presence.shown("a")
    clock.now += 29 * 60
    assert not presence.over
    presence.shown("b")
    clock.now += 30 * 60 - 1
    assert not presence.over
    clock.now += 1
    assert presence.over


def test_many_windows_are_not_remembered_for_ever(presence: Presence) -> None:
    for number in range(MOST_WINDOWS + 5):
        presence.shown(f"{number}")
    assert len(presence._windows) == MOST_WINDOWS


def test_a_page_counts_and_its_script_beats_and_closes_it(window: Window, presence: Presence, clock: Clock) -> None:
    name = re.search('data-window="([^"]+)"', window.get("/strip").text)
    assert name
    assert window.post("/here", name[1]).status_code == 204
    assert window.post("/closed", name[1]).status_code == 204
    clock.now += 60
    assert presence.over


def test_who_is_refused_keeps_nothing_open(window: Window, presence: Presence, clock: Clock) -> None:
    window.get("/strip", headers={"Host": "evil.example"})
    window.post("/here", "a", headers={"Origin": "http://evil.example"})
    assert presence._windows == {}
