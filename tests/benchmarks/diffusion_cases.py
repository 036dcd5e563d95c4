"""One fire of a bar of two steels, solved in several ways from the same equations.

Sixty layers under closed faces, 0.6 mm each, 12 minutes at 1100 C; y is carbon for a metal atom, and carbon
moves by the gradient of activity: ln a = reference + ln(y/(1-y)) + slope y. Every way gives the mean y of
each layer; what it is off is told against the finest, in wt% of carbon. The others have nine even cells in
each layer.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from billet.composition import Composition
from billet.diffusion.activity_law import austenite_curve, austenite_law
from billet.diffusion.heat import Fire, burn
from billet.diffusion.profile import Metals, gather_metals, joined, plate
from billet.tables.steels import find_steel

Floats = npt.NDArray[np.float64]
LAYERS, LAYER_MM, CELLS = 60, 0.6, 9
TEMPERATURE_C, MINUTES = 1100.0, 12.0
SECONDS = 60.0 * MINUTES
STEEL_NAMES = ("1084", "75Ni8")
DENSITY = 7.85
EULER_STEPS = (10, 60)
"""Even steps of time of backward Euler."""
FINE_CELLS, FINE_TOLERANCE = 45, 1e-9
LSODA_TOLERANCE = 1e-5
CARBON_G_MOL = 12.011


@dataclass(frozen=True)
class Grid:
    """Even cells in every layer: moles of metal, half of the thickness, and the law of the steel of each."""

    moles: Floats
    half_m: Floats
    start: Floats
    reference: Floats
    slope: Floats
    hindrance: Floats
    fall: Floats
    cells: int

    def state(self, y: Floats) -> tuple[Floats, Floats]:
        """Activity of each cell, and the resistance of half of it."""
        rest = 1.0 - y
        activity = np.exp(self.reference + self.slope * y) * y / rest
        return activity, self.half_m * np.exp(self.hindrance + self.fall * y) / (rest * rest)

    def rate(self, _: float, y: Floats) -> Floats:
        """dy/dt of each cell, 1/s."""
        activity, resistance = self.state(y)
        flux = (activity[:-1] - activity[1:]) / (resistance[:-1] + resistance[1:])
        return np.concatenate([-flux[:1], flux[:-1] - flux[1:], flux[-1:]]) / self.moles

    def layers(self, y: Floats) -> Floats:
        """Mean y of each layer."""
        return np.asarray(y.reshape(LAYERS, self.cells).mean(axis=1))


def metals() -> tuple[list[Composition], Metals]:
    """The two steels, and both together."""
    steels = [find_steel(name).nominal for name in STEEL_NAMES]
    return steels, gather_metals(dict(zip("ab", steels, strict=True)), dict.fromkeys("ab", DENSITY))


def grid(cells: int) -> Grid:
    """So many even cells in each layer."""
    steels, both = metals()
    curves = [austenite_curve(steel, TEMPERATURE_C) for steel in steels]
    kind = np.repeat(np.arange(LAYERS) % 2, cells)

    def of(values: list[float]) -> Floats:
        return np.asarray(values)[kind]

    thick_mm = LAYER_MM / cells
    per_mm = np.asarray(both.moles_per_mm)[kind]
    start = [plate(both, name, LAYER_MM, rows=1, columns=9).ratio[0, 0] for name in "ab"]
    return Grid(
        moles=per_mm * thick_mm,
        half_m=0.5e-6 * thick_mm / per_mm,
        start=of(start),
        reference=of([c.reference for c in curves]),
        slope=of([c.slope for c in curves]),
        hindrance=of([c.reference - c.mobility for c in curves]),
        fall=of([c.slope - c.mobility_slope for c in curves]),
        cells=cells,
    )


def in_wt(layers: Floats) -> Floats:
    """Mean y of the layers as wt% of carbon."""
    metal_g = np.asarray([steel.metal_weight for steel in metals()[0]])[np.arange(LAYERS) % 2]
    return 100.0 * layers * CARBON_G_MOL / (layers * CARBON_G_MOL + metal_g)


def ours() -> tuple[Callable[[], Floats], int]:
    """The step of this program on cells of its own choice, and how many it took."""
    _, both = metals()
    law = austenite_law(both, TEMPERATURE_C, {})
    bar = joined([plate(both, "ab"[k % 2], LAYER_MM, rows=1, columns=9) for k in range(LAYERS)])
    fire = Fire(TEMPERATURE_C, MINUTES, "sealed", (0.0, 0.0))

    def solved() -> Floats:
        after = burn(bar, law, fire, 1)[0]
        layer = np.concatenate([[0], np.cumsum(np.diff(after.steel) != 0)])
        held = np.bincount(layer, after.moles * after.ratio[0])
        return np.asarray(held / np.bincount(layer, after.moles))

    return solved, len(burn(bar, law, fire, 1)[0].steel)


def lsoda(made: Grid, tolerance: float) -> Floats:
    """scipy's LSODA with a banded Jacobian."""
    from scipy.integrate import solve_ivp

    found = solve_ivp(
        made.rate, (0.0, SECONDS), made.start, method="LSODA", t_eval=[SECONDS], rtol=tolerance,
        atol=1e-3 * tolerance, lband=1, uband=1,
    )  # fmt: skip
    return made.layers(found.y[:, -1])


def banded_euler(made: Grid, steps: int) -> Floats:
    """The least that backward Euler can cost: one LAPACK solve a step, all laws taken at its begin."""
    from scipy.linalg.lapack import dgtsv

    y, step_s = made.start.copy(), SECONDS / steps
    for _ in range(steps):
        below, middle, above, right = implicit(made, y, step_s)
        y = y + dgtsv(below, middle, above, right)[3]
    return made.layers(y)


def implicit(made: Grid, y: Floats, step_s: float) -> tuple[Floats, Floats, Floats, Floats]:
    """The band and the right side for the change of y in one step."""
    rest = 1.0 - y
    growth = np.exp(made.reference + made.slope * y) / rest
    activity = growth * y
    rise = growth / rest + made.slope * activity
    resistance = made.half_m * np.exp(made.hindrance + made.fall * y) / (rest * rest)
    lets = 1.0 / (resistance[:-1] + resistance[1:])
    flux = lets * (activity[:-1] - activity[1:])
    middle = made.moles / step_s
    middle[:-1] += lets * rise[:-1]
    middle[1:] += lets * rise[1:]
    right = np.concatenate([-flux[:1], flux[:-1] - flux[1:], flux[-1:]])
    return -lets * rise[:-1], middle, -lets * rise[1:], right


def fipy_euler(made: Grid, steps: int) -> Callable[[], Floats]:
    """FiPy's backward Euler with the same cells and steps; the unknown is activity, even over a seam."""
    from fipy import CellVariable, DiffusionTerm, FaceVariable, Grid1D, TransientTerm
    from fipy.solvers.scipy import LinearLUSolver

    mesh = Grid1D(nx=len(made.moles), dx=1.0)

    def solved() -> Floats:
        y = made.start.copy()
        activity = CellVariable(mesh=mesh, value=made.state(y)[0], hasOld=True)
        capacity = CellVariable(mesh=mesh, value=1.0)
        lets = FaceVariable(mesh=mesh, value=0.0)
        equation = TransientTerm(coeff=capacity) == DiffusionTerm(coeff=lets)
        inner = mesh.interiorFaces.value
        step_s = SECONDS / steps
        solver = LinearLUSolver()
        for _ in range(steps):
            now, resistance = made.state(y)
            rest = 1.0 - y
            rise = np.exp(made.reference + made.slope * y) / (rest * rest) + made.slope * now
            capacity.setValue(made.moles / rise)
            through = np.zeros(mesh.numberOfFaces)
            through[inner] = 1.0 / (resistance[:-1] + resistance[1:])
            lets.setValue(through)
            activity.updateOld()
            equation.solve(var=activity, dt=step_s, solver=solver)
            y = y + (np.asarray(activity.value) - now) / rise
            activity.setValue(made.state(y)[0])
        return made.layers(y)

    return solved
