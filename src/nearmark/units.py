"""The one page of conversions; inside, Nearmark knows only g, cm, cm3 and whole pieces.

Factors are exact by definition: NIST SP 811 (2008), appendix B.8 (inch, US fluid ounce).

>>> round(ml_from_us_fl_oz(8), 4)
236.5882
"""

from typing import Final

CM_PER_INCH: Final = 2.54
ML_PER_US_FL_OZ: Final = 29.5735295625
"""1 mL is 1 cm3 exactly (12th CGPM, 1964)."""


def ml_from_us_fl_oz(volume_fl_oz: float) -> float:
    """Volume in mL (= cm3) of a volume in US fluid ounces.

    ``volume_fl_oz``: US fluid ounces. Returns: mL.

    >>> round(ml_from_us_fl_oz(1), 10)
    29.5735295625
    """
    return volume_fl_oz * ML_PER_US_FL_OZ


def cm_from_inches(length_in: float) -> float:
    """Length in cm of a length in inches.

    ``length_in``: inches. Returns: cm.

    >>> cm_from_inches(10)
    25.4
    """
    return length_in * CM_PER_INCH
