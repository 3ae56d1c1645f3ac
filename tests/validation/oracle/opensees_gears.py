"""Follows the gears gears/nl-*.toml far beyond small displacements with OpenSees; writes answers/nl-*.json.

    python3 opensees_gears.py            the known cases, then every gear
    python3 opensees_gears.py NAME ...   only these gears

See README.md beside this file for what is modelled and how the answers are to be compared.
"""

from __future__ import annotations

import os
import platform
import sys
from concurrent.futures import ProcessPoolExecutor
from dataclasses import asdict, replace
from importlib.metadata import version
from pathlib import Path

import numpy as np

from gear_files import AXLE_METALS, Case, Gear, as_json, read_file
from opensees_known import known_cases
from opensees_model import Failed, Mesh, started
from unit_load import wheel_displacements

HERE = Path(__file__).parent

# What each case is followed through: multiples of its loads, and those it is unloaded from.
PLAN = {
    "nl-plain-elastic": {
        "both wheels": ((0.25, 0.5, 0.75, 1.0, 1.2), (1.2,)),
        "one wheel with drag and side": ((0.25, 0.5, 0.75, 1.0, 1.25), (1.25,)),
    },
    "nl-plain-yielding": {
        "both wheels": ((0.25, 0.5, 0.75, 0.9, 1.0, 1.1, 1.2), (1.1, 1.2)),
        "one wheel with drag": ((0.25, 0.5, 0.75, 0.9, 1.0, 1.1, 1.15), (1.1, 1.15)),
    },
    "nl-raked-elastic": {
        "both wheels with drag": ((0.25, 0.5, 0.75, 0.95), (0.95,)),
        "drifting": ((0.25, 0.5, 0.75, 1.0, 1.2), (1.2,)),
    },
    "nl-raked-yielding": {
        "both wheels with drag": ((0.25, 0.5, 0.75, 1.0, 1.1, 1.2, 1.25, 1.3), (1.25, 1.3)),
        "drifting": ((0.25, 0.5, 1.0, 1.25, 1.5, 1.6, 1.7), (1.6, 1.7)),
    },
    "nl-cross-slack-elastic": {
        "both wheels": ((0.25, 0.5, 0.75, 1.0, 1.25, 1.45), (1.45,)),
        "one wheel": ((0.25, 0.5, 0.75, 1.0, 1.25, 1.5), (1.5,)),
    },
    "nl-cross-slack-yielding": {
        "both wheels": ((0.1, 0.25, 0.5, 0.75, 0.9, 1.0, 1.03, 1.06), (1.03, 1.06)),
        "drifting": ((0.1, 0.25, 0.5, 0.75, 1.0, 1.25, 1.5, 1.56), (1.5, 1.56)),
        "over an obstacle": ((0.1, 0.25, 0.5, 0.75, 0.9, 0.99, 1.02), (0.99, 1.02)),
    },
    "nl-near-pretension-yielding": {
        "both wheels": ((0.25, 0.5, 0.75, 0.9, 1.0, 1.1, 1.14), (1.1, 1.14)),
        "one wheel": ((0.25, 0.5, 0.75, 0.9, 1.0, 1.09, 1.125), (1.09, 1.125)),
    },
    "nl-tie-pretension-elastic": {
        "both wheels": ((0.25, 0.5, 1.0, 1.5, 2.0, 2.3), (2.3,)),
        "drifting": ((0.25, 0.5, 0.75, 1.0, 1.25, 1.5, 1.75), (1.75,)),
    },
    "nl-nose-single-yielding": {
        "up and aft": ((0.25, 0.5, 0.75, 1.0, 1.2, 1.35), (1.2, 1.35)),
        "sideways to starboard": ((0.25, 0.5, 0.75, 1.0, 1.2, 1.35, 1.5), (1.35, 1.5)),
    },
    "nl-nose-twin-yielding": {
        "up and sideways": ((0.25, 0.5, 0.75, 1.0, 1.2, 1.3), (1.2, 1.3)),
        "over an obstacle": ((0.25, 0.5, 1.0, 1.5, 1.8, 2.0), (1.8, 2.0)),
    },
}

# Gauss points integrate an elastic section exactly, however few; the answer says which mesh it comes from.
YIELDING, ELASTIC = Mesh(), Mesh(through=8, across=4)
# Between a wire and the root a leg is a column, and wants shorter elements.
BRACED_ELEMENTS = 64


def other_meshes(base: Mesh) -> dict[str, Mesh]:
    """Each changes one thing."""
    return {
        "twice the elements": replace(base, elements=2 * base.elements),
        "twice the fibres each way": replace(base, through=2 * base.through, across=2 * base.across),
        "twice the load step": replace(base, step=2 * base.step),
        "displacement-based elements": replace(base, kind="dispBeamColumn"),
    }


# Largest change that is accepted: of a displacement over the largest of its point, of a set over the largest of its
# unloading.
CURVE_HOLDS, SET_HOLDS = 1e-3, 5e-3
# A set below this, m, is rounding.
NO_SET = 1e-7
# Fractions of the multiple unloaded from at which the way back is read.
BACK = (0.75, 0.5, 0.25)
# The load at which a gear is compared with small-displacement theory.
SMALL = 1e-4


def point(model, branch: str) -> dict:
    """The state now."""
    gear = model.gear
    return {
        "multiple": model.multiple,
        "branch": branch,
        "wheels": [{"side": w.side, "displacement_m": u} for w, u in zip(gear.wheels, model.displacements())],
        "wires": [{"name": w.name, "tension_N": t, "slack": t <= 0.0} for w, t in zip(gear.wires, model.tensions())],
        "strain_over_yield": float(f"{model.peak:.5g}"),
        "yielded": bool(model.peak > 1.0),
    }


def follow(gear: Gear, case: Case, mesh: Mesh, multiples, unload_from) -> dict:
    """Loading curve and unloadings. Every unloading has a fresh gear; the last one's loading is the curve."""
    points, unloadings, balance = [], [], 0.0
    for top in unload_from:
        model = started(gear, case, mesh)
        points = []
        for multiple in multiples:
            if multiple <= top:
                model.go_to(multiple)
                points.append(point(model, "loading"))
                balance = max(balance, model.imbalance())
        back = []
        for part in BACK:
            model.go_to(part * top)
            back.append(point(model, "unloading"))
        model.go_to(0.0)
        sets = [{"side": w.side, "set_m": u} for w, u in zip(gear.wheels, model.displacements())]
        slack = [{"name": w.name, "tension_N": t, "slack": t <= 0.0} for w, t in zip(gear.wires, model.tensions())]
        unloadings.append({"from_multiple": top, "points": back, "wheels": sets, "wires": slack})
    if unload_from[-1] != multiples[-1]:
        raise AssertionError(f"{case.name}: the last unloading must start at the end of the curve")
    return {"points": points, "unloadings": unloadings, "balance": balance}


def moved(points: list[dict], key: str) -> list[np.ndarray]:
    """The displacements of several points."""
    return [np.array([w[key] for w in p["wheels"]]) for p in points]


def differs(one: list[np.ndarray], other: list[np.ndarray], floor: float) -> float:
    """Largest difference, each over the largest of its block."""
    worst = 0.0
    for a, b in zip(one, other, strict=True):
        size = np.abs(b).max()
        if size > floor:
            worst = max(worst, float(np.abs(a - b).max() / size))
    return worst


def change(a: dict, b: dict) -> dict[str, float]:
    """How much two runs of a case differ."""
    all_points = [r["points"] + [p for u in r["unloadings"] for p in u["points"]] for r in (a, b)]
    pulls = [np.array([w["tension_N"] for w in p["wires"]]) for p in all_points[0]]
    pulls_b = [np.array([w["tension_N"] for w in p["wires"]]) for p in all_points[1]]
    out = {
        "curve": differs(*(moved(p, "displacement_m") for p in all_points), 0.0),
        "set": differs(*(moved(r["unloadings"], "set_m") for r in (a, b)), NO_SET),
    }
    if pulls[0].size:
        out["wires"] = differs(pulls, pulls_b, 1e-3)
    return out


def small_load(gear: Gear, case: Case, mesh: Mesh) -> float:
    """Under a small load, against integrals of small-displacement theory that know nothing of OpenSees."""
    model = started(gear, case, mesh)
    model.go_to(SMALL)
    here = np.array(model.displacements())
    loads = [replace(load, force=SMALL * load.force) for load in case.loads]
    still = [replace(load, force=0 * load.force) for load in case.loads]
    pulls = {w.name: t for w, t in zip(gear.wires, model.tensions())}
    theory = np.array(wheel_displacements(gear, loads, pulls))
    theory -= np.array(wheel_displacements(gear, still, {w.name: w.initial for w in gear.wires}))
    return float(np.abs(here - theory).max() / np.abs(theory).max())


def stops(gear: Gear, case: Case, mesh: Mesh, top: float) -> float | None:
    """Where the load can be raised no further, if that is below 1.4 times the end of the curve."""
    model = started(gear, case, mesh)
    model.go_to(top)
    model.mesh = replace(mesh, step=0.01 * top)
    try:
        model.go_to(1.4 * top)
    except Failed:
        return float(f"{model.multiple:.4g}")
    except AssertionError:
        # A wire came near its strength first.
        pass
    return None


def one_case(job: tuple[str, int]) -> tuple[dict, str]:
    """One case of one file, with all its checks."""
    stem, number = job
    gears, cases = read_file(HERE / "gears" / f"{stem}.toml")
    case = cases[number]
    gear = gears[case.gear]
    multiples, unload_from = PLAN[stem][case.name]
    base = ELASTIC if stem.endswith("-elastic") else YIELDING
    if gear.wires:
        base = replace(base, elements=BRACED_ELEMENTS)
    best = follow(gear, case, base, multiples, unload_from)
    # The last unloading runs over the whole curve, so it is enough for the comparisons.
    whole = {"points": best["points"], "unloadings": best["unloadings"][-1:]}
    changes = {
        name: change(follow(gear, case, mesh, multiples, unload_from[-1:]), whole)
        for name, mesh in other_meshes(base).items()
    }
    small = small_load(gear, case, base)
    length = gear.legs[0].length
    reach = max(float(np.linalg.norm(u, axis=1).max()) for u in moved(best["points"], "displacement_m")) / length
    left = [float(np.linalg.norm(u, axis=1).max()) for u in moved(best["unloadings"], "set_m")]
    worst = {key: max(c.get(key, 0.0) for c in changes.values()) for key in ("curve", "set", "wires")}
    line = (
        f"{stem:<28} {case.name:<29} reach {reach:.3f} L  set {' '.join(f'{1e3 * x:.3f}' for x in left)} mm  "
        + "  ".join(f"{key} {value:.0e}" for key, value in worst.items())
        + f"  balance {best['balance']:.0e}  small load {small:.0e}  yielded {best['points'][-1]['yielded']}"
    )
    pretension = any(w.tight > 0 for w in gear.wires)
    if worst["curve"] > CURVE_HOLDS or worst["set"] > SET_HOLDS or best["balance"] > 1e-6:
        raise AssertionError(f"not converged: {line}\n{changes}")
    if small > 2e-3 and not pretension:
        raise AssertionError(f"small load: {line}")
    if best["points"][-1]["yielded"] == stem.endswith("-elastic"):
        raise AssertionError(f"yields or not, against its name: {line}")
    if not best["points"][-1]["yielded"] and max(left) > NO_SET:
        raise AssertionError(f"a set without yielding: {line}")
    out = {
        "gear": gear.name,
        "case": case.name,
        "points": best["points"],
        "unloadings": best["unloadings"],
        "load_stops_at": stops(gear, case, base, multiples[-1]),
        "mesh": asdict(base),
        "checks": {
            "changes": {n: {k: float(f"{v:.2g}") for k, v in c.items()} for n, c in changes.items()},
            "balance": float(f"{best['balance']:.2g}"),
            "small_load": float(f"{small:.2g}"),
        },
    }
    return out, line


def tidy(value):
    """Displacements and sets below a picometre are rounding."""
    if isinstance(value, dict):
        return {k: tidy(v) for k, v in value.items()}
    if isinstance(value, list):
        return [tidy(v) for v in value]
    if isinstance(value, np.ndarray):
        return np.where(np.abs(value) < 1e-12, 0.0, value) + 0.0
    return value


def write(stem: str, answers: list[dict]) -> None:
    """One answer file."""
    young, poisson = AXLE_METALS["steel-8.8"]
    written = {
        "file": f"gears/{stem}.toml",
        "solver": {
            "name": "OpenSees (openseespy)",
            "version": version("openseespy"),
            "numpy": version("numpy"),
            "python": platform.python_version(),
        },
        "assumed": {"axle_metal": "steel-8.8", "axle_modulus_Pa": young, "axle_poisson": poisson},
        "tolerance_relative": {"curve": 5e-3, "set": 2e-2},
        "cases": answers,
    }
    (HERE / "answers" / f"{stem}.json").write_text(as_json(tidy(written)), encoding="utf-8")


def hush() -> None:
    """OpenSees tells every step that has to be halved on standard error."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), 2)


def main(names: list[str]) -> None:
    """Runs the gears named, or the known cases and all gears."""
    if unknown := set(names) - set(PLAN):
        raise SystemExit(f"no plan for {', '.join(sorted(unknown))}")
    if not names:
        (HERE / "answers" / "opensees_known.json").write_text(as_json(known_cases()), encoding="utf-8")
    stems = [stem for stem in PLAN if not names or stem in names]
    jobs = []
    for stem in stems:
        cases = read_file(HERE / "gears" / f"{stem}.toml")[1]
        if [c.name for c in cases] != list(PLAN[stem]):
            raise SystemExit(f"{stem}: the plan and the file name different cases")
        jobs += [(stem, k) for k in range(len(cases))]
    failed = False
    with ProcessPoolExecutor(max_workers=2, max_tasks_per_child=1, initializer=hush) as pool:
        running = {job: pool.submit(one_case, job) for job in jobs}
        for stem in stems:
            answers = []
            for job in (j for j in jobs if j[0] == stem):
                try:
                    out, line = running[job].result()
                    answers.append(out)
                    print(line, flush=True)
                except (AssertionError, Failed) as wrong:
                    failed = True
                    print(f"{stem}: {wrong}", flush=True)
            if len(answers) == len(PLAN[stem]):
                write(stem, answers)
    if failed:
        raise SystemExit("some gears have no answer; theirs are not written")


if __name__ == "__main__":
    main(sys.argv[1:])
