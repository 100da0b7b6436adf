# SPDX-License-Identifier: GPL-3.0-or-later
"""Optics against NumPy and SciPy.

Runs the program named on the command line, asks it about random beams, lenses
and sets (fixed seeds), and works the same out another way: rotations about
fixed axes and a camera matrix for the poses, a singular value decomposition
for four-point maps, HiGHS for the linear programmes, Levenberg-Marquardt for
the lens fit, SLSQP for distances. Prints TAP.
"""
import subprocess
import sys

import numpy as np
from scipy.optimize import curve_fit, linprog, minimize
from scipy.spatial import ConvexHull

PANEL = np.array([[-0.5, -0.5], [0.5, -0.5], [0.5, 0.5], [-0.5, 0.5]])


def ask(questions):
    text = "".join(word + " " + " ".join(repr(float(x)) for x in numbers) + "\n" for word, numbers in questions)
    done = subprocess.run([sys.argv[1]], input=text, capture_output=True, text=True, check=True)
    answers = [[float(x) for x in line.split()] for line in done.stdout.splitlines()]
    assert len(answers) == len(questions)
    return answers


def flat(*parts):
    return np.concatenate([np.ravel(np.asarray(p, dtype=float)) for p in parts])


def turn(axis, angle):
    """Rotation about a unit axis, counter-clockwise seen against it."""
    k = np.array([[0, -axis[2], axis[1]], [axis[2], 0, -axis[0]], [-axis[1], axis[0], 0]])
    return np.eye(3) + np.sin(angle) * k + (1 - np.cos(angle)) * k @ k


def random_frame(rng):
    q, _ = np.linalg.qr(rng.normal(size=(3, 3)))
    if np.linalg.det(q) < 0:
        q[:, 2] = -q[:, 2]
    return rng.uniform(-9, 9, 3), q[:, 0], q[:, 1], q[:, 2]


def random_pose(rng, rear):
    origin, u, v, n = random_frame(rng)
    away = rng.uniform(0.8, 9) * (-1 if rear else 1)
    lens = origin + away * n + rng.uniform(-1, 1) * u + rng.uniform(-1, 1) * v
    yaw, pitch = np.radians(rng.uniform(-25, 25, 2))
    roll = rng.uniform(-np.pi, np.pi)
    t, aspect = rng.uniform(1.0, 3.0), rng.uniform(1.2, 2.4)
    shift = rng.uniform(-0.4, 0.4, 2)
    return origin, u, v, n, lens, yaw, pitch, roll, t, aspect, shift


def axes_of(u, v, n, rear, yaw, pitch, roll):
    """Roll about the beam, then pitch and then yaw about the screen's fixed axes:
    turns of a body with all three signs the other way round. Behind the screen the
    same beam is mirrored in it."""
    mirror = np.eye(3) - 2 * np.outer(n, n) if rear else np.eye(3)
    rotation = turn(v, -yaw) @ turn(u, pitch) @ turn(-n, roll)
    f, r, w = rotation @ -n, rotation @ u, rotation @ v
    return mirror @ f, mirror @ r, mirror @ w


def dlt(source, target):
    """Hartley and Zisserman, 4.1: the null vector of the 8 x 9 system."""
    rows = []
    for (x, y), (a, b) in zip(source, target):
        rows.append([x, y, 1, 0, 0, 0, -a * x, -a * y, -a])
        rows.append([0, 0, 0, x, y, 1, -b * x, -b * y, -b])
    return np.linalg.svd(np.array(rows))[2][-1].reshape(3, 3)


def project(h, points):
    q = np.column_stack([points, np.ones(len(points))]) @ h.T
    return q[:, :2] / q[:, 2:]


def poses(rng, count):
    for i in range(count):
        yield i % 2 == 1, random_pose(rng, i % 2 == 1)


def ask_map(rear, pose):
    return "map", flat(rear, *pose)


def check_maps():
    """Axes, and the panel on the plane: 3 x 3 solve of lens + s d = o + U u + V v."""
    rng = np.random.default_rng(101)
    cases = list(poses(rng, 400))
    worst = 0.0
    for (rear, pose), answer in zip(cases, ask([ask_map(*case) for case in cases])):
        origin, u, v, n, lens, yaw, pitch, roll, t, aspect, shift = pose
        f, r, w = axes_of(u, v, n, rear, yaw, pitch, roll)
        assert answer[0] == 1
        worst = max(worst, np.abs(np.array(answer[1:10]) - flat(f, r, w)).max())
        h = np.array(answer[10:]).reshape(3, 3)
        points = np.vstack([PANEL, rng.uniform(-0.5, 0.5, (6, 2))])
        for point, got in zip(points, project(h, points)):
            ray = f + (point[0] + shift[0]) / t * r + (point[1] + shift[1]) / (aspect * t) * w
            along, big_u, big_v = np.linalg.solve(np.column_stack([-ray, u, v]), lens - origin)
            assert along > 0 and h[2] @ [*point, 1] > 0
            worst = max(worst, np.abs(got - [big_u, big_v]).max())
    assert worst < 1e-9, worst
    return f"400 poses, 10 points each, worst {worst:.1e}"


def check_four_points():
    """Our four-point map against the SVD, both ways, corners and other points."""
    rng = np.random.default_rng(102)
    cases = list(poses(rng, 400))
    quads = [project(np.array(a[10:]).reshape(3, 3), PANEL) for a in ask([ask_map(*c) for c in cases])]
    there = ask([("quads", flat(PANEL, q)) for q in quads])
    back = ask([("quads", flat(q, PANEL)) for q in quads])
    worst = 0.0
    for quad, a, b in zip(quads, there, back):
        points = rng.uniform(-0.5, 0.5, (8, 2))
        wanted = project(dlt(PANEL, quad), points)
        assert a[0] == 1 and b[0] == 1
        worst = max(worst, np.abs(project(np.array(a[1:]).reshape(3, 3), points) - wanted).max())
        worst = max(worst, np.abs(project(np.array(b[1:]).reshape(3, 3), wanted) - points).max())
    assert worst < 1e-9, worst
    return f"400 quads, worst {worst:.1e}"


def edges_of(polygon):
    along = np.roll(polygon, -1, axis=0) - polygon
    normal = np.column_stack([along[:, 1], -along[:, 0]]) / np.linalg.norm(along, axis=1)[:, None]
    return normal, np.einsum("ij,ij->i", normal, polygon)


def solve(*args, **kwargs):
    return linprog(*args, method="highs", options={"primal_feasibility_tolerance": 1e-10,
                                                   "dual_feasibility_tolerance": 1e-10}, **kwargs)


def check_rectangles():
    """Four corners times every edge as a linear programme for the height, then
    the nearest centre by SLSQP on the same rows."""
    rng = np.random.default_rng(103)
    cases = list(poses(rng, 400))
    quads = [project(np.array(a[10:]).reshape(3, 3), PANEL) for a in ask([ask_map(*c) for c in cases])]
    aspects = rng.uniform(1.2, 2.5, len(quads))
    centres = [q.mean(axis=0) + rng.uniform(-0.5, 0.5, 2) for q in quads]
    answers = ask([("rectangle", flat(a, c, 4, q)) for a, c, q in zip(aspects, centres, quads)])
    worst = nearer = 0.0
    for quad, aspect, centre, answer in zip(quads, aspects, centres, answers):
        normal, offset = edges_of(quad)
        corners = np.array([[x * aspect / 2, y / 2] for x in (-1, 1) for y in (-1, 1)])
        rows = np.vstack([np.column_stack([normal, normal @ c]) for c in corners])
        limit = np.tile(offset, 4)
        lp = solve([0, 0, -1], rows, limit, bounds=[(None, None)] * 2 + [(0, None)])
        assert lp.status == 0 and answer[0] == 1
        ours = np.array([answer[1], answer[2], answer[4]])
        worst = max(worst, abs(ours[2] - lp.x[2]) / lp.x[2])
        assert abs(answer[3] - aspect * answer[4]) < 1e-12
        assert (rows @ ours - limit).max() < 1e-9
        near = minimize(lambda c: ((c - centre) ** 2).sum(), lp.x[:2], jac=lambda c: 2 * (c - centre), method="SLSQP",
                        constraints={"type": "ineq", "jac": lambda c: -rows[:, :2],
                                     "fun": lambda c: limit + 1e-9 - rows[:, :2] @ c - rows[:, 2] * ours[2]},
                        options={"ftol": 1e-15})
        if near.success:
            nearer = max(nearer, np.linalg.norm(ours[:2] - centre) - np.linalg.norm(near.x - centre))
    assert worst < 1e-9, worst
    assert nearer < 1e-4, nearer
    return f"400 raw pictures, height off by {worst:.1e} of itself, centre at most {nearer:.1e} m farther"


def check_programmes():
    rng = np.random.default_rng(104)
    questions, programmes = [], []
    for _ in range(400):
        n = rng.integers(1, 40)
        rows = np.column_stack([rng.normal(size=(n, 3)), rng.uniform(-0.3, 2, n)])
        cost, bound = rng.normal(size=3), rng.uniform(1, 10)
        programmes.append((rows, cost, bound))
        questions.append(("programme", flat(bound, cost, n, rows)))
    worst, impossible = 0.0, 0
    for (rows, cost, bound), answer in zip(programmes, ask(questions)):
        lp = solve(cost, rows[:, :3], rows[:, 3], bounds=[(-bound, bound)] * 3)
        assert lp.status in (0, 2) and answer[0] == (lp.status == 0)
        impossible += lp.status == 2
        if lp.status == 0:
            worst = max(worst, abs(cost @ answer[1:] - lp.fun))
            assert (rows[:, :3] @ answer[1:] - rows[:, 3]).max() < 1e-9
    assert worst < 1e-8, worst
    assert impossible > 20
    return f"400 programmes, {impossible} of them impossible, cost off by {worst:.1e}"


def check_fits():
    """Both ends of a zoom, rounded widths; SciPy's fit with its covariance."""
    rng = np.random.default_rng(105)
    questions, data = [], []
    for _ in range(300):
        wide, tele, pupil = rng.uniform(0.3, 1.4), rng.uniform(1.5, 2.5), rng.uniform(-0.05, 0.4)
        distance = rng.uniform(0.6, 6, rng.integers(5, 9))
        end = np.arange(len(distance)) % 2
        width = np.round((distance + pupil) / np.where(end, tele, wide), 2)
        data.append((distance, end, width, (1 / wide, 1 / tele, pupil)))
        questions.append(("fit", flat(1.6, len(distance), np.column_stack([distance, width, end]))))
    worst = spread = 0.0
    for (distance, end, width, start), answer in zip(data, ask(questions)):
        best, covariance = curve_fit(lambda d, kw, kt, e: np.where(end, kt, kw) * (d + e), distance, width, start,
                                     xtol=1e-14, ftol=1e-14, gtol=1e-14)
        assert answer[0] == 1
        worst = max(worst, np.abs(np.array(answer[1:4]) - [1 / best[0], 1 / best[1], best[2]]).max())
        spread = max(spread, abs(answer[4] / np.sqrt(covariance[2, 2]) - 1))
    assert worst < 1e-6, worst
    assert spread < 1e-4, spread
    return f"300 lenses, t and e off by {worst:.1e}, spread by {spread:.1e} of itself"


def random_polygon(rng):
    points = rng.uniform(-0.5, 0.5, (rng.integers(3, 9), 2)) * rng.uniform(0.1, 1.2, 2) + rng.uniform(-0.4, 0.4, 2)
    return points[ConvexHull(points).vertices]


def check_margins():
    """One programme in k = 1/t, a point of either set scaled by its share of k,
    and the margin: k S(t) = k (1 - l) wide + k l tele with l linear in t."""
    rng = np.random.default_rng(106)
    questions, cases = [], []
    for i in range(400):
        wide = random_polygon(rng)
        tele = wide if i % 3 == 0 else random_polygon(rng)
        x, y = rng.uniform(-0.5, 0.5, 2)
        box = [x - 0.1, x + 0.1, y - 0.08, y + 0.08]
        aspect, t_wide = rng.uniform(1.2, 2.4), rng.uniform(0.5, 1.5)
        t_tele = t_wide * rng.uniform(1.05, 2.5)
        cases.append((wide, tele, box, aspect, t_wide, t_tele))
        questions.append(("margin", flat(box, aspect, t_wide, t_tele, len(wide), wide, len(tele), tele)))
    worst, within = 0.0, 0
    for (wide, tele, box, aspect, t_wide, t_tele), answer in zip(cases, ask(questions)):
        span = t_tele - t_wide
        rows, limits = [], []
        # Unknowns: k, wide h v, tele h v, margin.
        for polygon, first, at_k, constant in ((wide, 1, t_tele / span, -1 / span),
                                               (tele, 3, -t_wide / span, 1 / span)):
            for normal, offset in zip(*edges_of(polygon)):
                row = np.zeros(6)
                row[first:first + 2], row[0] = normal, -offset * at_k
                rows.append(row)
                limits.append(offset * constant)
        for sign, edge in ((-1, box[0]), (1, box[1])):
            rows.append([-0.5, -sign, 0, -sign, 0, 1])
            limits.append(-sign * edge)
        for sign, edge in ((-1, box[2]), (1, box[3])):
            rows.append([-0.5 / aspect, 0, -sign / aspect, 0, -sign / aspect, 1])
            limits.append(-sign * edge)
        lp = solve([0, 0, 0, 0, 0, -1], np.array(rows), limits,
                   bounds=[(1 / t_tele, 1 / t_wide)] + [(None, None)] * 5)
        assert lp.status == 0
        worst = max(worst, abs(answer[0] - lp.x[5]))
        within += t_wide * 1.001 < answer[1] < t_tele * 0.999
    assert worst < 1e-9, worst
    assert within > 20, within
    return f"400 zooms, {within} best inside the range, margin off by {worst:.1e}"


def check_rooms():
    """Distance to curved sets from 200,001 points of their edge."""
    rng = np.random.default_rng(107)
    questions = []
    for i in range(300):
        kind = 1 + i % 2
        a, b = rng.uniform(0.1, 0.7), rng.uniform(0.1, 0.7) if kind == 1 else rng.uniform(1.2, 2.4)
        questions.append(("room", flat(kind, a, b, rng.uniform(-1, 1, 2), rng.uniform(0.5, 4, 2))))
    worst = 0.0
    angle = np.linspace(0, np.pi / 2, 200001)
    for (_, (kind, a, b, h, v, width, height)), answer in zip(questions, ask(questions)):
        if kind == 1:
            edge_h, edge_v = a * np.cos(angle), b * np.sin(angle)
            inside = (h / a) ** 2 + (v / b) ** 2 <= 1
        else:
            reach = np.hypot(b / 2, 0.5 + a)
            edge_v = a * np.sin(angle)
            edge_h = (np.sqrt(reach ** 2 - (0.5 + edge_v) ** 2) - b / 2) / b
            inside = (b / 2 + abs(h) * b) ** 2 + (0.5 + abs(v)) ** 2 <= reach ** 2
        distance = np.hypot((edge_h - abs(h)) * width, (edge_v - abs(v)) * height).min()
        worst = max(worst, abs(answer[0] - (distance if inside else -distance)))
        step = np.hypot((answer[1] - h) * width, (answer[2] - v) * height)
        worst = max(worst, abs(step - (0 if inside else distance)))
    assert worst < 1e-8, worst
    return f"300 curved sets, room off by {worst:.1e} m"


CHECKS = [check_maps, check_four_points, check_rectangles, check_programmes, check_fits, check_margins, check_rooms]


def main():
    print(f"1..{len(CHECKS)}")
    failed = 0
    for number, check in enumerate(CHECKS, 1):
        try:
            result, said = "ok", check()
        except AssertionError as error:
            result, said, failed = "not ok", f"failed: {error!r}", failed + 1
        print(f"{result} {number} - {check.__name__}\n# {said}", flush=True)
    return 1 if failed else 0


sys.exit(main())
