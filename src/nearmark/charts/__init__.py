"""The strip and the budget bar, as SVG and as terminal text."""
