"""How far off the equilibrium is, nine cases in ten.

MODEL_*: against the computed tables, on the develop part (979 compositions, 740 to 900 C); on the part
held back it is a little more (tests/test_equilibrium_held_back.py). SOURCE_*: how far the tables
themselves are from another open database, and for Acm from old diagrams. What a user is told is both
together. Against measured transformation on heating (Ac1, Ac3) more must be allowed.
"""

MODEL_AE1_K, MODEL_AE3_K, MODEL_ACM_K = 0.8, 0.8, 2.9
MODEL_CARBON_WT, MODEL_CARBIDE, MODEL_FERRITE = 0.0045, 0.0012, 0.0115
MODEL_LN_ACTIVITY = 0.0085

SOURCE_AE1_K, SOURCE_AE3_K, SOURCE_ACM_K = 7.0, 5.0, 20.0

TOTAL_AE1_K = (MODEL_AE1_K**2 + SOURCE_AE1_K**2) ** 0.5
TOTAL_AE3_K = (MODEL_AE3_K**2 + SOURCE_AE3_K**2) ** 0.5
TOTAL_ACM_K = (MODEL_ACM_K**2 + SOURCE_ACM_K**2) ** 0.5
# dissolved carbon follows Acm: 0.055 wt% for 20 K at the slope of the cementite line at 800 C
TOTAL_CARBON_WT = (MODEL_CARBON_WT**2 + (0.00265 * SOURCE_ACM_K) ** 2) ** 0.5
