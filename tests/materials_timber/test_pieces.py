"""Design values of timber that belong to one piece: hollow, shallow, scarfed, creeping, with the user's factors."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from rigcalc.materials.timber import STRENGTHS, Factor, Size, scarf_efficiency

from .test_timber import HANDBOOK, SPAR, clear, graded, values


@pytest.mark.parametrize("name", HANDBOOK)
def test_hollow_clear_spar_is_held_to_crushing(name: str) -> None:
    solid, hollow = clear(name), clear(name, size=replace(SPAR, section="hollow round"))
    expected = min(solid.value_Pa("bending"), solid.value_Pa("compression"))
    assert hollow.value_Pa("bending") == expected
    assert hollow.chain("bending").of == "bending"
    assert any("thin wall" in text for text in hollow.cautions)


def test_hollow_edge_says_what_governs() -> None:
    hollow = clear(size=replace(SPAR, section="hollow round"))
    assert hollow.chain("bending").start_name.endswith("compression governs the edge of a hollow section")
    of_class = graded(size=replace(SPAR, section="hollow round"))
    assert of_class.value_Pa("bending") == of_class.value_Pa("tension")


def test_depth_factor_is_for_shallow_rectangles() -> None:
    def ratio(section: Any, depth_m: float, name: str = "C24") -> float:
        timber = graded(name, size=Size(section=section, depth_m=depth_m))
        return timber.value_Pa("bending") / graded(name).value_Pa("bending")

    assert ratio("rectangle", 0.100) == pytest.approx(1.5**0.2, rel=1e-12)
    assert ratio("rectangle", 0.150) == pytest.approx(1.0, rel=1e-12)
    assert ratio("rectangle", 0.300) == pytest.approx(1.0, rel=1e-12)
    assert ratio("rectangle", 0.020) == pytest.approx(1.3, rel=1e-12)
    assert ratio("solid round", 0.100) == pytest.approx(1.0, rel=1e-12)
    shallow = graded(size=Size(section="rectangle", depth_m=0.1))
    assert shallow.value_Pa("compression") == graded().value_Pa("compression")


@pytest.mark.parametrize(
    ("slope", "efficiency"), [(1 / 20, 0.90), (1 / 12, 0.90), (1 / 11, 0.877), (1 / 8, 0.80), (1 / 5, 0.65)]
)
def test_scarf(slope: float, efficiency: float) -> None:
    assert scarf_efficiency(slope).value == pytest.approx(efficiency, abs=5e-4)
    for whole, scarfed in ((clear(), clear(scarf_slope=slope)), (graded(), graded(scarf_slope=slope))):
        ratio = {of: values(scarfed)[of] / value for of, value in values(whole).items()}
        assert ratio.pop("bending") == pytest.approx(efficiency, abs=5e-4)
        assert ratio.pop("tension") == pytest.approx(efficiency, abs=5e-4)
        assert set(ratio.values()) == {1.0}
        assert any("scarf" in text for text in scarfed.cautions)
        assert any("steeper than 1 in 12" in text for text in scarfed.cautions) == (slope > 1 / 12)


def test_creep() -> None:
    assert [graded(service_class=c).creep.value for c in (1, 2, 3)] == [0.6, 0.8, 2.0]
    assert [clear(moisture=M).creep.value for M in (0.12, 0.19, 0.20)] == [0.5, 0.5, 1.0]


# --- the user's own ---


def test_users_factor_is_taken_where_it_belongs() -> None:
    round_credit = Factor(name="round", value=1.18, source="the user's own", on=("bending",))
    for plain, credited in (
        (clear(), clear(factors=[round_credit])),
        (graded(), graded(factors=[round_credit])),
    ):
        ratio = {of: values(credited)[of] / value for of, value in values(plain).items()}
        assert ratio.pop("bending") == pytest.approx(1.18, rel=1e-14)
        assert set(ratio.values()) == {1.0}
        assert credited.chain("bending").factors[-1] == round_credit


def test_users_factor_is_on_every_strength_when_not_said() -> None:
    halved = values(clear(factors=[Factor(name="half", value=0.5, source="the user's own")]))
    for of, value in values(clear()).items():
        assert halved[of] == pytest.approx(value * (0.5 if of in STRENGTHS else 1.0), rel=1e-14)


@pytest.mark.parametrize("design", [clear, graded])
def test_users_safety_factor_takes_the_place_of_the_tables(design: Any) -> None:
    twice = design(safety_factor=2.6)
    for of in STRENGTHS:
        assert twice.value_Pa(of) == pytest.approx(design().value_Pa(of) / 2, rel=1e-12)
    assert design(safety_factor=1.3).chain("bending").factors[-1].source == "the user's own"
