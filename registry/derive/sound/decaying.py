"""Decaying sinusoids in the discrete Fourier transform: their exact shape there, and a least-squares fit.

A sound x[n] = Re Σ c·exp(s·n) of N samples has, with u = s − 2πik/N, the transform

    X[k] = ½ Σ c·(exp(sN) − 1)/(exp(u) − 1)  +  the same of the conjugates,

without window and without approximation: what is cut off at the end of the recording is in the numerator.
Near a partial a few dozen values of k hold nearly all of its energy, so that each partial, or a few that
overlap, can be fitted on these alone. For white noise the least-squares fit is the one of maximum likelihood,
and the inverse of its normal matrix is the bound of Cramér and Rao.

References
----------
D. C. Rife and R. R. Boorstyn, Single-tone parameter estimation from discrete-time observations, IEEE Trans.
Inf. Theory 20 (1974) 591-598 (the bound for a steady sinusoid, which the decaying one has for a limit).
"""

from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

Complex = NDArray[np.complexfloating[Any, Any]]
Real = NDArray[np.floating[Any]]
Whole = NDArray[np.int64]
Samples = NDArray[np.floating[Any]]
"""One channel of a recording, usually of single precision."""

TINY = 1e-12
"""Keeps a pole off the unit circle, where a frequency on a bin would divide zero by zero."""
MOST_STEPS = 15


class Stretch(NamedTuple):
    """Part of a transform: its values, which they are, and of how many samples it was made."""

    values: Complex
    bins: Whole
    length: int


class Fit(NamedTuple):
    """Poles and amplitudes that fit a stretch of a transform best.

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
    """

    poles: Complex
    amplitudes: Complex
    misfit: float
    spread: Real


def shape(poles: Complex, bins: Whole, length: int) -> Complex:
    """Give the transform of exp(s·n), n < ``length``, at each bin: one column a pole."""
    off = poles[None, :] - TINY - 2j * np.pi / length * bins[:, None]
    columns: Complex = np.expm1((poles - TINY) * length)[None, :] / np.expm1(off)
    return columns


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
    sound: Real = np.real(starts @ within).reshape(-1)[:length]
    return sound


def fit(stretch: Stretch, poles: Complex, *, fastest: float, enough: float = 0.0) -> Fit:
    """Fit decaying sinusoids to a stretch of a transform, beginning at ``poles``.

    Parameters
    ----------
    stretch : Stretch
        The transform, other sounds taken away.
    poles : array of complex
        Where to begin, one for each sinusoid.
    fastest : float
        Largest decay α a sample that is allowed.
    enough : float
        Smallest gain in the misfit for which it is worth another step.

    Returns
    -------
    Fit
        The best found. The transform is an analytic function of the poles, so that a step of Levenberg and
        Marquardt is one complex linear problem; amplitudes follow by linear least squares.
    """
    bins, length, size = stretch.bins, stretch.length, len(poles)
    slowest_turn, fastest_turn = 2.0 * np.pi / length * bins[0], 2.0 * np.pi / length * bins[-1]
    # The conjugates, the image of the tones at negative frequencies, are taken from the step before.
    clear = stretch
    amplitudes, misfit = _amplitudes(clear, poles)
    damping = 1e-3
    for _ in range(MOST_STEPS):
        image = 0.5 * (shape(poles.conj(), bins, length) @ amplitudes.conj())
        clear = stretch._replace(values=stretch.values - image)
        amplitudes, misfit = _amplitudes(clear, poles)
        normal, right = _normal(clear, poles, amplitudes)
        gain = 0.0
        for _ in range(6):
            tried = poles + _solved(normal + damping * np.diag(np.diag(normal)), right)[size:] / length
            tried = np.clip(tried.real, -fastest, 0.0) + 1j * np.clip(tried.imag, slowest_turn, fastest_turn)
            found, left = _amplitudes(clear, tried)
            if left <= misfit:
                gain = misfit - left
                poles, amplitudes, misfit = tried, found, left
                damping = max(damping / 10.0, 1e-9)
                break
            damping *= 10.0
        if gain <= max(enough, 1e-9 * misfit):
            break
    normal, _ = _normal(clear, poles, amplitudes)
    return Fit(poles, amplitudes, misfit, _spread(normal)[size:] / length)


def _amplitudes(stretch: Stretch, poles: Complex) -> tuple[Complex, float]:
    """Give the amplitudes that fit best for given poles, and the misfit."""
    columns = 0.5 * shape(poles, stretch.bins, stretch.length)
    amplitudes: Complex
    if len(poles) == 1:
        column = columns[:, 0]
        amplitudes = np.array([np.vdot(column, stretch.values) / np.vdot(column, column).real])
    else:
        amplitudes = np.linalg.lstsq(columns, stretch.values, rcond=1e-10)[0]
    left = stretch.values - columns @ amplitudes
    return amplitudes, float(np.vdot(left, left).real)


def _normal(stretch: Stretch, poles: Complex, amplitudes: Complex) -> tuple[Complex, Complex]:
    """Give the normal matrix and right side of a step in amplitudes and poles (poles in units of 1/N)."""
    bins, length = stretch.bins, stretch.length
    below = np.expm1(poles[None, :] - TINY - 2j * np.pi / length * bins[:, None])
    above = np.expm1((poles - TINY) * length)[None, :]
    columns = 0.5 * above / below
    slopes = 0.5 * amplitudes * ((above + 1.0) / below - above * (below + 1.0) / (below * below * length))
    every = np.hstack([columns, slopes])
    return every.conj().T @ every, every.conj().T @ (stretch.values - columns @ amplitudes)


def _solved(matrix: Complex, right: Complex) -> Complex:
    try:
        solution: Complex = np.linalg.solve(matrix, right)
    except np.linalg.LinAlgError:
        return np.zeros_like(right)
    return solution


def _spread(normal: Complex) -> Real:
    """Give the standard errors of amplitudes and poles, real and imaginary part alike."""
    try:
        variance = np.diag(np.linalg.inv(normal)).real / 2.0
    except np.linalg.LinAlgError:
        return np.full(len(normal), np.inf)
    return np.sqrt(np.where(variance > 0.0, variance, np.inf))
