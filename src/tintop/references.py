"""Works cited by short name; a formula's docstring names the equation."""

WORKS = {
    "Milliken1995": "W. F. Milliken and D. L. Milliken, Race Car Vehicle Dynamics, SAE, 1995 (from memory)",
    "Pacejka2012": "H. B. Pacejka, Tyre and Vehicle Dynamics, ch. 3 brush model (from memory)",
    "Dixon2009": "J. C. Dixon, Suspension Geometry and Computation, Wiley, 2009 (from memory)",
    "Brayshaw2005": "D. L. Brayshaw and M. F. Harrison, A quasi steady state approach to race car lap "
    "simulation, Proc. IMechE D 219, 2005 (from memory)",
    "Picard2008": "A. Picard et al., Revised formula for the density of moist air (CIPM-2007), "
    "Metrologia 45, 2008, 149",
    "ISO1585": "ISO 1585:1992, Road vehicles, engine test code, net power (from memory)",
    "ISO8855": "ISO 8855, Road vehicles, vehicle dynamics vocabulary: axes and signs (from memory)",
    "Heywood1988": "J. B. Heywood, Internal Combustion Engine Fundamentals, 1988 (from memory)",
    "Limpert2011": "R. Limpert, Brake Design and Safety, ch. 3 (from memory)",
    "Incropera2007": "F. P. Incropera et al., Fundamentals of Heat and Mass Transfer, ch. 11, "
    "effectiveness–NTU (from memory)",
    "McGuire2000": "W. McGuire, R. H. Gallagher and R. D. Ziemian, Matrix Structural Analysis, 2nd ed., 2000 "
    "(from memory)",
    "Horne1979": "M. R. Horne, Plastic Theory of Structures, 2nd ed., 1979 (from memory)",
    "Maier1970": "G. Maier, A matrix structural theory of piecewise linear elastoplasticity, Meccanica 5, "
    "1970 (from memory)",
    "Shigley": "J. E. Shigley, Mechanical Engineering Design, chapter on columns (from memory)",
    "Hooke1961": "R. Hooke and T. A. Jeeves, Direct search solution of numerical and statistical problems, "
    "J. ACM 8, 1961 (from memory)",
    "JCGM100": "JCGM 100:2008, Guide to the expression of uncertainty in measurement, eq. 10 (from memory)",
    "ISO8608": "ISO 8608:2016, Mechanical vibration, road surface profiles (from memory)",
    "ISO2631": "ISO 2631-1:1997, Human exposure to whole-body vibration, annexes A and C (from memory)",
    "Dixon2007": "J. C. Dixon, The Shock Absorber Handbook, 2nd ed., 2007 (from memory)",
    "Caughey1963": "T. K. Caughey, Equivalent linearization techniques, J. Acoust. Soc. Am. 35, 1963 "
    "(from memory)",
    "FMVSS216a": "49 CFR 571.216a, Roof crush resistance; upgraded standard",
}


def work(key: str) -> str:
    """Give the full citation of a short name; KeyError if there is none."""
    return WORKS[key]
