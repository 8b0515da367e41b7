"""The list of published values behind each formula is that of the tests themselves."""

from __future__ import annotations

from rigcalc.formulas import all_formulas
from rigcalc.formulas.beams import euler_load
from rigcalc.formulas.sections import annulus_area
from rigcalc.reports.sheet.published import FILE, published_checks

from .published_map import as_json, called_by, expected


def test_the_list_is_up_to_date() -> None:
    # python -m tests.report.published_map writes it anew
    assert FILE.read_text(encoding="utf-8") == as_json(expected())


def test_every_name_on_it_is_a_formula() -> None:
    assert len(published_checks()) > 60
    assert set(published_checks()) <= {formula.name for formula in all_formulas()}


def test_the_watch_sees_what_is_called_and_nothing_else() -> None:
    formulas = {f.function.__code__: f.name for f in all_formulas()}
    assert called_by(lambda: float(annulus_area(D=0.1, d=0.08)), formulas) == {"annulus_area"}
    assert called_by(lambda: 1.0, formulas) == set()
    assert euler_load.__code__ in formulas
