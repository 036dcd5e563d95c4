"""Published thermodynamic parameters of the iron-rich corner, one row each with its source.

Every row was read in a public transcription, the database mf-steel (Copyright (c) 2024 Matthew
Frichtl, MIT licence; the notice stands in data/equilibrium_notice.txt); the papers behind the keys are
in data/sources_equilibrium.toml. Lattice stabilities are from Dinsdale's table, from memory.

A pair `(a, b)` means a + b T in J per mole of atoms mixed, T in kelvin. Redlich-Kister terms stand
in order 0, 1, 2 with iron as the first partner (odd terms of Cr carry the other sign in the papers,
where Cr stands first).
"""

from typing import NamedTuple

from billet.formulas.activity import ASSESSED

Linear = tuple[float, float]

ELEMENTS: tuple[str, ...] = ("Fe", "Si", "Mn", "Cr", "Ni", "Mo", "V", "W")
ALLOYING: tuple[str, ...] = ELEMENTS[1:]


class WithIron(NamedTuple):
    """Redlich-Kister terms of one element with iron in one phase."""

    terms: tuple[Linear, ...]
    source: str


AUSTENITE_WITH_IRON: dict[str, WithIron] = {
    "Si": WithIron(((-115254.05, -2.19), (-84776.91, 44.33), (20007.03, 0.0)), "cui-2017"),
    "Mn": WithIron(((-7762.0, 3.865), (-259.0, 0.0)), "huang-1989"),
    "Cr": WithIron(((28767.0, -21.0), (-33057.0, 20.7)), "jacob-2017"),
    "Ni": WithIron(((-15690.3, 2.36733), (7781.85, 0.0), (-1649.56, 0.0)), "xiong-2011"),
    "Mo": WithIron(((20978.0, -11.843),), "rajkumar-2014"),
    "V": WithIron(((-15291.0, -4.138),), "huang-1991"),
    "W": WithIron(((10944.5, 5.0),), "jacob-2015"),
}
FERRITE_WITH_IRON: dict[str, WithIron] = {
    "Si": WithIron(((-154013.56, 32.29), (-63511.47, 13.25), (35727.58, 0.0)), "cui-2017"),
    "Mn": WithIron(((-2759.0, 1.237),), "huang-1989"),
    "Cr": WithIron(((24600.0, -14.98), (-500.0, 1.5), (-14000.0, 9.15)), "jacob-2017"),
    "Ni": WithIron(((-7909.04, 0.0), (3040.27, 0.0), (-1469.08, 0.0)), "xiong-2011"),
    "Mo": WithIron(((38849.0, -9.539), (-8988.0, 0.0)), "rajkumar-2014"),
    "V": WithIron(((-23674.0, 0.465), (8283.0, 0.0)), "huang-1991"),
    "W": WithIron(((18713.6, 10.8), (-8860.0, 0.0), (7494.1, 0.0)), "jacob-2015"),
}

# Two alloying elements with one another: first-order term only.
AUSTENITE_PAIRS: dict[tuple[str, str], tuple[Linear, str]] = {
    ("Mn", "Si"): ((-101155.8, 0.0), "zheng-2015-fe-mn-si"),
    ("Cr", "Mn"): ((-19088.0, 17.5423), "lee-1993"),
    ("Cr", "Ni"): ((4300.0, -8.9), "tang-2016"),
    ("Cr", "Mo"): ((28890.0, -7.962), "qiu-1992"),
    ("Cr", "V"): ((-9874.0, -2.6964), "lee-1992-v"),
    ("Cr", "W"): ((31520.0, 0.0), "gustafson-1988"),
    ("Mn", "Mo"): ((11174.0, 0.0), "zheng-2017-fe-mo"),
    ("Mn", "Ni"): ((-20455.7, -11.793), "liu-2010"),
    ("Mn", "V"): ((-11820.0, 0.0), "huang-1991"),
    ("Mo", "Ni"): ((-3606.8, 0.0), "yaqoob-2018"),
    ("Mo", "W"): ((2000.0, 0.0), "gustafson-1988"),
}
FERRITE_PAIRS: dict[tuple[str, str], tuple[Linear, str]] = {
    ("Mn", "Si"): ((-80946.85, 0.0), "zheng-2015-fe-mn-si"),
    ("Cr", "Mn"): ((-20328.0, 18.7339), "lee-1993"),
    ("Cr", "Ni"): ((14500.0, -9.0), "tang-2016"),
    ("Cr", "Mo"): ((28890.0, -7.962), "frisk-1991"),
    ("Cr", "Si"): ((-77309.9, -2.383), "chen-2009"),
    ("Cr", "V"): ((-8253.85, -3.61592), "ghosh-2002"),
    ("Cr", "W"): ((31520.0, 0.0), "gustafson-1988"),
    ("Mn", "Mo"): ((19000.0, -0.6), "zheng-2017-fe-mo"),
    ("Mn", "Ni"): ((-3508.4, -23.789), "liu-2010"),
    ("Mn", "V"): ((-10000.0, 0.0), "huang-1991"),
    ("Mo", "Ni"): ((42405.6, 0.0), "yaqoob-2018"),
    ("Mo", "Si"): ((-70899.6, 0.0), "vahlas-1989"),
    ("Mo", "V"): ((19245.0, 0.0), "bratberg-2002"),
    ("Mo", "W"): ((2000.0, 0.0), "gustafson-1988"),
    ("Ni", "Si"): ((-120000.0, 0.0), "witusiewicz-2023"),
    ("Ni", "V"): ((-30513.8, 12.6138), "korb-1998"),
    ("Ni", "W"): ((82000.0, 0.0), "gustafson-1988"),
    ("Si", "V"): ((-205373.0, 61.02), "zhang-2008"),
    ("Si", "W"): ((13667.6, 0.0), "vahlas-1989"),
    ("V", "W"): ((17828.0, 0.0), "bratberg-2005"),
}


class Magnetism(NamedTuple):
    """How one atom in place of iron moves Curie temperature and moment of ferrite, dilute limit."""

    curie_k: float
    moment: float
    source: str


FERRITE_MAGNETISM: dict[str, Magnetism] = {
    "Si": Magnetism(-539.0, -1.15, "cui-2017"),
    "Mn": Magnetism(-1500.0, -2.49, "huang-1989"),
    "Cr": Magnetism(126.2, -0.078, "jacob-2017"),
    "Ni": Magnetism(-201.2, 1.9365, "xiong-2011"),
    "Mo": Magnetism(-178.0, -2.22, "rajkumar-2014"),
    "V": Magnetism(561.0, -4.48, "huang-1991"),
    "W": Magnetism(-1043.0, -2.22, "guillermet-1989"),
}

# Interaction of each metal with carbon in austenite, epsilon = constant + slope/T on site fractions.
CARBON_INTERACTION: dict[str, Linear] = {e: ASSESSED[e] for e in ("Si", "Ni", "Mn", "Cr", "Mo", "V", "W")}


class Carbide(NamedTuple):
    """Energy of M3C or M7C3 with one metal, and of its mixing with iron, per formula unit."""

    formation: Linear
    with_iron: Linear
    source: str


# against the pure metals as Dinsdale has them and graphite
CEMENTITE: dict[str, Carbide] = {
    "Mn": Carbide((-39644.0, 3.04), (-7715.0, 1.3687), "djurovic-2011"),
    "Cr": Carbide((-48000.0, -9.28888), (14586.0, -9.18), "khvan-2014"),
    "Ni": Carbide((34700.0, -20.0), (28995.9, 0.0), "gabriel-1987"),
    "Mo": Carbide((77000.0, -57.4), (0.0, 0.0), "andersson-1988"),
    "W": Carbide((54150.0, 0.0), (0.0, 0.0), "gustafson-1987"),
}
M7C3: dict[str, Carbide] = {
    "Mn": Carbide((-106695.0, 9.36), (20157.0, -24.7104), "djurovic-2011"),
    "Ni": Carbide((107130.0, -36.605), (0.0, 0.0), "lee-1992"),
    "Mo": Carbide((-140415.0, 24.24), (0.0, 0.0), "qiu-1992"),
    "W": Carbide((138000.0, -50.0), (0.0, 0.0), "gustafson-1988"),
}
M7C3_CHROMIUM_IRON: Linear = (81940.0, -61.86)  # khvan-2014
# Mixing with iron in M7C3 is not dilute in chromium: at the fractions met, about 0.6 iron and 0.4
# chromium, iron feels 0.16 of the term and chromium 0.36 of it.
M7C3_SHARE_IRON, M7C3_SHARE_CHROMIUM = 0.16, 0.36
