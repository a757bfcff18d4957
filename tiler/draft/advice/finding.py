"""What was found about a piece, and the one diagnosis that is made of it.

A finding says what is so and, apart from that, what to do about it.  Where several checks
are not passed, the first of them in the order of :class:`Check` is the cause to mend
first: it alone says what to do, since every other is judged anew after that.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from tiler.draft.figures import FailedCheck
from tiler.languages.catalogue import noted
from tiler.languages.words import Words
from tiler.sentence import Phrase, Sentence, names_key


class Check(StrEnum):
    """What is judged, in the order in which it is mended; from ``NUMBER`` on nothing fails."""

    OPENING = "opening"
    NO_GOOD_LENGTH = "no-good-length"
    LENGTH = "length"
    PART = "part"
    BEND = "bend"
    NUMBER = "number"
    REMARK = "remark"

    @property
    def fails(self) -> bool:
        """Tell whether a piece with such a finding has a check that is not passed."""
        return self not in (Check.NUMBER, Check.REMARK)


@dataclass(frozen=True)
class Finding:
    """What is so, in a sentence without its stop, and what to do about it, behind ``joint``.

    ``short`` says it in a few words after "although": "it stands away".  ``aloud`` is what to do in words that name no
    key of the spec, for who has only the paper.
    """

    check: Check
    says: str
    asks: str = ""
    joint: str = ". "
    short: str = ""
    aloud: str = ""

    @property
    def text(self) -> str:
        """The whole sentence."""
        return Words(_JOINED[self.joint], says=self.says, asks=self.asks) if self.asks else self.judgement

    @property
    def on_paper(self) -> str:
        """The whole sentence, or only what is so where it asks to write something into the spec.

        Empty where it is about the spec itself: a number in it, or what it does not say.
        """
        if not names_key(self.text):
            return self.text
        if self.aloud:
            return Words(_JOINED[self.joint], says=self.says, asks=self.aloud)
        unsaid = any(isinstance(part, Phrase) for part in Sentence(self.asks).parts)
        of_spec = self.check is Check.NUMBER or names_key(self.says) or unsaid
        return "" if of_spec and not self.check.fails else self.judgement

    @property
    def judgement(self) -> str:
        """The sentence without what to do."""
        return Words("{says}.", says=self.says)


_JOINED = {
    ". ": noted("{says}. {asks}."),
    ": ": noted("{says}: {asks}."),
    "; ": noted("{says}; {asks}."),
}
MEND_FIRST = noted("{text} Mend this first, then compute again.")


def ordered(findings: Iterable[Finding]) -> list[Finding]:
    """Return the findings in the order in which they are told."""
    order = list(Check)
    return sorted(findings, key=lambda finding: order.index(finding.check))


def diagnosed(findings: Iterable[Finding]) -> tuple[tuple[str, ...], tuple[FailedCheck, ...]]:
    """Return the sentences to tell, the cause to mend first before all others, and the checks that are not passed."""
    told = ordered(findings)
    failing = [finding for finding in told if finding.check.fails]
    several = len({finding.check for finding in failing}) > 1
    texts = []
    for finding in told:
        if not several or not finding.check.fails:
            texts.append(finding.text)
        elif finding.check is not failing[0].check:
            texts.append(finding.judgement)
        else:
            texts.append(Words(MEND_FIRST, text=finding.text) if finding is failing[0] else finding.text)
    failed = tuple(
        FailedCheck(finding.check.value, finding.short, text, finding.on_paper)
        for finding, text in zip(told, texts, strict=True)
        if finding.check.fails
    )
    return tuple(texts), failed
