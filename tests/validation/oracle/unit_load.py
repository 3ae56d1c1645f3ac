"""A second way to the answers: the unit-load theorem, without a frame solver.

Each leg (with its half of the axle, for a twin) is a cantilever once the wire tensions are known. Its
displacements are integrals of M m / EI + T t / GJ + N n / EA along the path, done by Gauss-Legendre on the
tapered section itself, so nothing here is cut into prismatic pieces. The two halves of a twin are joined by
their 6 x 6 flexibilities at the wheel.
"""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np

from gear_files import Gear, Leg

POINTS, WEIGHTS = np.polynomial.legendre.leggauss(64)

# A hinge as a very soft joint, in units of the flexibility of the half axle in bending.
SOFT = 1e7


@lru_cache(maxsize=None)
def torsion_beta(ratio: float) -> float:
    """beta in J = beta b t^3, the exact series: 1/3 (1 - 192/pi^5 (t/b) sum tanh(k pi b / 2t) / k^5, k odd)."""
    k = np.arange(1, 400, 2)
    total = np.sum(np.tanh(k * math.pi * ratio / 2) / k**5)
    return float((1 - 192 / math.pi**5 / ratio * total) / 3)


def rectangle(b: float, t: float) -> tuple[float, float, float, float]:
    """Area, second moment for bending through the thickness, across the width, torsion constant."""
    long, short = max(b, t), min(b, t)
    return b * t, b * t**3 / 12, t * b**3 / 12, torsion_beta(round(long / short, 14)) * long * short**3


def wrench_at(where: np.ndarray, loads: list) -> np.ndarray:
    """Force and moment about `where` of loads (point, force, moment)."""
    force = sum((f for _, f, _ in loads), np.zeros(3))
    moment = sum((m + np.cross(p - where, f) for p, f, m in loads), np.zeros(3))
    return np.concatenate([force, moment])


class Cantilever:
    """A leg, and for a twin its half of the axle, as a chain of integration points."""

    def __init__(self, leg: Leg, gear: Gear, breaks: list[float]):
        self.leg = leg
        self.stations = []
        cuts = sorted({0.0, 1.0, *breaks})
        for low, high in zip(cuts, cuts[1:]):
            for x, w in zip(POINTS, WEIGHTS):
                s = (low + high) / 2 + (high - low) / 2 * x
                area, weak, strong, polar = rectangle(*leg.section(s))
                e, g = leg.material.young, leg.material.shear
                bending = np.outer(leg.across, leg.across) / (e * weak)
                bending += np.outer(leg.through, leg.through) / (e * strong)
                self.add(s, leg.at(s), leg.along, e * area, g * polar, bending, w * (high - low) / 2 * leg.length)
        if gear.axle is not None:
            self.half_axle(gear)

    def add(self, s, where, along, axial, twist, bending, weight):
        """One station: compliance per length for force and moment, about its own point."""
        compliance = np.zeros((6, 6))
        compliance[:3, :3] = np.outer(along, along) / axial
        compliance[3:, 3:] = bending + np.outer(along, along) / twist
        self.stations.append((s, where, compliance * weight))

    def half_axle(self, gear: Gear):
        """From the arm's tip to the wheel's centre; a hinge is a soft spot at the tip."""
        centre, tip, axle = gear.wheels[0].centre, self.leg.tip, gear.axle
        length = float(np.linalg.norm(centre - tip))
        along = (centre - tip) / length
        area, second = math.pi / 4 * axle.diameter**2, math.pi / 64 * axle.diameter**4
        e, g = axle.material.young, axle.material.shear
        square = np.eye(3) - np.outer(along, along)
        for x, w in zip(POINTS, WEIGHTS):
            s = 0.5 + 0.5 * x
            where = tip + s * (centre - tip)
            self.add(1 + s, where, along, e * area, 2 * g * second, square / (e * second), w / 2 * length)
        if axle.pinned:
            soft = np.zeros((6, 6))
            soft[3:, 3:] = SOFT * length / (e * second) * square
            self.stations.append((1.0 + 1e-12, tip, soft))

    def displacement(self, at: tuple[float, np.ndarray], loads: list) -> np.ndarray:
        """Displacement and rotation (6) at a point rigidly fixed to station `at[0]`, under (s, point, f, m)."""
        s_at, p_at = at
        out = np.zeros(6)
        for s, where, compliance in self.stations:
            if s > s_at:
                continue
            beyond = [(p, f, m) for s_load, p, f, m in loads if s_load >= s]
            if not beyond:
                continue
            strain = compliance @ wrench_at(where, beyond)
            out[:3] += strain[:3] + np.cross(strain[3:], p_at - where)
            out[3:] += strain[3:]
        return out

    def flexibility(self, at: tuple[float, np.ndarray]) -> np.ndarray:
        """6 x 6 flexibility at a point."""
        columns = []
        for unit in np.eye(6):
            columns.append(self.displacement(at, [(at[0], at[1], unit[:3], unit[3:])]))
        return np.array(columns).T


def wheel_displacements(gear: Gear, loads: list, tensions: dict[str, float]) -> list[np.ndarray]:
    """Contact-point displacements from the gear free of wires, under wheel loads and the tensions given."""
    held = {leg.side: [] for leg in gear.legs}
    for wire in gear.wires:
        pull = tensions[wire.name] * wire.direction
        for end, point, force in ((wire.ends[0], wire.points[0], pull), (wire.ends[1], wire.points[1], -pull)):
            if isinstance(end, tuple):
                held[end[0]].append((end[1], point, force, np.zeros(3)))
    arms = {leg.side: Cantilever(leg, gear, [s for s, *_ in held[leg.side]]) for leg in gear.legs}
    if gear.axle is None:
        out = []
        for wheel, load in zip(gear.wheels, loads):
            on = [(1.0, load.point, load.force, np.zeros(3)), *held[wheel.side]]
            out.append(arms[wheel.side].displacement((1.0, wheel.contact), on)[:3])
        return out
    wheel = gear.wheels[0]
    end = (2.0, wheel.centre)
    applied = wrench_at(wheel.centre, [(loads[0].point, loads[0].force, np.zeros(3))])
    stiffness, right = np.zeros((6, 6)), applied.copy()
    for side, arm in arms.items():
        k = np.linalg.inv(arm.flexibility(end))
        stiffness += k
        right += k @ arm.displacement(end, held[side])
    moved = np.linalg.solve(stiffness, right)
    return [moved[:3] + np.cross(moved[3:], wheel.contact - wheel.centre)]
