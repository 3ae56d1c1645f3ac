"""Reads gear files (format 1) for the outside oracle: quantities, keys and geometry, all in SI.

Written from the description of the file format alone, so that a misread key in the program under test
does not repeat itself here.
"""

from __future__ import annotations

import json
import math
import re
import tomllib
from dataclasses import dataclass, field
from fractions import Fraction
from pathlib import Path

import numpy as np

INCH = 0.0254
POUND_FORCE = 4.4482216152605

UNITS = {
    "m": ("length", 1.0),
    "mm": ("length", 1e-3),
    "cm": ("length", 1e-2),
    "in": ("length", INCH),
    "thou": ("length", INCH / 1000),
    "N": ("force", 1.0),
    "lbf": ("force", POUND_FORCE),
    "Pa": ("stress", 1.0),
    "MPa": ("stress", 1e6),
    "GPa": ("stress", 1e9),
    "deg": ("angle", math.pi / 180),
    "rad": ("angle", 1.0),
}

QUANTITY = re.compile(r"^\s*(-?)\s*(?:(\d+)\s+(\d+/\d+)|(\d+/\d+)|(\d+(?:\.\d+)?))\s*([A-Za-z]+)\s*$")


def quantity(text: str, kind: str) -> float:
    """A quantity string such as "4 mm" or "1 3/8 in" as a number in SI."""
    found = QUANTITY.match(text)
    if not found:
        raise ValueError(f"not a quantity: {text!r}")
    sign, whole, part, fraction, decimal, unit = found.groups()
    have, scale = UNITS[unit]
    if have != kind:
        raise ValueError(f"{text!r} is a {have}, a {kind} is wanted")
    if decimal is not None:
        value = float(decimal)
    elif fraction is not None:
        value = float(Fraction(fraction))
    else:
        value = float(int(whole) + Fraction(part))
    return (-value if sign else value) * scale


@dataclass(frozen=True)
class Material:
    """Young's and shear modulus, Pa; for the non-linear answers also the yield and the slope beyond it."""

    young: float
    shear: float
    yields: float = math.inf
    tangent: float = 0.0


# Young's modulus and Poisson's ratio of the one axle metal the files use, as in material-tables/axles.toml. Frozen
# here and written into every answer, so that a change in the table shows up as a difference and not as a mystery.
AXLE_METALS = {"steel-8.8": (210e9, 0.3)}


@dataclass(frozen=True)
class Leg:
    """One leg: a straight plate with linear taper. Lengths m."""

    side: str
    root: np.ndarray
    tip: np.ndarray
    along: np.ndarray
    across: np.ndarray
    through: np.ndarray
    length: float
    width: tuple[float, float]
    thickness: tuple[float, float]
    material: Material

    def at(self, fraction: float) -> np.ndarray:
        """Point on the mid-plane at a fraction of the length."""
        return self.root + fraction * (self.tip - self.root)

    def section(self, fraction: float) -> tuple[float, float]:
        """Width and thickness at a fraction of the length."""
        b0, b1 = self.width
        t0, t1 = self.thickness
        return b0 + fraction * (b1 - b0), t0 + fraction * (t1 - t0)


@dataclass(frozen=True)
class Wire:
    """A one-sided link. `ends` are (leg side, fraction) or a point of the base; `tight` is T0 in N.

    T0 is the pretension, or minus stiffness times slack, so that T = max(0, T0 + stiffness * elongation).
    `breaks` is its strength on the nominal circle, N.
    """

    name: str
    ends: tuple
    points: tuple[np.ndarray, np.ndarray]
    area: float
    young: float
    tight: float
    breaks: float

    @property
    def length(self) -> float:
        """Distance spanned, m."""
        return float(np.linalg.norm(self.points[1] - self.points[0]))

    @property
    def stiffness(self) -> float:
        """E A / L, N/m."""
        return self.young * self.area / self.length

    @property
    def direction(self) -> np.ndarray:
        """Unit vector from the first end to the second."""
        return (self.points[1] - self.points[0]) / self.length

    @property
    def initial(self) -> float:
        """Tension with no load on the wheels, N."""
        return max(0.0, self.tight)


@dataclass(frozen=True)
class Wheel:
    """A wheel; `holders` are the legs that carry it."""

    side: str
    centre: np.ndarray
    contact: np.ndarray


@dataclass(frozen=True)
class Axle:
    """The beam between the arms of a twin."""

    diameter: float
    pinned: bool
    material: Material


@dataclass
class Gear:
    """One gear with everything the solver needs."""

    name: str
    arms: str
    legs: list[Leg]
    wheels: list[Wheel]
    wires: list[Wire]
    axle: Axle | None
    axle_metal: str


@dataclass(frozen=True)
class Load:
    """A load on one wheel: N, and the point where it acts."""

    wheel: str
    force: np.ndarray
    point: np.ndarray
    at: str


@dataclass
class Case:
    """One load case of one gear."""

    name: str
    gear: str
    loads: list[Load] = field(default_factory=list)


def material_of(table: dict) -> Material:
    """Isotropic: G = E / (2 (1 + nu))."""
    young = quantity(table["modulus"], "stress")
    yields = quantity(table["yield"], "stress")
    tangent = quantity(table.get("tangent_modulus", "0 MPa"), "stress")
    return Material(young, young / (2 * (1 + table["poisson"])), yields, tangent)


def read_leg(plate: dict, side: str, sign: float, root_y: float, material: Material) -> Leg:
    """A leg of the plate, its line and its axes."""
    rake = quantity(plate.get("rake", "0 deg"), "angle")
    lean = quantity(plate["leg_angle"], "angle")
    line = np.array([math.tan(rake), sign * math.tan(lean), -1.0])
    along = line / np.linalg.norm(line)
    aft = np.array([1.0, 0.0, 0.0])
    # In the plane of the line and the x axis, square to the line.
    across = aft - aft.dot(along) * along
    across /= np.linalg.norm(across)
    length = quantity(plate["leg_length"], "length")
    root = np.array([0.0, root_y, 0.0])
    width_root = quantity(plate["width_root"], "length")
    width_tip = quantity(plate["width_tip"], "length") if "width_tip" in plate else width_root
    if "thickness" in plate:
        thick = (quantity(plate["thickness"], "length"),) * 2
    else:
        thick = (quantity(plate["thickness_root"], "length"), quantity(plate["thickness_tip"], "length"))
    tip = root + length * along
    through = np.cross(along, across)
    return Leg(side, root, tip, along, across, through, length, (width_root, width_tip), thick, material)


def read_wires(braces: list[dict], legs: dict[str, tuple[Leg, float]], wires: dict) -> list[Wire]:
    """The wires of all braces; those of a second brace carry its number in their names."""
    out = []
    for number, brace in enumerate(braces, start=1):
        tail = "" if number == 1 else f"-{number}"
        young = quantity(wires[brace["wire"]]["modulus"], "stress")
        area = math.pi / 4 * quantity(brace["diameter"], "length") ** 2
        where = brace["leg_at"]
        if brace["pattern"] == "tie":
            runs = [("tie", (("left", where), ("right", where)))]
        else:
            reach = quantity(brace["base_at"], "length")
            far = -1.0 if brace["pattern"] == "cross" else 1.0
            runs = [
                (side, (np.array([0.0, far * sign * reach, 0.0]), (side, where))) for side, (_, sign) in legs.items()
            ]
        for name, ends in runs:
            points = tuple(legs[e[0]][0].at(e[1]) if isinstance(e, tuple) else e for e in ends)
            span = float(np.linalg.norm(points[1] - points[0]))
            tight = 0.0
            if "pretension" in brace:
                tight = quantity(brace["pretension"], "force")
            elif "slack" in brace:
                tight = -young * area / span * quantity(brace["slack"], "length")
            breaks = area * quantity(wires[brace["wire"]]["ultimate"], "stress")
            out.append(Wire(name + tail, ends, points, area, young, tight, breaks))
    return out


def read_gear(name: str, table: dict, metals: dict, wires: dict) -> Gear:
    """One [gear.NAME] table."""
    arms, plate, wheel = table["arms"], table["plate"], table["wheel"]
    material = material_of(metals[plate["metal"]])
    if arms == "single":
        placed = {"centre": (1.0, 0.0)}
    else:
        half = quantity(plate["base_width"], "length") / 2
        placed = {"left": (-1.0, -half), "right": (1.0, half)}
    legs = {side: (read_leg(plate, side, sign, y, material), sign) for side, (sign, y) in placed.items()}
    down = np.array([0.0, 0.0, -quantity(wheel["diameter"], "length") / 2])
    axle = None
    if arms == "twin":
        tips = [leg.tip for leg, _ in legs.values()]
        centres = {"centre": (tips[0] + tips[1]) / 2}
        young, poisson = AXLE_METALS[wheel["axle_metal"]]
        axle = Axle(
            quantity(wheel["axle"], "length"),
            wheel["axle_joint"] == "pinned",
            Material(young, young / (2 * (1 + poisson))),
        )
    else:
        out = quantity(wheel["overhang"], "length")
        centres = {side: leg.tip + np.array([0.0, sign * out, 0.0]) for side, (leg, sign) in legs.items()}
    wheels = [Wheel(side, centre, centre + down) for side, centre in centres.items()]
    braces = read_wires(table.get("brace", []), legs, wires)
    return Gear(name, arms, [leg for leg, _ in legs.values()], wheels, braces, axle, wheel["axle_metal"])


def read_case(table: dict, gears: dict[str, Gear]) -> Case:
    """One [[case]] table."""
    case = Case(table["name"], table["gear"])
    for wheel in gears[case.gear].wheels:
        load = table["wheel" if wheel.side == "centre" else wheel.side]
        force = np.array([quantity(load[key], "force") for key in ("aft", "side", "vertical")])
        at = load.get("at", "ground")
        case.loads.append(Load(wheel.side, force, wheel.centre if at == "axle" else wheel.contact, at))
    return case


def read_file(path: Path) -> tuple[dict[str, Gear], list[Case]]:
    """All gears and all user cases of a file."""
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    if data["format"] != 1:
        raise ValueError(f"{path}: format {data['format']}")
    gears = {
        name: read_gear(name, table, data.get("metal", {}), data.get("wire", {}))
        for name, table in data["gear"].items()
    }
    return gears, [read_case(table, gears) for table in data["case"]]


def twelve(value):
    """The value with every number in it rounded to 12 significant digits, ready for JSON."""
    if isinstance(value, dict):
        return {key: twelve(item) for key, item in value.items()}
    if isinstance(value, (list, tuple, np.ndarray)):
        return [twelve(item) for item in value]
    if isinstance(value, (bool, np.bool_)):
        return bool(value)
    if isinstance(value, (float, np.floating)):
        return float(f"{float(value):.12g}")
    return value


def as_json(value) -> str:
    """JSON with 12 significant digits, lists of plain numbers on one line each."""
    text = json.dumps(twelve(value), indent=1)
    flat = re.sub(r"\[[^\[\]{}\"]*\]", lambda m: "[" + " ".join(m.group()[1:-1].split()) + "]", text)
    return flat + "\n"
