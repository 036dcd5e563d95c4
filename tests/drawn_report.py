"""A report of round figures for the drawings: no computation made it, so each place can be foretold."""

from dataclasses import replace

from billet.contract import report as r

NAMES = ("dark", "bright")
Layers = tuple[tuple[str, float], ...]


def layers(count: int, height_mm: float) -> Layers:
    """Dark twice as thick as bright, dark at the bottom."""
    weights = [2.0 if place % 2 == 0 else 1.0 for place in range(count)]
    unit = height_mm / sum(weights)
    return tuple((NAMES[place % 2], weight * unit) for place, weight in enumerate(weights))


def row(step: int, do: str, size: tuple[float, float, float], laid: Layers, **more: object) -> r.ScheduleRow:
    height, width, length = size
    thick = [thickness * 1000.0 for _, thickness in laid] or [10.0]
    told = r.ScheduleRow(
        step=step,
        do=do,
        note=None,
        temperature_c=None,
        minutes=None,
        heats=None,
        fire_min=None,
        atmosphere=None,
        height_mm=height,
        width_mm=width,
        length_mm=length,
        each_heat=(),
        loose=False,
        pieces=1,
        piece_mm=None,
        cut_marks_mm=(),
        marks=(),
        solid_height_mm=height,
        mass_kg=1.0,
        lost_kg=r.Lost(0.0, 0.0, 0.0, 0.0, 0.0, 0.0),
        added_kg=0.0,
        yield_=1.0,
        layers_laid=len(laid),
        layers_visible=len(laid),
        layer_um=r.LayerSize(sum(thick) / len(thick), min(thick), max(thick)),
        skin_um=(thick[0], thick[-1]),
        mass_share={"dark": 0.7, "bright": 0.3},
        carbon_wt={"dark": 0.8, "bright": 0.7},
        stop_c=None,
        reduction=None,
        arithmetic="",
        layer_sum=r.LayerSum("counted", 0, 0, 0, len(laid), len(laid), len(laid), None, 0, None),
        alike=False,
        layers=laid,
    )
    return replace(told, **more)  # type: ignore[arg-type]


def profile(step: int, laid: Layers, carbon: dict[str, float]) -> r.Profile:
    """Flat in every layer, two points at each seam."""
    places: list[float] = []
    contents: list[float] = []
    names: list[str] = []
    height = 0.0
    for steel, thickness in laid:
        places += [height, height + thickness]
        contents += [carbon[steel]] * 2
        names += [steel] * 2
        height += thickness
    return r.Profile(step, tuple(places), tuple(contents), tuple(names), 0)


def steel(name: str, preferred: r.Range, possible: r.Range) -> r.HardeningSteel:
    return r.HardeningSteel(
        steel=name,
        role="hardens",
        role_because="",
        supplied_c=preferred,
        supplied_source=None,
        supplied_basis=None,
        preferred_c=preferred,
        possible_c=possible,
        low_because=None,
        high_because=None,
        ae1_c=None,
        ae3_c=None,
        acm_c=None,
        austenite_carbon_wt=None,
        carbide=None,
        ms_c=None,
        retained_austenite=None,
        hrc=None,
        hrc_soft=None,
        magnet_c=None,
    )


def steel_row(name: str, designation: str) -> r.SteelRow:
    spread = r.CarbonSpread(0.8, 0.8, 0.8, 0.8, 0.8, 0.8)
    return r.SteelRow(name, designation, None, (), "nominal", 0.5, spread, {"C": 0.8}, None, None, None)


STACK = layers(5, 32.0)
BAR = layers(5, 8.0)
FINE = layers(301, 4.0)

HARDENING = r.HardeningRow(
    verdict="shared",
    none_because=None,
    window_c=(790.0, 820.0),
    works_c=(775.0, 840.0),
    set_point_c=805.0,
    loss=0.4,
    grade="good",
    good_within_k=14.0,
    works_within_k=27.0,
    gap_k=None,
    low_set_by="dark",
    high_set_by="bright",
    because="",
    least_bad=None,
    could_change=(),
    normalise_c=(),
    normalise_because="",
    soak_min=5.0,
    soak_because=None,
    heat_through_min=None,
    anneal=r.AnnealRow("none", None, None, None, None, False, ""),
    grain=r.GrainRow(None, None, "memory"),
    skin=r.SkinRow(0.0, 0.0, 0.0, 0.0, 0.0),
    cold_treatment=None,
    per_steel=(
        steel("dark", (790.0, 830.0), (780.0, 850.0)),
        steel("bright", (780.0, 820.0), (760.0, 840.0)),
    ),
    control=r.ControlRow(None, None, 10.0, True, "good", ""),
    methods=(),
    gives_up=(),
)

REPORT = r.Report(
    format=1,
    title="Reed bed",
    recipe={},
    recipe_id="0",
    bar_id="0",
    defaults_used=(),
    made_with=r.MadeWith("1", "1"),
    schedule=(
        row(0, "stack", (32.0, 40.0, 150.0), STACK, loose=True, pieces=5),
        row(1, "draw", (8.0, 40.0, 600.0), BAR),
        row(2, "restack", (16.0, 40.0, 290.0), layers(10, 16.0), cut_marks_mm=(10.0, 300.0, 590.0)),
        row(3, "draw", (4.0, 40.0, 1160.0), FINE),
    ),
    steels=(steel_row("dark", "1084"), steel_row("bright", "75Ni8")),
    carbon=r.CarbonRow(
        0.75,
        r.CarbonLost(0.0, 0.0),
        r.Difference(0.1, 0.05),
        (
            profile(0, STACK, {"dark": 0.8, "bright": 0.7}),
            profile(1, BAR, {"dark": 0.77, "bright": 0.73}),
            profile(3, FINE, {"dark": 0.75, "bright": 0.75}),
        ),
        (0.0, 0.0),
        "",
        True,
    ),
    pattern=r.PatternRow(
        {"Ni": r.ElementContrast(2.0, 1.5, 0.75), "Mn": r.ElementContrast(0.4, 0.2, 0.5)},
        False,
        8.0,
        "",
        "contrast-strong",
    ),
    blend={"C": 0.75},
    blade=r.BladeRow(3.0, 200, r.LayerSize(13.3, 8.9, 17.7), {}, {}, 0.5, 0.3, 0.5),
    headline=r.HeadlineRow("good", "good", "good-good", None, "Harden at 815 °C, fast oil", "Go on."),
    hardening=HARDENING,
    quench=r.QuenchRow("shared", "fast oil", (50.0, 60.0), (), (), (), ()),
    programmes=(),
    temper=r.TemperRow(
        wanted=None,
        table=tuple(
            r.TemperStep(
                c,
                240.0,
                c <= 200.0,
                None,
                (r.TemperSteel("dark", 60.0, 61.0, 62.0), r.TemperSteel("bright", 58.0, 59.5, 61.0)),
            )
            for c in (150.0, 200.0, 250.0)
        ),
        governs="bright",
        not_told=(),
        advised_c=(150.0, 230.0),
        brittle_c=(230.0, 370.0),
        cycles=2,
        minutes=120.0,
        begin=None,
        notes=(),
        because="",
    ),
    notices=(),
    sources=(),
)

APART = replace(
    REPORT,
    hardening=replace(
        HARDENING,
        verdict="none",
        none_because="gap",
        window_c=None,
        set_point_c=None,
        gap_k=100.0,
        least_bad=r.LeastBad(830.0, ()),
        control=None,
        per_steel=(
            steel("dark", (790.0, 830.0), (780.0, 850.0)),
            steel("bright", (960.0, 1000.0), (950.0, 1010.0)),
        ),
    ),
)

SOFT = replace(
    APART,
    hardening=replace(APART.hardening, none_because="soft", gap_k=None, least_bad=None, per_steel=()),
)
