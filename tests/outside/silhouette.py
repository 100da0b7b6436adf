# SPDX-License-Identifier: GPL-3.0-or-later
"""Hidden share of a picture against rays.

Random scenes of boxes, hulls, heads and cylinders before, behind and about an
eye. The picture is divided into cells with two random rays each; a ray is
hidden when its stretch from eye to picture meets a body (slabs of a hull's
facets by Qhull, roots of a quadratic for quadrics), which shares nothing with
our outlines. The spread within the cells gives the sampling's own sigma; ours
has to lie within 5 of them, and within what the line of a curved body that
crosses the eye's plane may be off. Prints TAP.
"""
import subprocess
import sys

import numpy as np
from scipy.spatial import ConvexHull

N_SCENES = 240
CELLS = 180  # a side: 64,800 rays a scene
SIGMAS = 5.0
PIECED = 1e-6  # of its own silhouette, for a curved body that crosses a plane


def random_axes(rng):
    q, r = np.linalg.qr(rng.normal(size=(3, 3)))
    q = q * np.sign(np.diag(r))
    return q.T if np.linalg.det(q) > 0 else -q.T


def hull_span(points, eye, ways):
    """Stretch [t0, t1] of eye + t way inside the hull."""
    low, high = np.full(len(ways), -np.inf), np.full(len(ways), np.inf)
    for a, b, c, d in np.unique(np.round(ConvexHull(points).equations, 12), axis=0):
        speed, gap = ways @ (a, b, c), -(d + np.dot((a, b, c), eye))
        with np.errstate(divide="ignore", invalid="ignore"):
            t = gap / speed
        low = np.where(speed < 0, np.maximum(low, t), low)
        high = np.where(speed > 0, np.minimum(high, t), high)
        low = np.where((speed == 0) & (gap < 0), np.inf, low)
    return low, high


def quadric_span(o, w):
    """Stretch of o + t w inside the unit sphere (or circle)."""
    a, b, c = (w * w).sum(1), w @ o, o @ o - 1.0
    root = b * b - a * c
    with np.errstate(invalid="ignore", divide="ignore"):
        s = np.sqrt(root)
        low, high = (-b - s) / a, (-b + s) / a
    return np.where(root > 0, low, np.inf), np.where(root > 0, high, -np.inf)


def hidden_by(body, eye, ways):
    kind = body[0]
    if kind == "h":
        low, high = hull_span(body[1], eye, ways)
    else:
        _, centre, axes, half = body
        o, w = axes @ (eye - centre) / half, ways @ axes.T / half
        if kind == "e":
            low, high = quadric_span(o, w)
        else:
            low, high = quadric_span(o[:2], w[:, :2])
            ends = np.sort((np.array([[-1.0], [1.0]]) - o[2]) / w[:, 2], axis=0)
            low, high = np.maximum(low, ends[0]), np.minimum(high, ends[1])
    return np.maximum(low, 0.0) < np.minimum(high, 1.0)


def random_body(rng, place, size):
    kind = rng.choice(["h", "b", "e", "c"])
    axes = random_axes(rng)
    half = size * rng.uniform(0.3, 1.0, 3)
    if kind == "h":
        return ("h", place + rng.uniform(-1, 1, (rng.integers(4, 12), 3)) * half)
    if kind == "b":
        signs = np.array([[x, y, z] for x in (-1, 1) for y in (-1, 1) for z in (-1, 1)])
        return ("h", place + (signs * half) @ axes)
    if kind == "c":
        half[1] = half[0]
    return (kind, place, axes, half)


def random_scene(rng, number):
    """Plane about anywhere; bodies between eye and picture, at the eye, at the picture."""
    frame = random_axes(rng)
    origin = rng.uniform(-3, 3, 3)
    height = rng.uniform(1.5, 6) * rng.choice([-1, 1])
    rect = np.array([rng.uniform(-1, 1), rng.uniform(-1, 1), rng.uniform(1.5, 4), rng.uniform(1, 3)])
    local_eye = np.array([rng.uniform(-2, 2), rng.uniform(-1, 1), height])
    eye = origin + local_eye @ frame
    bodies = []
    for _ in range(rng.integers(1, 13)):
        target = np.array([rect[0] + rect[2] * rng.uniform(-0.7, 0.7), rect[1] + rect[3] * rng.uniform(-0.7, 0.7), 0])
        where = rng.choice([0, 0, 0, 1, 2])
        share = (rng.uniform(0.15, 0.95), rng.uniform(-0.1, 0.1), rng.uniform(0.95, 1.1))[where]
        place = local_eye + share * (target - local_eye)
        if where == 1:  # beside the eye, half behind it
            place[:2] += rng.uniform(0.4, 1.0, 2) * rng.choice([-1, 1], 2)
        bodies.append(random_body(rng, origin + place @ frame, rng.uniform(0.1, 0.5)))
    if number % 40 == 0:  # one that holds the eye
        bodies.append(random_body(rng, eye, 1.5))
    return eye, frame, origin, rect, bodies


def crosses(body, eye, frame, origin):
    """Whether a curved body reaches through the eye's plane or the picture's."""
    if body[0] == "h":
        return False
    n, (_, centre, axes, half) = frame[2], body
    at, top = n @ (centre - origin), n @ (eye - origin)
    spread = (axes @ n) * half
    reach = np.linalg.norm(spread) if body[0] == "e" else np.hypot(spread[0], spread[1]) + abs(spread[2])
    low, high = min(0, top), max(0, top)
    return (at - reach < low or at + reach > high) and at + reach > low and at - reach < high


def sampled(rng, scene):
    eye, frame, origin, rect, bodies = scene
    cell = np.stack(np.meshgrid(np.arange(CELLS), np.arange(CELLS)), -1).reshape(-1, 2)
    hidden = []
    for _ in range(2):
        at = (cell + rng.uniform(0, 1, cell.shape)) / CELLS - 0.5
        ways = origin + (rect[:2] + at * rect[2:]) @ frame[:2] - eye
        hit = np.zeros(len(at), bool)
        for body in bodies:
            rest = ~hit
            hit[rest] = hidden_by(body, eye, ways[rest])
        hidden.append(hit)
    share = (hidden[0].mean() + hidden[1].mean()) / 2
    # Two rays a cell: the mean's variance is a quarter of the square difference, summed.
    sigma = np.sqrt(max((hidden[0] != hidden[1]).sum(), 4) / 4.0) / CELLS**2
    return share, sigma


def numbers(*arrays):
    return " ".join(repr(float(x)) for a in arrays for x in np.ravel(a))


def text_of(scene):
    eye, frame, origin, rect, bodies = scene
    lines = [f"{numbers(eye, origin, frame, rect)} {len(bodies)}"]
    for body in bodies:
        lines.append(f"h {len(body[1])} {numbers(body[1])}" if body[0] == "h" else f"{body[0]} {numbers(*body[1:])}")
    return "\n".join(lines) + "\n"


def main():
    rng = np.random.default_rng(61)
    scenes = [random_scene(rng, k) for k in range(N_SCENES)]
    text = "".join(map(text_of, scenes))
    done = subprocess.run([sys.argv[1]], input=text, capture_output=True, text=True, check=True)
    lines = [[float(x) for x in line.split()] for line in done.stdout.splitlines()]
    exact, cornered, partly, bad = [], [], 0, 0
    for number, (scene, ours) in enumerate(zip(scenes, lines)):
        eye, frame, origin, rect, bodies = scene
        picture = rect[2] * rect[3]
        share, sigma = sampled(rng, scene)
        lost = PIECED * sum(a for a, b in zip(ours[1:], bodies) if crosses(b, eye, frame, origin)) / picture
        gap = abs(ours[0] / picture - share)
        (cornered if lost > 0 else exact).append(gap / sigma)
        partly += 0 < share < 1
        if not gap <= SIGMAS * sigma + lost:
            bad += 1
            print(f"# scene {number}: ours {ours[0] / picture:.6f}, rays {share:.6f}, sigma {sigma:.2g}, lost {lost:.2g}")
    good = len(lines) == N_SCENES and bad == 0 and partly > N_SCENES // 2 and len(exact) > N_SCENES // 4
    print("1..1")
    print(f"{'ok' if good else 'not ok'} 1 /outside/silhouette/rays")
    print(
        f"# {N_SCENES} scenes, {2 * CELLS**2} rays each, {partly} partly hidden; {len(exact)} all exact: worst"
        f" {max(exact):.2f} sigma, root mean square {np.sqrt(np.mean(np.square(exact))):.2f}; {len(cornered)} with"
        f" bodies across a plane: worst {max(cornered):.2f} sigma"
    )
    return 0 if good else 1


if __name__ == "__main__":
    sys.exit(main())
