"""The handbook relations behind derived figures: equation and source, in the words of METHODS.md."""

from __future__ import annotations

from dataclasses import dataclass

PRACTICE = "common practice, no source"


@dataclass(frozen=True, slots=True)
class Relation:
    """An equation and where it comes from."""

    equation: str
    source: str


_IDELCHIK = "Idelchik, Handbook of Hydraulic Resistance, diagrams "

RELATIONS = {
    "panel_openings": Relation(
        "A = sum of free areas; A/sqrt(K) = sum of A_i/sqrt(K_i), with holes K = (plate(f, t/d) + 1) f^2, "
        "slots K = slot(t, w), gap K = 0.5 + 1.2 + 1",
        _IDELCHIK + "4-12, 4-15, 8-3 (holes, slots), 3-1, 6-6, 11-1 (gap)",
    ),
    "fan_mount": Relation(
        "A_fans = n g s^2 (pi/4) (0.96^2 - 0.38^2), g the guard's free share; K = (K_guard + 1) g^2 (A/A_fans)^2 "
        "+ K_panel (A/A_panel)^2 + K_feet (A/A_feet)^2, A the smallest of the areas",
        _IDELCHIK + "8-3 (stamped guard); Blevins 1984 (wire guard); one velocity head for what stands close: "
        + PRACTICE,
    ),
    "series": Relation(
        "K = K_panel (A/A_panel)^2 + K_feet (A/A_feet)^2, A the smaller of the areas", _IDELCHIK + "3-1, 6-6, 11-1"
    ),
    "slot_covers": Relation(
        "A = slots x 21.6 cm2 x f; K = (plate(f, t/d) + 1) f^2", _IDELCHIK + "4-15, 8-3; size of a cover: " + PRACTICE
    ),
    "passage": Relation("K = plate(A/cross-section, 0.05) (A/cross-section)^2", _IDELCHIK + "4-15, 8-3"),
    "bypass": Relation("A = 0.5 cross-section - cage, at least 0.1 cross-section; 0.01 where sealed", PRACTICE),
    "cage": Relation("A = bays side by side x width x (height + spacing); its loss is that of the bays", "SFF-8301"),
    "given_area": Relation("as entered", "tape measure"),
    "supply_face": Relation(
        "A = 0.55 x face of the supply; K = (plate(0.55, 0.3) + 1) 0.55^2", _IDELCHIK + "4-15, 8-3; share: " + PRACTICE
    ),
    "supply_vent": Relation(
        "A = 0.6 x its size; K = (plate(0.6, 0.3) + 1) 0.6^2, with the feet in series", _IDELCHIK + "4-15, 8-3, 6-6"
    ),
    "seams": Relation(
        "A = seam x length of all edges x share of the outer panels; K = slot(5 mm, seam)",
        _IDELCHIK + "4-12, 4-15; depth of a seam: " + PRACTICE,
    ),
    "inner_seam": Relation("A = 0.01 cross-section", PRACTICE),
    "bay_seam": Relation("A = 10 cm2", PRACTICE),
    "filter": Relation("dp = linear v + quadratic v^2 on the filter's face, by class", PRACTICE),
    "filter_area": Relation("the larger of the field of holes, the slots and the fans' squares", PRACTICE),
    "wall": Relation(
        "W = sum of A/(1/h_i + t/k + t_foam/k_foam + 1/h_o); h_i free convection at 8 K, h_o free convection at 4 K "
        "and radiation",
        "Incropera & DeWitt, chapters 3 and 9; Churchill & Chu 1975; McAdams 1954",
    ),
    "gap_area": Relation("A = width x spacing + 2 x 3 mm x (height + spacing)", "SFF-8301, SFF-8201; " + PRACTICE),
    "empty_area": Relation("A = width x (height + spacing)", "SFF-8301, SFF-8201, SFF-8551"),
    "gap_loss": Relation(
        "K = 0.5 + 1 + 0.674 + 96 L/(Re D), at 1 m/s, with plate(share, 0.1) of the back plane on the whole bay",
        "Shah & London 1978; " + _IDELCHIK + "4-15, 8-3",
    ),
    "empty_loss": Relation("K = 0.5 + 1 + plate(share, 0.1)", _IDELCHIK + "3-1, 4-15, 8-3, 11-1"),
    "maldistribution": Relation("mean over slowest gap: 1.2, or 1.25 with a back plane", PRACTICE),
    "preheat": Relation("by what feeds the part: onto, below, along the board, or nothing", PRACTICE),
    "cross_section": Relation("0.4 of the chamber's cross-section, by part", PRACTICE),
    "insertion_loss": Relation(
        "IL = -10 log10 sum w tau/(tau + alpha); tau by area from mass law, holes and openings; alpha 0.1 and foam",
        "Beranek & Ver, Noise and Vibration Control Engineering; Bies & Hansen, Engineering Noise Control; Ingard 1953",
    ),
    "sound_share": Relation(
        "s = d at the face, 1 - d by S (tau + alpha)/sum S (tau + alpha); d 0.5 for fans and supply, 0.3 for drives",
        "energy balance of a diffuse field (Beranek & Ver); d: " + PRACTICE,
    ),
}  # fmt: skip
