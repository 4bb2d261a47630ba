"""Answers for tests/reference/fits.test.ts from SciPy: fits by its own optimisers, integrals by its quadrature, roots by its solvers."""
import json
import sys

import numpy as np
from scipy.constants import sigma
from scipy.integrate import dblquad, quad, solve_ivp
from scipy.linalg import svd
from scipy.optimize import brentq, least_squares
from scipy.spatial.transform import Rotation
from scipy.stats import norm

TIGHT = {"xtol": 1e-15, "ftol": 1e-15, "gtol": 1e-15, "max_nfev": 10000}


def rigid_fit(a):
    start, onto = np.array(a["from"]), np.array(a["onto"])
    turn, _ = Rotation.align_vectors(onto - onto.mean(0), start - start.mean(0))
    shift = onto.mean(0) - turn.apply(start.mean(0))
    left = np.linalg.norm(onto - turn.apply(start) - shift, axis=1)
    return [*turn.as_matrix().ravel(), *shift, turn.magnitude(), np.sqrt((left**2).mean())]


def plane_fit(a):
    points = np.array(a["points"])
    mean = points.mean(0)
    normal = svd(points - mean)[2][2]
    off = (points - mean) @ normal
    return [*mean, *normal, np.sqrt((off**2).mean()), np.ptp(off)]


def circle_fit(a):
    points = np.array(a["points"])
    off = lambda p: np.hypot(*(points - p[:2]).T) - p[2]
    found = least_squares(off, [*points.mean(0), np.ptp(points[:, 0])], method="lm", x_scale="jac", **TIGHT)
    return [*found.x, np.sqrt((off(found.x) ** 2).mean())]


def cylinder_fit(a):
    """Axis by two angles from a start that is off on purpose, the middle by its place across the axis."""
    points = np.array(a["points"])
    mean = points.mean(0)

    def off(p):
        axis = axis_of(p)
        way = points - mean - np.array([p[2], p[3], p[4]])
        return np.linalg.norm(np.cross(way, axis), axis=1) - p[5]

    axis_of = lambda p: np.array([np.sin(p[0]) * np.cos(p[1]), np.sin(p[0]) * np.sin(p[1]), np.cos(p[0])])
    x, y, z = a["near"]
    start = [np.arccos(z) + 0.05, np.arctan2(y, x) - 0.05, 0, 0, 0, np.ptp(points @ np.array(svd(points - mean)[2][2])) / 2]
    found = least_squares(off, start, method="trf", x_scale="jac", **TIGHT)
    return [*axis_of(found.x), found.x[5], np.sqrt((found.fun**2).mean())]


def box_fit(a):
    """Turn vector and shift that bring points onto the faces of a box about the origin: its distances have a closed form."""
    points, half = np.array(a["points"]), np.array(a["size"]) / 2

    def off(p):
        out = np.abs(Rotation.from_rotvec(p[:3]).apply(points) + p[3:]) - half
        inside = np.minimum(out.max(1), 0)
        return np.linalg.norm(np.maximum(out, 0), axis=1) + inside

    found = least_squares(off, np.zeros(6), method="trf", x_scale="jac", **TIGHT)
    return [*Rotation.from_rotvec(found.x[:3]).as_matrix().ravel(), *found.x[3:], np.sqrt((found.fun**2).mean())]


def collector_area(a):
    """Open area of one sector, by rays from the axis."""
    tubes, r, ring = a["tubes"], a["tubeRadius"], a["ring"]

    def ray(phi):
        root = r**2 - (ring * np.sin(phi)) ** 2
        if root <= 0:
            return 0.0
        near, far = ring * np.cos(phi) - np.sqrt(root), ring * np.cos(phi) + np.sqrt(root)
        return (max(far, 0) ** 2 - max(near, 0) ** 2) / 2

    edge = np.arcsin(min(1.0, r / ring)) if ring > r else np.pi
    half = min(np.pi / tubes, edge)
    return tubes * 2 * quad(ray, 0, half, epsabs=0, epsrel=1e-12, limit=400)[0]


def short_cylinder(a):
    """View factor of an element facing a cylinder, over the part of its side that faces back."""
    r, h, half = a["radius"], a["distance"], a["length"] / 2

    def seen(z, phi):
        to = np.array([h - r * np.cos(phi), -r * np.sin(phi), -z])
        away = np.array([np.cos(phi), np.sin(phi), 0])
        square = to @ to
        return max(0.0, to[0]) * max(0.0, to @ away) / (np.pi * square**2) * r

    limit = np.arccos(r / h)
    return 4 * dblquad(seen, 0, limit, 0, half, epsabs=1e-10, epsrel=1e-9)[0]


def purge(a):
    """Stirred vessel followed in time until the target is met."""
    rate = a["flow"] / (a["deadLegFactor"] * a["volume"])
    met = lambda t, c: c[0] - a["target"]
    met.terminal = True
    run = solve_ivp(lambda t, c: rate * (a["residual"] - c), [0, 100 / rate], [a["initial"]], events=met, rtol=1e-11, atol=1e-15, method="DOP853")
    return run.t_events[0][0]


def life(a):
    """Life that makes the Larson-Miller parameter that of the stress, by a root of log stress over log life."""
    x, logs = np.array(a["parameters"]), np.log(a["stresses"])
    parameter = lambda hours: a["temperature"] * (20 + hours)
    excess = lambda hours: np.interp(parameter(hours), x, logs) - np.log(a["stress"])
    low, high = x[0] / a["temperature"] - 20, x[-1] / a["temperature"] - 20
    return 3600 * 10 ** brentq(excess, low, high, xtol=1e-14, rtol=1e-14)


def target(a):
    """Neighbour in balance: what it takes up less what it gives off by its faces and to what is behind it."""
    e, air, back = a["emissivity"], a["air"], a["back"]

    def gain(t):
        faces = [a["irradiation"]] + [sigma * air**4] * (a["faces"] - 1)
        each = sum(e * (shine - sigma * t**4) - a["coefficient"] * (t - air) for shine in faces)
        return each - back["coefficient"] * (t - back["temperature"])

    return brentq(gain, 1, 5000, xtol=1e-12, rtol=1e-14)


answers = {
    "rigid-fit": rigid_fit,
    "plane-fit": plane_fit,
    "circle-fit": circle_fit,
    "cylinder-fit": cylinder_fit,
    "box-fit": box_fit,
    "collector-area": collector_area,
    "view-factor-short-cylinder": short_cylinder,
    "purge-time": purge,
    "life": life,
    "normal": lambda a: norm.cdf(a["z"]),
    "quantile": lambda a: norm.ppf(a["probability"]),
    "arc-length": lambda a: quad(lambda t: np.hypot(a["radius"] * np.sin(t), a["radius"] * np.cos(t)), 0, a["angle"])[0],
    "target-temperature": target,
}

print(json.dumps([np.asarray(answers[case["kind"]](case["inputs"])).tolist() for case in json.load(sys.stdin)]))
