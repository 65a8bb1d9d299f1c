"""The mixed logit against published fits, against numerical derivatives, and on data that allow no fit."""

import numpy as np
import pytest
from published import DAMAGED, TEMPERATURE, at_home, cbpp, lsat, seeds
from scipy.special import xlogy

from evaltrack.analysis.mixed_logit import Priors, Term, fit_mixed_logit
from evaltrack.analysis.mixed_logit.design import laplace_of
from evaltrack.analysis.mixed_logit.laplace_bias import sd_shifts
from evaltrack.analysis.mixed_logit.likelihood import LaplaceObjective, QuadratureObjective, Scaled
from evaltrack.analysis.mixed_logit.optimiser import bfgs, hessian_of
from evaltrack.analysis.mixed_logit.posterior import SdPosterior
from evaltrack.analysis.mixed_logit.problem import checked


def test_cbpp_by_laplace():
    """Herds: estimates of the R package lme4; log-likelihood asserted in the tests of MixedModels.jl."""
    incidence, size, periods, herd = cbpp()
    fit = fit_mixed_logit(incidence, size, periods, [Term(herd)], method="laplace")
    assert fit.converged
    assert not fit.singular
    assert fit.warnings == ()
    np.testing.assert_allclose(fit.fixed, [-1.3985, -0.9923, -1.1287, -1.5803], atol=1e-4)
    np.testing.assert_allclose(fit.term_sd, [0.6423], atol=1e-4)
    assert fit.log_likelihood == pytest.approx(-92.02628, abs=1e-5)


def test_cbpp_by_quadrature():
    """Herds: estimates and standard errors of lme4 with adaptive quadrature."""
    incidence, size, periods, herd = cbpp()
    fit = fit_mixed_logit(incidence, size, periods, [Term(herd)], method="quadrature")
    np.testing.assert_allclose(fit.fixed, [-1.3992, -0.9914, -1.1278, -1.5795], atol=2e-4)
    np.testing.assert_allclose(fit.fixed_se, [0.2335, 0.3068, 0.3268, 0.4276], atol=2e-4)
    np.testing.assert_allclose(fit.term_sd, [0.6475], atol=2e-4)
    assert fit.method == "quadrature"


def test_seeds():
    """Plates: maximum likelihood by data cloning (a stored BUGS example) and by lme4, 20 nodes.

    Breslow and Clayton (1993), JASA 88:9-25, made this their example.
    """
    germinated, sown, design = seeds()
    fit = fit_mixed_logit(germinated, sown, design, [Term(np.arange(21))], method="quadrature")
    np.testing.assert_allclose(fit.fixed, [-0.54843, 0.09699, 1.33704, -0.81046], atol=2e-5)
    np.testing.assert_allclose(fit.fixed, [-0.5485, 0.0969, 1.337, -0.8105], atol=2e-4)
    np.testing.assert_allclose(fit.term_sd, [0.23624], atol=2e-5)
    np.testing.assert_allclose(fit.term_sd, [0.2364], atol=2e-4)


def test_lsat_takes_quadrature_by_itself():
    """Five answers a person: Rizopoulos (2006), J Stat Softw 17(5); Laplace is biased, and it says so."""
    right, items, person = lsat()
    fit = fit_mixed_logit(right, np.ones(5000), items, [Term(person)])
    assert fit.method == "quadrature"
    assert "quadrature is used" in fit.warnings[0]
    np.testing.assert_allclose(fit.term_sd, [0.7551], atol=1e-4)
    difficulties = -fit.fixed / fit.term_sd
    np.testing.assert_allclose(difficulties, [-3.6153, -1.3224, -0.3176, -1.7301, -2.7802], atol=1e-3)
    assert fit.log_likelihood == pytest.approx(-2466.938, abs=1e-3)
    laplace = fit_mixed_logit(right, np.ones(5000), items, [Term(person)], method="laplace")
    np.testing.assert_allclose(laplace.term_sd, [0.7085], atol=1e-4)


def test_challenger_without_terms():
    """Without terms it is a plain logistic regression: Dalal et al. (1989), any damage on temperature."""
    design = np.column_stack([np.ones(23), TEMPERATURE])
    fit = fit_mixed_logit(DAMAGED, np.ones(23), design, [])
    np.testing.assert_allclose(fit.fixed, [15.0429, -0.2322], atol=1e-4)
    np.testing.assert_allclose(fit.fixed_se, [7.3786, 0.1082], atol=1e-4)


ABILITIES = {  # Milwaukee, Detroit, Toronto, New York, Boston, Cleveland, against Baltimore; being at home
    6: ([1.5814, 1.4364, 1.2945, 1.2476, 1.1077, 0.6839], [0.3433, 0.3396, 0.3367, 0.3359, 0.3339, 0.3319]),
    7: (
        [1.6196, 1.4754, 1.3271, 1.2813, 1.1438, 0.7047, 0.3023],
        [0.3474, 0.3446, 0.3403, 0.3404, 0.3378, 0.3350, 0.1309],
    ),
}


@pytest.mark.parametrize(("columns", "deviance"), [(6, 44.053), (7, 38.643)])
def test_who_beats_whom(columns, deviance):
    """A try against somebody is the difference of two abilities, without and with the home side's advantage.

    Agresti (2002), section 10.6, on seven baseball teams; to four digits in Turner and Firth (2012), J Stat
    Softw 48(9), whose figures are typed in from memory.
    """
    won, games, design = at_home()
    fit = fit_mixed_logit(won, games, design[:, :columns], [])
    abilities, errors = ABILITIES[columns]
    np.testing.assert_allclose(fit.fixed, abilities, atol=6e-5)
    np.testing.assert_allclose(fit.fixed_se, errors, atol=6e-5)
    share = 1 / (1 + np.exp(-design[:, :columns] @ fit.fixed))
    assert _deviance(won, games, share) == pytest.approx(deviance, abs=6e-4)


def _deviance(done, tries, share):
    parts = ((done, share), (tries - done, 1 - share))
    return 2 * sum(np.sum(xlogy(count, count / (tries * expected))) for count, expected in parts)


def _crossed(seed: int = 5, n: int = 150):
    rng = np.random.default_rng(seed)
    time = rng.uniform(-1, 1, n)
    tries = rng.integers(1, 4, n)
    unit, day = rng.integers(0, 9, n), rng.integers(0, 6, n)
    done = rng.binomial(tries, 1 / (1 + np.exp(-rng.normal(size=9)[unit] - 0.3 * time)))
    terms = [Term(unit), Term(unit, time), Term(day)]
    return done, tries, np.column_stack([np.ones(n), time]), terms


def _numerical(objective, at, step=1e-5):
    ways = np.eye(len(at)) * step
    return np.array([(objective(at + way)[0] - objective(at - way)[0]) / (2 * step) for way in ways])


@pytest.mark.parametrize("seed", range(3))
def test_gradient_of_laplace(seed):
    """The exact gradient is the one that finite differences of the value find."""
    objective = LaplaceObjective(checked(*_crossed(seed)), Scaled(np.zeros(2), np.eye(2)))
    at = np.array([0.3, -0.2, -0.4, -1.1, -0.7])
    np.testing.assert_allclose(objective(at)[1], _numerical(objective, at), rtol=1e-5, atol=1e-5)


def test_gradient_of_quadrature():
    """The averaged score is the gradient that finite differences of the integral find."""
    incidence, size, periods, herd = cbpp()
    objective = QuadratureObjective(
        checked(incidence, size, periods, [Term(herd)]), Scaled(np.zeros(4), np.eye(4))
    )
    at = np.array([-1.2, -0.9, -1.0, -1.4, -0.2])
    np.testing.assert_allclose(objective(at)[1], _numerical(objective, at), rtol=1e-5, atol=1e-5)


def test_laplace_is_near_the_integral():
    """With many tries a level, Laplace's value is that of the integral by brute force."""
    done, tries, level = np.array([30, 22, 41]), np.array([60, 50, 55]), np.arange(3)
    cells = checked(done, tries, np.ones((3, 1)), [Term(level)])
    objective = LaplaceObjective(cells, Scaled(np.zeros(1), np.eye(1)))
    effect = np.linspace(-5, 5, 20001)
    eta = 0.2 + effect
    rows = done[:, None] * eta - tries[:, None] * np.logaddexp(0, eta)
    density = np.exp(-(effect**2) / (2 * 0.5**2)) / (0.5 * np.sqrt(2 * np.pi))
    brute = np.log(np.trapezoid(np.exp(rows) * density, effect, axis=1)).sum()
    at = np.array([0.2, np.log(0.5)])
    assert objective(at)[0] == pytest.approx(brute, abs=0.02)
    exact = QuadratureObjective(cells, objective.scaled)
    assert exact(at)[0] == pytest.approx(brute, abs=1e-8)


def test_arrangement_changes_nothing():
    """The bordered factor gives the log determinant, solution and inverse of the dense matrix."""
    laplace = laplace_of(checked(*_crossed()), np.zeros(2), np.ones(2))
    mode = laplace.mode(np.array([-0.4, -1.1, -0.7]))
    weight = laplace.tries * mode.share * (1 - mode.share)
    design = laplace.matrix.toarray()
    dense = design.T @ (weight[:, None] * design) + np.diag(mode.precision)
    assert laplace.arrangement.blocks > 1
    assert mode.factor.log_det == pytest.approx(np.linalg.slogdet(dense)[1])
    right = np.arange(len(dense), dtype=float)
    np.testing.assert_allclose(mode.factor.solve(right), np.linalg.solve(dense, right), rtol=1e-8)
    first, second = np.indices(dense.shape)
    place = laplace.arrangement.position(first, second)
    kept = place >= 0
    np.testing.assert_allclose(
        mode.factor.inverse()[place[kept]], np.linalg.inv(dense)[kept], rtol=1e-7, atol=1e-12
    )


@pytest.mark.parametrize("seed", range(3))
def test_sds_stand_at_the_top_of_their_posterior(seed):
    """The quick climb ends where the slope is zero, and says that it did."""
    cells = checked(*_crossed(seed))
    fit = fit_mixed_logit(*_crossed(seed), Priors(1.0, 0.5))
    density = SdPosterior(laplace_of(cells, np.zeros(2), np.ones(2)), np.full(3, 0.5))
    assert fit.converged
    np.testing.assert_allclose(density(np.log(fit.term_sd))[1], 0, atol=0.01)
    np.testing.assert_allclose(_numerical(density, np.log(fit.term_sd)), 0, atol=0.01)


def test_a_climb_that_does_not_arrive_says_so():
    """A function that rises for ever has no top, and a wrong gradient leads nowhere."""
    assert not bfgs(lambda at: (float(at[0]), np.ones(1)), np.zeros(1), np.ones(1), 1e-9).reached
    assert not bfgs(lambda at: (-float(at[0]), np.ones(1)), np.zeros(1), np.ones(1), 1e-9).reached


def test_doubt_about_the_sds_widens_the_posterior():
    """The posterior is wider than it would be were the SDs known."""
    done, tries, fixed, terms = _crossed()
    priors = Priors(1.0, 0.5)
    fit = fit_mixed_logit(done, tries, fixed, terms, priors)
    laplace = laplace_of(checked(done, tries, fixed, terms), np.zeros(2), np.ones(2))
    known = laplace.mode(np.log(fit.term_sd)).factor.inverse()[laplace.diagonal]
    each = np.arange(len(known))[:, None]
    assert (fit.posterior.moments(each)[1][:, 0, 0] >= known - 1e-12).all()
    assert (fit.posterior.moments(each)[1][:, 0, 0] > known * 1.001).any()
    assert fit.converged


def test_covariances_across_parts():
    """Covariances between effects of different parts are those of the dense inverse too."""
    fit = fit_mixed_logit(*_crossed(), Priors(1.0, 0.5))
    laplace = laplace_of(checked(*_crossed()), np.zeros(2), np.ones(2))
    mode = laplace.mode(np.log(fit.term_sd))
    design, weight = laplace.matrix.toarray(), laplace.tries * mode.share * (1 - mode.share)
    dense = np.linalg.inv(design.T @ (weight[:, None] * design) + np.diag(mode.precision))
    every = np.arange(len(dense))
    found = fit.posterior.moments(every)[1] - fit.posterior.sd_factor.T @ fit.posterior.sd_factor
    np.testing.assert_allclose(found, dense, rtol=1e-4, atol=1e-6)


@pytest.mark.parametrize("done", [[1, 1, 1], [0, 0, 0]])
def test_all_done_or_all_missed_is_said(done):
    """Without a maximum there is no converged fit, only finite numbers and a sentence."""
    fit = fit_mixed_logit(done, [1, 1, 1], np.ones((3, 1)), [Term(np.arange(3))])
    assert not fit.converged
    assert "separate" in fit.warnings[0]
    assert np.isfinite([*fit.fixed, *fit.fixed_se, *fit.term_sd, fit.log_likelihood]).all()


def test_complete_separation_is_said():
    """A design that tells done from missed without fault has no finite estimates."""
    time = np.linspace(-1, 1, 12)
    fit = fit_mixed_logit(
        time > 0, np.ones(12), np.column_stack([np.ones(12), time]), [Term(np.arange(12) % 3)]
    )
    assert not fit.converged
    assert "separate" in fit.warnings[0]
    assert np.isfinite([*fit.fixed, *fit.fixed_se, *fit.term_sd, fit.log_likelihood]).all()


def test_no_difference_between_levels_is_singular():
    """Where levels do not differ more than luck, the SD is zero and the fit says so."""
    fit = fit_mixed_logit([6, 6, 6, 6], [10] * 4, np.ones((4, 1)), [Term(np.arange(4))])
    assert fit.singular
    assert fit.term_sd[0] == 0
    assert fit.warnings == ("An SD is estimated as zero.",)
    assert fit.fixed[0] == pytest.approx(np.log(1.5), abs=1e-6)


def _slopes(rng, tries, units=25):
    """Return a fit of levels and slopes, of SD one, from four occasions of so many tries a unit."""
    unit, time = np.repeat(np.arange(units), 4), np.tile([-1, -0.3, 0.3, 1], units)
    level, slope = rng.normal(size=(2, units))
    done = rng.binomial(tries, 1 / (1 + np.exp(-level[unit] - slope[unit] * time)))
    fixed = np.column_stack([np.ones(4 * units), time])
    return fit_mixed_logit(done, np.full(4 * units, tries), fixed, [Term(unit), Term(unit, time)])


@pytest.mark.parametrize("seed", range(10))
def test_slope_with_four_occasions(seed):
    """Four yes-or-no occasions a unit are too little for a random slope, and the result says so."""
    fit = _slopes(np.random.default_rng(seed), 1)
    assert np.isfinite([*fit.fixed, *fit.term_sd, fit.log_likelihood]).all()
    assert any("few tries" in told or "zero" in told for told in fit.warnings)
    assert fit.singular == bool((fit.term_sd == 0).any()) == ("An SD is estimated as zero." in fit.warnings)


def test_what_is_said_of_few_tries_is_true():
    """Where Laplace says nothing its SDs are right on average, and where it warns they are too small."""
    rng = np.random.default_rng(3)
    many, few = ([_slopes(rng, tries, units=100) for _ in range(4)] for tries in (20, 1))
    assert all(fit.warnings == () for fit in many)
    assert np.mean([fit.term_sd for fit in many], axis=0) == pytest.approx(1, abs=0.12)
    assert all("few tries" in fit.warnings[0] for fit in few)
    assert (np.mean([fit.term_sd for fit in few], axis=0) < 0.85).all()


def _shift(done, tries, fixed, term):
    """Return how far quadrature's log SD is from Laplace's, as it is and as it is told beforehand."""
    plain, exact = (fit_mixed_logit(done, tries, fixed, [term], method=m) for m in ("laplace", "quadrature"))
    cells = checked(done, tries, fixed, [term])
    objective = LaplaceObjective(cells, Scaled(np.zeros(cells.columns), np.eye(cells.columns)))
    log_sd = np.log(plain.term_sd)
    bent = hessian_of(objective, np.append(plain.fixed, log_sd))[-1:, -1]
    eta = cells.fixed @ plain.fixed + plain.effects[0][term.codes]
    return np.log(exact.term_sd) - log_sd, sd_shifts(cells, eta, log_sd, plain.effects, bent)


def test_the_shift_of_an_sd_is_foretold():
    """For one term the exact SD is known: the step told beforehand goes that way, and about as far."""
    for data in ((*cbpp()[:3], Term(cbpp()[3])), (*seeds(), Term(np.arange(21)))):
        true, told = _shift(*data)
        assert told == pytest.approx(true, rel=0.1)


@pytest.mark.parametrize(
    ("done", "tries"), [([1, 0, 1], [1, 1, 1]), ([1, 1], [1, 2]), ([0, 2], [1, 2]), ([1, 1, 1], [1, 1, 1])]
)
def test_three_tries_in_all(done, tries):
    """Three tries give finite figures, and a sentence that they are no ordinary ones."""
    each = np.arange(len(done))
    for terms in ([Term(each)], [Term(each), Term(each, np.linspace(-1, 1, len(done)))]):
        fit = fit_mixed_logit(done, tries, np.ones((len(done), 1)), terms)
        assert np.isfinite([*fit.fixed, *fit.term_sd, fit.log_likelihood]).all()
        assert np.isfinite(fit.fixed_se).all() or not fit.converged
        told = " ".join(fit.warnings)
        assert fit.singular == ("zero" in told or "end of its range" in told)
        assert fit.singular or not fit.converged or "few tries" in told


def test_with_priors_even_nothing_is_fitted():
    """Without any tries the posterior is the prior."""
    none = np.zeros(0)
    fit = fit_mixed_logit(
        none, none, np.zeros((0, 2)), [Term(none.astype(int), None, 3)], Priors([2.0, 1.0], 0.5)
    )
    np.testing.assert_allclose(fit.fixed_se, [2, 1])
    np.testing.assert_allclose(fit.term_sd, [0.5], rtol=1e-3)


@pytest.mark.parametrize(
    ("change", "complaint"),
    [
        ({"done": [3, 0]}, "between 0 and tries"),
        ({"tries": [1, np.nan]}, "finite"),
        ({"fixed": np.ones((3, 1))}, "one row"),
        ({"fixed": np.ones((2, 2))}, "depend on each other"),
        ({"terms": [Term(np.array([0, -1]))]}, "0 to m - 1"),
        ({"terms": [Term(np.array([0.5, 1]))]}, "whole numbers"),
        ({"tries": [0, 0], "done": [0, 0]}, "no tries"),
        ({"method": "quadrature", "terms": []}, "exactly one term"),
        ({"method": "best"}, "method"),
    ],
)
def test_what_cannot_be_fitted_is_refused(change, complaint):
    """Arguments that contradict each other raise an error that says how."""
    known = {"done": [1, 0], "tries": [1, 1], "fixed": np.ones((2, 1)), "terms": [Term(np.array([0, 1]))]}
    with pytest.raises(ValueError, match=complaint):
        fit_mixed_logit(**(known | change))
