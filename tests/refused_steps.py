"""Bad recipes, one mistake each: what is wrong, the recipe, where, and words that must stand there."""

from typing import Any

from recipe_samples import changed, good, with_steps

WELD: dict[str, Any] = {"do": "weld", "temperature_c": 1100, "minutes": 5}
DRAW: dict[str, Any] = {"do": "draw", "temperature_c": 1100, "minutes": 5, "height_mm": 20}


CASES: list[tuple[str, dict[str, Any], str, str]] = [
    ("steps a table", changed("steps", {}), "steps", "must be a list of steps"),
    ("too many steps", changed("steps", [WELD] * 61), "steps", "hold 0 to 60 steps, got 61"),
    ("step a text", changed("steps.2", "grind"), "steps[2]", "Step 3: a table belongs here"),
    ("step without do", changed("steps.2", {"per_face_mm": 1}), "steps[2].do", "Step 3: do is missing"),
    ("unknown step", changed("steps.2.do", "grimd"), "steps[2].do", 'did you mean "grind"?'),
    (
        "unknown key",
        changed("steps.3.kerf", 2),
        "steps[3].kerf",
        'Step 4 (restack): unknown key "kerf"; did',
    ),
    ("no temperature", changed("steps.0.temperature_c", ...), "steps[0].temperature_c", "is missing"),
    (
        "no minutes",
        changed("steps.1.minutes", ...),
        "steps[1].minutes",
        "Step 2 (draw): minutes is missing",
    ),
    (
        "draw to nothing",
        changed("steps.1.height_mm", ...),
        "steps[1].height_mm",
        "height_mm is missing",
    ),
    ("heats none", changed("steps.1.heats", 0), "steps[1].heats", "whole number of 1 to 50, got 0"),
    ("heats true", changed("steps.1.heats", True), "steps[1].heats", "got true"),
    (
        "strange atmosphere",
        changed("steps.1.atmosphere", "argon"),
        "steps[1].atmosphere",
        '"sealed", got',
    ),
    ("flux as text", changed("steps.0.flux", "yes"), "steps[0].flux", "must be true or false"),
    (
        "fahrenheit",
        changed("steps.0.temperature_c", 1500),
        "steps[0].temperature_c",
        "1500 C melts it; did you mean 1500 F, 815 C?",
    ),
    ("molten", changed("steps.0.temperature_c", 1590), "steps[0].temperature_c", "1590 C melts it"),
    (
        "cold forging",
        changed("steps.0.temperature_c", 300),
        "steps[0].temperature_c",
        "600 to 3000 C, got 300",
    ),
    ("measured odd", changed("steps.0.measured", {"mm": 3}), "steps[0].measured.mm", "unknown key"),
    (
        "draw the loose pile",
        with_steps(DRAW),
        "steps[0]",
        "Step 1 (draw): the stack lies loose; weld the stack first",
    ),
    (
        "grind the loose pile",
        with_steps({"do": "grind", "per_face_mm": 1}),
        "steps[0]",
        "weld the stack first",
    ),
    (
        "restack the loose pile",
        with_steps({"do": "restack", "pieces": 2, "order": "same"}),
        "steps[0]",
        "weld the stack first",
    ),
    (
        "crop the loose pile",
        with_steps({"do": "crop", "end_mm": 5}),
        "steps[0]",
        "weld the stack first",
    ),
    ("loose at the end, no step", with_steps(), "steps", "15 plates lie loose at the end"),
    (
        "loose at the end",
        changed("steps", good()["steps"][:4]),
        "steps[3]",
        "still lie loose at the end",
    ),
    ("order and lay", changed("steps.3.lay", ["piece", "piece"]), "steps[3].order", "order or lay"),
    ("neither order nor lay", changed("steps.3.order", ...), "steps[3].order", "order or lay"),
    ("one piece", changed("steps.3.pieces", 1), "steps[3].pieces", "one piece makes no stack"),
    (
        "fold with a saw",
        changed("steps.3", {"do": "restack", "pieces": 3, "order": "folded", "kerf_mm": 2}),
        "steps[3].kerf_mm",
        "kerf_mm must be 0, got 2",
    ),
    (
        "fold of five",
        changed("steps.3", {"do": "restack", "pieces": 5, "order": "folded"}),
        "steps[3].pieces",
        "folded into 2 to 4 pieces, got 5",
    ),
    (
        "lay more than is cut",
        changed("steps.3", {"do": "restack", "pieces": 2, "lay": ["piece"] * 3}),
        "steps[3].lay",
        "3 pieces are laid, but the bar is cut into 2",
    ),
    (
        "lay no piece",
        changed(
            "steps.3", {"do": "restack", "pieces": 2, "lay": [{"steel": "dark", "thickness_mm": 2}] * 2}
        ),
        "steps[3].lay",
        "at least one piece",
    ),
    (
        "lay a word",
        changed("steps.3", {"do": "restack", "pieces": 2, "lay": ["piece", "flipped"]}),
        "steps[3].lay[1]",
        '"piece", "turned" or a plate',
    ),
    (
        "lay a strange steel",
        changed(
            "steps.3",
            {"do": "restack", "pieces": 2, "lay": ["piece", {"steel": "core", "thickness_mm": 2}]},
        ),
        "steps[3].lay[1].steel",
        'no "core"',
    ),
    ("trim of three", changed("steps.3.trim_mm", [1, 2, 3]), "steps[3].trim_mm", "one number or two"),
    (
        "trim negative",
        changed("steps.3.trim_mm", [1, -2]),
        "steps[3].trim_mm",
        "trim_mm, far end, must be",
    ),
    (
        "too many layers",
        changed(
            "steps",
            [
                *good()["steps"][:3],
                {"do": "restack", "pieces": 60, "order": "same"},
                WELD,
                {"do": "restack", "pieces": 60, "order": "same"},
                WELD,
            ],
        ),
        "steps[5].pieces",
        "more than 10000 layers are not computed, got 54000",
    ),
    ("cut through", changed("steps.3.trim_mm", 300), "steps[3].pieces", "leaves nothing of a bar"),
    ("grind through", changed("steps.2.per_face_mm", 6), "steps[2].per_face_mm", "goes through 12 mm"),
    (
        "grind the width away",
        changed("steps.2.side_mm", 20),
        "steps[2].side_mm",
        "goes through a bar 40 mm wide",
    ),
    (
        "crop all",
        changed("steps.2", {"do": "crop", "end_mm": [300, 300]}),
        "steps[2].end_mm",
        "leaves nothing",
    ),
    (
        "crop to more",
        changed("steps.2", {"do": "crop", "length_mm": 900}),
        "steps[2].length_mm",
        "cannot stay of it",
    ),
    (
        "crop both ways",
        changed("steps.2", {"do": "crop", "length_mm": 90, "end_mm": 2}),
        "steps[2].length_mm",
        "not both",
    ),
    ("crop nothing said", changed("steps.2", {"do": "crop"}), "steps[2]", "give end_mm"),
    (
        "draw shorter",
        changed("steps.1", {**DRAW, "height_mm": 27.9}),
        "steps[1].height_mm",
        "that is upset",
    ),
    (
        "upset longer",
        changed("steps.1", {"do": "upset", "temperature_c": 1100, "minutes": 5, "length_mm": 400}),
        "steps[1].length_mm",
        "an upset makes the bar shorter",
    ),
    (
        "weld higher",
        changed("steps.0.height_mm", 60),
        "steps[0].height_mm",
        "a weld presses the bar flatter",
    ),
    (
        "weld into the scale",
        changed("steps.0", {**WELD, "minutes": 600, "height_mm": 34}),
        "steps[0].height_mm",
        "scale alone takes it below 34 mm",
    ),
    (
        "burnt away",
        {
            **with_steps({**WELD, "temperature_c": 1250, "minutes": 600, "heats": 50}),
            "forge": {"scale_factor": 5},
        },
        "steps[0].minutes",
        "scale would eat the whole bar",
    ),
    (
        "restack on edge",
        changed("steps.2", {"do": "turn"}),
        "steps[3]",
        "mosaic stacks are not computed",
    ),
    (
        "weld on edge",
        with_steps(WELD, {"do": "turn"}, WELD),
        "steps[2]",
        "mosaic stacks are not computed",
    ),
    (
        "other without what",
        changed("steps.2", {"do": "other", "temperature_c": 1000, "minutes": 2}),
        "steps[2].what",
        "what is missing",
    ),
    ("blade of a number", changed("blade", 3), "blade", "Blade: a table belongs here, got 3"),
    (
        "no thickness",
        changed("blade.thickness_mm", ...),
        "blade.thickness_mm",
        "thickness_mm is missing",
    ),
    (
        "edge over back",
        changed("blade.edge_mm", 4),
        "blade.edge_mm",
        "not be more than thickness_mm, 3 mm",
    ),
    (
        "blade over bar",
        changed("blade.thickness_mm", 6),
        "blade.thickness_mm",
        "cannot be ground from a bar of 5.5",
    ),
    ("not forged to it", changed("blade.made", "forged"), "blade.thickness_mm", "a step must reach it"),
    ("made how", changed("blade.made", "cast"), "blade.made", '"ground", "forged", got "cast"'),
    ("strange method", changed("control.method", "kiln_ordinari"), "control.method", '"kiln_ordinary"'),
    ("method and width", changed("control.half_width_k", 20), "control.half_width_k", "not both"),
    ("empty control", changed("control", {}), "control", "give method or half_width_k"),
    ("sheet shares text", changed("sheet.share_recipe", "yes"), "sheet.share_recipe", "true or false"),
    ("forged on a number", changed("sheet.forged_on", 2024), "sheet.forged_on", "put it in quotes"),
]
