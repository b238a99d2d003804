"""How heavy is a litre: water, sugar in water, alcohol in water? All in kg/m3."""

from planner.chemistry.figure import Rule, follows
from planner.chemistry.ranges import within
from planner.chemistry.roots import root

WATER_RULE = Rule(
    "Tanaka 2001",
    "Tanaka et al., Metrologia 38:301 (2001); coefficients from memory, checked against IAPWS-95",
    "pure water, 0 to 40 degC, 101.325 kPa; within 0.002 kg/m3",
)
SUGAR_RULE = Rule(
    "ICUMSA SPS-4",
    "ICUMSA SPS-4 (Wagenbreth & Kozdon)",
    "sucrose in water, 0 to 85 % by mass, 0 to 80 degC; other sugars within 0.0015 g/mL at 20 %",
)
ALCOHOL_RULE = Rule(
    "OIML R22",
    "OIML R22 (1975), the annex of Directive 76/766/EEC",
    "ethanol and water, 0 to 100 %, -20 to 40 degC",
)

# ICUMSA SPS-4: rows by power of tau = (t - 20)/100, columns by power of the mass share from 1.
SUGAR_TERMS = (
    (385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890),
    (-46.2720, -7.1720, 1.1597, 5.1126, 17.5254),
    (59.7712, 7.2491, 12.3630, -35.4791),
    (-47.2207, -21.6977, 27.6301),
    (18.3184, 12.3081),
)
# ICUMSA SPS-4: the water that goes with those terms.
WATER_TERMS = (999.83952, 16.952577, -7.9905127e-3, -46.241757e-6, 105.84601e-9, -281.03006e-12)
WATER_DIVISOR = 16.887236e-3

# OIML R22, coefficients A, B and C1 to C5.
R22_A = (
    *(998.2012300, -192.9769495, 389.1238958, -1668.103923, 13522.15441, -88292.78388),
    *(306287.4042, -613838.1234, 747017.2998, -547846.1354, 223446.0334, -39032.85426),
)
R22_B = (
    *(-2.0618513e-1, -5.2682542e-3, 3.6130013e-5),
    *(-3.8957702e-7, 7.1693540e-9, -9.9739231e-11),
)
R22_C = (
    (
        *(1.693443461530087e-1, -1.046914743455169e1, 7.196353469546523e1, -7.047478054272792e2),
        *(3.924090430035045e3, -1.210164659068747e4, 2.248646550400788e4, -2.605562982188164e4),
        *(1.852373922069467e4, -7.420201433430137e3, 1.285617841998974e3),
    ),
    (
        *(-1.193013005057010e-2, 2.517399633803461e-1, -2.170575700536993, 1.353034988843029e1),
        *(-5.029988758547014e1, 1.096355666577570e2, -1.422753946421155e2, 1.080435942856230e2),
        *(-4.414153236817392e1, 7.442971530188783),
    ),
    (
        *(-6.802995733503803e-4, 1.876837790289664e-2, -2.002561813734156e-1, 1.022992966719220),
        *(-2.895696483903638, 4.810060584300675, -4.672147440794683, 2.458043105903461),
        -5.411227621436812e-1,
    ),
    (4.075376675622027e-6, -8.763058573471110e-6, 6.515031360099368e-6, -1.515784836987210e-6),
    (-2.788074354782409e-8, 1.345612883493354e-8),
)


def _polynomial(terms: tuple[float, ...], x: float) -> float:
    total = 0.0
    for term in reversed(terms):
        total = total * x + term
    return total


@follows(WATER_RULE, unit="kg/m3")
def water_kg_per_m3(*, temperature_c: float) -> float:
    """Density of pure water at 101.325 kPa."""
    t = within(temperature_c, 0, 40, name="temperature", unit="degC")
    # Tanaka et al. 2001, equation (1).
    fall = (t - 3.983035) ** 2 * (t + 301.797) / (522528.9 * (t + 69.34881))
    return 999.974950 * (1 - fall)


@follows(SUGAR_RULE, unit="kg/m3")
def sugar_solution_kg_per_m3(*, sugar_share: float, temperature_c: float = 20.0) -> float:
    """Density of sucrose in water; `sugar_share` is grams per gram of solution."""
    within(sugar_share, 0, 0.85, name="sugar share")
    within(temperature_c, 0, 80, name="temperature", unit="degC")
    return unchecked_sugar_solution(sugar_share, temperature_c)


def unchecked_sugar_solution(share: float, temperature_c: float) -> float:
    """The same polynomial without its range, since apparent extract runs on below zero."""
    t = temperature_c
    tau = (t - 20) / 100
    water = _polynomial(WATER_TERMS, t) / (1 + WATER_DIVISOR * t)
    rows = tuple(share * _polynomial(row, share) for row in SUGAR_TERMS)
    return water + _polynomial(rows, tau)


@follows(ALCOHOL_RULE, unit="kg/m3")
def alcohol_solution_kg_per_m3(*, alcohol_share: float, temperature_c: float = 20.0) -> float:
    """Density of ethanol in water; `alcohol_share` is grams per gram of mixture."""
    p = within(alcohol_share, 0, 1, name="alcohol share by mass")
    d = within(temperature_c, -20, 40, name="temperature", unit="degC") - 20
    density = _polynomial(R22_A, p)
    if d:
        density += d * _polynomial(R22_B, d)
        density += d * _polynomial(tuple(p * _polynomial(row, p) for row in R22_C), d)
    return density


# OIML R22 at 20 degC.
ETHANOL_20 = alcohol_solution_kg_per_m3(alcohol_share=1.0)
# ICUMSA SPS-4 at 20 degC, the water under every gravity 20/20 here (R22's is 0.002 lighter).
WATER_20 = sugar_solution_kg_per_m3(sugar_share=0.0)


@follows(ALCOHOL_RULE, unit="% vol")
def abv_of_share(*, alcohol_share: float) -> float:
    """Strength at 20 degC of an ethanol-water mixture, from its mass share."""
    return (
        100 * alcohol_share * alcohol_solution_kg_per_m3(alcohol_share=alcohol_share) / ETHANOL_20
    )


@follows(ALCOHOL_RULE, unit="g/g")
def share_of_abv(*, abv: float) -> float:
    """Mass share of ethanol in an ethanol-water mixture of a given strength at 20 degC."""
    within(abv, 0, 100, name="strength", unit="% vol")
    return root(lambda share: abv_of_share(alcohol_share=share) - abv, 0.0, 1.0)


@follows(ALCOHOL_RULE, unit="kg/m3")
def alcohol_of_abv_kg_per_m3(*, abv: float, temperature_c: float = 20.0) -> float:
    """Density of an ethanol-water mixture whose strength at 20 degC is given."""
    return alcohol_solution_kg_per_m3(
        alcohol_share=share_of_abv(abv=abv), temperature_c=temperature_c
    )
