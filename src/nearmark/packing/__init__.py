"""Simulated jars: pieces poured into a vessel, at rest, with a count that is known exactly."""

from nearmark.packing.census import Census, Grade, bulk_fraction, census, grade_of
from nearmark.packing.jar import Jar, Rest, part_ends_cm
from nearmark.packing.jar_file import jar_bytes, jar_from_bytes
from nearmark.packing.library import LibraryPlan, library_request, made
from nearmark.packing.request import PackingRequest
from nearmark.packing.settle import Cancelled, settle
from nearmark.packing.shapes import SHAPES, GrainShape, Solid, grain_shape, solid
from nearmark.packing.stand_in import HEAP_FRACTION, stand_in_request
from nearmark.packing.vessels import JarVessel, box, cup, cylinder, rounded_jar
from nearmark.packing.views import top_view

__all__ = [
    "HEAP_FRACTION",
    "SHAPES",
    "Cancelled",
    "Census",
    "Grade",
    "GrainShape",
    "Jar",
    "JarVessel",
    "LibraryPlan",
    "PackingRequest",
    "Rest",
    "Solid",
    "box",
    "bulk_fraction",
    "census",
    "cup",
    "cylinder",
    "grade_of",
    "grain_shape",
    "jar_bytes",
    "jar_from_bytes",
    "library_request",
    "made",
    "part_ends_cm",
    "rounded_jar",
    "settle",
    "solid",
    "stand_in_request",
    "top_view",
]
