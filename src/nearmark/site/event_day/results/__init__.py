"""Results: standings, release, corrections, audit, feedback, proofs, exports."""
