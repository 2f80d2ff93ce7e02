"""Decaying sinusoids in the discrete Fourier transform: their exact shape there, and a least-squares fit of it.

A sound x[n] = Re Σ c·exp(s·n) of N samples has, with u = s − 2πik/N, the transform

    X[k] = ½ Σ c·(exp(sN) − 1)/(exp(u) − 1)  +  the same of the conjugates,

without window and without approximation: what is cut off at the end of the recording is in the numerator.
Near a partial a few dozen values of k hold nearly all of its energy, so that each partial, or a few that
overlap, can be fitted on these alone. For white noise the least-squares fit is the one of maximum
likelihood, and the
inverse of its normal matrix is the bound of Cramér and Rao.

References
----------
D. C. Rife and R. R. Boorstyn, Single-tone parameter estimation from discrete-time observations, IEEE Trans.
Inf. Theory 20 (1974) 591-598 (the bound for a steady sinusoid, which the decaying one has for a limit).
"""

from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

Complex = NDArray[np.complex128]
Real = NDArray[np.floating[Any]]
Whole = NDArray[np.int64]

TINY = 1e-12
"""Keeps a pole off the unit circle, where a frequency on a bin would divide zero by zero."""


MOST_STEPS = 15


class Fit(NamedTuple):
    """Poles and amplitudes that fit a stretch of a spectrum best.

    Parameters
    ----------
    poles : array of complex
        s per sample: −α + 2πif, with α and f in units of the sampling rate.
    amplitudes : array of complex
        c, with its size in units of the samples.
    misfit : float
        Sum of squares of what is left in the stretch.
    spread : array of float
        Standard error of the real and of the imaginary part of each pole for noise of unit variance a bin.
    amplitude_spread : array of float
        The same of each amplitude.
    """

    poles: Complex
    amplitudes: Complex
    misfit: float
    spread: Real
    amplitude_spread: Real


def shape(poles: Complex, bins: Whole, length: int) -> Complex:
    """Give the transform of exp(s·n), n < ``length``, at each bin: one column a pole."""
    off = poles[None, :] - TINY - 2j * np.pi / length * bins[:, None]
    return np.asarray(np.expm1((poles - TINY) * length)[None, :] / np.expm1(off), np.complex128)


def spectrum_of(poles: Complex, amplitudes: Complex, bins: Whole, length: int) -> Complex:
    """Give the transform of the real sound that the poles make, at each bin."""
    both: Complex = 0.5 * (
        shape(poles, bins, length) @ amplitudes + shape(poles.conj(), bins, length) @ amplitudes.conj()
    )
    return both


def sound_of(poles: Complex, amplitudes: Complex, length: int) -> Real:
    """Give the real sound that the poles make, ``length`` samples of it."""
    block = 1 << max(1, (length.bit_length() // 2))
    rows = -(-length // block)
    starts = np.exp(np.outer(np.arange(rows) * block, poles)) * amplitudes
    within = np.exp(np.outer(poles, np.arange(block)))
    sound: Real = (starts @ within).real.reshape(-1)[:length]
    return sound


def fit(
    values: Complex, bins: Whole, length: int, poles: Complex, *, fastest: float, enough: float = 0.0
) -> Fit:
    """Fit decaying sinusoids to a stretch of a spectrum, beginning at ``poles``.

    Parameters
    ----------
    values : array of complex
        The transform at ``bins``, other sounds taken away.
    bins : array of int
        Which values of the transform they are.
    length : int
        Number of samples that were transformed.
    poles : array of complex
        Where to begin, one for each sinusoid.
    fastest : float
        Largest decay α a sample that is allowed.
    enough : float
        Smallest gain in the misfit for which it is worth another step.

    Returns
    -------
    Fit
        The best found. The spectrum is an analytic function of the poles, so that a step of Levenberg and
        Marquardt
        is one complex linear problem; amplitudes follow by linear least squares.
    """
    image = np.zeros(len(bins), complex)
    amplitudes, misfit = _amplitudes(values, bins, length, poles, image)
    size = len(poles)
    slowest_turn, fastest_turn = 2.0 * np.pi / length * bins[0], 2.0 * np.pi / length * bins[-1]
    damping = 1e-3
    for _ in range(MOST_STEPS):
        image = 0.5 * (shape(poles.conj(), bins, length) @ amplitudes.conj())
        amplitudes, misfit = _amplitudes(values, bins, length, poles, image)
        normal, right = _normal(values - image, bins, length, poles, amplitudes)
        gain = 0.0
        for _ in range(6):
            tried = poles + _solved(normal + damping * np.diag(np.diag(normal)), right)[size:] / length
            tried = np.clip(tried.real, -fastest, 0.0) + 1j * np.clip(tried.imag, slowest_turn, fastest_turn)
            found, left = _amplitudes(values, bins, length, tried, image)
            if left <= misfit:
                gain = misfit - left
                poles, amplitudes, misfit = tried, found, left
                damping = max(damping / 10.0, 1e-9)
                break
            damping *= 10.0
        if gain <= max(enough, 1e-9 * misfit):
            break
    normal, _ = _normal(values - image, bins, length, poles, amplitudes)
    spread = _spread(normal)
    return Fit(poles, amplitudes, misfit, spread[size:] / length, spread[:size])


def _amplitudes(
    values: Complex, bins: Whole, length: int, poles: Complex, image: Complex
) -> tuple[Complex, float]:
    columns = 0.5 * shape(poles, bins, length)
    if len(poles) == 1:
        column = columns[:, 0]
        amplitudes = np.array([np.vdot(column, values - image) / np.vdot(column, column).real])
    else:
        amplitudes = np.linalg.lstsq(columns, values - image, rcond=1e-10)[0]
    left = values - image - columns @ amplitudes
    return amplitudes, float(np.vdot(left, left).real)


def _normal(
    values: Complex, bins: Whole, length: int, poles: Complex, amplitudes: Complex
) -> tuple[Complex, Complex]:
    """Give the normal matrix and right side of a step in amplitudes and poles (poles in units of 1/N)."""
    below = np.expm1(poles[None, :] - TINY - 2j * np.pi / length * bins[:, None])
    above = np.expm1((poles - TINY) * length)[None, :]
    columns = 0.5 * above / below
    slopes = 0.5 * amplitudes * ((above + 1.0) / below - above * (below + 1.0) / (below * below * length))
    every = np.hstack([columns, slopes])
    return every.conj().T @ every, every.conj().T @ (values - columns @ amplitudes)


def _solved(matrix: Complex, right: Complex) -> Complex:
    try:
        return np.asarray(np.linalg.solve(matrix, right), np.complex128)
    except np.linalg.LinAlgError:
        return np.zeros_like(right)


def _spread(normal: Complex) -> Real:
    """Give the standard errors of amplitudes and poles (real and imaginary part alike), noise of unit variance a bin."""
    try:
        variance = np.diag(np.linalg.inv(normal)).real / 2.0
    except np.linalg.LinAlgError:
        return np.full(len(normal), np.inf)
    return np.sqrt(np.where(variance > 0.0, variance, np.inf))
