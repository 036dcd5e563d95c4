"""What was calibrated, and where: small corrections on the published parameters.

The dilute form used here cuts off higher terms, and a few published terms were not at hand. These
corrections were fitted to the DEVELOP part of 1,500 computed compositions (two of every three, chosen
by a hash of their number); nothing was fitted to the other third, which the tests use. Values are
in units of RT; `(constant, slope)` means constant + slope (1000/T - 0.95).
"""

Corrections = dict[str, tuple[float, float]]

# Added to the distribution terms that follow from the published parameters.
FERRITE: Corrections = {
    "Si": (0.0106, 0.1512),
    "Mn": (-0.0110, -0.1329),
    "Ni": (-0.0024, 0.0046),
    "Cr": (-0.0050, -0.0118),
    "Mo": (-0.0042, 0.4178),
    "V": (-0.0464, 0.4103),
    "W": (-0.0181, 0.0304),
}
CEMENTITE: Corrections = {
    "Mn": (0.0455, 0.1371),
    "Ni": (2.3065, -0.4005),
    "Cr": (0.0043, -0.1118),
    "Mo": (0.0597, -0.5013),
    "V": (0.0417, -0.0638),
    "W": (0.0276, -0.1106),
}
M7C3: Corrections = {
    "Fe": (0.0802, 0.0),
    "Cr": (0.1061, 0.0036),
    "Mn": (0.0046, 0.0),
    "Mo": (-0.9155, -0.7191),
}
TUNGSTEN_CARBIDE: Corrections = {"W": (0.0018, 0.0)}

# Added to the published interaction with carbon in austenite.
CARBON: Corrections = {
    "Si": (0.9330, 0.6807),
    "Mn": (0.0086, 0.6466),
    "Ni": (0.6446, 0.1652),
    "Cr": (-0.1460, -1.9781),
    "Mo": (-0.7430, 0.0),
    "V": (-2.5837, 0.0),
    "W": (-0.3748, -0.1462),
}

# Two carbides for which the published sublattice models have no counterpart in this simple form:
# the whole term is calibrated, for metal mixed on one lattice. Elements that are not listed do not
# enter.
M6C: Corrections = {
    "Fe": (0.0961, -0.9224),
    "W": (-5.4004, -2.8173),
    "Mo": (-4.2486, -0.0815),
    "Cr": (0.5, 0.0),
    "V": (-1.0, 0.0),
}
VANADIUM_CARBIDE: Corrections = {
    "V": (-9.6945, -10.2692),
    "Fe": (4.2136, 0.0),
    "W": (-4.0, 0.0),
    "Cr": (-1.5, 0.0),
    "Mn": (1.5, 0.0),
}

# Added to the interactions between metals, in kelvin: the term is value / T.
# No published interaction of nickel with silicon in austenite was used: it is the -45759 here.
AUSTENITE_PAIRS_K: dict[tuple[str, str], float] = {
    ("Si", "Si"): 2986.2,
    ("Mn", "Si"): -11270.9,
    ("Mn", "Mn"): 818.6,
    ("Ni", "Si"): -45759.4,
    ("Ni", "Ni"): 1665.3,
    ("Mn", "Ni"): 1248.3,
    ("Cr", "Si"): -4207.8,
    ("Cr", "Mn"): -189.6,
    ("Cr", "Ni"): 2042.7,
    ("Mo", "Si"): 1019.5,
    ("Mn", "Mo"): 2199.7,
    ("Si", "W"): 1275.6,
}
FERRITE_PAIRS_K: dict[tuple[str, str], float] = {
    ("Si", "Si"): 5086.7,
    ("Mn", "Si"): -11568.2,
    ("Mn", "Mn"): 3311.9,
    ("Ni", "Si"): -29911.2,
    ("Ni", "Ni"): 3404.1,
    ("Mn", "Ni"): 2619.3,
    ("Cr", "Si"): -3305.9,
    ("Cr", "Mn"): 2841.5,
    ("Cr", "Ni"): 2002.8,
    ("Mo", "Si"): 1689.3,
    ("Mn", "Mo"): -2503.4,
    ("Si", "W"): 1400.6,
}
