"""Closed forms and exact series, evaluated afresh and written to answers/closed_forms.json, all in SI.

    python3 closed_forms.py

Every formula is worked out in a second way that shares no step with the first (another expansion, integration,
or a small system of equations); the script stops when the two disagree.
"""

from __future__ import annotations

import math
from importlib.metadata import version
from pathlib import Path

import mpmath as mp
import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import brentq, minimize_scalar
from scipy.special import spence

from gear_files import as_json

HERE = Path(__file__).parent
mp.mp.dps = 30

RATIOS = (1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 15, 20)


def agree(a, b, relative: float, what: str) -> None:
    """Stops the script when two ways to a number differ."""
    if abs(a - b) > relative * max(abs(a), abs(b)):
        raise AssertionError(f"{what}: {a} against {b}")


# Torsion of a rectangle ------------------------------------------------------------------------------------


def beta(ratio) -> mp.mpf:
    """beta in J = beta b t^3, b / t = ratio >= 1."""
    ratio = mp.mpf(ratio)
    tail = mp.nsum(lambda n: mp.tanh((2 * n + 1) * mp.pi * ratio / 2) / (2 * n + 1) ** 5, [0, mp.inf])
    return (1 - 192 / mp.pi**5 / ratio * tail) / 3


def alpha(ratio) -> mp.mpf:
    """alpha in tau_max = T / (alpha b t^2), at the middle of the long face."""
    ratio = mp.mpf(ratio)
    dip = mp.nsum(lambda n: 1 / ((2 * n + 1) ** 2 * mp.cosh((2 * n + 1) * mp.pi * ratio / 2)), [0, mp.inf])
    return beta(ratio) / (1 - 8 / mp.pi**2 * dip)


def torsion() -> dict:
    """alpha and beta; beta again from the other expansion of the stress function."""
    rows = []
    for ratio in RATIOS:
        b = beta(ratio)
        # The same series with the sides exchanged must give the same J.
        agree(b, beta(1 / mp.mpf(ratio)) * mp.mpf(ratio) ** 2, 1e-12, f"beta at {ratio}")
        # The shear along the face, summed through dilogarithms below, must give the same peak.
        agree(alpha(ratio), float(b) / face_shear(0.0, float(ratio), 1.0), 1e-10, f"alpha at {ratio}")
        rows.append({"b_over_t": float(ratio), "alpha": float(alpha(ratio)), "beta": float(b)})
    return {
        "formula": "J = beta b t^3; tau_max = T / (alpha b t^2), b >= t; both tend to 1/3",
        "rows": rows,
    }


# Von Mises stress along the perimeter of a rectangle --------------------------------------------------------


def chi2(x):
    """Legendre's chi function of order 2: sum of x^k / k^2 over odd k."""
    return (spence(1 - x) - spence(1 + x)) / 2


def face_shear(u, span: float, depth: float):
    """Torsion shear along a face, divided by G times twist per length, at u from the face's middle.

    `span` is the face's own length, `depth` the section's size square to it. Saint-Venant's series
    depth (1 - 8/pi^2 sum cosh(k pi u/depth) / (k^2 cosh(k pi span/(2 depth)))), k odd, is summed exactly through
    dilogarithms, so that it holds up to the corner.
    """
    total = 0.0
    for j in range(4000):
        near = np.exp(-math.pi / depth * (span / 2 - u + j * span))
        far = np.exp(-math.pi / depth * (span / 2 + u + j * span))
        total = total + (-1) ** j * (chi2(near) + chi2(far))
        if np.max(near + far) < 1e-18:
            break
    return depth * (1 - 8 / math.pi**2 * total)


class Section:
    """A rectangle: width b along y, thickness t along z, under N, My, Mz, T, Vy, Vz."""

    def __init__(self, b, t, loads):
        self.b, self.t, self.loads = b, t, loads
        self.polar = float(beta(b / t)) * b * t**3
        # Faces: name, (y, z) at coordinate u, its length, the depth square to it, the sign of torsion's shear.
        self.faces = {
            "z = +t/2": (lambda u: (u, t / 2), b, t, -1.0),
            "z = -t/2": (lambda u: (u, -t / 2), b, t, 1.0),
            "y = +b/2": (lambda u: (b / 2, u), t, b, 1.0),
            "y = -b/2": (lambda u: (-b / 2, u), t, b, -1.0),
        }

    def stress(self, face: str, u):
        """Normal stress and the shear along the face."""
        where, span, depth, sign = self.faces[face]
        n, my, mz, torque, vy, vz = self.loads
        y, z = where(u)
        area, iy, iz = self.b * self.t, self.b * self.t**3 / 12, self.t * self.b**3 / 12
        sigma = n / area + my * z / iy - mz * y / iz
        force = vy if face.startswith("z") else vz
        tau = sign * torque / self.polar * face_shear(u, span, depth) + 1.5 * force / area * (1 - (2 * u / span) ** 2)
        return sigma, tau

    def von_mises(self, face: str, u):
        """sqrt(sigma^2 + 3 tau^2)."""
        sigma, tau = self.stress(face, u)
        return np.sqrt(sigma**2 + 3 * tau**2)

    def highest(self, face: str) -> tuple[float, float]:
        """Where along a face the stress is highest, and how high: dense samples, then refined."""
        span = self.faces[face][1]
        u = np.linspace(-span / 2, span / 2, 4001)
        values = self.von_mises(face, u)
        best = int(np.argmax(values))
        low, high = u[max(best - 1, 0)], u[min(best + 1, len(u) - 1)]
        found = minimize_scalar(
            lambda v: -float(self.von_mises(face, v)),
            bounds=(low, high),
            method="bounded",
            options={"xatol": 1e-13 * span},
        )
        if -found.fun > values[best]:
            return float(found.x), float(-found.fun)
        return float(u[best]), float(values[best])


COMBINATIONS = (
    # b, t (m); N (N), My, Mz, T (N m), Vy, Vz (N)
    (0.012, 0.012, (500.0, 12.0, 8.0, 15.0, 400.0, 300.0)),
    (0.018, 0.012, (-300.0, 10.0, -14.0, 18.0, -250.0, 500.0)),
    (0.020, 0.010, (0.0, 0.0, 0.0, 20.0, 0.0, 0.0)),
    (0.020, 0.010, (0.0, 8.0, 0.0, 20.0, 0.0, 600.0)),
    (0.024, 0.008, (200.0, 6.0, 20.0, 9.0, 800.0, 0.0)),
    (0.032, 0.006, (-150.0, 12.0, 25.0, -10.0, 120.0, -160.0)),
    (0.040, 0.005, (100.0, 14.0, 10.0, 11.0, 60.0, 150.0)),
    (0.040, 0.004, (80.0, 3.0, 30.0, 8.0, -150.0, 90.0)),
    (0.050, 0.005, (-120.0, -25.0, 18.0, 12.0, 90.0, 200.0)),
    (0.060, 0.005, (60.0, 1.0, 60.0, 6.0, 9000.0, 40.0)),
    (0.060, 0.004, (150.0, 20.0, -30.0, -14.0, 70.0, 180.0)),
    (0.060, 0.004, (0.0, 0.0, 4.0, 10.0, 0.0, 0.0)),
    (0.060, 0.004, (0.0, 2.0, 40.0, 10.0, 0.0, 0.0)),
    (0.030, 0.002, (40.0, 2.5, 6.0, 1.5, 50.0, 60.0)),
)


def series_check(section: Section, face: str, u: float) -> None:
    """The face's shear against the plain series in the other direction, at high precision."""
    _, span, depth, _ = section.faces[face]

    def term(n):
        k = 2 * n + 1
        return (-1) ** int(n) * mp.tanh(k * mp.pi * depth / 2 / span) * mp.cos(k * mp.pi * u / span) / k**2

    exact = 8 * span / mp.pi**2 * mp.fsum(term(n) for n in range(20000))
    agree(float(exact), float(face_shear(u, span, depth)), 1e-7, f"torsion shear on {face}")


def perimeter() -> dict:
    """The largest von Mises stress along the perimeter, and at corners and mid-faces only."""
    rows = []
    for b, t, loads in COMBINATIONS:
        section = Section(b, t, loads)
        series_check(section, "z = +t/2", 0.31 * b)
        series_check(section, "y = +b/2", 0.17 * t)
        tops = {face: section.highest(face) for face in section.faces}
        face = max(tops, key=lambda f: tops[f][1])
        u, top = tops[face]
        y, z = section.faces[face][0](u)
        sigma, tau = section.stress(face, u)
        few = max(
            float(section.von_mises(f, part * section.faces[f][1])) for f in section.faces for part in (-0.5, 0.0, 0.5)
        )
        rows.append({
            "b_m": b, "t_m": t,
            **dict(zip(("N_N", "My_Nm", "Mz_Nm", "T_Nm", "Vy_N", "Vz_N"), loads)),
            "max_von_mises_Pa": top, "face": face, "y_m": y, "z_m": z,
            "sigma_Pa": float(sigma), "tau_Pa": float(tau),
            "corners_and_mid_faces_Pa": few, "missed_fraction": 1 - few / top,
        })
    return {
        "convention": "y along the width b, z along the thickness t, x out of the cut face, right-handed. "
        "sigma = N/A + My z/Iy - Mz y/Iz, tension positive, Iy = b t^3/12, Iz = t b^3/12. T is positive about x. "
        "tau_Pa is tau_xy on the faces z = +-t/2 and tau_xz on the faces y = +-b/2. "
        "Long faces carry torsion and Vy, short faces torsion and Vz; transverse shear is 1.5 V/A (1 - (2u/face)^2). "
        "von Mises = sqrt(sigma^2 + 3 tau^2). Where several points are equally high, one of them is named.",
        "rows": rows,
    }


# Lateral-torsional buckling ---------------------------------------------------------------------------------


def shoot(stiffness, constant: float) -> float:
    """phi' GJ at the tip, starting from phi = 0 and unit torque at the root; its zeros are the buckling loads."""

    def slope(s, state):
        gj, ei = stiffness(s)
        return [state[1] / gj, -((constant * (1 - s)) ** 2) / ei * state[0]]

    return float(solve_ivp(slope, (0, 1), [0.0, 1.0], method="DOP853", rtol=1e-12, atol=1e-14).y[1, -1])


def by_elements(stiffness, n: int = 400) -> float:
    """The same number by Galerkin with linear pieces, extrapolated once: no shooting."""
    def coarse(n):
        h = 1 / n
        k, m = np.zeros((n, n)), np.zeros((n, n))
        points, weights = np.polynomial.legendre.leggauss(4)
        for e in range(n):
            for x, w in zip(points, weights):
                s = (e + 0.5 + 0.5 * x) * h
                gj, ei = stiffness(s)
                shape, slope = [0.5 - 0.5 * x, 0.5 + 0.5 * x], [-1 / h, 1 / h]
                for i in (0, 1):
                    for j in (0, 1):
                        if e + i > 0 and e + j > 0:
                            k[e + i - 1, e + j - 1] += gj * slope[i] * slope[j] * w * h / 2
                            m[e + i - 1, e + j - 1] += (1 - s) ** 2 / ei * shape[i] * shape[j] * w * h / 2
        return 1 / math.sqrt(np.max(np.linalg.eigvals(np.linalg.solve(k, m)).real))
    one, two = coarse(n // 2), coarse(n)
    return two + (two - one) / 3


def buckling_row(name: str, stiffness) -> dict:
    """The lowest constant C in P = C sqrt(E I_min G J)/L^2, root values."""
    grid = np.arange(0.5, 8.0, 0.25)
    values = [shoot(stiffness, c) for c in grid]
    first = next(i for i in range(len(grid) - 1) if values[i] * values[i + 1] < 0)
    constant = brentq(lambda c: shoot(stiffness, c), grid[first], grid[first + 1], xtol=1e-12)
    agree(constant, by_elements(stiffness), 1e-6, name)
    return {"name": name, "constant": constant}


def lateral_buckling() -> dict:
    """A clamped strip loaded edgewise at the centroid of its tip, plain and tapered."""
    exact = 2 * mp.findroot(lambda x: mp.besselj(mp.mpf(-1) / 4, x), 2.0)
    power = lambda n: (lambda s: ((1 - s / 2) ** n,) * 2)

    def plate(b0, b1, t0, t1):
        """With the true beta of each section."""
        def stiffness(s):
            b, t = b0 + s * (b1 - b0), t0 + s * (t1 - t0)
            gj = beta_float(b / t) * b * t**3 / (beta_float(b0 / t0) * b0 * t0**3)
            return gj, b * t**3 / (b0 * t0**3)
        return stiffness

    rows = [
        buckling_row("uniform", power(0)),
        buckling_row("width falls linearly to 1/2, beta constant", power(1)),
        buckling_row("thickness falls linearly to 1/2, beta constant", power(3)),
        buckling_row("width and thickness fall linearly to 1/2, beta constant", power(4)),
    ]
    agree(rows[0]["constant"], float(exact), 1e-9, "first zero of J(-1/4)")
    rows[0]["constant"] = float(exact)
    for b0, b1, t0, t1 in ((0.060, 0.030, 0.004, 0.004), (0.060, 0.060, 0.004, 0.002), (0.060, 0.034, 0.005, 0.0035)):
        name = f"{b0 * 1e3:g} to {b1 * 1e3:g} mm wide, {t0 * 1e3:g} to {t1 * 1e3:g} mm thick, true beta"
        row = buckling_row(name, plate(b0, b1, t0, t1))
        rows.append({**row, "width_root_m": b0, "width_tip_m": b1, "thickness_root_m": t0, "thickness_tip_m": t1})
    return {
        "equation": "(G J phi')' + M^2/(E I_min) phi = 0, M = P (L - s), phi(0) = 0, phi'(L) = 0; "
        "P = constant sqrt(E I_min G J)/L^2 with E I_min and G J of the root",
        "rows": rows,
    }


def beta_float(ratio: float) -> float:
    """beta in plain floats, for use inside integrations."""
    k = np.arange(1, 60, 2)
    tail = (1 - np.tanh(k * math.pi * ratio / 2)) / k**5
    # sum of 1/k^5 over odd k is 31/32 zeta(5).
    return float((1 - 192 / math.pi**5 / ratio * (31 / 32 * 1.0369277551433699 - np.sum(tail))) / 3)


# Tapered cantilevers ---------------------------------------------------------------------------------------


def one_taper(m: int, n: int, ratio) -> mp.mpf:
    """Integral of (1 - s)^m / (1 - (1 - q) s)^n over 0..1 in closed form, q the tip's share of the root."""
    q = mp.mpf(ratio)
    c = 1 - q
    total = mp.mpf(0)
    for i in range(m + 1):
        power = i - n + 1
        inner = -mp.log(q) if power == 0 else (1 - q**power) / power
        total += mp.binomial(m, i) * (-q) ** (m - i) * inner
    return total / c ** (m + 1)


TAPERS = (
    ("width", 0.060, 0.030, 0.004, 0.004),
    ("width", 0.064, 0.020, 0.005, 0.005),
    ("thickness", 0.050, 0.050, 0.006, 0.003),
    ("thickness", 0.040, 0.040, 0.005, 0.0035),
    ("both", 0.060, 0.030, 0.006, 0.003),
    ("both", 0.064, 0.030, 0.006, 0.0035),
)


def tapered() -> dict:
    """Tip displacement and rotation of straight tapered plates, both planes, and the twist and stretch."""
    length, young, poisson = mp.mpf("0.23"), mp.mpf("70e9"), mp.mpf("0.33")
    shear = young / (2 * (1 + poisson))
    force, moment = mp.mpf(100), mp.mpf(10)
    rows = []
    for kind, b0, b1, t0, t1 in TAPERS:
        b0, b1, t0, t1 = (mp.mpf(str(v)) for v in (b0, b1, t0, t1))
        width, thick = lambda s: b0 + s * (b1 - b0), lambda s: t0 + s * (t1 - t0)
        row = {"taper": kind, "width_root_m": float(b0), "width_tip_m": float(b1)}
        row |= {"thickness_root_m": float(t0), "thickness_tip_m": float(t1)}
        for plane, second, power in (
            ("through_thickness", lambda s: width(s) * thick(s) ** 3 / 12, {"width": 1, "thickness": 3}),
            ("across_width", lambda s: thick(s) * width(s) ** 3 / 12, {"width": 3, "thickness": 1}),
        ):
            integral = [mp.quad(lambda s: (1 - s) ** m / second(s), [0, 0.5, 1]) for m in (0, 1, 2)]
            if kind in power:
                q = b1 / b0 if kind == "width" else t1 / t0
                for m in (0, 1, 2):
                    agree(integral[m], one_taper(m, power[kind], q) / second(0), 1e-20, f"{kind} {plane} {m}")
            row[plane] = {
                "displacement_by_force_m": float(force * length**3 / young * integral[2]),
                "rotation_by_force_rad": float(force * length**2 / young * integral[1]),
                "displacement_by_moment_m": float(moment * length**2 / young * integral[1]),
                "rotation_by_moment_rad": float(moment * length / young * integral[0]),
            }
        polar = lambda s: mp.mpf(beta_float(float(width(s) / thick(s)))) * width(s) * thick(s) ** 3
        row["twist_by_moment_rad"] = float(moment * length / shear * mp.quad(lambda s: 1 / polar(s), [0, 0.5, 1]))
        spread = mp.quad(lambda s: 1 / (width(s) * thick(s)), [0, 0.5, 1])
        row["stretch_by_force_m"] = float(force * length / young * spread)
        rows.append(row)
    return {
        "inputs": {
            "length_m": float(length),
            "young_Pa": float(young),
            "poisson": float(poisson),
            "tip_force_N": float(force),
            "tip_moment_Nm": float(moment),
        },
        "note": "clamped at the root, linear taper, plane sections, no shear flexibility; magnitudes. "
        "The sections with one taper are closed forms with powers and logarithms, checked by integration; "
        "the others and the twist are integrals at 30 digits.",
        "rows": rows,
    }


# Rings and portals -----------------------------------------------------------------------------------------


def quarter_ring() -> dict:
    """Quarter-circle cantilever and thin closed ring, bending only; closed forms against integration."""
    radius, bending, load = 0.1, 5.0, 10.0
    unit = load * radius**3 / bending
    half = mp.pi / 2
    # Angle from the tip. A load along the tip's radius gives M = P R sin, one along its tangent P R (1 - cos).
    radial, tangent = mp.sin, lambda a: 1 - mp.cos(a)
    numbers = {
        "radial_load_along": (mp.pi / 4, mp.quad(lambda a: radial(a) ** 2, [0, half])),
        "radial_load_across": (mp.mpf(1) / 2, mp.quad(lambda a: radial(a) * tangent(a), [0, half])),
        "tangential_load_along": (3 * mp.pi / 4 - 2, mp.quad(lambda a: tangent(a) ** 2, [0, half])),
    }
    # Closed ring under a diametral pull: a quarter with P/2 and the end moment that keeps the end from turning.
    end = mp.quad(radial, [0, half]) / half / 2
    ring = lambda a: end - radial(a) / 2
    numbers["ring_load_line"] = (mp.pi / 4 - 2 / mp.pi, -2 * mp.quad(lambda a: ring(a) * radial(a), [0, half]))
    numbers["ring_across"] = (2 / mp.pi - mp.mpf(1) / 2, 2 * mp.quad(lambda a: ring(a) * tangent(a), [0, half]))
    out = {}
    for name, (closed, integral) in numbers.items():
        agree(closed, abs(integral), 1e-20, name)
        out[name] = {"factor": float(closed), "displacement_m": float(closed) * unit}
    agree(end, 1 / mp.pi, 1e-20, "moment under the ring's load")
    return {
        "inputs": {"radius_m": radius, "EI_Nm2": bending, "load_N": load},
        "formula": "displacement = factor P R^3/EI; no stretch, no shear",
        "outputs": out,
        "ring_moment_under_load_over_PR": float(1 / mp.pi),
        "ring_moment_at_side_over_PR": float(mp.mpf(1) / 2 - 1 / mp.pi),
    }


def fixed_portal() -> dict:
    """Portal clamped at both feet, lateral load at the beam, axially rigid: formula against slope-deflection."""
    load, height, span, young, column = 100.0, 0.25, 0.10, 70e9, 1e-9
    rows = []
    for ratio in (0.5, 1.0, 4.0):
        k = ratio * height / span
        base = load * height / 2 * (3 * k + 1) / (6 * k + 1)
        corner = load * height / 2 * 3 * k / (6 * k + 1)
        sway = load * height**3 / (12 * young * column) * (3 * k + 2) / (6 * k + 1)
        ei, eb = young * column, young * column * ratio
        # Unknowns: sway and the equal turning of both corners.
        stiff = np.array([
            [24 * ei / height**3, -12 * ei / height**2],
            [-6 * ei / height**2, 4 * ei / height + 6 * eb / span],
        ])
        moved = np.linalg.solve(stiff, [load, 0.0])
        agree(sway, moved[0], 1e-12, "sway")
        agree(base, 6 * ei / height**2 * moved[0] - 2 * ei / height * moved[1], 1e-12, "foot moment")
        agree(corner, 6 * eb / span * moved[1], 1e-12, "corner moment")
        rows.append({"beam_over_column": ratio, "k": k, "foot_moment_Nm": base, "corner_moment_Nm": corner, "sway_m": sway})
    return {
        "inputs": {
            "load_N": load,
            "height_m": height,
            "span_m": span,
            "young_Pa": young,
            "column_second_moment_m4": column,
        },
        "note": "axially rigid members, load at the beam's level; magnitudes",
        "rows": rows,
    }


# A cantilever bent far --------------------------------------------------------------------------------------


def elastica_end(alpha: float) -> list:
    """Deflection and shortening over L and rotation of the end, dead transverse load P, alpha = P L^2 / EI."""
    root = mp.sqrt(mp.mpf(alpha))

    def amplitude(theta):
        k2 = (1 + mp.sin(theta)) / 2
        return k2, mp.asin(1 / mp.sqrt(2 * k2))

    def off(theta):
        k2, phi = amplitude(theta)
        return mp.ellipk(k2) - mp.ellipf(phi, k2) - root

    theta = mp.findroot(off, (mp.mpf("1e-6"), mp.pi / 2 - mp.mpf("1e-9")), solver="anderson", tol=1e-25)
    k2, phi = amplitude(theta)
    deflection = 1 - 2 / root * (mp.ellipe(k2) - mp.ellipe(phi, k2))
    return [deflection, 1 - mp.sqrt(2 * mp.sin(theta) / mp.mpf(alpha)), theta]


def elastica_shot(alpha: float) -> list:
    """The same by integrating theta'' = -alpha cos(theta) from the clamp, its bending moment found by trial."""

    def run(moment: float):
        def change(_, y):
            return [y[1], -alpha * math.cos(y[0]), math.sin(y[0]), math.cos(y[0])]

        return solve_ivp(change, (0.0, 1.0), [0.0, moment, 0.0, 0.0], method="DOP853", rtol=1e-13, atol=1e-14).y[:, -1]

    moment = brentq(lambda m: run(m)[1], 1e-3 * alpha, alpha, xtol=1e-14, rtol=1e-14)
    theta, _, deflection, along = run(moment)
    return [deflection, 1 - along, theta]


def elastica() -> dict:
    """A cantilever under a dead load at its end, by elliptic integrals and by integration along it."""
    rows = []
    for alpha in (0.2, 0.25, 0.5, 0.75, 1, 1.5, 2, 3, 4, 5, 6, 7, 8, 9, 10):
        exact = elastica_end(alpha)
        for name, a, b in zip(("deflection", "shortening", "rotation"), exact, elastica_shot(alpha)):
            agree(float(a), b, 1e-9, f"elastica {alpha}, {name}")
        rows.append({
            "alpha": float(alpha),
            "deflection_over_L": float(exact[0]),
            "shortening_over_L": float(exact[1]),
            "end_rotation_rad": float(exact[2]),
        })
    return {
        "formula": "k^2 = (1 + sin th)/2, sin phi = 1/(k sqrt 2), sqrt alpha = K(k) - F(phi, k); "
        "u/L = 1 - sqrt(2 sin th/alpha); w/L = 1 - 2/sqrt(alpha) [E(k) - E(phi, k)]",
        "note": "inextensible, no shear flexibility, alpha = P L^2/EI",
        "rows": rows,
    }


# A beam on an elastic bed -----------------------------------------------------------------------------------


def hetenyi(beta_l) -> list:
    """Deflection in the middle and at the ends over P beta / k, moment in the middle over P / beta; the printed forms."""
    x = mp.mpf(beta_l)
    below = mp.sinh(x) + mp.sin(x)
    middle = (mp.cosh(x) + mp.cos(x) + 2) / (2 * below)
    end = 2 * mp.cosh(x / 2) * mp.cos(x / 2) / below
    return [middle, end, (mp.cosh(x) - mp.cos(x)) / (4 * below)]


def beam_solved(beta_l) -> list:
    """The same from the fourth derivative of w + 4 w = 0 (lengths in 1 / beta) on half the beam and its ends' conditions."""
    half = mp.mpf(beta_l) / 2
    # Waves exp(r x) with r^4 = -4; level and E I times the third derivative P / 2 in the middle, no moment or shear at the end.
    roots = [mp.mpc(s, t) for s in (1, -1) for t in (1, -1)]
    rows = [
        list(roots),
        [r**3 for r in roots],
        [r**2 * mp.exp(r * half) for r in roots],
        [r**3 * mp.exp(r * half) for r in roots],
    ]
    # In units of P beta / k, with E I beta^3 = k / (4 beta), the third derivative is 2.
    waves = mp.lu_solve(mp.matrix(rows), mp.matrix([0, 2, 0, 0]))
    middle = mp.re(sum(waves))
    end = mp.re(sum(c * mp.exp(r * half) for c, r in zip(waves, roots)))
    # Moment: minus E I times the second derivative.
    return [middle, end, -mp.re(sum(c * r**2 for c, r in zip(waves, roots))) / 4]


def elastic_bed() -> dict:
    """A beam with free ends on an elastic bed, a force in its middle."""
    rows = []
    for beta_l in (1.0, 2.0, 3.5, 5.0, 8.0):
        printed = hetenyi(beta_l)
        for name, a, b in zip(("middle", "end", "moment"), printed, beam_solved(beta_l)):
            agree(a, b, 1e-20, f"beam on a bed, {beta_l}, {name}")
        middle, end, moment = (float(v) for v in printed)
        rows.append({"beta_l": beta_l, "middle": middle, "end": end, "moment": moment})
    return {
        "formula": "beta^4 = k / 4EI, k per length; deflections over P beta / k, moment over P / beta",
        "rows": rows,
    }


def main() -> None:
    """Works everything out and writes it."""
    groups = {
        "torsion": torsion(),
        "perimeter_von_mises": perimeter(),
        "lateral_buckling": lateral_buckling(),
        "tapered_cantilever": tapered(),
        "quarter_ring": quarter_ring(),
        "fixed_portal": fixed_portal(),
        "elastica": elastica(),
        "beam_on_elastic_bed": elastic_bed(),
    }
    written = {"versions": {name: version(name) for name in ("mpmath", "numpy", "scipy")}, **groups}
    (HERE / "answers" / "closed_forms.json").write_text(as_json(written), encoding="utf-8")
    for row in groups["perimeter_von_mises"]["rows"]:
        top = f"{row['max_von_mises_Pa'] / 1e6:8.2f} MPa on {row['face']}"
        missed = f"corners and mid-faces miss {row['missed_fraction']:.2%}"
        print(f"b/t {row['b_m'] / row['t_m']:5.2f}  {top}  {missed}")
    for row in groups["lateral_buckling"]["rows"]:
        print(f"buckling {row['constant']:.9f}  {row['name']}")
    print("every formula agrees with its second way")


if __name__ == "__main__":
    main()
