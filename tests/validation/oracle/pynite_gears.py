"""Solves the whole gears under gears/ with PyNite and writes answers/<gear>.json.

    python3 pynite_gears.py            re-run everything
    python3 pynite_gears.py NAME ...   only these gears

See README.md beside this file for what is modelled and how the answers are to be compared.
"""

from __future__ import annotations

import math
import platform
import sys
from importlib.metadata import version
from pathlib import Path

import numpy as np
from Pynite import FEModel3D

from gear_files import AXLE_METALS, Case, Gear, Load, Wire, as_json, read_file
from unit_load import rectangle, wheel_displacements

HERE = Path(__file__).parent

# Pieces per leg at the coarsest of three meshes; each further mesh halves every piece.
COARSEST = 12
# Largest change of the extrapolated answer that is accepted, relative to the largest of its block.
CONVERGED = 1e-5
# Largest disagreement with the unit-load integrals that is accepted.
AGREED = 1e-5

AXES = ("X", "Y", "Z")


class Frame:
    """One PyNite model: the legs in pieces, the axle, and the wires of an active set as trusses."""

    def __init__(self, gear: Gear, doubling: int, active: frozenset[str]):
        self.gear = gear
        self.model = FEModel3D()
        self.nodes: dict[tuple[str, float], str] = {}
        self.anchors: dict[str, str] = {}
        self.pieces = 0
        self.sections: dict[tuple, str] = {}
        for leg in gear.legs:
            self.add_leg(leg, doubling)
        if gear.axle is not None:
            self.add_axle()
        for wire in gear.wires:
            if wire.name in active:
                self.add_wire(wire)

    def add_node(self, name: str, where: np.ndarray) -> str:
        """A node; PyNite's global axes are used as they are (x aft, y starboard, z up)."""
        return self.model.add_node(name, *(float(c) for c in where))

    def add_member(self, name, i, j, material, section, local_y=None) -> None:
        """A beam whose local y axis is turned to `local_y`."""
        self.model.add_member(name, i, j, material, section)
        if local_y is None:
            return
        member = self.model.members[name]
        rows = np.array(member.T()[:3, :3], dtype=float)
        member.rotation = math.degrees(math.atan2(local_y @ rows[2], local_y @ rows[1]))
        turned = np.array(member.T()[:3, :3], dtype=float)
        if abs(turned[1] @ local_y - 1) > 1e-12:
            raise AssertionError(f"{name}: local axes are not where they should be")

    def add_leg(self, leg, doubling: int) -> None:
        """A clamped leg in prismatic pieces with the properties of their mid-points."""
        model, side = self.model, leg.side
        metal = f"metal {side}"
        young, shear = leg.material.young, leg.material.shear
        model.add_material(metal, young, shear, young / 2 / shear - 1, 0)
        held = {end[1] for wire in self.gear.wires for end in wire.ends if isinstance(end, tuple) and end[0] == side}
        cuts = sorted({0.0, 1.0} | held)
        fractions = [0.0]
        for low, high in zip(cuts, cuts[1:]):
            n = math.ceil(COARSEST * (high - low)) * doubling
            fractions += [low + (high - low) * k / n for k in range(1, n)] + [high]
        for index, s in enumerate(fractions):
            self.nodes[side, s] = self.add_node(f"{side} {index}", leg.at(s))
        model.def_support(self.nodes[side, 0.0], True, True, True, True, True, True)
        for index, (low, high) in enumerate(zip(fractions, fractions[1:])):
            b, t = leg.section((low + high) / 2)
            area, weak, strong, polar = rectangle(b, t)
            name = f"{side} {index}"
            # Local y through the thickness, so local z is across the width: Iz is bending through the thickness.
            model.add_section(name, area, strong, weak, polar)
            self.add_member(name, self.nodes[side, low], self.nodes[side, high], metal, name, leg.through)
        self.pieces = len(fractions) - 1

    def add_axle(self) -> None:
        """The twin's axle: two beams that meet at the wheel; a pin frees both bendings and keeps torsion."""
        axle, model = self.gear.axle, self.model
        second = math.pi / 64 * axle.diameter**4
        young, shear = axle.material.young, axle.material.shear
        model.add_material("axle", young, shear, young / 2 / shear - 1, 0)
        model.add_section("axle", math.pi / 4 * axle.diameter**2, second, second, 2 * second)
        middle = self.add_node("wheel", self.gear.wheels[0].centre)
        for leg in self.gear.legs:
            name = f"axle {leg.side}"
            self.add_member(name, self.nodes[leg.side, 1.0], middle, "axle", "axle")
            if axle.pinned:
                model.def_releases(name, Ryi=True, Rzi=True)

    def end_node(self, wire: Wire, which: int) -> str:
        """The node of a wire's end, made if it is an anchor."""
        end = wire.ends[which]
        if isinstance(end, tuple):
            return self.nodes[end]
        name = f"anchor {wire.name}"
        if name not in self.anchors:
            self.anchors[name] = self.add_node(name, end)
            self.model.def_support(name, True, True, True, True, True, True)
        return name

    def add_wire(self, wire: Wire) -> None:
        """A truss member: area and modulus, ends free to turn."""
        name = f"wire {wire.name}"
        # Bending and torsion stiffness are condensed out with the releases; any positive numbers will do.
        second = wire.area**2 / 4 / math.pi
        self.model.add_material(name, wire.young, wire.young / 2.6, 0.3, 0)
        self.model.add_section(name, wire.area, second, second, 2 * second)
        self.model.add_member(name, self.end_node(wire, 0), self.end_node(wire, 1), name, name)
        self.model.def_releases(name, Rxi=True, Ryi=True, Rzi=True, Ryj=True, Rzj=True)

    def wheel_node(self, side: str) -> str:
        """Where a wheel hangs on the frame."""
        return "wheel" if self.gear.axle is not None else self.nodes[side, 1.0]

    def place(self, node: str) -> np.ndarray:
        """Coordinates of a node."""
        n = self.model.nodes[node]
        return np.array([n.X, n.Y, n.Z])

    def load(self, combo: str, node: str, force: np.ndarray, moment: np.ndarray | None = None) -> None:
        """Adds a force and a moment at a node to a combination."""
        for letters, vector in (("F", force), ("M", moment)):
            if vector is None:
                continue
            for axis, value in zip(AXES, vector):
                if value != 0.0:
                    self.model.add_node_load(node, letters + axis, float(value), case=combo)

    def load_case(self, combo: str, case: Case) -> None:
        """The wheel loads of a case, moved to the frame with their moments."""
        self.model.add_load_combo(combo, {combo: 1.0})
        for load in case.loads:
            node = self.wheel_node(load.wheel)
            self.load(combo, node, load.force, np.cross(load.point - self.place(node), load.force))

    def pull(self, combo: str, wire: Wire, tension: float) -> None:
        """A tension as forces on the legs the wire holds."""
        for which, sign in ((0, 1.0), (1, -1.0)):
            if isinstance(wire.ends[which], tuple):
                self.load(combo, self.nodes[wire.ends[which]], sign * tension * wire.direction)

    def solve(self) -> None:
        """First-order linear analysis of all combinations."""
        self.model.analyze_linear(check_stability=False, sparse=True)

    def moved(self, node: str, combo: str) -> tuple[np.ndarray, np.ndarray]:
        """Displacement and rotation of a node."""
        n = self.model.nodes[node]
        u = np.array([n.DX[combo], n.DY[combo], n.DZ[combo]], dtype=float)
        return u, np.array([n.RX[combo], n.RY[combo], n.RZ[combo]], dtype=float)

    def contacts(self, combo: str) -> list[np.ndarray]:
        """Displacement of each contact point: the wheel is rigid and turns with what holds it."""
        out = []
        for wheel in self.gear.wheels:
            node = self.wheel_node(wheel.side)
            u, turn = self.moved(node, combo)
            out.append(u + np.cross(turn, wheel.contact - self.place(node)))
        return out

    def elongation(self, wire: Wire, combo: str) -> float:
        """How much farther apart a wire's ends are."""
        ends = []
        for end in wire.ends:
            ends.append(self.moved(self.nodes[end], combo)[0] if isinstance(end, tuple) else np.zeros(3))
        return float(wire.direction @ (ends[1] - ends[0]))

    def roots(self, combo: str) -> list[tuple[np.ndarray, np.ndarray]]:
        """What each leg puts on its clamp: the support's reaction turned round."""
        out = []
        for leg in self.gear.legs:
            n = self.model.nodes[self.nodes[leg.side, 0.0]]
            force = -np.array([n.RxnFX[combo], n.RxnFY[combo], n.RxnFZ[combo]], dtype=float)
            moment = -np.array([n.RxnMX[combo], n.RxnMY[combo], n.RxnMZ[combo]], dtype=float)
            out.append((force, moment))
        return out


def solve_active_sets(gear: Gear, cases: list[Case], doubling: int) -> tuple[dict, int]:
    """Contact displacements and wire tensions of every case, by trying active sets until one agrees with itself.

    A taut wire is a truss; T0 + k e is its tension. A wire that has gone slack lets go of the tension it had in
    the unloaded gear; a slack wire that has come taut pulls k times its slack less than its truss.
    """
    found: dict[str, tuple] = {}
    wanted = {case.name: frozenset(w.name for w in gear.wires if w.tight >= 0) for case in cases}
    tried: dict[str, set] = {case.name: set() for case in cases}
    pieces = 0
    while len(found) < len(cases):
        active = next(wanted[c.name] for c in cases if c.name not in found)
        now = [c for c in cases if c.name not in found and wanted[c.name] == active]
        frame = Frame(gear, doubling, active)
        pieces = frame.pieces
        for case in now:
            frame.load_case(case.name, case)
            for wire in gear.wires:
                # Pull beyond the truss's own k e and beyond what the unloaded gear already carries.
                extra = (wire.tight if wire.name in active else 0.0) - wire.initial
                if extra:
                    frame.pull(case.name, wire, extra)
        frame.solve()
        for case in now:
            tension = {w.name: w.tight + w.stiffness * frame.elongation(w, case.name) for w in gear.wires}
            taut = frozenset(name for name, t in tension.items() if t > 0)
            tried[case.name].add(active)
            if taut == active:
                tension = {name: max(0.0, t) for name, t in tension.items()}
                found[case.name] = (frame.contacts(case.name), tension, active)
            elif taut not in tried[case.name]:
                wanted[case.name] = taut
            else:
                wanted[case.name] = next(s for s in all_sets(gear) if s not in tried[case.name])
    return found, pieces


def all_sets(gear: Gear):
    """Every set of wires, should the iteration come back to one it has seen."""
    names = [w.name for w in gear.wires]
    for bits in range(1 << len(names)):
        yield frozenset(n for k, n in enumerate(names) if bits >> k & 1)


def solve_mesh(gear: Gear, cases: list[Case], doubling: int) -> tuple[dict, int, float]:
    """All results of all cases on one mesh: arrays keyed by kind, and the disagreement of the two routes."""
    found, pieces = solve_active_sets(gear, cases, doubling)
    # The second route: no wires, their tensions as forces. It gives the clamp loads with pretension in them.
    frame = Frame(gear, doubling, frozenset())
    frame.model.add_load_combo("unloaded", {"unloaded": 1.0})
    for wire in gear.wires:
        frame.pull("unloaded", wire, wire.initial)
    for case in cases:
        frame.load_case(case.name, case)
        for wire in gear.wires:
            frame.pull(case.name, wire, found[case.name][1][wire.name])
    frame.solve()
    start = np.array(frame.contacts("unloaded"))
    out, worst = {}, 0.0
    for case in cases:
        contacts, tension, active = found[case.name]
        contacts = np.array(contacts)
        worst = max(worst, distance(np.array(frame.contacts(case.name)) - start, contacts))
        roots = frame.roots(case.name)
        out[case.name] = {
            "contacts": contacts,
            "forces": np.array([f for f, _ in roots]),
            "moments": np.array([m for _, m in roots]),
            "tensions": np.array([tension[w.name] for w in gear.wires]),
            "active": active,
        }
    return out, pieces, worst


def distance(a: np.ndarray, b: np.ndarray) -> float:
    """Largest difference relative to the largest value of the block."""
    scale = float(np.max(np.abs(b), initial=0.0))
    return float(np.max(np.abs(a - b), initial=0.0)) / scale if scale > 0 else 0.0


BLOCKS = ("contacts", "forces", "moments", "tensions")


def extrapolate(coarse: dict, fine: dict) -> dict:
    """Richardson for an error that falls with the square of the piece length."""
    if coarse["active"] != fine["active"]:
        raise AssertionError("two meshes disagree about which wires are slack")
    return {key: fine[key] + (fine[key] - coarse[key]) / 3 for key in BLOCKS}


def equilibrium(gear: Gear, case: Case, result: dict) -> float:
    """Relative lack of balance between wheel loads, clamps and anchors: forces, and moments about the origin."""
    force, moment, scale, turn = np.zeros(3), np.zeros(3), 0.0, 0.0
    acting = [(load.point, load.force, np.zeros(3)) for load in case.loads]
    acting += [(leg.root, -f, -m) for leg, f, m in zip(gear.legs, result["forces"], result["moments"])]
    for wire, tension in zip(gear.wires, result["tensions"]):
        if not isinstance(wire.ends[0], tuple):
            acting.append((wire.points[0], -tension * wire.direction, np.zeros(3)))
    for point, f, m in acting:
        arm = np.cross(point, f) + m
        force, moment = force + f, moment + arm
        scale, turn = max(scale, float(np.max(np.abs(f)))), max(turn, float(np.max(np.abs(arm))))
    return max(float(np.max(np.abs(force))) / scale, float(np.max(np.abs(moment))) / turn)


def tension_only_check(gear: Gear, cases: list[Case], results: dict) -> float | None:
    """PyNite's own tension-only iteration on the same gear, where every wire is snug; None if it does not apply."""
    if not gear.wires or any(w.tight for w in gear.wires):
        return None
    frame = Frame(gear, 2, frozenset(w.name for w in gear.wires))
    for wire in gear.wires:
        frame.model.members[f"wire {wire.name}"].tension_only = True
    for case in cases:
        frame.load_case(case.name, case)
    frame.model.analyze(check_stability=False, sparse=True)
    return max(distance(np.array(frame.contacts(c.name)), results[c.name]["contacts"]) for c in cases)


def solve_gear(gear: Gear, cases: list[Case]) -> tuple[list[dict], dict]:
    """Answers and self-checks for all cases of one gear."""
    meshes = [solve_mesh(gear, cases, doubling) for doubling in (1, 2, 4)]
    (first, _, _), (middle, _, _), (last, pieces, _) = meshes
    checks = {
        "routes": max(mesh[2] for mesh in meshes),
        "equilibrium": 0.0,
        "extrapolated_change": 0.0,
        "last_mesh_change": 0.0,
        "unit_load": 0.0,
        "tension_only": tension_only_check(gear, cases, middle),
    }
    start = np.array(wheel_displacements(gear, no_loads(gear), {w.name: w.initial for w in gear.wires}))
    answers = []
    for case in cases:
        name = case.name
        before = extrapolate(first[name], middle[name])
        best = extrapolate(middle[name], last[name])
        change = max(distance(before[key], best[key]) for key in BLOCKS)
        raw = max(distance(middle[name][key], last[name][key]) for key in BLOCKS)
        tensions = {w.name: float(t) for w, t in zip(gear.wires, best["tensions"])}
        integral = np.array(wheel_displacements(gear, case.loads, tensions)) - start
        other = distance(integral, best["contacts"])
        balance = equilibrium(gear, case, best)
        for key, value in (
            ("equilibrium", balance),
            ("extrapolated_change", change),
            ("last_mesh_change", raw),
            ("unit_load", other),
        ):
            checks[key] = max(checks[key], value)
        if change > CONVERGED or other > AGREED or balance > 1e-6:
            raise AssertionError(f"{gear.name}/{name}: change {change}, unit load {other}, balance {balance}")
        answers.append(answer(gear, case, best, last[name]["active"], pieces, max(change, other)))
    return answers, checks


def no_loads(gear: Gear):
    """The unloaded gear's loads, for the second way."""
    return [Load(w.side, np.zeros(3), w.contact, "ground") for w in gear.wheels]


def tidy(block: np.ndarray) -> np.ndarray:
    """Rounding noise, below 1e-8 of the block's largest value, as exact zeros."""
    out = np.where(np.abs(block) < 1e-8 * np.max(np.abs(block), initial=0.0), 0.0, block)
    return out + 0.0


def answer(gear: Gear, case: Case, best: dict, active: frozenset, pieces: int, error: float) -> dict:
    """One case as it is written."""
    contacts, forces, moments = (tidy(best[key]) for key in ("contacts", "forces", "moments"))
    return {
        "gear": gear.name,
        "case": case.name,
        "wheels": [
            {"side": w.side, "load_N": load.force, "at": load.at, "displacement_m": u}
            for w, load, u in zip(gear.wheels, case.loads, contacts)
        ],
        "roots": [
            {"side": leg.side, "force_N": f, "moment_Nm": m} for leg, f, m in zip(gear.legs, forces, moments)
        ],
        "wires": [
            {"name": w.name, "tension_N": float(t), "slack": w.name not in active}
            for w, t in zip(gear.wires, best["tensions"])
        ],
        "pieces_per_leg": pieces,
        "estimated_error": float(f"{error:.2g}"),
    }


def run(path: Path) -> None:
    """One file: solve, check, write, and say how it went."""
    gears, cases = read_file(path)
    answers, lines = [], []
    for gear in gears.values():
        own = [case for case in cases if case.gear == gear.name]
        if not own:
            continue
        solved, checks = solve_gear(gear, own)
        answers += solved
        slack = sum(w["slack"] for a in solved for w in a["wires"])
        wires = sum(len(a["wires"]) for a in solved)
        only = checks["tension_only"]
        lines.append(
            f"{path.stem:<28} {gear.name:<6} {len(own):>2} cases  slack {slack:>2}/{wires:<2}  "
            f"balance {checks['equilibrium']:.0e}  last mesh {checks['last_mesh_change']:.0e}  "
            f"extrapolated {checks['extrapolated_change']:.0e}  routes {checks['routes']:.0e}  "
            f"unit load {checks['unit_load']:.0e}  tension-only {'-' if only is None else f'{only:.0e}'}"
        )
    young, poisson = AXLE_METALS["steel-8.8"]
    written = {
        "file": f"gears/{path.name}",
        "solver": {
            "name": "PyNiteFEA",
            "version": version("PyNiteFEA"),
            "numpy": version("numpy"),
            "scipy": version("scipy"),
            "python": platform.python_version(),
        },
        "assumed": {"axle_metal": "steel-8.8", "axle_modulus_Pa": young, "axle_poisson": poisson},
        "tolerance_relative": 1e-3,
        "cases": answers,
    }
    (HERE / "answers" / f"{path.stem}.json").write_text(as_json(written), encoding="utf-8")
    print("\n".join(lines), flush=True)


def main(names: list[str]) -> None:
    """Runs the files named, or all of them."""
    # Those named nl-* are solved with large displacements by opensees_gears.py.
    paths = sorted(p for p in (HERE / "gears").glob("*.toml") if not p.name.startswith("nl-"))
    chosen = [p for p in paths if not names or p.stem in names]
    if not chosen:
        raise SystemExit("no gear file has that name")
    for path in chosen:
        run(path)


if __name__ == "__main__":
    main(sys.argv[1:])
