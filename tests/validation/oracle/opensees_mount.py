"""Whole gears on their mounts with OpenSees: bed and bolts as gap elements; writes answers/mounted.json.

    python3 opensees_mount.py            every gear of mounted.json
    python3 opensees_mount.py NAME ...   only these gears, and writes nothing

See README.md beside this file for what is modelled and how the answers are to be compared.
"""

from __future__ import annotations

import json
import math
import sys
from dataclasses import dataclass, replace
from importlib.metadata import version
from pathlib import Path

import numpy as np
import openseespy.opensees as ops

from gear_files import Gear, Leg, as_json, read_gear
from unit_load import rectangle

HERE = Path(__file__).parent

# Springs that hold a plate which nothing else holds, of the bed's own stiffness.
IN_SIGHT = 1e-10

# Of a bolt's sideways stiffness, what acts before its play is used up.
IN_PLAY = 0.02

# Places on the flat that are one break between panels, of its length; how near an end of a line a node may be.
ONE, NEAR = 0.02, 0.004

# A wheel's arm against the leg's root, where rotations are finite: bending stiffness, and stretch stiffness.
RIGID_BENDING, RIGID_STRETCH = 1e4, 1e2


@dataclass(frozen=True)
class Mesh:
    """How finely a gear is cut."""

    # Longest panel along the flat, of its length; across the plate where the wood bends that way, of its width.
    along: float = 1 / 4
    across: float = 1 / 2
    leg: int = 96
    large: bool = False


SAME = Mesh()
FINE = Mesh(along=1 / 20, across=1 / 10)


# Cases that are followed to large displacements as well.
LARGE = {("plain-pair", "one wheel with drag"), ("spanned-pair", "one wheel with drag"), ("nose-foot", "drag")}


class Failed(Exception):
    """A load that was not reached."""


def lobatto(count: int) -> tuple[np.ndarray, np.ndarray]:
    """Places on -1 to 1, both ends among them, and weights that sum to one: zeros of the derivative of P_(n-1)."""
    top = np.polynomial.legendre.Legendre.basis(count - 1)
    places = np.concatenate([[-1.0], np.sort(top.deriv().roots().real), [1.0]])
    return places, 1.0 / (count * (count - 1) * top(places) ** 2)


def breaks(places: list[float], low: float, high: float) -> list[float]:
    """Both ends and what lies between, places that are nearly one made one."""
    apart = ONE * (high - low)
    groups: list[list[float]] = []
    for place in sorted(p for p in places if low + apart < p < high - apart):
        if groups and place - groups[-1][-1] <= apart:
            groups[-1].append(place)
        else:
            groups.append([place])
    return [low, *((g[0] + g[-1]) / 2 for g in groups), high]


def panels(cuts: list[float], longest: float) -> list[tuple[float, float]]:
    """Places and the length each stands for: five of Lobatto in each panel between cuts."""
    rule = list(zip(*lobatto(5)))
    places: list[tuple[float, float]] = [(cuts[0], 0.0)]
    for low, high in zip(cuts, cuts[1:]):
        count = max(1, math.ceil((high - low) / longest - ONE))
        size = (high - low) / count
        for k in range(count):
            first, *others = [(low + size * (k + (x + 1) / 2), share * size) for x, share in rule]
            places[-1] = (places[-1][0], places[-1][1] + first[1])
            places += others
    return places


def between(places: list[float], low: float, high: float) -> list[float]:
    """Both ends and the places that are not as good as at one."""
    near = NEAR * (high - low)
    return [low, *(p for p in places if low + near < p < high - near), high]


def as_gear(entry: dict) -> Gear:
    """The gear without its mount, through the reader of gear files."""
    p, w = entry["plate"], entry["wheel"]

    def mm(value):
        return f"{value:.9f} mm"

    plate = {
        "metal": "sheet", "thickness": mm(p["thickness"]), "width_root": mm(p["width_root"]),
        "width_tip": mm(p["width_tip"]), "leg_length": mm(p["leg_length"]),
        "leg_angle": f"{p['leg_angle']:.9f} deg", "rake": f"{p['rake']:.9f} deg", "base_width": mm(entry["base_width"]),
    }
    wheel = {
        "diameter": mm(w["diameter"]), "overhang": mm(w["overhang"]), "axle": mm(w["axle"]),
        "axle_metal": "steel-8.8", "axle_joint": w["axle_joint"],
    }
    metal = {"modulus": f"{p['modulus']} MPa", "poisson": p["poisson"], "yield": "1000 MPa"}
    braces, wires = [], {}
    for i, b in enumerate(entry["braces"]):
        wires[str(i)] = {"modulus": f"{b['modulus']} MPa", "ultimate": "10000 MPa"}
        brace = {"pattern": b["pattern"], "wire": str(i), "diameter": mm(b["diameter"]), "leg_at": b["leg_at"]}
        brace["base_at"] = mm(b["base_at"])
        if b["pretension"] is not None:
            brace["pretension"] = f"{b['pretension']} N"
        if b["slack"] is not None:
            brace["slack"] = mm(b["slack"])
        braces.append(brace)
    table = {"arms": entry["arms"], "plate": plate, "wheel": wheel, "brace": braces}
    return read_gear(entry["name"], table, {"sheet": metal}, wires)


class Joint:
    """What the mount's description makes of bolts and wood: stiffnesses in N/m, lengths in m."""

    def __init__(self, entry: dict):
        m, p = entry["mount"], entry["plate"]
        wood = m["wood"]
        self.thickness = 1e-3 * p["thickness"]
        self.width = 1e-3 * p["width_root"]
        self.depth = 1e-3 * (m["wood_thickness"] + (m["doubler"] or 0.0))
        d = 1e-3 * m["bolt"]
        self.diameter = d
        self.bed = 1e6 * wood["through"] / self.depth
        area = math.pi / 4 * (d - 0.938194e-3 * m["pitch"]) ** 2
        self.pull = 1e6 * m["modulus"] * area / (self.thickness + self.depth + 0.75 * d)
        self.flange = 1e-3 * m["nut_flange"]
        self.pressed = self.bed * math.pi / 4 * (self.flange**2 - d**2)
        self.shear = 2 * wood["density"] ** 1.5 * m["bolt"] / 23 * 1e3
        self.play = 0.0 if m["hole"] is None else 0.5e-3 * (m["hole"] - m["bolt"])
        self.preload = m["preload"] or 0.0
        self.bolts = [(1e-3 * x, 1e-3 * y) for x, y in m["bolts"]]
        setback = 0.0
        if p["bend_radius"] is not None:
            bent = math.radians(90 - p["leg_angle"])
            setback = 1e-3 * (p["bend_radius"] + p["thickness"] / 2) * math.tan(bent / 2)
        if entry["arms"] == "single":
            # Every foot here is bent to starboard from an arm that hangs straight down.
            foot = 1e-3 * m["foot"]
            self.reach, self.flat = (0.0, foot), (setback, foot)
        else:
            half = 0.5e-3 * entry["base_width"]
            self.reach, self.flat = (-half, half), (setback - half, half - setback)
        self.span = m["span"]
        if self.span:
            self.fore = self.span["direction"] == "fore and aft"
            breadth = self.span["breadth"]
            whole = self.reach[1] - self.reach[0] if self.fore else self.width
            self.breadth = whole if breadth is None else 1e-3 * breadth
            self.half = 0.5e-3 * self.span["length"]
            moduli = {"along": wood["along"], "across": wood["across"], None: min(wood["along"], wood["across"])}
            self.wood_young = 1e6 * moduli[self.span["grain"]]
            self.wood_shear = 1e6 * wood["shear"]


class Model:
    """A mounted gear in OpenSees' memory, which holds one model at a time."""

    def __init__(self, entry: dict, mesh: Mesh, case: dict | None, slack_by: dict | None = None):
        """Without a case the wires are left out and pull as they do in the finished gear."""
        self.gear, self.joint, self.mesh = as_gear(entry), Joint(entry), mesh
        self.anchored = [b["base_in"] for b in entry["braces"]]
        self.anchors = [side * 1e-3 * b["base_at"] for b in entry["braces"] for side in (-1, 1)]
        self.where: dict[int, np.ndarray] = {}
        self.tags = 0
        ops.wipe()
        ops.model("basic", "-ndm", 3, "-ndf", 6)
        self.turn = "Corotational" if mesh.large else "Linear"
        self.legs: dict[str, dict[float, int]] = {}
        self.first: dict[str, int] = {}
        for leg in self.gear.legs:
            self.add_leg(leg)
        self.hang_wheels()
        self.add_plate()
        self.wood: list[tuple[float, int]] = []
        half = self.joint.width / 2
        if self.joint.span and self.joint.fore:
            places = [x for x, _ in self.joint.bolts] + [0.0] * len(self.anchors)
            self.across = panels(breaks(places, -half, half), mesh.across * 2 * half)
        else:
            self.across = [(float(x) * half, share * 2 * half) for x, share in zip(*lobatto(7))]
        if self.joint.span:
            self.add_wood()
        self.add_bed()
        self.add_bolts()
        self.wire_ends = {w.name: [self.wire_end(w, k) for k in (0, 1)] for w in self.gear.wires}
        ops.timeSeries("Constant", 1)
        ops.pattern("Plain", 1, 1)
        self.wires: dict[str, int] = {}
        for wire in self.gear.wires:
            if case is None:
                for node, sign in zip(self.wire_ends[wire.name], (1.0, -1.0)):
                    ops.load(node, *(float(sign * wire.initial * c) for c in wire.direction), 0.0, 0.0, 0.0)
            else:
                self.add_wire(wire, slack_by[wire.name])
        ops.constraints("Transformation")
        ops.numberer("RCM")
        ops.system("UmfPack")
        ops.test("NormDispIncr", 1e-11 if mesh.large else 1e-13, 60)
        ops.algorithm("Newton")
        ops.integrator("LoadControl", 0.0)
        ops.analysis("Static")
        if ops.analyze(1) != 0:
            raise Failed(f"{self.gear.name}: no load")
        self.start = {side: np.array(ops.nodeDisp(n)[:3]) for side, n in self.contact.items()}
        if case is not None:
            ops.timeSeries("Linear", 2)
            ops.pattern("Plain", 2, 2)
            for side, force in case["loads"].items():
                ops.load(self.contact[side], *force, 0.0, 0.0, 0.0)
            ops.setTime(0.0)
            self.go_to_one()

    def go_to_one(self) -> None:
        """Raises the loads, in steps that shrink where Newton goes round in a circle."""
        now, step = 0.0, 0.1
        while now < 1.0 - 1e-12:
            step = min(step, 1.0 - now)
            for algorithm in (("Newton",), ("NewtonLineSearch",), ("KrylovNewton",)):
                ops.algorithm(*algorithm)
                ops.integrator("LoadControl", step)
                if ops.analyze(1) == 0:
                    break
            else:
                step /= 2
                if step < 1e-4:
                    raise Failed(f"{self.gear.name}: stuck at {now}")
                continue
            now += step

    # Building ------------------------------------------------------------------------------------------

    def tag(self) -> int:
        """A number not used before."""
        self.tags += 1
        return self.tags

    def node(self, where) -> int:
        """A node."""
        tag = self.tag()
        self.where[tag] = np.array(where, dtype=float)
        ops.node(tag, *(float(c) for c in where))
        return tag

    def beam(self, i, j, material, b, t, across) -> int:
        """A prismatic rectangle, b along `across`."""
        young, shear = material
        area, weak, strong, polar = rectangle(b, t)
        turn, element = self.tag(), self.tag()
        # Local z is square to the beam and to the vector; local y is the vector's part square to the beam: `across`.
        along = self.where[j] - self.where[i]
        z = np.cross(along / np.linalg.norm(along), across)
        ops.geomTransf(self.turn, turn, *(float(c) for c in z))
        ops.element("elasticBeamColumn", element, i, j, area, young, shear, polar, weak, strong, turn)
        return element

    def add_leg(self, leg: Leg) -> None:
        """A leg in prismatic pieces, with nodes where wires hold."""
        ends = [end for w in self.gear.wires for end in w.ends if isinstance(end, tuple)]
        cuts = sorted({0.0, 1.0} | {s for side, s in ends if side == leg.side})
        places = [0.0]
        for low, high in zip(cuts, cuts[1:]):
            n = max(2, round(self.mesh.leg * (high - low)))
            places += [low + (high - low) * k / n for k in range(1, n)] + [high]
        nodes = {s: self.node(leg.at(s)) for s in places}
        self.legs[leg.side] = nodes
        for low, high in zip(places, places[1:]):
            b, t = leg.section((low + high) / 2)
            # Through is square to across and along; bending through the thickness is about `across`.
            element = self.beam(nodes[low], nodes[high], (leg.material.young, leg.material.shear), b, t, leg.across)
            self.first.setdefault(leg.side, element)

    def hang_wheels(self) -> None:
        """Rigid arms to the contact points; a twin's axle as a round beam from tip to tip."""
        gear = self.gear
        carrier = {side: nodes[1.0] for side, nodes in self.legs.items()}
        if gear.axle is not None:
            d, material = gear.axle.diameter, gear.axle.material
            second = math.pi / 64 * d**4
            tips = [carrier["left"], carrier["right"]]
            ends = [self.where[t] for t in tips]
            n = 8
            inner = [self.node(ends[0] + k / n * (ends[1] - ends[0])) for k in range(1, n)]
            nodes = [tips[0], *inner, tips[1]]
            for i, j in zip(nodes, nodes[1:]):
                turn = self.tag()
                ops.geomTransf(self.turn, turn, 1.0, 0.0, 0.0)
                area = math.pi / 4 * d**2
                ops.element(
                    "elasticBeamColumn", self.tag(), i, j, area, material.young, material.shear, 2 * second, second,
                    second, turn,
                )
            carrier["centre"] = nodes[n // 2]
        self.contact = {}
        for wheel in gear.wheels:
            at, contact = carrier[wheel.side], self.node(wheel.contact)
            self.contact[wheel.side] = contact
            self.arm(at, contact)

    def add_plate(self) -> None:
        """The flat centre from root to root, or from the root to the foot's end."""
        joint, roots = self.joint, {}
        for leg in self.gear.legs:
            roots[float(leg.root[1])] = self.legs[leg.side][0.0]
        low, high = joint.flat
        places = [y for _, y in joint.bolts] + self.anchors
        self.along = panels(breaks(places, low, high), self.mesh.along * (high - low))
        self.plate_at = between([y for y, _ in self.along], *joint.reach)
        self.plate = []
        for y in self.plate_at:
            near = [n for root, n in roots.items() if abs(root - y) < 1e-9]
            self.plate.append(near[0] if near else self.node((0.0, y, 0.0)))
        metal = self.gear.legs[0].material
        for i, j in zip(self.plate, self.plate[1:]):
            self.beam(i, j, (metal.young, metal.shear), joint.width, joint.thickness, np.array([1.0, 0.0, 0.0]))

    def add_wood(self) -> None:
        """The board as a beam in the plane of its own middle."""
        joint = self.joint
        places = between([p for p, _ in (self.across if joint.fore else self.along)], -joint.half, joint.half)
        height = (joint.thickness + joint.depth) / 2
        nodes = [self.node((p, 0.0, height) if joint.fore else (0.0, p, height)) for p in places]
        across = np.array([0.0, 1.0, 0.0] if joint.fore else [1.0, 0.0, 0.0])
        for i, j in zip(nodes, nodes[1:]):
            self.beam(i, j, (joint.wood_young, joint.wood_shear), joint.breadth, joint.depth, across)
        # A supported edge may turn about both axes square to the span, not about the span.
        free = joint.span["edges"] == "supported"
        turns = [int(not free)] * 3
        turns[0 if joint.fore else 1] = 1
        for node in (nodes[0], nodes[-1]):
            ops.fix(node, 1, 1, 1, *turns)
        self.wood = list(zip(places, nodes))

    def hung(self, carriers: list[tuple[float, int]], along: float, at) -> int:
        """A place that moves with the nearest of the nodes."""
        _, node = min(carriers, key=lambda c: abs(c[0] - along))
        place = self.node(at)
        self.arm(node, place)
        return place

    def arm(self, node: int, place: int) -> None:
        """A rigid arm. Where rotations are finite a linear constraint would stretch it as it turns: a very stiff beam then."""
        if not self.mesh.large:
            ops.rigidLink("beam", node, place)
            return
        b, t = self.gear.legs[0].section(0.0)
        young, turn = self.gear.legs[0].material.young, self.tag()
        second = RIGID_BENDING * b * t**3 / 12
        line = np.abs(self.where[place] - self.where[node])
        aside = (1.0, 0.0, 0.0) if line[0] < 0.9 * np.linalg.norm(line) else (0.0, 1.0, 0.0)
        ops.geomTransf(self.turn, turn, *aside)
        ops.element(
            "elasticBeamColumn", self.tag(), node, place, RIGID_STRETCH * b * t, young, young / 2, 2 * second, second,
            second, turn,
        )

    def on_plate(self, at) -> int:
        """A place on the plate."""
        return self.hung(list(zip(self.plate_at, self.plate)), at[1], at)

    def on_wood(self, at) -> int:
        """A place on the wood; fixed where the wood is backed, over a former and beyond."""
        along = at[0] if self.joint.span and self.joint.fore else at[1]
        if self.wood and self.wood[0][0] < along < self.wood[-1][0]:
            return self.hung(self.wood[1:-1], along, at)
        place = self.node(at)
        ops.fix(place, *[1] * 6)
        return place

    def between(self, wood: int, plate: int, laws: dict[int, int]) -> int:
        """An element of no length: direction to material; strain is the plate's movement less the wood's."""
        element = self.tag()
        ops.element("zeroLength", element, wood, plate, "-mat", *laws.values(), "-dir", *laws)
        return element

    def one_sided(self, stiffness: float, push: bool, before: float = 0.0) -> int:
        """A material whose stress is max(0, before + stiffness x strain) if it pushes, else -max(0, before - stiffness x strain)."""
        law = self.tag()
        if push:
            ops.uniaxialMaterial("Elastic", law, stiffness, 0.0, 0.0)
        else:
            ops.uniaxialMaterial("ENT", law, stiffness)
        if before == 0.0:
            return law
        told = self.tag()
        ops.uniaxialMaterial("InitStrainMaterial", told, law, (1.0 if push else -1.0) * before / stiffness)
        return told

    def add_bed(self) -> None:
        """Wood that resists where the plate comes nearer: up."""
        joint = self.joint
        plane = joint.thickness / 2
        self.bed = []
        whole = 0.0
        for y, length in self.along:
            for x, width in self.across:
                stiffness = joint.bed * length * width
                whole += stiffness
                at = (x, y, plane)
                law = self.one_sided(stiffness, push=True)
                self.bed.append((self.between(self.on_wood(at), self.on_plate(at), {3: law}), x, y))
        for y in joint.reach:
            for x in (-joint.width / 2, joint.width / 2):
                law, at = self.tag(), (x, y, plane)
                ops.uniaxialMaterial("Elastic", law, IN_SIGHT * whole)
                self.between(self.on_wood(at), self.on_plate(at), {3: law})

    def add_bolts(self) -> None:
        """A shank that pulls, a joint that presses, both preloaded, and two ways sideways."""
        joint = self.joint
        self.bolts = []
        for x, y in joint.bolts:
            at = (x, y, joint.thickness / 2)
            wood, plate = self.on_wood(at), self.on_plate(at)
            pull = self.between(wood, plate, {3: self.one_sided(joint.pull, push=False, before=joint.preload)})
            press = self.between(wood, plate, {3: self.one_sided(joint.pressed, push=True, before=joint.preload)})
            side = self.between(wood, plate, {1: self.sideways(), 2: self.sideways()})
            self.bolts.append((pull, press, side))

    def sideways(self) -> int:
        """A bolt's spring, with its play where there is any."""
        joint, law = self.joint, self.tag()
        if joint.play == 0.0:
            ops.uniaxialMaterial("Elastic", law, joint.shear)
            return law
        parts = [self.tag() for _ in range(3)]
        ops.uniaxialMaterial("Elastic", parts[0], IN_PLAY * joint.shear)
        ops.uniaxialMaterial("ElasticPPGap", parts[1], joint.shear, 1e9, joint.play)
        ops.uniaxialMaterial("ElasticPPGap", parts[2], joint.shear, -1e9, -joint.play)
        ops.uniaxialMaterial("Parallel", law, *parts)
        return law

    def wire_end(self, wire, which: int) -> int:
        """On a leg, on the plate or on the wood."""
        end, point = wire.ends[which], wire.points[which]
        if isinstance(end, tuple):
            return self.legs[end[0]][end[1]]
        brace = int(wire.name.rsplit("-", 1)[1]) - 1 if "-" in wire.name else 0
        return self.on_plate(point) if self.anchored[brace] == "plate" else self.on_wood(point)

    def add_wire(self, wire, given_way: float) -> None:
        """A truss that never pushes; `given_way` is how much nearer its ends come when the unloaded gear takes its pull."""
        pull, law, element = self.tag(), self.tag(), self.tag()
        ops.uniaxialMaterial("Elastic", pull, wire.young, 0.0, 0.0)
        ops.uniaxialMaterial("InitStrainMaterial", law, pull, wire.tight / (wire.young * wire.area) + given_way / wire.length)
        kind = "corotTruss" if self.mesh.large else "truss"
        ops.element(kind, element, *self.wire_ends[wire.name], wire.area, law)
        self.wires[wire.name] = element

    # Answers -------------------------------------------------------------------------------------------

    def nearer(self) -> dict[str, float]:
        """How much the ends of each wire have come together."""
        out = {}
        for wire in self.gear.wires:
            a, b = (np.array(ops.nodeDisp(n)[:3]) for n in self.wire_ends[wire.name])
            out[wire.name] = float((a - b) @ wire.direction)
        return out

    def stress(self, element: int, which: int = 1) -> float:
        """Force of one direction of an element of no length."""
        return ops.eleResponse(element, "material", str(which), "stress")[0]

    def answer(self) -> dict:
        """All that is compared."""
        bolts = []
        for pull, press, side in self.bolts:
            shear = [self.stress(side, 1), self.stress(side, 2)]
            bolts.append({"tension_N": -self.stress(pull), "pressed_N": self.stress(press), "shear_N": shear})
        pushes = [self.stress(e) for e, _, _ in self.bed]
        push = sum(pushes)
        levers = [sum(p * patch[k] for p, patch in zip(pushes, self.bed)) for k in (1, 2)]
        roots = []
        for side, element in self.first.items():
            f = [-c for c in ops.eleResponse(element, "globalForce")[:6]]
            roots.append({"side": side, "force_N": f[:3], "moment_Nm": f[3:]})
        wheels = [
            {"side": side, "displacement_m": np.array(ops.nodeDisp(n)[:3]) - self.start[side]}
            for side, n in self.contact.items()
        ]
        wires = [
            {"name": name, "tension_N": ops.eleResponse(element, "axialForce")[0]} for name, element in self.wires.items()
        ]
        centre = [m / push for m in levers] if push > 0 else [0.0, 0.0]
        bed = {"push_N": push, "centre_m": centre}
        return {"bolts": bolts, "bed": bed, "roots": roots, "wheels": wheels, "wires": wires}

    def unbalanced(self, case: dict) -> float:
        """Loads against what bolts, bed and joints give, about the base's centre; relative to the largest."""
        force, moment = np.zeros(3), np.zeros(3)
        sizes = [0.0, 0.0]

        def put(at, f):
            nonlocal force, moment
            arm = np.cross(at, f)
            force, moment = force + f, moment + arm
            sizes[0], sizes[1] = max(sizes[0], np.abs(f).max()), max(sizes[1], np.abs(arm).max())

        plane = self.joint.thickness / 2
        for side, f in case["loads"].items():
            put(self.where[self.contact[side]], np.array(f))
        for element, x, y in self.bed:
            put(np.array([x, y, plane]), np.array([0.0, 0.0, -self.stress(element)]))
        for (x, y), (pull, press, side) in zip(self.joint.bolts, self.bolts):
            up = -self.stress(pull) - self.stress(press)
            put(np.array([x, y, plane]), np.array([-self.stress(side, 1), -self.stress(side, 2), up]))
        for wire in self.gear.wires:
            brace = int(wire.name.rsplit("-", 1)[1]) - 1 if "-" in wire.name else 0
            if self.anchored[brace] == "wood":
                # From the fixed end to the leg.
                toward = wire.direction if isinstance(wire.ends[1], tuple) else -wire.direction
                tension = ops.eleResponse(self.wires[wire.name], "axialForce")[0]
                put(wire.points[0 if isinstance(wire.ends[1], tuple) else 1], -tension * toward)
        return max(np.abs(force).max() / sizes[0], np.abs(moment).max() / sizes[1])


def solved(entry: dict, case: dict, mesh: Mesh) -> Model:
    """The gear under the loads of a case."""
    given_way = {}
    if entry["braces"]:
        given_way = Model(entry, mesh, None).nearer()
    return Model(entry, mesh, case, given_way)


def apart(a: dict, b: dict) -> dict:
    """The largest difference of each kind, relative to the largest of its kind."""

    def worst(of):
        x, y = (np.array([float(v) for v in of(s)]) for s in (a, b))
        return float(np.abs(x - y).max() / np.abs(x).max()) if len(x) and np.abs(x).max() > 0 else 0.0

    return {
        "bolt_tension": worst(lambda s: [v["tension_N"] for v in s["bolts"]]),
        "bolt_shear": worst(lambda s: [c for v in s["bolts"] for c in v["shear_N"]]),
        "bed_push": worst(lambda s: [s["bed"]["push_N"]]),
        "root_moment": worst(lambda s: [c for v in s["roots"] for c in v["moment_Nm"]]),
        "wheel_movement": worst(lambda s: [c for v in s["wheels"] for c in v["displacement_m"]]),
    }


def main() -> None:
    """Solves every gear on both meshes and writes the answers."""
    entries = json.loads((HERE / "mounted.json").read_text(encoding="utf-8"))["gears"]
    wanted = sys.argv[1:]
    written = []
    for entry in entries:
        if wanted and entry["name"] not in wanted:
            continue
        cases = []
        for case in entry["cases"]:
            answers = {}
            for name, mesh in (("same", SAME), ("fine", FINE)):
                model = solved(entry, case, mesh)
                off = model.unbalanced(case)
                if off > 1e-6:
                    raise AssertionError(f"{entry['name']}, {case['name']}: out of balance by {off:.1e}")
                answers[name] = model.answer()
            change = apart(answers["fine"], answers["same"])
            print(f"{entry['name']}, {case['name']}: " + ", ".join(f"{k} {v:.1e}" for k, v in change.items()), flush=True)
            cases.append({"case": case["name"], "same_mesh": answers["same"], "fine_mesh": answers["fine"], "change": change})
            if (entry["name"], case["name"]) in LARGE:
                far = solved(entry, case, replace(SAME, large=True)).answer()
                grown = apart(far, answers["same"])
                print("    far: " + ", ".join(f"{k} {v:.1e}" for k, v in grown.items()), flush=True)
                cases[-1]["large"] = far
        written.append({"gear": entry["name"], "cases": cases})
    if not wanted:
        versions = {name: version(name) for name in ("openseespy", "numpy")}
        (HERE / "answers" / "mounted.json").write_text(as_json({"versions": versions, "gears": written}), encoding="utf-8")


if __name__ == "__main__":
    main()
