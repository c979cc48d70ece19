"""The tokens of ``nearmark.charts`` as CSS custom properties, by day and by night.

``python -m nearmark.site.server.tokens_css`` writes ``static/shared/tokens.css``; a test holds it
to this.
"""

from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Final

from nearmark.charts import tokens

TOKENS_FILE: Final = Path(__file__).parents[1] / "static" / "shared" / "tokens.css"

DAY: Final[Mapping[str, str]] = {
    "paper": tokens.PAPER,
    "white": tokens.WHITE,
    "ink": tokens.INK,
    "ink-soft": tokens.INK_SOFT,
    "rule": tokens.RULE,
    "accent": tokens.ACCENT,
    "band": tokens.BAND,
    "alarm": "#9a3412",
    "alarm-band": "#f8e6da",
}

NIGHT: Final[Mapping[str, str]] = {
    "paper": "#12191e",
    "white": "#1a242b",
    "ink": "#eef0ea",
    "ink-soft": "#a9b5b8",
    "rule": "#46535a",
    "accent": "#6fd0b5",
    "band": "#203d37",
    "alarm": "#f4a37c",
    "alarm-band": "#41281d",
}
"""The same names in a dark hall; every pair that carries text keeps a contrast of 4.5."""


def tokens_css() -> str:
    """The style sheet that everything else takes its colours and sizes from."""
    body = tokens.SIZES_PT["body"]
    sizes = {f"size-{name}": f"{pt / body:g}rem" for name, pt in tokens.SIZES_PT.items()}
    return "\n".join(
        [
            "/* Written by nearmark.site.server.tokens_css from nearmark.charts.tokens. */",
            ":root {",
            "  color-scheme: light dark;",
            f'  --font: "{tokens.FONT}", ui-sans-serif, system-ui, sans-serif;',
            *_properties(sizes),
            *_properties(DAY),
            "}",
            "@media (prefers-color-scheme: dark) {",
            "  :root {",
            *("  " + line for line in _properties(NIGHT)),
            "  }",
            "}",
            "@media print {",
            "  :root {",
            *("  " + line for line in _properties({**DAY, "paper": tokens.WHITE})),
            "  }",
            "}",
            "/* The hall's clock is dark in both modes. */",
            ".night {",
            "  color-scheme: dark;",
            *_properties(NIGHT),
            "}",
            "/* Charts carry their colours with them; on a page they follow it. */",
            *_chart_rules(),
            "",
        ]
    )


def _properties(values: Mapping[str, str]) -> Iterable[str]:
    return (f"  --{name}: {value};" for name, value in values.items())


def _chart_rules() -> Iterable[str]:
    for name, value in DAY.items():
        if not name.startswith("alarm"):
            yield f'.chart [fill="{value}"], .chart[fill="{value}"] {{ fill: var(--{name}); }}'
            yield f'.chart [stroke="{value}"] {{ stroke: var(--{name}); }}'


if __name__ == "__main__":
    TOKENS_FILE.write_text(tokens_css(), encoding="utf-8")
