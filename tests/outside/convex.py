# SPDX-License-Identifier: GPL-3.0-or-later
"""Distances between random hulls against SciPy.

The nearest point of the hull of all differences to the origin, by the least
distance programme of Lawson and Hanson (Solving Least Squares Problems, 1974,
chapter 23): non-negative least squares, which shares nothing with our search.
Some hulls are flat, some are needles, some lie far off or overlap. Prints TAP.
"""
import subprocess
import sys

import numpy as np
from scipy.optimize import nnls

N_PAIRS = 2000
TOLERANCE_M = 1e-9


def hull_distance(a, b):
    differences = (a[:, None, :] - b[None, :, :]).reshape(-1, 3).T
    system = np.vstack([differences, np.ones(differences.shape[1])])
    weights, residual = nnls(system, np.array([0.0, 0.0, 0.0, 1.0]))
    if residual < 1e-9:
        return 0.0
    return float(np.linalg.norm(differences @ (weights / weights.sum())))


def random_hull(rng):
    points = rng.uniform(-1, 1, (rng.integers(1, 11), 3))
    shape = rng.integers(0, 4)
    if shape == 1:
        points[:, rng.integers(0, 3)] = rng.uniform(-1, 1)  # flat
    elif shape == 2:
        points *= np.array([2.0, 0.01, 0.01])  # a needle
    elif shape == 3:
        points = np.round(points, 1)  # many parallel edges
    return points + rng.uniform(-1.2, 1.2, 3)


def main():
    rng = np.random.default_rng(60)
    pairs = [(random_hull(rng), random_hull(rng)) for _ in range(N_PAIRS)]
    text = "".join(
        f"{len(a)} {len(b)} " + " ".join(repr(float(x)) for x in np.concatenate([a.ravel(), b.ravel()])) + "\n"
        for a, b in pairs
    )
    done = subprocess.run([sys.argv[1]], input=text, capture_output=True, text=True, check=True)
    ours = np.array([float(line) for line in done.stdout.split()])
    theirs = np.array([hull_distance(a, b) for a, b in pairs])
    worst = np.abs(ours - theirs).max()
    apart = int((theirs > 0).sum())
    good = len(ours) == N_PAIRS and worst < TOLERANCE_M and 500 < apart < N_PAIRS - 100
    print("1..1")
    print(f"{'ok' if good else 'not ok'} 1 /outside/convex/hulls")
    print(f"# {N_PAIRS} pairs, {apart} apart, worst difference {worst:.2g} m")
    return 0 if good else 1


if __name__ == "__main__":
    sys.exit(main())
