"""A gear as an OpenSees model: corotational beams with fibre sections, a rigid wheel, tension-only wires."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import openseespy.opensees as ops

from gear_files import Case, Gear, Leg, Wire
from unit_load import rectangle


@dataclass(frozen=True)
class Mesh:
    """How finely a gear is cut. Fibres lie in cells of two Gauss points, so the counts are even."""

    elements: int = 40
    through: int = 80
    across: int = 16
    step: float = 0.05
    kind: str = "forceBeamColumn"


# Two Gauss points along an element and in a cell of fibres.
POINTS, WEIGHTS = np.polynomial.legendre.leggauss(2)

AXLE_ELEMENTS = 16

# A wheel's arm against the leg's root: bending stiffness, and stretch stiffness.
RIGID_BENDING, RIGID_STRETCH = 1e4, 1e2

# A contact point that moves farther than this part of the leg's length in one increment has snapped through.
JUMP = 0.1

# Convergence of an increment: norm of the last change, m and rad together.
CHANGE = 1e-10


def cells(size: float, count: int) -> tuple[np.ndarray, np.ndarray]:
    """Places and weights of `count` fibres over a length, two Gauss points to a cell: the second moment is exact."""
    n = count // 2
    edge = size / n
    middle = (np.arange(n) + 0.5) * edge - size / 2
    places = (middle[:, None] + POINTS[None, :] * edge / 2).ravel()
    return places, np.tile(WEIGHTS * edge / 2, n)


class Failed(Exception):
    """An increment did not converge at the smallest step, or jumped to another state."""


class Model:
    """The gear in OpenSees' memory, which holds one model at a time."""

    def __init__(self, gear: Gear, case: Case | None, mesh: Mesh, shift: dict | None = None):
        """Without a case the wires are left out, and pull on the legs as they do in the unloaded gear of the file."""
        self.gear, self.mesh = gear, mesh
        self.shift = shift or {}
        self.file_place: dict[int, np.ndarray] = {}
        self.node_at: dict[tuple[str, float], int] = {}
        self.leg_elements: list[tuple[int, Leg, float, float]] = []
        self.contact: dict[str, int] = {}
        self.wires: list[tuple[Wire, int, int, int]] = []
        self.tags = 0
        self.peak = 0.0
        ops.wipe()
        ops.model("basic", "-ndm", 3, "-ndf", 6)
        for leg in gear.legs:
            self.add_leg(leg)
        self.hang_wheels()
        if case is None:
            ops.timeSeries("Constant", 1)
            ops.pattern("Plain", 1, 1)
            self.pull()
        else:
            for wire in gear.wires:
                self.add_wire(wire)
            self.loads = {load.wheel: load.force for load in case.loads}
            ops.timeSeries("Linear", 1)
            ops.pattern("Plain", 1, 1)
            for side, force in self.loads.items():
                ops.load(self.contact[side], *(float(f) for f in force), 0.0, 0.0, 0.0)
        ops.constraints("Plain")
        ops.numberer("RCM")
        ops.system("BandGeneral")
        ops.test("NormDispIncr", CHANGE, 25)
        ops.algorithm("Newton")
        ops.integrator("LoadControl", 0.0)
        ops.analysis("Static")
        self.multiple = 0.0

    # Building ------------------------------------------------------------------------------------------

    def tag(self) -> int:
        """A number not used before."""
        self.tags += 1
        return self.tags

    def node(self, where: np.ndarray) -> int:
        """A node; where the gear is pretensioned it starts where it would be without the wires' pull."""
        tag = self.tag()
        self.file_place[tag] = where
        start = where - self.shift.get(tag, np.zeros(6))[:3]
        ops.node(tag, *(float(c) for c in start))
        return tag

    def turned(self, i: int, j: int, direction: np.ndarray) -> np.ndarray:
        """A section's direction turned back by the twist that the wires' pull gives."""
        twist = -(self.shift.get(i, np.zeros(6))[3:] + self.shift.get(j, np.zeros(6))[3:]) / 2
        angle = float(np.linalg.norm(twist))
        if angle == 0.0:
            return direction
        k = twist / angle
        cross = np.cross(k, direction)
        return direction * math.cos(angle) + cross * math.sin(angle) + k * (k @ direction) * (1 - math.cos(angle))

    def section(self, leg: Leg, fraction: float, metal: int) -> int:
        """Fibres over the leg's section, torsion elastic."""
        b, t = leg.section(fraction)
        tag = self.tag()
        ops.section("Fiber", tag, "-GJ", leg.material.shear * rectangle(b, t)[3])
        # Local y is through the thickness, local z across the width.
        for y, wy in zip(*cells(t, self.mesh.through)):
            for z, wz in zip(*cells(b, self.mesh.across)):
                ops.fiber(float(y), float(z), float(wy * wz), metal)
        return tag

    def add_leg(self, leg: Leg) -> None:
        """A leg in equal elements between its root, the wires' points and its tip."""
        metal = self.tag()
        steel = leg.material
        ops.uniaxialMaterial("Steel01", metal, steel.yields, steel.young, steel.tangent / steel.young)
        ends = [end for wire in self.gear.wires for end in wire.ends if isinstance(end, tuple)]
        cuts = sorted({0.0, 1.0} | {s for side, s in ends if side == leg.side})
        fractions = [0.0]
        for low, high in zip(cuts, cuts[1:]):
            n = max(2, round(self.mesh.elements * (high - low)))
            fractions += [low + (high - low) * k / n for k in range(1, n)] + [high]
        for s in fractions:
            self.node_at[leg.side, s] = self.node(leg.at(s))
        ops.fix(self.node_at[leg.side, 0.0], *[1] * 6)
        prismatic = leg.width[0] == leg.width[1] and leg.thickness[0] == leg.thickness[1]
        shared = self.section(leg, 0.5, metal) if prismatic else None
        for low, high in zip(fractions, fractions[1:]):
            i, j = self.node_at[leg.side, low], self.node_at[leg.side, high]
            places = [0.5 + 0.5 * x for x in POINTS]
            sections = [shared or self.section(leg, low + p * (high - low), metal) for p in places]
            rule, turn, element = self.tag(), self.tag(), self.tag()
            ops.beamIntegration("UserDefined", rule, 2, *sections, *places, *(w / 2 for w in WEIGHTS))
            ops.geomTransf("Corotational", turn, *(float(c) for c in self.turned(i, j, leg.across)))
            extra = ("-iter", 30, 1e-14) if self.mesh.kind == "forceBeamColumn" else ()
            ops.element(self.mesh.kind, element, i, j, turn, rule, *extra)
            self.leg_elements.append((element, leg, low, high))

    def bar(self, i: int, j: int, area: float, young: float, shear: float, polar: float, second: float, toward) -> None:
        """An elastic corotational beam, as stiff one way as the other."""
        turn = self.tag()
        ops.geomTransf("Corotational", turn, *(float(c) for c in toward))
        ops.element("elasticBeamColumn", self.tag(), i, j, area, young, shear, polar, second, second, turn)

    def hang_wheels(self) -> None:
        """The wheel as one stiff arm to its contact point; a twin's axle as a round beam from tip to tip."""
        gear = self.gear
        carrier = {leg.side: self.node_at[leg.side, 1.0] for leg in gear.legs}
        if gear.axle is not None:
            if gear.axle.pinned:
                raise ValueError("a pinned axle is not modelled here")
            carrier["centre"] = self.add_axle(carrier)
        b, t = gear.legs[0].section(0.0)
        young = gear.legs[0].material.young
        second, area = RIGID_BENDING * b * t**3 / 12, RIGID_STRETCH * b * t
        for wheel in gear.wheels:
            at = carrier[wheel.side]
            contact = self.node(wheel.contact)
            self.contact[wheel.side] = contact
            self.bar(at, contact, area, young, young / 2, 2 * second, second, (1.0, 0.0, 0.0))

    def add_axle(self, tips: dict[str, int]) -> int:
        """The axle; returns the node at its middle, where the wheel sits."""
        axle = self.gear.axle
        second = math.pi / 64 * axle.diameter**4
        ends = [self.file_place[tips[side]] for side in ("left", "right")]
        n = AXLE_ELEMENTS
        inner = [self.node(ends[0] + k / n * (ends[1] - ends[0])) for k in range(1, n)]
        nodes = [tips["left"], *inner, tips["right"]]
        e, g = axle.material.young, axle.material.shear
        for i, j in zip(nodes, nodes[1:]):
            self.bar(i, j, math.pi / 4 * axle.diameter**2, e, g, 2 * second, second, (1.0, 0.0, 0.0))
        return nodes[n // 2]

    def add_wire(self, wire: Wire) -> None:
        """A corotational truss whose tension is max(0, T0 + E A / L (l - L)), L and T0 of the unloaded gear."""
        nodes = []
        for end, point in zip(wire.ends, wire.points):
            if isinstance(end, tuple):
                nodes.append(self.node_at[end])
            else:
                nodes.append(self.node(point))
                ops.fix(nodes[-1], *[1] * 6)
        start = float(np.linalg.norm(np.subtract(ops.nodeCoord(nodes[1]), ops.nodeCoord(nodes[0]))))
        # OpenSees strains by the length it starts from; this modulus and this strain make it the law above.
        young = wire.young * start / wire.length
        strain = wire.tight / (young * wire.area) + (start - wire.length) / start
        pull, law, element = self.tag(), self.tag(), self.tag()
        ops.uniaxialMaterial("Elastic", pull, young, 0.0, 0.0)
        ops.uniaxialMaterial("InitStrainMaterial", law, pull, strain)
        ops.element("corotTruss", element, *nodes, wire.area, law)
        self.wires.append((wire, element, *nodes))

    def pull(self) -> None:
        """The wires' pull in the unloaded gear, as forces."""
        for wire in self.gear.wires:
            for end, sign in zip(wire.ends, (1.0, -1.0)):
                if isinstance(end, tuple) and wire.initial > 0:
                    force = sign * wire.initial * wire.direction
                    ops.load(self.node_at[end], *(float(f) for f in force), 0.0, 0.0, 0.0)

    # Solving -------------------------------------------------------------------------------------------

    def settle(self) -> None:
        """The gear with no load on its wheels."""
        if ops.analyze(1) != 0:
            raise Failed("no load")
        self.note_strain()

    def go_to(self, multiple: float) -> None:
        """Raises or lowers the loads to a multiple, in steps that shrink where Newton fails."""
        step = self.mesh.step
        while abs(multiple - self.multiple) > 1e-12:
            way = multiple - self.multiple
            pace = math.copysign(min(step, abs(way)), way)
            ops.integrator("LoadControl", pace)
            before, was = self.multiple, self.displacements()
            if ops.analyze(1) == 0:
                self.multiple = multiple if abs(way) <= step else before + pace
                ops.setTime(self.multiple)
                jump = max(np.linalg.norm(b - a) for a, b in zip(was, self.displacements()))
                if jump > JUMP * self.gear.legs[0].length:
                    raise Failed(f"jumps beyond {before:.5f}")
                self.note_strain()
                step = min(self.mesh.step, 1.5 * step)
            else:
                step = abs(pace) / 2
                if step < 1e-5:
                    raise Failed(f"stops at {before:.5f}")

    # Reading -------------------------------------------------------------------------------------------

    def place(self, node: int) -> np.ndarray:
        """Where a node is now."""
        return np.array(ops.nodeCoord(node)) + np.array(ops.nodeDisp(node)[:3])

    def displacements(self) -> list[np.ndarray]:
        """Of the contact points, from the unloaded gear of the file."""
        return [self.place(self.contact[w.side]) - w.contact for w in self.gear.wheels]

    def tensions(self) -> list[float]:
        """Of the wires, from the law; OpenSees' own number must be the same."""
        out = []
        for wire, element, i, j in self.wires:
            now = float(np.linalg.norm(self.place(j) - self.place(i)))
            tension = max(0.0, wire.tight + wire.stiffness * (now - wire.length))
            told = ops.eleResponse(element, "axialForce")[0]
            if abs(told - tension) > 1e-6 * max(1.0, tension):
                raise AssertionError(f"{wire.name}: {tension} N by its length, {told} N by OpenSees")
            if tension > 0.7 * wire.breaks:
                raise AssertionError(f"{wire.name}: {tension} N is near its strength")
            out.append(tension)
        return out

    def note_strain(self) -> None:
        """Keeps the largest strain at a leg's corners, over the yield strain, that has been seen."""
        for element, leg, low, high in self.leg_elements:
            at_points = [np.array(ops.eleResponse(element, "section", str(k), "deformation")[:3]) for k in (1, 2)]
            for end, s in ((-1.0, low), (1.0, high)):
                # From the two Gauss points on to the element's ends, in a straight line.
                part = (end - POINTS[0]) / (POINTS[1] - POINTS[0])
                stretch, about_z, about_y = at_points[0] + part * (at_points[1] - at_points[0])
                b, t = leg.section(s)
                corner = abs(stretch) + t / 2 * abs(about_z) + b / 2 * abs(about_y)
                self.peak = max(self.peak, corner * leg.material.young / leg.material.yields)

    def imbalance(self) -> float:
        """Loads, clamps and anchors about the origin in the deformed gear; relative."""
        ops.reactions()
        force, moment, size, turn = np.zeros(3), np.zeros(3), 0.0, 0.0
        acting = []
        for leg in self.gear.legs:
            node = self.node_at[leg.side, 0.0]
            acting.append((leg.root, ops.nodeReaction(node)))
        for wire, _, i, j in self.wires:
            acting += [(self.place(n), ops.nodeReaction(n)) for n, end in zip((i, j), wire.ends) if not isinstance(end, tuple)]
        for side, node in self.contact.items():
            acting.append((self.place(node), [self.multiple * f for f in self.loads[side]] + [0.0] * 3))
        for point, wrench in acting:
            f, m = np.array(wrench[:3]), np.array(wrench[3:])
            arm = np.cross(point, f) + m
            force, moment = force + f, moment + arm
            size, turn = max(size, np.abs(f).max()), max(turn, np.abs(arm).max())
        return max(np.abs(force).max() / size, np.abs(moment).max() / turn)


def started(gear: Gear, case: Case, mesh: Mesh) -> Model:
    """The gear with no load on its wheels and its nodes where the file puts them.

    With pretension, the legs have to be bent in that state and straight on the file's line all the same: they start
    without stress on the line they spring back to when the wires are cut. That line is found by repetition.
    """
    shift = None
    if any(w.tight > 0 for w in gear.wires):
        coarse = Mesh(mesh.elements, 2, 2, mesh.step, mesh.kind)
        for _ in range(30):
            model = Model(gear, None, coarse, shift)
            model.settle()
            moved = {n: np.array(ops.nodeDisp(n)) for n in model.file_place}
            off = max(np.abs(model.place(n) - at).max() for n, at in model.file_place.items())
            shift = moved
            if off < 1e-11:
                break
        else:
            raise AssertionError(f"the line without stress is not found, {off} m")
    model = Model(gear, case, mesh, shift)
    model.settle()
    off = max(np.abs(u).max() for u in model.displacements())
    if off > 1e-9:
        raise AssertionError(f"the unloaded gear is {off} m off the file's")
    return model
