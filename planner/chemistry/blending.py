"""What comes of pouring two things together?"""

from dataclasses import dataclass

from planner.chemistry.alcohol import alcohol_drop, extract_lift, gravity_of_wine
from planner.chemistry.density import ETHANOL_20, WATER_20
from planner.chemistry.figure import Rule, follows
from planner.chemistry.ranges import within
from planner.chemistry.roots import root

MASS_RULE = Rule(
    "blend by mass",
    "conservation of mass; OIML R22 and OIV-MA-AS2-03B (Tabarie) for the density",
    "0 to 96 % vol, extract 0 to 1000 g/L, 20 degC",
)
PEARSON_RULE = Rule(
    "Pearson square",
    "balance of mass concentrations, volumes taken to add",
    "exact for g/L; for strength it leaves out the shrinking, 0.05 % vol in 17",
)


@dataclass(frozen=True, slots=True)
class Liquid:
    """A volume at 20 degC with its strength and all that is dissolved in it."""

    volume_l: float
    abv: float = 0.0
    extract_g_per_l: float = 0.0
    rule: Rule = MASS_RULE

    def __post_init__(self) -> None:
        within(self.volume_l, 0, 100_000, name="volume", unit="L")
        within(self.abv, 0, 96, name="strength", unit="% vol")
        within(self.extract_g_per_l, 0, 1000, name="extract", unit="g/L")

    @property
    def gravity(self) -> float:
        return gravity_of_wine(extract_g_per_l=self.extract_g_per_l, abv=self.abv)

    @property
    def mass_kg(self) -> float:
        return self.volume_l * self.gravity * WATER_20 / 1000

    @property
    def ethanol_kg(self) -> float:
        return self.volume_l * self.abv / 100 * ETHANOL_20 / 1000

    @property
    def extract_kg(self) -> float:
        return self.volume_l * self.extract_g_per_l / 1000


def blend(*parts: Liquid) -> Liquid:
    """Mix by mass; the volume shrinks or grows as the density formulas say."""
    mass, ethanol, extract = (
        sum(getattr(part, name) for part in parts)
        for name in ("mass_kg", "ethanol_kg", "extract_kg")
    )
    if not mass:
        raise ValueError("a blend needs at least one part with a volume")

    def liquid(volume_l: float) -> tuple[float, float]:
        return 1e5 * ethanol / ETHANOL_20 / volume_l, 1000 * extract / volume_l

    def miss(volume_l: float) -> float:
        abv, extract_g_per_l = liquid(volume_l)
        gravity = extract_lift(extract_g_per_l) + alcohol_drop(abv) - 1
        return volume_l * gravity * WATER_20 / 1000 - mass

    poured_l = sum(part.volume_l for part in parts)
    # Alcohol and water shrink by at most 4 %, a mass fixes the rest.
    volume_l = root(miss, 0.9 * poured_l, 1.05 * poured_l)
    return Liquid(volume_l, *liquid(volume_l))


def fortify(*, volume_l: float, abv: float, spirit_l: float, spirit_abv: float) -> Liquid:
    """Wine and spirit poured together, the shrinking counted; sugar left out."""
    return blend(Liquid(volume_l, abv), Liquid(spirit_l, spirit_abv))


def spirit_to_reach_l(*, wine: Liquid, spirit: Liquid, target_abv: float) -> float:
    """Litres of spirit that bring a wine to a strength, the shrinking counted."""
    within(target_abv, wine.abv, spirit.abv, name="wanted strength", unit="% vol")
    if spirit.abv == target_abv:
        raise ValueError("the spirit is no stronger than the strength wanted")

    def miss(spirit_l: float) -> float:
        share = Liquid(spirit_l, spirit.abv, spirit.extract_g_per_l)
        return blend(wine, share).abv - target_abv

    square = wine.volume_l * (target_abv - wine.abv) / (spirit.abv - target_abv)
    return root(miss, 0.0, 1.2 * square + 1e-9, width=1e-10)


@follows(PEARSON_RULE, unit="L per L")
def pearson_ratio(*, first: float, second: float, target: float) -> float:
    """Parts of the first for each part of the second; all three on one scale per litre."""
    low, high = sorted((first, second))
    within(target, low, high, name="wanted value")
    if target == first:
        raise ValueError("the first alone already has the wanted value")
    return (second - target) / (target - first)


@follows(PEARSON_RULE, unit="same per L")
def mean_by_volume(*, volumes_l: tuple[float, ...], values: tuple[float, ...]) -> float:
    """Acid, sulphite or sugar per litre of a blend, volumes taken to add."""
    total = sum(volumes_l)
    if len(volumes_l) != len(values) or total <= 0:
        raise ValueError("each value needs its volume, and the volumes more than nothing")
    return sum(volume * value for volume, value in zip(volumes_l, values, strict=True)) / total
