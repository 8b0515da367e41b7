"""What stands behind a check, in one sentence, and a cure with and without its numbers."""

from __future__ import annotations

import pytest

from rigcalc.formulas.joints import least_overlap
from rigcalc.limits.about import About, Cure


@pytest.mark.parametrize(
    ("means", "line"),
    [
        ("It bends. Then it breaks. At last.", "It bends."),
        ("It bends.", "It bends."),
        ("It bends", "It bends."),
    ],
)
def test_the_first_sentence_stands_alone(means: str, line: str) -> None:
    assert About(("bent",), "metal", means, (least_overlap,), "", ()).line == line


def test_a_cure_is_told_of_a_place_or_in_general() -> None:
    cure = Cure("raise the <{name}|wall>< from {now:.1f} mm> at once", "weight")
    assert cure.said(name="tube", now=3.0) == "raise the tube from 3.0 mm at once"
    assert cure.general == "raise the wall at once"


def test_one_of_many_is_known_by_its_number() -> None:
    about = About(("opening N",), "metal", "", (least_overlap,), "", ())
    assert about.numbered(12).name == "opening 12"
    assert about.covers("opening 3")
    assert not about.covers("opening")
    with pytest.raises(ValueError, match="is none of"):
        about.named("weld")
